"""True scales of the trade, and the one that fits a sheet."""

from collections.abc import Mapping
from dataclasses import dataclass

from siteplan.errors import SiteplanError
from siteplan.units import System


@dataclass(frozen=True, slots=True)
class Scale:
    """A scale: 1 on paper to `figure` on the ground, as people write it, and its bar's step.

    `step_m` is the length of one field of the scale bar [m].
    """

    name: str
    figure: int
    step_m: float

    @property
    def mm_per_m(self) -> float:
        """Millimetres on paper for one metre on the ground."""
        return 1000.0 / self.figure


class ScaleError(SiteplanError):
    """No scale of that name, or a drawing too large for the sheet at that scale."""


_FT = 0.3048
# Exact: 1/8 in to 1 ft is 1 to 96, and 1 in to 10 ft is 1 to 120.
_FEET = (
    Scale("1/4 in = 1 ft", 48, 4 * _FT),
    Scale("1/8 in = 1 ft", 96, 10 * _FT),
    Scale("1 in = 10 ft", 120, 10 * _FT),
    Scale("1/16 in = 1 ft", 192, 20 * _FT),
    Scale("1 in = 20 ft", 240, 20 * _FT),
    Scale("1 in = 30 ft", 360, 30 * _FT),
    Scale("1 in = 40 ft", 480, 40 * _FT),
    Scale("1 in = 50 ft", 600, 50 * _FT),
    Scale("1 in = 100 ft", 1200, 100 * _FT),
    Scale("1 in = 200 ft", 2400, 200 * _FT),
    Scale("1 in = 500 ft", 6000, 500 * _FT),
)
_METRES = (
    Scale("1:50", 50, 1.0),
    Scale("1:100", 100, 2.0),
    Scale("1:200", 200, 5.0),
    Scale("1:250", 250, 5.0),
    Scale("1:500", 500, 10.0),
    Scale("1:1000", 1000, 20.0),
    Scale("1:2000", 2000, 50.0),
    Scale("1:5000", 5000, 100.0),
)
SCALES: Mapping[System, tuple[Scale, ...]] = {"feet": _FEET, "metres": _METRES}


def named(name: str) -> Scale:
    """Return a scale by its name, such as ``1:100``, ``1/8`` or ``1/8 in = 1 ft``.

    Raises
    ------
    ScaleError
        If there is none.
    """
    wanted = "".join(name.lower().replace('"', "in").split())
    for scale in (*_METRES, *_FEET):
        full = "".join(scale.name.split())
        if wanted in {full, full.split("=")[0], full.split("in=")[0], f"1:{scale.figure}"}:
            return scale
    known = ", ".join(scale.name for scale in (*_METRES, *_FEET))
    raise ScaleError("there is no scale '{name}'; known are {known}", name=name[:40], known=known)


def best_fit(extent_m: tuple[float, float], frame_mm: tuple[float, float], system: System) -> Scale:
    """Return the largest drawing's scale at which an extent [m] fits a frame [mm].

    Raises
    ------
    ScaleError
        If it fits at none.
    """
    for scale in SCALES[system]:
        if fits(scale, extent_m, frame_mm):
            return scale
    raise ScaleError(
        "a drawing of {width} m by {height} m fits no scale of this sheet",
        width=f"{extent_m[0]:.0f}",
        height=f"{extent_m[1]:.0f}",
    )


def fits(scale: Scale, extent_m: tuple[float, float], frame_mm: tuple[float, float]) -> bool:
    """Tell whether an extent [m] fits a frame [mm] at a scale."""
    return all(
        have * scale.mm_per_m <= room + 1e-9 for have, room in zip(extent_m, frame_mm, strict=True)
    )
