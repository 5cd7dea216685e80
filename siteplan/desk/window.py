"""The window: rail of steps, drawing, findings, and the form of what is selected."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSettings, QSize, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import (
    QApplication,
    QMainWindow,
    QMenuBar,
)

from siteplan.assets import resource
from siteplan.desk import actions as acts
from siteplan.desk import recovery, things
from siteplan.desk.commands import commands, menus
from siteplan.desk.dialogs import Dialogs, QtDialogs
from siteplan.desk.editing import Editing
from siteplan.desk.face import Face
from siteplan.desk.files import Files
from siteplan.desk.palette import PALETTES, PaletteName, qt_palette, style_sheet
from siteplan.desk.panes import Panes
from siteplan.desk.session import Session
from siteplan.desk.text import length, tr
from siteplan.plan.store import SUFFIX
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
        self.canvas: Canvas | None = None
        self.panels: dict[str, StepPanel] = {}
        self._glass: Glass | None = None
        self._welcome: Welcome | None = None
        self._guide: Guide | None = None
        self._colours = PALETTES[_saved_palette()]
        self.actions_by_name = acts.make(commands(self), self)
        self.addActions(list(self.actions_by_name.values()))
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.setInterval(_SETTLE_MS)
        self._settle.timeout.connect(self.refresh_panels)
        # Under a dragging hand the long list follows a little more slowly than the drawing.
        self._live = QTimer(self)
        self._live.setSingleShot(True)
        self._live.setInterval(_LIVE_MS)
        self._live.timeout.connect(self._show_findings)
        self._quiet = QTimer(self)
        self._quiet.setSingleShot(True)
        self._quiet.setInterval(_MESSAGE_MS)
        self._quiet.timeout.connect(self._show_hint)
        self._language = session.manner.language
        self.face = self._new_face()
        self.recovery = recovery.Recovery(session, folder or recovery.default_folder())
        self._connect()
        self.setAcceptDrops(True)
        self.resize(1440, 900)
        self.restyle()
        self._on_file()
        self._on_review()

    # -- building --------------------------------------------------------------

    def _new_face(self) -> Face:
        face = Face(self.session, self.actions_by_name, self._colours)
        face.findings.picked.connect(self._on_picked)
        face.rail.step_chosen.connect(self._on_step)
        self.setCentralWidget(face)
        self._build_menus()
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

    def _build_menus(self) -> None:
        # A new bar, because an emptied one would keep its old menus alive.
        bar = QMenuBar()
        self.setMenuBar(bar)
        for title, names in menus():
            menu = bar.addMenu(title)
            for name in names:
                if name == "recent":
                    self.recent_menu = menu.addMenu(tr("Recent"))
                    self.recent_menu.aboutToShow.connect(self._fill_recent)
                else:
                    acts.fill(menu, [name], self.actions_by_name)

    def _fill_recent(self) -> None:
        self.recent_menu.clear()
        for path in self.files.recent():
            entry = self.recent_menu.addAction(path.name)
            entry.setEnabled(path.exists())
            entry.triggered.connect(self._opener(path))
        self.recent_menu.addSeparator()
        self.recent_menu.addAction(tr("Clear the list")).triggered.connect(self.files.forget)

    def _opener(self, path: Path) -> Callable[[], object]:
        return lambda: self.files.open(path)

    def _connect(self) -> None:
        session = self.session
        session.refused.connect(self.say)
        session.review_changed.connect(self._on_review)
        session.plan_changed.connect(self._on_plan)
        session.file_changed.connect(self._on_file)
        session.manner_changed.connect(self._on_manner)
        session.selection_changed.connect(self._show_hint)
        session.gesture_ended.connect(self.refresh_panels)
        session.gesture_ended.connect(self._show_findings)
        session.undo_stack.cleanChanged.connect(self._on_file)
        session.undo_stack.indexChanged.connect(self._on_undo)
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
        self._show_title()

    def _on_file(self) -> None:
        self._show_title()

    def _on_undo(self) -> None:
        stack = self.session.undo_stack
        for name, can, words in (
            ("undo", stack.canUndo(), stack.undoText()),
            ("redo", stack.canRedo(), stack.redoText()),
        ):
            action = self.actions_by_name[name]
            action.setEnabled(can)
            base = tr("Undo") if name == "undo" else tr("Redo")
            action.setText(f"{base}: {words}" if can and words else base)

    def _show_title(self) -> None:
        name = self.files.name()
        dirty = self.session.dirty
        self.setWindowTitle(f"{name}{' *' if dirty else ''} – siteplan")
        self.face.bar.title.setText(self.session.plan.title or name)
        self.face.bar.state.setText(tr("not saved yet") if dirty else "")
        self._on_undo()

    def _on_manner(self) -> None:
        if self.session.manner.language != self._language:
            self._language = self.session.manner.language
            self._rename()
            self._change_face()
        self._rename()
        if self._welcome is not None:
            self._welcome.show_start()
        self._on_review()
        self.refresh_panels()
        self.face.findings.viewport().update()

    def _rename(self) -> None:
        for command in commands(self):
            self.actions_by_name[command.name].setText(command.title)
        system = self.session.manner.system
        self.actions_by_name["units"].setText(tr("Feet") if system == "feet" else tr("Metres"))
        language = self.session.manner.language
        self.actions_by_name["language"].setText("English" if language == "en" else "Español")
        self.actions_by_name["next-palette"].setText(tr("Colours"))
        self._on_undo()

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

    def switch_language(self) -> None:
        """Change between English and Spanish."""
        self.session.speak(language="es" if self.session.manner.language == "en" else "en")

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
        arrow = resource(f"symbols/arrow-down-{palette.name}.svg").as_posix()
        tick = resource(f"symbols/tick-{palette.name}.svg").as_posix()
        self.setPalette(qt_palette(palette))
        self.setStyleSheet(style_sheet(palette, arrow, tick))
        self.face.restyle(palette)
        if self.canvas is not None:
            self.canvas.restyle(palette)
        if self._glass is not None:
            self._glass.restyle(palette)
        self._rename()

    # -- the window itself -----------------------------------------------------

    def sizeHint(self) -> QSize:
        """Return the size it would like."""
        return QSize(1440, 900)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take one local plan file."""
        if _dropped(event) is not None:
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Open the dropped plan as the menu would."""
        path = _dropped(event)
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
        stack = self.session.undo_stack
        stack.cleanChanged.disconnect(self._on_file)
        stack.indexChanged.disconnect(self._on_undo)
        self.recovery.close()
        event.accept()


def _dropped(event: QDropEvent) -> Path | None:
    urls = event.mimeData().urls()
    if len(urls) != 1 or not urls[0].isLocalFile():
        return None
    path = Path(urls[0].toLocalFile())
    return path if path.suffix == SUFFIX else None


def _saved_palette() -> PaletteName:
    name = QSettings().value("palette", "")
    for known in PALETTES:
        if known == name:
            return known
    hints = QApplication.styleHints()
    return "dark" if hints.colorScheme() == Qt.ColorScheme.Dark else "light"
