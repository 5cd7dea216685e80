"""Check: how many findings there are, what is missing, and going through them one by one."""

from typing import TYPE_CHECKING

from siteplan.desk import things
from siteplan.desk.findings import counts, rows, summary
from siteplan.desk.session import Session
from siteplan.desk.steps.base import StepPanel
from siteplan.desk.steps.power_views import Cards
from siteplan.desk.text import length, say, tr
from siteplan.suggest.answers import answers

if TYPE_CHECKING:
    from siteplan.desk.canvas.view import Canvas
    from siteplan.desk.window import Window


class CheckPanel(StepPanel):
    """Go through what the rules say."""

    def __init__(self, session: Session, canvas: "Canvas", window: "Window") -> None:
        self._window = window
        super().__init__(session, canvas)

    def build(self) -> None:
        """Make the panel's contents."""
        self._place = -1
        self.verdict = self.heading("")
        self.counts = self.words("")
        self.next = self.button(tr("Show the next finding"), self.show_next, main=True)
        self.button(tr("Carbon monoxide estimate…"), self.show_air)
        self.button(tr("Noise, fuel and the night…"), self.show_night)
        self.button(tr("Measure on the drawing"), self._measure)
        self.missing_title = self.heading(tr("Not judged for want of data"))
        self.missing = self.words("")
        self.answers_title = self.heading(tr("Answers"))
        self.answers = Cards()
        self.column.addWidget(self.answers)
        self.heading(tr("How far things were measured"))
        self.accuracy = self.words("")
        self.button(tr("Accuracy of the drawing"), lambda: self.session.select(things.PLAN))

    def refresh(self) -> None:
        """Show the review as it is now."""
        review = self.session.review
        self.verdict.setText(summary(review))
        self.counts.setText(counts(review))
        self.next.setEnabled(bool(review.findings))
        missing = list(dict.fromkeys(row.what for row in rows(review) if row.state == "UNJUDGED"))
        self.missing_title.setVisible(bool(missing))
        self.missing.setVisible(bool(missing))
        self.missing.setText("\n".join(f"– {one}" for one in missing))
        self._show_answers()
        accuracy = self.session.plan.accuracy
        if accuracy is None:
            self.accuracy.setText(tr("Not given: the cautious figure is taken off each distance."))
        elif accuracy.figure_m is not None:
            self.accuracy.setText(
                tr("{figure} is taken off each distance.", figure=length(accuracy.figure_m))
            )
        else:
            self.accuracy.setText(tr("Taken off each distance, by how it was measured."))

    def show_next(self) -> None:
        """Show the next finding on the drawing."""
        found = self.session.review.findings
        if found:
            self._place = (self._place + 1) % len(found)
            self.session.point_out(found[self._place])
            points = tuple(point for one in found[self._place].evidence for point in one.points)
            self.session.show_points(points)

    def _show_answers(self) -> None:
        """Answer the eight questions; a drag waits until the hand lets go."""
        scene = self.session.scene
        fresh = scene is not None and scene.plan is self.session.plan
        self.answers_title.setVisible(fresh)
        if scene is None or not fresh or self.session.in_gesture:
            return
        told = answers(scene, self.session.review)
        self.answers.show_cards(
            [(say(one.title), tuple(say(line) for line in one.lines)) for one in told]
        )

    def show_air(self) -> None:
        """Open the carbon monoxide estimate, or bring it to the front."""
        # Plots are slow to load and not wanted before someone asks for them.
        from siteplan.desk.plots.air_window import AirWindow

        # A change of language makes this panel anew; the open window stays the same one.
        found = self._window.findChild(AirWindow)
        air = found or AirWindow(
            self.session, self.canvas, self._window.files.dialogs, self._window
        )
        air.show()
        air.refresh()
        air.activateWindow()

    def show_night(self) -> None:
        """Open levels, fuel, hours and cards, or bring them to the front."""
        from siteplan.desk.steps.night_view import NightWindow

        found = self._window.findChild(NightWindow)
        night = found or NightWindow(self.session, self.canvas, self._window)
        night.show()
        night.refresh()
        night.activateWindow()

    def _measure(self) -> None:
        self.canvas.take_measure()
