"""What an empty plan says: type the sizes of lot and house, or begin in another way."""

from collections.abc import Callable, Mapping

from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from siteplan.desk.forms.editors import Choice
from siteplan.desk.forms.quantities import exact_length
from siteplan.desk.session import Session
from siteplan.desk.steps.base import LengthField, button, labelled, side_by_side
from siteplan.desk.text import tr
from siteplan.desk.typical import TYPICAL, Garage, Start, begun
from siteplan.desk.widgets import plain_label
from siteplan.plan import Plan

_WIDTH_PX = 440


class Welcome(QFrame):
    """Lies on the drawing while there is nothing on it."""

    def __init__(
        self, room: QWidget, session: Session, ways: Mapping[str, Callable[[], object]]
    ) -> None:
        super().__init__(room)
        self._room, self._session, self._ways = room, session, ways
        self.garage: Garage = "none"
        self.setProperty("role", "card")
        self.setFixedWidth(_WIDTH_PX)
        column = QVBoxLayout(self)
        column.setContentsMargins(28, 22, 28, 22)
        column.setSpacing(9)
        column.addWidget(plain_label(tr("Draw the lot"), bold=True, scale=1.4))
        column.addWidget(
            plain_label(
                tr("Type its width and depth, and the house's, in any form: 80', 24 m, 960 in."),
                muted=True,
                wrap=True,
            )
        )
        column.addLayout(self._sizes())
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
                ("attached", tr("Attached garage")),
                ("detached", tr("Detached garage")),
            ],
            self._set_garage,
        )
        self.garages.show_value("none")
        column.addLayout(labelled(tr("Garage"), self.garages))
        self.draw = button(tr("Draw lot and house"), self.begin, main=True)
        column.addWidget(self.draw)
        column.addSpacing(6)
        self.buttons: dict[str, QPushButton] = {}
        column.addLayout(self._others(ways))
        for one, other in zip(self.fields, self.fields[1:], strict=False):
            one.returnPressed.connect(other.setFocus)
        self.house_depth.returnPressed.connect(self.begin)
        room.installEventFilter(self)
        self._arrange()

    def _sizes(self) -> QHBoxLayout:
        self.lot_width = LengthField(self._session, tr("Lot width"), "80'")
        self.lot_depth = LengthField(self._session, tr("Lot depth"), "120'")
        self.house_width = LengthField(self._session, tr("House width"), "42'")
        self.house_depth = LengthField(self._session, tr("House depth"), "30'")
        row = QHBoxLayout()
        row.setSpacing(6)
        names = {"town": tr("Town"), "suburban": tr("Suburb"), "wide": tr("Country")}
        row.addWidget(plain_label(tr("As on a typical lot:"), muted=True))
        for name, title in names.items():
            row.addWidget(button(title, self._filler(name)))
        row.addStretch(1)
        return row

    def _others(self, ways: Mapping[str, Callable[[], object]]) -> QVBoxLayout:
        titles = {
            "corners": tr("Click the lot's corners"),
            "picture": tr("Trace a picture"),
            "demo": tr("Look at the demo lot"),
            "open": tr("Open a plan"),
        }
        rows = QVBoxLayout()
        rows.setSpacing(6)
        row = QHBoxLayout()
        for place, (name, title) in enumerate(titles.items()):
            if place % 2 == 0:
                row = QHBoxLayout()
                row.setSpacing(6)
                rows.addLayout(row)
            self.buttons[name] = button(title, ways[name])
            row.addWidget(self.buttons[name], 1)
        return rows

    def _set_garage(self, value: object) -> None:
        self.garage = (
            "attached" if value == "attached" else "detached" if value == "detached" else "none"
        )

    def _filler(self, name: str) -> Callable[[], None]:
        def fill() -> None:
            start, system = TYPICAL[name], self._session.manner.system
            sizes = (start.lot_width_m, start.lot_depth_m, start.house_width_m, start.house_depth_m)
            for field, value in zip(self.fields, sizes, strict=True):
                field.setText(exact_length(value, system))
            self._set_garage(start.garage)
            self.garages.show_value(start.garage)
            self.draw.setFocus()

        return fill

    def begin(self) -> None:
        """Draw the lot and the house of the typed sizes."""
        lengths: list[float] = []
        for field in self.fields:
            value = field.length_m()
            if value is None:
                return
            lengths.append(value)
        start = Start(lengths[0], lengths[1], lengths[2], lengths[3], self.garage)
        made: list[str] = []

        def change(plan: Plan) -> Plan:
            after, key = begun(plan, start)
            made.append(key)
            return after

        if self._session.edit(tr("Draw lot and house"), change) and made:
            self._session.select(made[-1])
            self._ways["begun"]()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Stay in the middle when the drawing changes its size."""
        if event.type() == QEvent.Type.Resize:
            self._arrange()
        return False

    def _arrange(self) -> None:
        room = self._room.size()
        self.adjustSize()
        self.move((room.width() - self.width()) // 2, (room.height() - self.height()) // 2)
