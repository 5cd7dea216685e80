"""The window: rail of steps, drawing, findings, and the form of what is selected."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QSettings, QSize, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication, QMainWindow

from siteplan.desk import actions as acts
from siteplan.desk import recovery, things
from siteplan.desk.commands import commands
from siteplan.desk.dialogs import Dialogs, QtDialogs
from siteplan.desk.editing import Editing
from siteplan.desk.face import Face
from siteplan.desk.files import Files, dropped
from siteplan.desk.menubar import MenuBar
from siteplan.desk.naming import Names
from siteplan.desk.palette import PALETTES, PaletteName, qt_palette
from siteplan.desk.panes import Panes
from siteplan.desk.qt_language import qt_speaks
from siteplan.desk.remembered import remember_manner
from siteplan.desk.session import Session
from siteplan.desk.styling import saved_palette, sheet_of
from siteplan.desk.text import length, tr
from siteplan.rules.findings import Finding, Met, Unjudged

if TYPE_CHECKING:
    from siteplan.desk.canvas.view import Canvas
    from siteplan.desk.glass import Glass
    from siteplan.desk.guide import Guide
    from siteplan.desk.steps.base import StepPanel
    from siteplan.desk.welcome import Welcome

_MESSAGE_MS = 9000
_SETTLE_MS = 120
_LIVE_MS = 50


class Window(QMainWindow):
    """One window on one plan. `load` brings in the drawing after the window shows."""

    def __init__(
        self, session: Session, dialogs: Dialogs | None = None, folder: Path | None = None
    ) -> None:
        super().__init__()
        self.session = session
        self.files = Files(self, session, dialogs or QtDialogs())
        self.editing = Editing(session)
        self.panes = Panes(self)
        self.names = Names(self)
        self.canvas: Canvas | None = None
        self.panels: dict[str, StepPanel] = {}
        self._glass: Glass | None = None
        self._welcome: Welcome | None = None
        self._guide: Guide | None = None
        self._colours = PALETTES[saved_palette()]
        self.actions_by_name = acts.make(commands(self), self)
        self.addActions(list(self.actions_by_name.values()))
        self._settle = _timer(self, _SETTLE_MS, self.refresh_panels)
        # Under a dragging hand the long list follows a little more slowly than the drawing.
        self._live = _timer(self, _LIVE_MS, self._show_findings)
        self._quiet = _timer(self, _MESSAGE_MS, self._show_hint)
        self._language = session.manner.language
        qt_speaks(self._language)
        self.face = self._new_face()
        self.recovery = recovery.Recovery(session, folder or recovery.default_folder())
        self._connect()
        self.setAcceptDrops(True)
        self.resize(1440, 900)
        self.restyle()
        self.names.title()
        self._on_review()

    # -- building --------------------------------------------------------------

    def _new_face(self) -> Face:
        face = Face(self.session, self.actions_by_name, self._colours)
        face.findings.picked.connect(self._on_picked)
        face.rail.step_chosen.connect(self._on_step)
        self.setCentralWidget(face)
        # A new bar, because an emptied one would keep its old menus alive.
        self.menu_bar = MenuBar(self.actions_by_name, self.files)
        self.setMenuBar(self.menu_bar)
        return face

    def _change_face(self) -> None:
        """Make the face anew, in another language; the drawing moves over."""
        open_step = self.face.rail.current
        if self.canvas is not None:
            self.canvas.setParent(None)
        self.face = self._new_face()
        if self.canvas is not None:
            self._furnish(self.canvas)
            self.face.rail.open(open_step)

    def _furnish(self, canvas: "Canvas") -> None:
        """Put the drawing, what lies on it, and the panels of the steps into the face."""
        from siteplan.desk.glass import Glass
        from siteplan.desk.steps.panels import panels
        from siteplan.desk.welcome import Welcome

        for old in (self._glass, self._welcome):
            if old is not None:
                old.hide()
                old.deleteLater()
        canvas.rename()
        self.face.take_canvas(canvas)
        self._glass = Glass(canvas.viewport, self.actions_by_name, self._colours)
        ways = {
            "corners": self._draw_lot,
            "picture": self.files.open_picture,
            "demo": self.files.open_demo,
            "open": self.files.ask_open,
            "begun": self._begun,
        }
        self._welcome = Welcome(canvas.viewport, self.session, ways)
        self.panels = panels(self.session, canvas, self)
        for name, panel in self.panels.items():
            self.face.rail.give_panel(name, panel)
        self._glass.show()
        self._show_welcome()

    def _connect(self) -> None:
        session = self.session
        session.refused.connect(self.say)
        session.review_changed.connect(self._on_review)
        session.plan_changed.connect(self._on_plan)
        session.file_changed.connect(self.names.title)
        session.manner_changed.connect(self._on_manner)
        session.selection_changed.connect(self._show_hint)
        session.gesture_ended.connect(self.refresh_panels)
        session.gesture_ended.connect(self._show_findings)
        session.undo_stack.cleanChanged.connect(self.names.title)
        session.undo_stack.indexChanged.connect(self.names.undo)
        self.recovery.troubled.connect(self.say)

    # -- what comes after the window shows ---------------------------------------

    def load(self) -> None:
        """Bring in the rules, the drawing and the panels; the window is on the screen already."""
        from siteplan.desk.canvas.view import Canvas
        from siteplan.desk.judge import Judge

        self.session.judge_with(Judge())
        canvas = Canvas(self.session, self._colours)
        self.canvas = canvas
        self._furnish(canvas)
        canvas.tool_changed.connect(self._show_hint)
        canvas.pointer_moved.connect(self._show_place)
        canvas.numbers_wanted.connect(self.take_numbers)
        self.face.rail.open("lot" if self.session.plan.lot is None else "generator")
        canvas.setFocus(Qt.FocusReason.OtherFocusReason)
        self._show_hint()

    # -- following the session -----------------------------------------------------

    def _on_plan(self) -> None:
        if not self.session.in_gesture:
            self._settle.start()
        self._show_welcome()

    def _on_review(self) -> None:
        plan, review = self.session.plan, self.session.review
        standing = plan.placement is not None and plan.machine is not None
        self.face.verdict.show_review(review, standing=standing)
        if not self.session.in_gesture:
            self._show_findings()
        elif not self._live.isActive():
            self._live.start()

    def _show_findings(self) -> None:
        plan, review = self.session.plan, self.session.review
        self.face.findings.show_review(review, standing=plan.placement is not None)
        self.face.rail.show_plan(plan, review)

    def refresh_panels(self) -> None:
        """Bring the open panel up to date; a drag waits for this until the hand lets go."""
        panel = self.panels.get(self.face.rail.current)
        if panel is not None:
            panel.refresh()
        self.names.title()

    def _on_manner(self) -> None:
        if self.session.manner.language != self._language:
            self._language = self.session.manner.language
            qt_speaks(self._language)
            self.names.all()
            self._change_face()
        self.names.all()
        if self._welcome is not None:
            self._welcome.show_start()
        self._on_review()
        self.refresh_panels()
        self.face.findings.viewport().update()

    def _on_picked(self, outcome: Finding | Met | Unjudged | None) -> None:
        self.session.point_out(outcome)
        if outcome is None:
            return
        keys = [key for key in outcome.subjects if things.get(self.session.plan, key) is not None]
        if keys:
            self.session.select(keys[0])
        if not isinstance(outcome, Unjudged):
            self.session.show_points(
                tuple(point for one in outcome.evidence for point in one.points)
            )

    def _on_step(self, name: str) -> None:
        panel = self.panels.get(name)
        if panel is not None:
            panel.refresh()
        if self.canvas is not None:
            self.canvas.take_tool()

    def _show_welcome(self) -> None:
        if self._welcome is not None:
            plan = self.session.plan
            empty = plan.lot is None and not plan.buildings and plan.backdrop is None
            self._welcome.setVisible(empty)

    def _begun(self) -> None:
        # The next thing that only someone who looks at the house can say.
        self.face.rail.open("openings")
        if self.canvas is not None:
            self.canvas.fit()
            self.canvas.setFocus(Qt.FocusReason.OtherFocusReason)
        self.say(
            tr("Drawn as on a typical lot: move doors, windows and neighbours to where they are.")
        )

    def _draw_lot(self) -> None:
        if self._welcome is not None:
            self._welcome.hide()
        self.face.rail.open("lot")
        panel = self.panels["lot"]
        panel.begin()

    # -- the foot --------------------------------------------------------------

    def say(self, sentence: str) -> None:
        """Say something in the foot of the window for a while."""
        self.face.message.setText(sentence)
        self._quiet.start()

    def _show_hint(self) -> None:
        self._quiet.stop()
        self.face.message.setText("" if self.canvas is None else self.canvas.tool.hint())

    def _show_place(self, at: tuple[float, float] | None) -> None:
        if at is None:
            self.face.place.setText("")
        else:
            words = tr("{x} east, {y} north", x=length(at[0]), y=length(at[1]))
            self.face.place.setText(words)

    # -- commands --------------------------------------------------------------

    def take_numbers(self) -> None:
        """Go to the exact numbers of what is selected."""
        self.face.inspector.take_focus()

    def fit(self) -> None:
        """Show the lot."""
        if self.canvas is not None:
            self.canvas.fit()

    def fit_whole(self) -> None:
        """Show the whole plan, neighbours and all."""
        if self.canvas is not None:
            self.canvas.fit(whole=True)

    def fit_selection(self) -> None:
        """Show what is selected."""
        if self.canvas is not None:
            self.canvas.fit_selection()

    def zoom_in(self) -> None:
        """Zoom in."""
        if self.canvas is not None:
            self.canvas.zoom(1.25)

    def zoom_out(self) -> None:
        """Zoom out."""
        if self.canvas is not None:
            self.canvas.zoom(0.8)

    def guide(self, page: int) -> None:
        """Open the guide at one of its pages."""
        from siteplan.desk.guide import Guide

        if self._guide is not None:
            self._guide.deleteLater()
        # Made anew each time, so that it speaks the language of the moment.
        self._guide = Guide(self)
        self._guide.open_at(page)

    def show_table(self) -> None:
        """Open the table of everything on the plan."""
        from siteplan.desk.roll import open_roll

        open_roll(self)

    def measure(self) -> None:
        """Take the measuring tool."""
        if self.canvas is not None:
            self.canvas.take_measure()

    def scale_picture(self) -> None:
        """Show the picture under the plan and take the tool that gives it its scale."""
        if self.canvas is not None:
            self.canvas.fit()
            self.canvas.take_scale()

    def switch_units(self) -> None:
        """Change between feet and metres."""
        feet = self.session.manner.system == "feet"
        self.session.speak(system="metres" if feet else "feet")
        remember_manner(self.session.manner)

    def switch_language(self) -> None:
        """Change between English and Spanish."""
        self.session.speak(language="es" if self.session.manner.language == "en" else "en")
        remember_manner(self.session.manner)

    def use_palette(self, name: PaletteName) -> None:
        """Take other colours."""
        self._colours = PALETTES[name]
        QSettings().setValue("palette", name)
        self.restyle()

    def next_palette(self) -> None:
        """Take the next colours: light, dark, high contrast."""
        names = list(PALETTES)
        self.use_palette(names[(names.index(self._colours.name) + 1) % len(names)])

    def restyle(self) -> None:
        """Put the colours on everything."""
        palette = self._colours
        # Windows beside this one do not inherit its palette.
        QApplication.setPalette(qt_palette(palette))
        self.setStyleSheet(sheet_of(palette))
        self.face.restyle(palette)
        if self.canvas is not None:
            self.canvas.restyle(palette)
        if self._glass is not None:
            self._glass.restyle(palette)
        self.names.all()

    # -- the window itself -----------------------------------------------------

    def sizeHint(self) -> QSize:
        """Return the size it would like."""
        return QSize(1440, 900)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take one local plan file."""
        if dropped(event) is not None:
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Open the dropped plan as the menu would."""
        path = dropped(event)
        if path is not None:
            event.acceptProposedAction()
            self.files.open(path)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask about unsaved work, then leave nothing behind."""
        if not self.files.leave():
            event.ignore()
            return
        self._settle.stop()
        self._live.stop()
        self._quiet.stop()
        if self.canvas is not None:
            self.canvas.ways.stop()
        # On its way out it would report that it is empty to a window that is half gone.
        self.session.undo_stack.blockSignals(True)
        self.recovery.close()
        self.files.close()
        event.accept()


def _timer(parent: QObject, after_ms: int, call: Callable[[], None]) -> QTimer:
    made = QTimer(parent)
    made.setSingleShot(True)
    made.setInterval(after_ms)
    made.timeout.connect(call)
    return made
