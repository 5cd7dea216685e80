"""What the whole review says of a place: what another place could change, and what none can."""

from collections.abc import Iterator
from typing import NamedTuple

from siteplan.rules.carbon_monoxide_case import CONFINING, RULE
from siteplan.rules.carbon_monoxide_rule import holds_anywhere
from siteplan.rules.findings import Finding, Unjudged
from siteplan.rules.review import OF_THE_PLAN, review_scene
from siteplan.scene import Scene

SAME_ANYWHERE = frozenset(
    {"cover", "ground-surface", "level-and-dry", "cord-pinched", "cord-opening-ajar", "cord-exit",
     "cord-pieces", "cord-coiled", "cord-jacket", "cord-wires", "cord-20-ft", "cord-thin",
     "cord-gauge", "plug-match", "voltage-path", "shared-neutral", "outlet-load",
     "continuous-load", "plugged-load", "box-breakers"}
)  # fmt: skip
"""Rules of a placement that judge what is entered for it, wherever it is."""


class Judged(NamedTuple):
    """The findings of a place, worst first each.

    Attributes
    ----------
    here : tuple of Finding
        Those that another place could change.
    anywhere : tuple of Finding
        Those that no place changes.
    missing : tuple of Unjudged
        What could not be judged there, of things that are drawn.
    """

    here: tuple[Finding, ...]
    anywhere: tuple[Finding, ...]
    missing: tuple[Unjudged, ...] = ()


def judged(scene: Scene) -> Judged:
    """Return what the review finds of a scene."""
    said = review_scene(scene)
    found = said.findings
    fixed = {id(one) for one in _fixed(found)}
    return Judged(
        tuple(one for one in found if id(one) not in fixed),
        tuple(one for one in found if id(one) in fixed),
        tuple(one for one in said.unjudged if not one.not_drawn),
    )


def _fixed(found: tuple[Finding, ...]) -> Iterator[Finding]:
    grave = {one.rule for one in found if one.signal == "DANGER" and one.rule in CONFINING}
    # A cover that wraps the machine makes the estimate a danger wherever it stands.
    wrapped = grave == {"cover"}
    for one in found:
        by_rule = one.rule in SAME_ANYWHERE or one.rule in OF_THE_PLAN
        # Of an inlet and what stands before it, which is not the machine.
        by_rule |= one.rule == "inlet-space" and len(one.subjects) > 1
        if by_rule or holds_anywhere(one) or (wrapped and one.rule == RULE):
            yield one
