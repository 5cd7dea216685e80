"""Lays things side by side in equal columns, fewer of them where words or letters are long."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QAbstractButton,
    QCheckBox,
    QLayout,
    QLayoutItem,
    QPushButton,
    QSizePolicy,
    QStyle,
    QStyleOptionButton,
    QWidget,
)

_LONG_PX = 1000


class Columns(QLayout):
    """A grid of equal columns that gives up columns before it cuts anything off."""

    def __init__(self, columns: int, gap: int) -> None:
        super().__init__()
        self._columns, self._gap = columns, gap
        self._items: list[QLayoutItem] = []
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem) -> None:
        """Take one thing more."""
        self._items.append(item)

    def add_box(self, box: QLayout) -> None:
        """Take a layout, such as that of a field under its label."""
        self.addChildLayout(box)
        self.addItem(box)

    def count(self) -> int:
        """Return how many things there are."""
        return len(self._items)

    # Qt asks for a place beyond the last to learn where the end is.
    def itemAt(self, place: int) -> QLayoutItem | None:
        """Return a thing by its place, or None beyond the end."""
        return self._items[place] if 0 <= place < len(self._items) else None

    def takeAt(self, place: int) -> QLayoutItem | None:
        """Give a thing away."""
        return self._items.pop(place) if 0 <= place < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        """Take the width there is."""
        return Qt.Orientation.Horizontal

    def hasHeightForWidth(self) -> bool:
        """Be taller where it is narrow."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height that a width takes."""
        return self._place(QRect(0, 0, width, 0), moving=False)

    def setGeometry(self, box: QRect) -> None:
        """Put everything in its place."""
        super().setGeometry(box)
        self._place(box, moving=True)

    def sizeHint(self) -> QSize:
        """Return the size with as many columns as wished."""
        return QSize(self._width(self._columns), self.heightForWidth(self._width(self._columns)))

    def minimumSize(self) -> QSize:
        """Return the least size, all in one column."""
        tall = max((one.minimumSize().height() for one in self._shown()), default=0)
        return QSize(self._width(1), tall)

    def _shown(self) -> list[QLayoutItem]:
        return [one for one in self._items if not one.isEmpty()]

    def _width(self, columns: int) -> int:
        widest = max((one.minimumSize().width() for one in self._shown()), default=0)
        return columns * widest + (columns - 1) * self._gap

    def _place(self, box: QRect, *, moving: bool) -> int:
        columns = self._columns
        while columns > 1 and self._width(columns) > box.width():
            columns -= 1
        wide = (box.width() - (columns - 1) * self._gap) // columns
        top, shown = box.top(), self._shown()
        for first in range(0, len(shown), columns):
            row = shown[first : first + columns]
            tall = max(_height(one, wide) for one in row)
            for place, one in enumerate(row):
                if moving:
                    left = box.left() + place * (wide + self._gap)
                    one.setGeometry(QRect(QPoint(left, top), QSize(wide, tall)))
            top += tall + self._gap
        return max(0, top - self._gap - box.top())


def _height(item: QLayoutItem, width: int) -> int:
    return item.heightForWidth(width) if item.hasHeightForWidth() else item.sizeHint().height()


# Python may not inherit twice from Qt; the type checker still knows what this is part of.
if TYPE_CHECKING:
    _Part = QAbstractButton
else:
    _Part = object


class _Wrapping(_Part):
    """The part of a button by which its words go on in the next line where it is narrow."""

    _kind: QStyle.ContentsType

    def _begin(self, text: str) -> None:
        self._words = text
        self.setAccessibleName(text)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def minimumSizeHint(self) -> QSize:
        """Return the room of the longest word."""
        widest = max(self.fontMetrics().horizontalAdvance(one) for one in self._words.split(" "))
        return self._with_edge(widest)

    def heightForWidth(self, width: int) -> int:
        """Return the height that the words take."""
        more = self._broken(width).count("\n")
        return int(self._with_edge(0).height()) + more * self.fontMetrics().height()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Break the words anew."""
        super().resizeEvent(event)
        broken = self._broken(self.width())
        if broken != self.text():
            self.setText(broken)

    def _with_edge(self, width: int) -> QSize:
        """Return the size of one line of words with what the style puts round it."""
        option = QStyleOptionButton()
        option.initFrom(self)
        # A long line, since a style may have a least width for short ones.
        line = QSize(_LONG_PX, self.fontMetrics().height())
        whole = self.style().sizeFromContents(self._kind, option, line, self)
        return QSize(width + whole.width() - _LONG_PX, whole.height())

    def _broken(self, width: int) -> str:
        room, lines = width - self._with_edge(0).width(), [""]
        for word in self._words.split(" "):
            longer = f"{lines[-1]} {word}" if lines[-1] else word
            if lines[-1] and self.fontMetrics().horizontalAdvance(longer) > room:
                lines.append(word)
            else:
                lines[-1] = longer
        return "\n".join(lines)


class WrappingButton(_Wrapping, QPushButton):
    """A push button whose words wrap; they stay those it was made with."""

    _kind = QStyle.ContentsType.CT_PushButton

    def __init__(self, text: str) -> None:
        super().__init__(text)
        self._begin(text)


class WrappingTick(_Wrapping, QCheckBox):
    """A box to tick whose words wrap; they stay those it was made with."""

    _kind = QStyle.ContentsType.CT_CheckBox

    def __init__(self, text: str) -> None:
        super().__init__(text)
        self._begin(text)


def columns(*things: QWidget | QLayout, count: int = 2, gap: int = 6) -> Columns:
    """Return things in equal columns."""
    made = Columns(count, gap)
    for one in things:
        if isinstance(one, QLayout):
            made.add_box(one)
        else:
            made.addWidget(one)
    return made
