"""What the window looks like: where rail, drawing, findings and form stand."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QFrame, QHBoxLayout, QSplitter, QVBoxLayout, QWidget

from siteplan.desk.findings import FindingsList
from siteplan.desk.inspector import Inspector
from siteplan.desk.palette import Palette
from siteplan.desk.rail import Rail
from siteplan.desk.session import Session
from siteplan.desk.text import tr
from siteplan.desk.toolbar import Bar
from siteplan.desk.verdict import Verdict
from siteplan.desk.widgets import plain_label

if TYPE_CHECKING:
    from siteplan.desk.canvas.view import Canvas

_WIDTHS = [296, 800, 344]
_HEIGHTS = [520, 360]
_FOLDED_PX = 104
_GAP_PX = 8
_USUAL_LINE_PX = 18.0
# What Qt takes for a height without a bound (QWIDGETSIZE_MAX).
_UNBOUNDED = (1 << 24) - 1


class Face(QWidget):
    """The parts of the window, made anew when the language changes; the drawing moves over."""

    def __init__(self, session: Session, actions: dict[str, QAction], palette: Palette) -> None:
        super().__init__()
        self.bar = Bar(actions, palette)
        self.rail = Rail(palette)
        # Widths follow the text size, so that larger letters find room.
        self._scale = min(1.7, max(1.0, self.fontMetrics().height() / _USUAL_LINE_PX))
        self.rail.setMinimumWidth(round(276 * self._scale))
        self.verdict = Verdict(palette)
        self.findings = FindingsList(palette)
        self.inspector = Inspector(session, palette)
        self.inspector.shown.connect(self._fold)
        for symbol, name in (("duplicate", "duplicate"), ("mirror", "mirror"), ("trash", "delete")):
            self.inspector.add_tool(symbol, actions[name].text(), actions[name].trigger)
        self.middle = QFrame()
        self.middle.setObjectName("canvasFrame")
        self._inside = QVBoxLayout(self.middle)
        self._inside.setContentsMargins(2, 2, 2, 2)
        self._waiting = plain_label(tr("Preparing the drawing…"), muted=True)
        self._waiting.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._inside.addWidget(self._waiting)
        self.message, self.place = plain_label(), plain_label(muted=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.bar)
        body = QHBoxLayout()
        body.setContentsMargins(10, 0, 10, 0)
        body.addWidget(self._columns())
        column.addLayout(body, 1)
        column.addWidget(self._foot())

    def _columns(self) -> QSplitter:
        split = QSplitter(Qt.Orientation.Horizontal)
        split.addWidget(self.rail)
        split.addWidget(self.middle)
        split.addWidget(self._right())
        split.setStretchFactor(1, 1)
        left, middle, right = _WIDTHS
        split.setSizes([round(left * self._scale), middle, round(right * self._scale**0.6)])
        split.setChildrenCollapsible(False)
        split.setHandleWidth(_GAP_PX)
        return split

    def _right(self) -> QSplitter:
        upper = QFrame()
        upper.setObjectName("side")
        column = QVBoxLayout(upper)
        column.setContentsMargins(10, 10, 4, 6)
        column.setSpacing(8)
        head = QHBoxLayout()
        head.setContentsMargins(0, 0, 6, 0)
        head.addWidget(self.verdict)
        column.addLayout(head)
        column.addWidget(self.findings, 1)
        right = QSplitter(Qt.Orientation.Vertical)
        right.addWidget(upper)
        right.addWidget(self.inspector)
        right.setStretchFactor(0, 3)
        right.setStretchFactor(1, 2)
        right.setSizes(_HEIGHTS)
        right.setChildrenCollapsible(False)
        right.setHandleWidth(_GAP_PX)
        # Findings wrap, so they leave to the drawing what room they can.
        right.setMinimumWidth(round(318 * self._scale**0.6))
        self._shared, self._open_sizes = right, _HEIGHTS
        self._fold()
        return right

    def _fold(self) -> None:
        """Leave the room of the form to the findings while nothing is selected."""
        form = self.inspector
        folded = form.maximumHeight() < _UNBOUNDED
        if folded == (form.form is None):
            return
        if form.form is None:
            self._open_sizes = self._shared.sizes() if self._shared.isVisible() else _HEIGHTS
            form.setMaximumHeight(round(_FOLDED_PX * self._scale))
        else:
            form.setMaximumHeight(_UNBOUNDED)
            self._shared.setSizes(self._open_sizes)
            # The finding that was chosen stays in sight.
            self.findings.scrollTo(self.findings.currentIndex())

    def _foot(self) -> QWidget:
        foot = QWidget()
        foot.setObjectName("foot")
        row = QHBoxLayout(foot)
        row.setContentsMargins(16, 5, 16, 6)
        row.addWidget(self.message, 1)
        row.addWidget(self.place)
        return foot

    def take_canvas(self, canvas: "Canvas") -> None:
        """Put the drawing into its frame."""
        self._waiting.hide()
        self._inside.addWidget(canvas)
        canvas.show()

    def restyle(self, palette: Palette) -> None:
        """Take other colours."""
        for part in (self.bar, self.rail, self.findings, self.verdict, self.inspector):
            part.restyle(palette)
