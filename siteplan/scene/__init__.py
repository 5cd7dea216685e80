"""A plan resolved once into shapes."""
