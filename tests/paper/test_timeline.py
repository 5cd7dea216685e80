"""The bar of the first day, and the night's card."""

import re

import pytest
from defusedxml import ElementTree

from siteplan.drawing.style import look
from siteplan.paper.documents import about
from siteplan.paper.sections import night as card
from siteplan.paper.timeline import HEIGHT_MM, timeline
from siteplan.plan.needs import Load, Outage
from siteplan.rules.night import night_plan
from siteplan.words import Manner
from tests.helpers.papers import full_plan

SVG = "{http://www.w3.org/2000/svg}"
FRIDGE = Load(id="fridge", name="Refrigerator", running_w=800.0)
WASHER = Load(id="washer", name="Washer", running_w=900.0, when="day")
OXYGEN = Load(id="oxygen", name="Oxygen concentrator", running_w=400.0, medical=True)


def subject(**fields):
    values = {"hours": 24.0, "start": "18:00", "quiet_from": "22:00", "quiet_to": "06:00"}
    plan = full_plan(loads=(FRIDGE, WASHER, OXYGEN), outage=Outage(**(values | fields)))
    return about(plan, Manner("en", "metres"))


def widths(root, fill):
    found = []
    for path in root.iter(f"{SVG}path"):
        if path.get("fill") == fill:
            numbers = [float(one) for one in re.findall(r"-?[\d.]+", path.get("d"))]
            found.append(max(numbers[::2]) - min(numbers[::2]))
    return found


def test_the_bar_is_as_long_as_its_hours():
    one = subject()
    root = ElementTree.fromstring(timeline(one, night_plan(one.scene), 180.0))
    whole = max(widths(root, look("sheet-light").fill))
    running = sum(widths(root, look("time-run").fill))
    quiet = sum(widths(root, look("time-quiet").fill))
    found = night_plan(one.scene)
    run_h = sum(each.end_h - each.start_h for each in found.stretches if each.kind == "run")
    assert running / whole == pytest.approx(run_h / 24.0, abs=0.002)
    # From 22 to 6 are 8 of 24 hours.
    assert quiet / whole == pytest.approx(8 / 24, abs=0.002)


def test_the_hours_under_the_bar_are_those_of_the_clock():
    one = subject(start="17:30", hours=12.0)
    root = ElementTree.fromstring(timeline(one, night_plan(one.scene), 180.0))
    hours = [text.text for text in root.iter(f"{SVG}text") if re.fullmatch(r"\d\d", text.text)]
    assert hours == ["18", "21", "00", "03"]
    assert root.get("height") == f"{HEIGHT_MM:g}mm"


def test_the_card_says_stops_quiet_hours_and_what_stays_on():
    one = subject()
    found = night_plan(one.scene)
    made = card.night(one, found, 180.0)
    _, fields, lines = made.blocks
    told = dict(fields.pairs)
    first = found.stops[0]
    span = f"{found.clock(first.stop_h)}–{found.clock(first.start_h, later=True)}"
    assert told["Stop, cool, refuel"].startswith(span)
    assert told["Quiet hours"] == "22:00–06:00"
    assert told["Stays on at night"] == "Refrigerator, Oxygen concentrator"
    assert told["Off at night"] == "Washer"
    assert any("in store" in line for line in lines.items)


def test_what_is_missing_is_said_instead_of_a_bar():
    one = subject(hours=None)
    made = card.night(one, night_plan(one.scene), 180.0)
    assert "Not judged" in made.blocks[0].text
