"""No wind, source, state or height makes a review milder than it is without the estimate."""

import importlib
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from siteplan.plan.needs import Outage, Wind, WindSector
from siteplan.rules.findings import severity
from siteplan.rules.review import review
from tests.helpers.builders import (
    box,
    building,
    cord,
    cover,
    fence,
    lot,
    machine,
    make_plan,
    opening,
    passing,
    standing,
)
from tests.helpers.judging import sentences
from tests.helpers.lots import number

# The package exports the function of the same name, which hides the module.
rules_review = importlib.import_module("siteplan.rules.review")

maybe = st.none()
KINDS = st.sampled_from(
    ["door", "window", "fixed-window", "garage-door", "soffit-vent", "air-intake",
     "room-air-conditioner", "foundation-vent", "window-well"]
)  # fmt: skip
STATES = st.sampled_from(["shut", "ajar-for-cord", "open"])
WINDS = st.none() | st.builds(
    Wind,
    sectors=st.lists(
        st.builds(
            WindSector,
            from_deg=st.floats(0.0, 359.9),
            share=st.floats(0.0, 0.5),
            speed_m_s=st.floats(0.0, 40.0),
        ),
        min_size=1,
        max_size=4,
    ).map(tuple),
    calm_share=st.floats(0.0, 1.0),
)
MACHINES = st.builds(
    machine,
    exhaust_side=st.sampled_from(["front", "right", "back", "left"]),
    exhaust_height_m=maybe | st.floats(0.0, 3.0),
    rated_w=maybe | st.floats(0.0, 1e6),
    engine_cc=maybe | st.floats(1.0, 5000.0),
    inverter=maybe | st.booleans(),
    co_label_g_per_h=maybe | st.floats(0.1, 20_000.0),
    co_shutoff=maybe | st.booleans(),
    fuel=st.sampled_from(["gasoline", "diesel", "propane"]),
)


@st.composite
def plans(draw):
    heights = maybe | st.floats(0.0, 9.0)
    house = building(
        box(0.0, 0.0, draw(st.floats(4.0, 20.0)), draw(st.floats(4.0, 15.0))),
        eave_height_m=draw(heights),
        storeys=draw(maybe | st.integers(1, 3)),
        overhang_m=draw(maybe | st.floats(0.0, 2.0)),
    )
    openings = [
        opening(
            f"o-{k}",
            kind=draw(KINDS),
            wall=draw(st.integers(0, 3)),
            offset_m=draw(st.floats(0.0, 2.0)),
            sill_m=draw(maybe | st.floats(0.0, 1.0)),
            head_m=draw(maybe | st.floats(1.1, 8.0)),
            state=draw(STATES),
        )
        for k in range(draw(st.integers(0, 4)))
    ]
    passes = (passing(openings[0].id),) if openings and draw(st.booleans()) else ()
    place = standing(
        draw(number(-30.0, 40.0)),
        draw(number(-30.0, 40.0)),
        draw(number(0.0, 359.0)),
        cover=draw(st.sampled_from([None, cover(), cover("tent"), cover("box")])),
        cords=(cord(passes=passes),),
    )
    fences = [fence((-3.0, -5.0), (9.0, -5.0), height_m=draw(st.floats(0.1, 4.0)))]
    return make_plan(
        lot(-40.0, -40.0, 60.0, 60.0),
        house,
        *openings,
        *(fences if draw(st.booleans()) else []),
        draw(MACHINES),
        place,
        wind=draw(WINDS),
        north_deg=draw(st.floats(0.0, 359.0)),
        outage=Outage(hours=draw(maybe | st.floats(0.1, 2000.0))),
    )


def without_estimate(plan):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(rules_review, "OF_THE_WHOLE", {})
        return review(plan)


@settings(max_examples=150, deadline=None)
@given(plans())
def test_a_review_with_the_estimate_has_no_fewer_and_no_lower_findings(plan):
    with_it, without = review(plan), without_estimate(plan)
    rest = [one for one in with_it.findings if one.rule != "co-estimate"]
    assert rest == list(without.findings)
    assert with_it.met == without.met
    assert all(one in with_it.unjudged for one in without.unjudged)
    assert severity(with_it.worst) >= severity(without.worst)


@settings(max_examples=60, deadline=None)
@given(plans(), WINDS)
def test_no_wind_changes_what_the_review_says(plan, wind):
    assert review(plan.model_copy(update={"wind": wind})) == review(plan)


@settings(max_examples=60, deadline=None)
@given(plans(), st.floats(0.1, 20_000.0))
def test_no_label_makes_the_review_milder_than_none(plan, label_g_h):
    def finding(label):
        generator = plan.machine.model_copy(update={"co_label_g_per_h": label})
        said = review(plan.model_copy(update={"machine": generator}))
        return [severity(one.signal) for one in said.findings if one.rule == "co-estimate"]

    assert sum(finding(label_g_h)) >= sum(finding(None))


# Words by which a reader could take an estimate for leave.
LEAVE = re.compile(
    r"\b(safe|safely|ok|okay|fine|acceptable|permitted|allowed|harmless|sufficient|enough|passes)\b",
    re.IGNORECASE,
)


@settings(max_examples=60, deadline=None)
@given(plans())
def test_no_word_of_it_reads_as_leave(plan):
    found = review(plan)
    said = sentences(one for one in (*found.findings, *found.unjudged) if one.rule == "co-estimate")
    assert said
    assert not LEAVE.search(said)
