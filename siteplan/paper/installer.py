"""For the installer: the power path with dimensions, sizes and parts."""

from dataclasses import replace

from siteplan.paper.blocks import Block
from siteplan.paper.made import Made, Way, drawn
from siteplan.paper.sections import (
    cords,
    drops,
    inlet,
    needs,
    outlets,
    parts,
    place,
    verdict,
    wiring,
)
from siteplan.paper.sheet import Wish
from siteplan.paper.subject import Subject

MARGIN_MM = 14.0
_TEXT_PT = 9.5


def installer(subject: Subject, paper_mm: tuple[float, float]) -> Made:
    """Return the set: inlet, feeder, outlets, loads, parts and permits."""
    wide = paper_mm[0] - 2 * MARGIN_MM
    lot, pictures = drawn(subject, Wish(size_mm=(wide, paper_mm[1] - 53.0)), "lot")
    blocks: list[Block] = [
        verdict.verdict(subject),
        *place.place(subject),
        *inlet.inlets(subject),
        *wiring.transfer(subject),
        *wiring.panels(subject),
        replace(lot, floats=True),
        *outlets.outlets(subject),
        *cords.cords(subject),
        *cords.which(subject),
        *drops.drops(subject),
        *needs.loads(subject),
        *needs.start_order(subject),
        *parts.parts(subject),
        *wiring.permit(subject),
        *verdict.about_power(subject),
    ]
    return Made(((Way(_TEXT_PT, tuple(blocks)),),), pictures)
