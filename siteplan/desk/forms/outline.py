"""Overall width and depth of an outline, and the outline stretched to another size."""

from typing import Any

from siteplan.errors import OutOfRangeError
from siteplan.plan import edits
from siteplan.plan.base import Model
from siteplan.plan.errors import EditError


def size_of(part: Model) -> tuple[float, float]:
    """Return the overall width and depth of a part's outline [m]."""
    outline = getattr(part, "outline", ())
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    return max(xs) - min(xs), max(ys) - min(ys)


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
