"""Guards the pin of PySide6: some releases lose references to None on Python before 3.12."""

import sys

import pytest
from PySide6.QtGui import QImage, QPainter, QPainterPath


@pytest.mark.skipif(sys.version_info >= (3, 12), reason="None is immortal from Python 3.12 on")
@pytest.mark.usefixtures("qapp")
def test_void_calls_of_qt_do_not_eat_references_to_none():
    image = QImage(8, 8, QImage.Format.Format_ARGB32)
    painter, path = QPainter(image), QPainterPath()
    path.addRect(1, 1, 4, 4)
    before = sys.getrefcount(None)
    for _ in range(2000):
        painter.drawPath(path)
    after = sys.getrefcount(None)
    painter.end()
    assert after > before - 500
