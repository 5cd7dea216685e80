"""The drawing surface: view, layers, picking, handles."""
