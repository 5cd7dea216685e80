"""A picture under the plan to trace: taken from a file, placed by points whose place is known."""

import base64
import binascii
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QPointF
from PySide6.QtGui import QImage, QImageReader, QTransform

from siteplan.errors import SiteplanError
from siteplan.plan.document import Backdrop, Calibration

XY = tuple[float, float]
LARGEST_BYTES = 20 * 1024 * 1024
# What decoding may take [MiB]: a picture that claims to be larger is refused, not loaded.
_LARGEST_DECODED_MB = 256
_FIRST_WIDTH_M = 40.0
_TYPES = {b"png": "image/png", b"jpeg": "image/jpeg", b"jpg": "image/jpeg"}


class PictureError(SiteplanError):
    """A file that cannot be taken as a picture."""


def read(path: Path) -> Backdrop:
    """Return a picture from a PNG or JPEG file, at first as wide as a usual lot.

    Raises
    ------
    PictureError
        If the file cannot be read, is too large, or is no such picture.
    """
    try:
        if path.stat().st_size > LARGEST_BYTES:
            raise PictureError("{name} is larger than 20 MiB", name=path.name)
        raw = path.read_bytes()
    except OSError as error:
        why = error.strerror or str(error)
        raise PictureError("{name} cannot be read ({why})", name=path.name, why=why) from error
    image, kind = _decoded(raw)
    if image is None or kind not in _TYPES:
        raise PictureError("{name} is not a PNG or JPEG picture", name=path.name)
    scale = _FIRST_WIDTH_M / image.width()
    wide, tall = float(image.width()), float(image.height())
    corners = (
        Calibration(pixel=(0.0, tall), point=(0.0, 0.0)),
        Calibration(pixel=(wide, tall), point=(wide * scale, 0.0)),
    )
    return Backdrop.model_validate(
        {
            "media_type": _TYPES[kind],
            "data_base64": base64.b64encode(raw).decode("ascii"),
            "calibration": corners,
        }
    )


def _decoded(raw: bytes) -> tuple[QImage | None, bytes]:
    buffer = QBuffer()
    buffer.setData(QByteArray(raw))
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    QImageReader.setAllocationLimit(_LARGEST_DECODED_MB)
    reader = QImageReader(buffer)
    reader.setAutoTransform(True)
    kind = bytes(reader.format().data())
    if kind not in _TYPES:
        return None, kind
    image = reader.read()
    return (None if image.isNull() else image), kind


def image_of(backdrop: Backdrop) -> QImage | None:
    """Return the picture, or None if its data are damaged."""
    try:
        raw = base64.b64decode(backdrop.data_base64, validate=True)
    except binascii.Error:
        return None
    return _decoded(raw)[0]


def transform_of(backdrop: Backdrop) -> QTransform | None:
    """Return pixels to metres as a turn, a scale and a shift; None for under two known points.

    With more points than two, the sum of squared errors is least (a similarity fitted in the
    complex plane).
    """
    pairs = [(complex(p.pixel[0], -p.pixel[1]), complex(*p.point)) for p in backdrop.calibration]
    if len(pairs) < 2:
        return None
    middle = sum(z for z, _ in pairs) / len(pairs)
    target = sum(w for _, w in pairs) / len(pairs)
    spread = sum(abs(z - middle) ** 2 for z, _ in pairs)
    if spread == 0.0:
        return None
    turn = sum((w - target) * (z - middle).conjugate() for z, w in pairs) / spread
    if turn == 0:
        return None
    shift = target - turn * middle
    a, b = turn.real, turn.imag
    # x = a px + b py + sx and y = b px - a py + sy, the pixels' y running down.
    return QTransform(a, b, b, -a, shift.real, shift.imag)


def rescaled(backdrop: Backdrop, start: XY, end: XY, length_m: float) -> Backdrop:
    """Return the picture placed so that two places on it are this far apart [m].

    The first place stays where it lies on the lot, and the line keeps its direction.

    Raises
    ------
    PictureError
        If the two places are the same.
    """
    transform = transform_of(backdrop)
    gap = complex(end[0] - start[0], end[1] - start[1])
    if transform is None or abs(gap) < 1e-6:
        raise PictureError("The two places are the same; click two that are apart.")
    back, _ = transform.inverted()
    moved = complex(*start) + gap / abs(gap) * length_m
    one, other = back.map(QPointF(*start)), back.map(QPointF(*end))
    points = (
        Calibration(pixel=(one.x(), one.y()), point=start),
        Calibration(pixel=(other.x(), other.y()), point=(moved.real, moved.imag)),
    )
    return backdrop.model_copy(update={"calibration": points})
