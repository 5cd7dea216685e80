"""Size and place of an outline as a whole, and the outline stretched or moved as a whole."""

from typing import Any

from siteplan.errors import OutOfRangeError
from siteplan.plan import edits
from siteplan.plan.base import Model
from siteplan.plan.errors import EditError
from siteplan.plan.lot import Lot


def size_of(part: Model) -> tuple[float, float]:
    """Return the overall width and depth of a part's outline [m]."""
    outline = getattr(part, "outline", ())
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    return max(xs) - min(xs), max(ys) - min(ys)


def corner_of(part: Model, lot: Lot | None) -> tuple[float, float]:
    """Return the lower left of a part's extent, from that of the lot if there is one [m]."""
    low = _low(getattr(part, "outline", ()))
    base = (0.0, 0.0) if lot is None else _low(lot.outline)
    return low[0] - base[0], low[1] - base[1]


def shifted(part: Model, axis: int, by_m: float) -> Model:
    """Return the part with its whole outline moved along one axis.

    Raises
    ------
    EditError
        If it would lie off the drawing.
    """
    outline: Any = getattr(part, "outline", ())
    moved = tuple((x + by_m, y) if axis == 0 else (x, y + by_m) for x, y in outline)
    return edits.changed(part, outline=moved)


def _low(outline: Any) -> tuple[float, float]:  # noqa: ANN401
    return min(x for x, _ in outline), min(y for _, y in outline)


def resized(part: Model, axis: int, size_m: float) -> Model:
    """Return the part stretched along one axis from its lower left corner.

    Raises
    ------
    EditError
        If the size is not a positive length.
    """
    outline: Any = getattr(part, "outline", ())
    old = size_of(part)[axis]
    if size_m <= 0.0:
        raise EditError(OutOfRangeError("size [m]", size_m, 0.0, 1000.0).said)
    low = min(point[axis] for point in outline)
    factor = size_m / old

    def moved(point: tuple[float, float]) -> tuple[float, float]:
        new = list(point)
        new[axis] = low + (point[axis] - low) * factor
        return (new[0], new[1])

    fields: dict[str, object] = {"outline": tuple(moved(one) for one in outline)}
    if hasattr(part, "legs"):
        fields["legs"] = ()
    return edits.changed(part, **fields)
