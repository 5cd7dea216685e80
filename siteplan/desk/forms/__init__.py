"""Forms made from the document models, with exact numbers."""
