"""The panel of each step, by the step's name."""

from typing import TYPE_CHECKING

from siteplan.desk.canvas.view import Canvas
from siteplan.desk.session import Session
from siteplan.desk.steps.around import AroundPanel
from siteplan.desk.steps.base import StepPanel
from siteplan.desk.steps.buildings import BuildingsPanel
from siteplan.desk.steps.check import CheckPanel
from siteplan.desk.steps.generator import GeneratorPanel
from siteplan.desk.steps.lot import LotPanel
from siteplan.desk.steps.needs import NeedsPanel
from siteplan.desk.steps.openings import OpeningsPanel
from siteplan.desk.steps.paper import PaperPanel
from siteplan.desk.steps.path import PathPanel

if TYPE_CHECKING:
    from siteplan.desk.window import Window


def panels(session: Session, canvas: Canvas, window: "Window") -> dict[str, StepPanel]:
    """Return the panels of all steps."""
    return {
        "lot": LotPanel(session, canvas, window),
        "buildings": BuildingsPanel(session, canvas),
        "openings": OpeningsPanel(session, canvas),
        "around": AroundPanel(session, canvas),
        "generator": GeneratorPanel(session, canvas, window),
        "path": PathPanel(session, canvas),
        "needs": NeedsPanel(session, canvas),
        "check": CheckPanel(session, canvas, window),
        "paper": PaperPanel(session, canvas, window),
    }
