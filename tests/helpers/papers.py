"""Plans that the papers are tried on."""

import datetime as dt
import io
import re
from functools import cache
from typing import Any

import pypdf

from siteplan.assets import sample
from siteplan.paper.documents import make
from siteplan.plan.around import OnWall, Panel, PowerInlet
from siteplan.plan.document import Plan
from siteplan.plan.lot import Accuracy, Building, Lot, Opening, Override
from siteplan.plan.machine import Cord, Machine, Placement, Receptacle, SoundRating
from siteplan.plan.needs import Household, Load, Outage, Transfer
from siteplan.plan.store import load
from siteplan.words import Manner

HOUSE = Building(
    id="house",
    name="House",
    outline=((1.0, 1.0), (9.0, 1.0), (9.0, 7.0), (1.0, 7.0)),
    wall_material="combustible",
    openings_complete=True,
)
DOOR = Opening(
    id="door", name="Kitchen door", kind="door", building="house", wall=2, offset_m=3.0, width_m=0.9
)
PANEL = Panel(id="panel", name="Panel", at=(9.0, 4.0), rating_a=200.0, working_space_clear=True)
INLET = PowerInlet(
    id="inlet", name="Inlet", at=(2.0, 7.0), receptacle="L14-30", outdoor_enclosure=True
)
ON_WALL = PowerInlet(
    id="inlet",
    name="Inlet",
    at=(2.0, 7.0),
    on=OnWall(building="house", wall=2, offset_m=7.0),
    height_m=1.2,
)
MACHINE = Machine(
    exhaust_side="back",
    name="Five kilowatts",
    rated_w=5000.0,
    starting_w=6250.0,
    tank_l=20.0,
    neutral="bonded",
    receptacles=(Receptacle(id="big", configuration="L14-30", breaker_a=30.0),),
    sound=SoundRating(level_dba=72.0),
)
FEED = Cord(
    id="feed",
    name="Feed cord",
    receptacle="big",
    to="inlet",
    gauge_awg=10,
    wires=4,
    pieces_m=(15.24,),
    outdoor_jacket=True,
)
YARD = Placement(
    id="yard",
    name="Back of the yard",
    at=(5.0, 18.0),
    turn_deg=180.0,
    ground="gravel",
    level_and_dry=True,
    cords=(FEED,),
)
FRIDGE = Load(
    id="fridge", name="Refrigerator", running_w=150.0, starting_w=1200.0, leg="a", via="inlet"
)
WELL = Load(
    id="well", name="Well pump", running_w=1000.0, starting_w=3000.0, volts=240, via="inlet"
)
TRANSFER = Transfer(
    kind="interlock",
    rating_a=30.0,
    feeder_awg=10,
    feeder_length_m=9.0,
    by_licensed_electrician=True,
    permit=True,
)
LOCAL = Override(rule="separation-opening", distance_m=9.0, reason="Local ordinance")


def full_plan(**fields):
    """A lot of 10 m by 20 m whose every form is filled in."""
    values: dict[str, Any] = {
        "title": "A lot to try papers on",
        "prepared_by": "A. Householder",
        "date": "2026-11-20",
        "accuracy": Accuracy(method="taped"),
        "lot": Lot(outline=((0.0, 0.0), (10.0, 0.0), (10.0, 20.0), (0.0, 20.0))),
        "buildings": (HOUSE,),
        "openings": (DOOR,),
        "fixtures": (PANEL, INLET),
        "machine": MACHINE,
        "placements": (YARD,),
        "loads": (FRIDGE, WELL),
        "transfer": TRANSFER,
        "outage": Outage(hours=48.0, night_limit_dba=45.0),
        "household": Household(extinguisher=True),
        "overrides": (LOCAL,),
    }
    return Plan(**(values | fields))


def squeezed(text):
    """Text without any white space, as pages break lines where they like."""
    return re.sub(r"\s", "", text)


def page_texts(content):
    """The text of each page of a PDF."""
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(content)).pages]


DAY = dt.date(2026, 11, 25)


@cache
def sample_paper(name, kind, language="en", system="feet"):
    """The PDF of a sample's set; setting it once serves many tests."""
    plan = load(sample(f"{name}.siteplan"))
    return make(plan, kind, Manner(language, system), printed=DAY)


@cache
def full_paper(kind, language="en", system="feet"):
    """The PDF of the full plan's set."""
    return make(full_plan(), kind, Manner(language, system), printed=DAY)
