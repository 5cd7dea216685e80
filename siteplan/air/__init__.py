"""Carbon monoxide from exhaust to blood, as plain functions of numbers."""
