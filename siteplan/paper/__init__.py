"""Documents and exports; no display needed."""
