"""One class per way of using the mouse on the canvas."""
