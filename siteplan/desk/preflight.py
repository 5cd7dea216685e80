"""Whether a window can be opened here, found out without Qt and said in one line."""

import ctypes
import importlib.util
import os
import sys

from siteplan.words import Text

# What a bare Debian 12 lacks, and the library whose absence shows it. Found by installing
# into a minimal system and removing one package after another.
_LIBRARIES = {
    "libglib2.0-0": "libglib-2.0.so.0",
    "libgl1": "libGL.so.1",
    "libegl1": "libEGL.so.1",
    "libfontconfig1": "libfontconfig.so.1",
    "libxkbcommon0": "libxkbcommon.so.0",
    "libdbus-1-3": "libdbus-1.so.3",
}
_X_LIBRARIES = {
    "libxcb-cursor0": "libxcb-cursor.so.0",
    "libxcb-icccm4": "libxcb-icccm.so.4",
    "libxcb-keysyms1": "libxcb-keysyms.so.1",
    "libxkbcommon-x11-0": "libxkbcommon-x11.so.0",
    "libxcb-shape0": "libxcb-shape.so.0",
}


def why_no_window() -> Text | None:
    """Return one line that says why no window can be opened and what helps, or None."""
    if importlib.util.find_spec("PySide6") is None:
        return Text("The window needs PySide6-Essentials; install it with: pip install siteplan")
    if not sys.platform.startswith("linux"):
        return None
    on_wayland = bool(os.environ.get("WAYLAND_DISPLAY"))
    if not (_offscreen() or on_wayland or os.environ.get("DISPLAY")):
        return Text("There is no display here, so there is no window (DISPLAY is not set).")
    missing = missing_packages(with_x=not _offscreen() and not on_wayland)
    if missing:
        return Text(
            "The window needs system libraries; install them with: sudo apt install {packages}",
            {"packages": " ".join(missing)},
        )
    return None


def missing_packages(*, with_x: bool) -> list[str]:
    """Return the Debian packages whose libraries Qt would not find here."""
    wanted = _LIBRARIES | _X_LIBRARIES if with_x else _LIBRARIES
    return [package for package, library in wanted.items() if not _loads(library)]


def _offscreen() -> bool:
    return os.environ.get("QT_QPA_PLATFORM", "").startswith(("offscreen", "minimal"))


def _loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True
