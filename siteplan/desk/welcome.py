"""What an empty plan says: type the sizes of lot and house, or begin in another way."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Literal

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QComboBox, QFrame, QScrollArea, QVBoxLayout, QWidget

from siteplan.desk.flow import Columns, columns
from siteplan.desk.forms.editors import Choice
from siteplan.desk.forms.quantities import exact_length
from siteplan.desk.labels import named_start
from siteplan.desk.session import Session
from siteplan.desk.steps.base import LengthField, button, labelled, side_by_side
from siteplan.desk.text import tr
from siteplan.desk.widgets import plain_label
from siteplan.plan.starts import Start, plan_from, resized, starts
from siteplan.units import M_PER_FT

_WIDTH_PX, _EDGE_PX = 440, 12
_USUAL_LINE_PX = 18.0
_RIM_PX = 8
_ROUND_M = {"feet": M_PER_FT, "metres": 0.5}
_SIZES = ("lot_width_m", "lot_depth_m", "house_width_m", "house_depth_m")


class Welcome(QFrame):
    """Lies on the drawing while there is nothing on it."""

    def __init__(
        self, room: QWidget, session: Session, ways: Mapping[str, Callable[[], object]]
    ) -> None:
        super().__init__(room)
        self._room, self._session, self._ways = room, session, ways
        self.start = next(iter(starts().values()))
        self.setProperty("role", "card")
        # With large letters it may be taller than the drawing.
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        outside = QVBoxLayout(self)
        outside.setContentsMargins(2, 2, 2, 2)
        outside.addWidget(self._scroll)
        self._inside = QWidget()
        column = QVBoxLayout(self._inside)
        column.setContentsMargins(26, 20, 26, 20)
        column.setSpacing(9)
        column.addWidget(plain_label(tr("Draw the lot"), bold=True, wrap=True, scale=1.4))
        column.addWidget(
            plain_label(
                tr("Type its width and depth, and the house's, in any form: 80', 24 m, 960 in."),
                muted=True,
                wrap=True,
            )
        )
        self.kinds = Choice(
            [(one.id, tr(one.title)) for one in starts().values()], self._take_start
        )
        column.addLayout(labelled(tr("Typical lot"), self.kinds))
        self.lot_width = LengthField(session, tr("Lot width"), ("80'", "24 m"))
        self.lot_depth = LengthField(session, tr("Lot depth"), ("120'", "36 m"))
        self.house_width = LengthField(session, tr("House width"), ("42'", "13 m"))
        self.house_depth = LengthField(session, tr("House depth"), ("30'", "9 m"))
        self.fields = (self.lot_width, self.lot_depth, self.house_width, self.house_depth)
        lot = side_by_side(
            labelled(tr("Lot width"), self.lot_width), labelled(tr("Lot depth"), self.lot_depth)
        )
        house = side_by_side(
            labelled(tr("House width"), self.house_width),
            labelled(tr("House depth"), self.house_depth),
        )
        column.addLayout(lot)
        column.addLayout(house)
        self.garages = Choice(
            [
                ("none", tr("No garage")),
                ("left", tr("Garage on the left")),
                ("right", tr("Garage on the right")),
            ],
            self._set_garage,
        )
        column.addLayout(labelled(tr("Garage"), self.garages))
        self.draw = button(tr("Draw lot and house"), self.begin, main=True)
        column.addWidget(self.draw)
        column.addSpacing(6)
        column.addLayout(self._others(ways))
        for one, other in zip(self.fields, self.fields[1:], strict=False):
            one.returnPressed.connect(other.setFocus)
        self.house_depth.returnPressed.connect(self.begin)
        for choice in (self.kinds, self.garages):
            # The longest entry must not keep the card from becoming narrower.
            choice.setSizeAdjustPolicy(
                QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
            )
            choice.setMinimumContentsLength(6)
        self._scroll.setWidget(self._inside)
        self.show_start()
        room.installEventFilter(self)
        self._arrange()

    def _others(self, ways: Mapping[str, Callable[[], object]]) -> Columns:
        titles = {
            "corners": tr("Click the lot's corners"),
            "picture": tr("Trace a picture"),
            "demo": tr("Look at the demo lot"),
            "open": tr("Open a plan"),
        }
        self.buttons = {name: button(title, ways[name]) for name, title in titles.items()}
        return columns(*self.buttons.values())

    def _take_start(self, name: object) -> None:
        self.start = starts()[str(name)]
        self.show_start()

    def show_start(self) -> None:
        """Show the sizes of the typical lot, to be typed over."""
        start, system = self.start, self._session.manner.system
        sizes = (start.lot_width_m, start.lot_depth_m, start.house_width_m, start.house_depth_m)
        for field, value in zip(self.fields, sizes, strict=True):
            # The book's sizes are typical, not measured: round ones are easier to type over.
            step = _ROUND_M[system]
            field.setText(exact_length(round(value / step) * step, system))
        self.kinds.show_value(start.id)
        self.garages.show_value(start.garage)

    def _set_garage(self, value: object) -> None:
        side: Literal["none", "left", "right"] = "none"
        if value in ("left", "right"):
            side = "left" if value == "left" else "right"
        self.start = replace(self.start, garage=side)

    def begin(self) -> None:
        """Draw the lot and the house of the typed sizes."""
        sizes: dict[str, float] = {}
        for name, field in zip(_SIZES, self.fields, strict=True):
            value = field.length_m()
            if value is None:
                return
            sizes[name] = value
        start = self._placed(resized(self.start, **sizes))
        if self._session.edit(tr("Draw lot and house"), lambda _: named_start(plan_from(start))):
            self._ways["begun"]()

    def _placed(self, start: Start) -> Start:
        """Return the start with the house in the middle of what the lot leaves free."""
        garage_m = 0.0 if start.garage == "none" else start.garage_width_m
        side_m = (start.lot_width_m - start.house_width_m - garage_m) / 2
        front_m = min(start.front_m, (start.lot_depth_m - start.house_depth_m) / 3)
        return replace(start, side_m=max(0.0, side_m), front_m=max(0.0, front_m))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Stay in the middle when the drawing changes its size."""
        if event.type() == QEvent.Type.Resize:
            self._arrange()
        return False

    def _arrange(self) -> None:
        room = self._room.size()
        scale = max(1.0, self.fontMetrics().height() / _USUAL_LINE_PX)
        width = min(round(_WIDTH_PX * scale), room.width() - _EDGE_PX)
        # Margins of the card and its border, on both sides.
        height = self._inside.heightForWidth(width - _RIM_PX) + _RIM_PX
        height = min(height, room.height() - _EDGE_PX)
        self.setFixedSize(max(0, width), max(0, height))
        self.move((room.width() - self.width()) // 2, (room.height() - self.height()) // 2)
