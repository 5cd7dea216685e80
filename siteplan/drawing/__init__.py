"""The plan as a list of marks, described once for screen and paper."""
