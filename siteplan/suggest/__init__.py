"""Where the machine may stand, and what to change if it may not."""
