"""What the carbon monoxide estimate draws: air and blood over time, and air by distance."""

import numpy as np

from siteplan.air.thresholds import SEVERE_PERCENT, SHOWN_PPM
from siteplan.desk.palette import Palette
from siteplan.desk.plots.graph import Graph, Style
from siteplan.desk.text import manner, tr
from siteplan.rules.carbon_monoxide import COEstimate, OpeningEstimate
from siteplan.rules.carbon_monoxide_words import METHOD_WORDS
from siteplan.units import M_PER_FT
from siteplan.words import Quantity, length

# The curves end below the top, where the key stands.
_PPM, _PPM_WITH_ROOM = (1.0, 2e6), (1.0, 2e7)
_PPM_TICKS = (1.0, 10.0, 100.0, 1000.0, 10_000.0, 100_000.0)
_PERCENT, _PERCENT_TICKS = (0.0, 130.0), (0.0, 20.0, 40.0, 60.0, 80.0, 100.0)
_FEET_TICKS, _METRE_TICKS = (5.0, 10.0, 20.0, 50.0), (1.0, 2.0, 5.0, 10.0, 20.0, 30.0)
_NEAREST_M = 1.0
_LEVEL_TEXTS = {
    SEVERE_PERCENT: "10 %: headache",
    20.0: "20 %: nausea, confusion",
    40.0: "40 %: collapse, coma",
}
_ADVISED_FT = (15.0, 20.0, 25.0)
_METHOD_STYLES = (
    Style.DashLine,
    Style.DotLine,
    Style.DashDotLine,
    Style.DashDotDotLine,
    Style.SolidLine,
)


def _ppm(value: float) -> str:
    return manner().show(Quantity(value, "concentration", "up"))


def show_room(graph: Graph, one: OpeningEstimate, palette: Palette) -> None:
    """Show the air in the room behind an opening over the run."""
    graph.begin(palette, tr("Hours of running"), tr("Air in the room, ppm"))
    hours = one.indicative.minutes / 60.0
    usual = graph.curve(
        hours, one.indicative.room_ppm, tr("light wind, usual methods"), Style.SolidLine, 2.6
    )
    worst = graph.curve(
        hours, one.worst.room_ppm, tr("the worst: nearly still air, every method"), Style.DashLine
    )
    graph.band(usual, worst)
    for level in SHOWN_PPM:
        graph.level(level, _ppm(level))
    graph.look((0.0, float(hours[-1])), _PPM, {"left": _PPM_TICKS})


def show_blood(graph: Graph, one: OpeningEstimate, palette: Palette) -> None:
    """Show the blood of three persons behind an opening over the run."""
    graph.begin(palette, tr("Hours of running"), tr("In the blood, % COHb"))
    hours = one.indicative.minutes / 60.0
    people = one.indicative.cohb_percent
    usual = graph.curve(
        hours, people["public"], tr("light wind; people awake"), Style.SolidLine, 2.6
    )
    graph.curve(hours, people["heavy"], tr("light wind; someone at hard work"), Style.DotLine)
    graph.curve(hours, people["child"], tr("light wind; a small child"), Style.DashDotLine)
    worst = graph.curve(
        hours, one.worst.cohb_percent["public"], tr("the worst; people awake"), Style.DashLine
    )
    graph.band(usual, worst)
    for level, text in _LEVEL_TEXTS.items():
        graph.level(level, tr(text))
    graph.look((0.0, float(hours[-1])), _PERCENT, {"left": _PERCENT_TICKS})


def show_distance(graph: Graph, found: COEstimate, palette: Palette) -> None:
    """Show the air outdoors by distance, with every method of both bands."""
    feet = manner().system == "feet"
    unit = M_PER_FT if feet else 1.0
    name = tr("Way of the exhaust, feet") if feet else tr("Way of the exhaust, metres")
    graph.begin(palette, name, tr("Outdoors, ppm"))
    away = np.geomspace(_NEAREST_M, found.reach_m, 60)
    bands = found.by_distance(away)
    shown = away / unit
    for index, method in enumerate(bands.indicative.by_method_ppm):
        style = _METHOD_STYLES[index % len(_METHOD_STYLES)]
        named = tr(METHOD_WORDS[method])
        graph.curve(shown, bands.indicative.by_method_ppm[method], named, style, 1.0)
        graph.curve(shown, bands.worst.by_method_ppm[method], None, style, 1.0)
    usual = graph.curve(
        shown, bands.indicative.ppm, tr("light wind, usual methods"), Style.SolidLine, 2.6
    )
    worst = graph.curve(shown, bands.worst.ppm, tr("the worst"), Style.DashLine, 2.6)
    graph.band(usual, worst)
    for distance_ft in _ADVISED_FT:
        metres = distance_ft * M_PER_FT
        graph.upright(metres / unit, manner().show(length(metres, "near")))
    graph.level(SHOWN_PPM[0], _ppm(SHOWN_PPM[0]))
    ticks = _FEET_TICKS if feet else _METRE_TICKS
    graph.look(
        (_NEAREST_M / unit, found.reach_m / unit),
        _PPM_WITH_ROOM,
        {"bottom": ticks, "left": _PPM_TICKS},
    )
