"""Outlines that cross or touch themselves; shapely and GEOS are the independent check."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import LinearRing, Polygon

from siteplan.plan import rings

SQUARE = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0))

BAD = {
    "bow tie": ((0.0, 0.0), (4.0, 4.0), (4.0, 0.0), (0.0, 4.0)),
    "repeated corner": ((0.0, 0.0), (4.0, 0.0), (4.0, 0.0), (0.0, 4.0)),
    "repeated at the end": ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 0.0)),
    "touches at a corner": (
        (0.0, 0.0),
        (2.0, 2.0),
        (4.0, 0.0),
        (4.0, 4.0),
        (2.0, 2.0),
        (0.0, 4.0),
    ),
    "corner on a foreign wall": ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, 0.0), (0.0, 4.0)),
    "spike": ((0.0, 0.0), (4.0, 0.0), (6.0, 0.0), (4.0, 0.0), (4.0, 4.0)),
    "folds back": ((0.0, 0.0), (4.0, 0.0), (2.0, 0.0), (2.0, 4.0)),
    "folds back over the end": ((0.0, 0.0), (4.0, 0.0), (0.0, 4.0), (0.0, -2.0)),
    "flat": ((0.0, 0.0), (2.0, 0.0), (4.0, 0.0)),
    "a point": ((1.0, 1.0), (1.0, 1.0), (1.0, 1.0)),
    "overlapping walls": (
        (0.0, 0.0),
        (6.0, 0.0),
        (6.0, 2.0),
        (5.0, 0.0),
        (3.0, 0.0),
        (0.0, 4.0),
    ),
}


@pytest.mark.parametrize("ring", BAD.values(), ids=BAD)
def test_finds_a_ring_that_is_not_simple(ring):
    place = rings.crossing(ring)
    assert place is not None
    assert LinearRing(ring).distance(LinearRing([place] * 3)) < 1e-9
    assert rings.crossing(ring[::-1]) is not None


GOOD = {
    "square": SQUARE,
    "triangle": ((0.0, 0.0), (4.0, 0.0), (0.0, 3.0)),
    "corner in a straight wall": ((0.0, 0.0), (2.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)),
    "L": ((0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (2.0, 2.0), (2.0, 4.0), (0.0, 4.0)),
    "U": (
        (0.0, 0.0),
        (6.0, 0.0),
        (6.0, 4.0),
        (4.0, 4.0),
        (4.0, 1.0),
        (2.0, 1.0),
        (2.0, 4.0),
        (0.0, 4.0),
    ),
}


@pytest.mark.parametrize("ring", GOOD.values(), ids=GOOD)
def test_passes_a_simple_ring_from_any_corner_in_either_sense(ring):
    for start in range(len(ring)):
        turned = ring[start:] + ring[:start]
        assert rings.crossing(turned) is None
        assert rings.crossing(turned[::-1]) is None


@pytest.mark.parametrize(("gap_m", "touches"), [(0.0004, True), (0.0006, False)])
def test_half_a_millimetre_from_a_foreign_wall_is_touching(gap_m, touches):
    ring = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, gap_m), (0.0, 4.0))
    assert (rings.crossing(ring) is not None) == touches


@pytest.mark.parametrize(("long_m", "touches"), [(0.0004, True), (0.0006, False)])
def test_a_wall_under_half_a_millimetre_is_no_wall(long_m, touches):
    ring = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (4.0 - long_m, 4.0), (0.0, 4.0 + 0.1))
    assert (rings.crossing(ring) is not None) == touches


# On a grid of a quarter metre within 4 m, any gap is either 0 or far over half a millimetre.
GRID = st.integers(-8, 8).map(lambda step: step / 4.0)


@given(st.lists(st.tuples(GRID, GRID), min_size=3, max_size=9))
def test_agrees_with_geos_on_which_rings_are_simple(ring):
    simple = LinearRing(ring).is_simple and all(
        one != other for one, other in zip(ring, [*ring[1:], ring[0]], strict=True)
    )
    assert (rings.crossing(ring) is None) == (simple and Polygon(ring).is_valid)


@given(
    st.lists(st.floats(0.2, 1.0), min_size=3, max_size=40),
    st.floats(-19_000, 19_000),
    st.floats(-19_000, 19_000),
)
def test_a_star_seen_from_its_middle_is_simple_wherever_it_lies(radii, x, y):
    step = 2 * math.pi / len(radii)
    ring = [
        (x + 50 * r * math.cos(i * step), y + 50 * r * math.sin(i * step))
        for i, r in enumerate(radii)
    ]
    assert rings.crossing(ring) is None


@given(st.lists(st.tuples(GRID, GRID), min_size=3, max_size=9))
def test_area_agrees_with_geos(ring):
    polygon = Polygon(ring)
    assume(polygon.is_valid)
    assert abs(rings.signed_area_m2(ring)) == pytest.approx(polygon.area, abs=1e-12)
    assert (rings.signed_area_m2(ring) > 0) == LinearRing(ring).is_ccw


def test_area_stays_exact_far_from_the_origin():
    far = [(x + 19_990.0, y - 19_990.0) for x, y in SQUARE]
    assert rings.signed_area_m2(far) == pytest.approx(16.0, rel=1e-12)


def test_the_last_wall_closes_the_ring():
    assert rings.wall(SQUARE, 3) == ((0.0, 4.0), (0.0, 0.0))
    assert rings.wall_length_m(((0.0, 0.0), (3.0, 0.0), (0.0, 4.0)), 1) == pytest.approx(5.0)
    assert rings.wall_length_m(((0.0, 0.0), (3.0, 0.0), (0.0, 4.0)), 2) == pytest.approx(4.0)
