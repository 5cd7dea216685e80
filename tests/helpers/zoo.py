"""Awkward lots: plans that stand at the edges of what a person may draw."""

import math

from siteplan.plan.around import FuelStore, GasCylinder, ServiceDrop
from siteplan.plan.document import Plan
from siteplan.plan.lot import Accuracy, Lot, Override
from tests.helpers.builders import (
    box,
    building,
    fence,
    fixture,
    ground_area,
    house_plan,
    lot,
    machine,
    make_plan,
    opening,
    roof,
    standing,
    tree,
)

U_SHAPE = ((0.0, 0.0), (14.0, 0.0), (14.0, 10.0), (10.0, 10.0), (10.0, 4.0), (4.0, 4.0),
           (4.0, 10.0), (0.0, 10.0))  # fmt: skip
"""A house round a courtyard open to the north: x 4 to 10, y 4 to 10."""
L_SHAPE = ((0.0, 0.0), (12.0, 0.0), (12.0, 4.0), (4.0, 4.0), (4.0, 12.0), (0.0, 12.0))
"""A house with an inside corner at (4, 4), open to the north-east."""


def _ring(count: int, radius_m: float) -> tuple[tuple[float, float], ...]:
    turns = [2.0 * math.pi * step / count for step in range(count)]
    return tuple((radius_m * math.cos(turn), radius_m * math.sin(turn)) for turn in turns)


def _row_of_houses() -> Plan:
    houses = [
        building(
            box(5.0 * k, 0.0, 5.0 * (k + 1), 9.0),
            id=f"row-{k}",
            owner="own" if k == 2 else "neighbour",
        )
        for k in range(5)
    ]
    windows = [
        opening(f"w-{k}-{wall}", building=f"row-{k}", wall=wall)
        for k in range(5)
        for wall in (0, 2)
    ]
    yard = Lot(outline=box(10.0, -6.0, 15.0, 16.0))
    return make_plan(yard, *houses, *windows, standing(12.5, 14.0))


def _far_from_origin() -> Plan:
    x, y = 19_000.0, -19_000.0
    return make_plan(
        lot(x, y, x + 40.0, y + 40.0),
        building(box(x + 10, y + 10, x + 20, y + 18)),
        opening(),
        standing(x + 15.0, y + 30.0),
    )


def zoo() -> dict[str, Plan]:
    """Return the awkward plans by name."""
    spike = ((0.0, 0.0), (60.0, 0.0), (60.0, 0.5))
    flag = ((0, 0), (4, 0), (4, 40), (40, 40), (40, 80), (0, 80))
    collinear = ((0.0, 0.0), (6.0, 0.0), (12.0, 0.0), (12.0, 8.0), (0.0, 8.0), (0.0, 4.0))
    return {
        "empty": Plan(),
        "only-a-lot": make_plan(lot()),
        "only-a-machine": make_plan(standing(3.0, 3.0)),
        "lot-and-machine": make_plan(lot(), standing(30.0, 30.0), accuracy=None),
        "machine-not-stood": make_plan(lot(), building(), machine()),
        "placement-without-machine": Plan(placements=(standing(1.0, 1.0),)),
        "spike-of-a-lot": make_plan(Lot(outline=spike), standing(59.0, 0.2)),
        "flag-lot": make_plan(
            Lot(outline=tuple((float(x), float(y)) for x, y in flag)),
            building(box(10.0, 50.0, 22.0, 60.0)),
            opening(),
            standing(2.0, 20.0),
        ),
        "row-houses": _row_of_houses(),
        "courtyard": make_plan(building(U_SHAPE), opening(wall=4), standing(7.0, 6.0)),
        "inside-corner": make_plan(building(L_SHAPE), opening(wall=2), standing(5.0, 5.0)),
        "clockwise-house": make_plan(
            building(tuple(reversed(box(0.0, 0.0, 12.0, 8.0)))), opening(), standing(6.0, 20.0)
        ),
        "collinear-corners": make_plan(building(collinear), opening(wall=1), standing(6.0, 20.0)),
        "machine-in-the-house": house_plan(6.0, 4.0),
        "machine-through-a-wall": house_plan(0.0, 4.0),
        "machine-off-the-lot": house_plan(100.0, 100.0),
        "far-from-the-origin": _far_from_origin(),
        "round-house": make_plan(building(_ring(500, 8.0)), standing(0.0, -20.0)),
        "opening-as-long-as-its-wall": make_plan(
            building(), opening(kind="garage-door", offset_m=0.0, width_m=12.0), standing(6.0, -9.0)
        ),
        "a-thousandth-of-an-opening": make_plan(
            building(), opening(offset_m=11.999, width_m=0.001), standing(12.0, -6.5)
        ),
        "coarse-drawing": house_plan(6.0, -12.0, accuracy=Accuracy(method="figure", figure_m=10.0)),
        "figure-not-given": house_plan(6.0, -12.0, accuracy=Accuracy(method="figure")),
        "long-local-figure": house_plan(
            6.0, -30.0, Override(rule="separation-opening", distance_m=100.0, reason="Town code")
        ),
        "short-local-figure": house_plan(
            6.0, -3.0, Override(rule="separation-opening", distance_m=1.0, reason="Hearsay")
        ),
        "local-figure-for-no-rule": house_plan(
            6.0, -30.0, Override(rule="no-such-rule", distance_m=9.0, reason="Typing error")
        ),
        "tiny-machine": make_plan(
            building(), machine(width_m=0.01, length_m=0.01, height_m=0.0), standing(6.0, -9.0)
        ),
        "outlet-far-from-its-frame": house_plan(
            6.0, -15.0, machine(exhaust_offset_m=8.0, exhaust_side="left")
        ),
        "everything-at-one-place": house_plan(
            20.0,
            20.0,
            ground_area("pool", box(19, 19, 21, 21), id="pool"),
            ground_area("deck", box(18, 18, 22, 22), id="deck"),
            roof("canopy", box(18, 18, 22, 22), id="canopy"),
            tree(20.0, 20.0),
            fence((20.0, 15.0), (20.0, 25.0)),
            fixture(FuelStore, 20.0, 20.0, id="cans"),
            fixture(GasCylinder, 20.0, 20.0, id="cylinder"),
            fixture(ServiceDrop, 20.0, 15.0, id="drop", to=(20.0, 25.0)),
        ),
    }
