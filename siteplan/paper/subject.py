"""What a set of papers is about: one plan, its review, and who reads it."""

import datetime as dt
from dataclasses import dataclass, field

from siteplan.plan.document import Plan
from siteplan.plan.machine import Machine, Placement
from siteplan.rules.findings import Review
from siteplan.scene import Scene
from siteplan.words import Manner, Quantity, Text


@dataclass(frozen=True)
class Subject:
    """A plan under review, and how to speak of it.

    Attributes
    ----------
    plan, scene, review : Plan, Scene, Review
        The plan, its shapes, and what the rules say.
    manner : Manner
        Language and units.
    printed : date
        The day on the paper.
    """

    plan: Plan
    scene: Scene
    review: Review
    manner: Manner = field(default_factory=Manner)
    printed: dt.date = field(default_factory=lambda: dt.datetime.now().astimezone().date())

    @property
    def machine(self) -> Machine | None:
        """The machine, if there is one."""
        return self.plan.machine

    @property
    def placement(self) -> Placement | None:
        """The placement under review, if there is one."""
        return self.plan.placement

    def say(self, template: str, **values: "Quantity | Text | str | int") -> str:
        """Return a sentence in the reader's language and units."""
        return Text(template, values).say(self.manner)

    def show(self, value: "Quantity | Text | str | int | None") -> str:
        """Return a value as text; nothing entered shows as a dash."""
        return "–" if value is None else self.manner.show(value)

    def answer(self, value: bool | None) -> str:
        """Return yes, no, or that nothing was entered."""
        if value is None:
            return self.say("not entered")
        return self.say("yes") if value else self.say("no")
