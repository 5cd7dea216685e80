"""Where a portable generator may stand on a lot, how its cords run, and why."""

import os

__version__ = "0.1.0"

# A plug-in that happens to be installed must not change how a plan is checked; besides,
# looking for them takes 15 ms of every start.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
