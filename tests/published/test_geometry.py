"""Geometry against published tables, worked examples and closed forms.

"Read": the figures were seen in the work named. "Derived": a closed form, written out here.
"""

import math

import numpy as np
import pytest

from siteplan.geometry.openness import blocked_share, horizon, open_ratio, sky_view

FAR_M = 10_000.0


def _ring(count, radius):
    corner = np.linspace(0, 2 * math.pi, count + 1)
    ends = radius * np.column_stack([np.sin(corner), np.cos(corner)])
    return np.stack([ends[:-1], ends[1:]], axis=1)


@pytest.mark.parametrize("h_over_w", [0.25, 0.5, 1.0, 2.0, 3.0])
def test_sky_view_in_a_street(h_over_w):
    """Middle of an endless canyon: cos(atan(2H/W)); Oke 1981, from memory."""
    published = {0.25: 0.894427, 0.5: 0.707107, 1.0: 0.447214, 2.0: 0.242536, 3.0: 0.164399}
    street = np.array([[[-5, -9e3], [-5, 9e3]], [[5, -9e3], [5, 9e3]]])
    seen = sky_view((0, 0), street, [10 * h_over_w] * 2, FAR_M)
    assert seen == pytest.approx(published[h_over_w], abs=2e-6)
    assert published[h_over_w] == pytest.approx(math.cos(math.atan(2 * h_over_w)), abs=5e-7)


@pytest.mark.parametrize(("h_over_r", "expected"), [(0.5, 0.8), (1.0, 0.5), (2.0, 0.2)])
def test_sky_view_in_a_round_basin(h_over_r, expected):
    """Derived: 1/(1 + (H/R)²)."""
    basin = _ring(2000, 4.0)
    assert sky_view((0, 0), basin, [4.0 * h_over_r] * 2000, 9.0) == pytest.approx(expected, 1e-5)


@pytest.mark.parametrize("point", [(5.0, 3.0), (1.0, 1.0), (9.5, 0.5)])
def test_visible_area_of_a_closed_room(point):
    """Derived: all of a convex room is seen from any place in it; 10 by 6 gives 60."""
    ends = np.array([[0, 0], [10, 0], [10, 6], [0, 6], [0, 0]], dtype=float)
    room = np.stack([ends[:-1], ends[1:]], axis=1)
    assert math.pi * np.mean(horizon(point, room, 20.0) ** 2) == pytest.approx(60.0, rel=2e-3)
    assert open_ratio(point, room, 20.0) * math.pi * 400 == pytest.approx(60.0, rel=2e-3)


def test_blocked_share_in_an_inside_corner():
    """Derived: legs 10 and 6, two metres from both: (90° + atan(8/2) + atan(4/2))/360°."""
    corner = np.array([[[0, 0], [10, 0]], [[0, 0], [0, 6]]], dtype=float)
    seen = blocked_share((2, 2), corner, 50.0)
    assert seen == pytest.approx(0.637219, abs=5e-7)
    assert seen == pytest.approx((math.pi / 2 + math.atan(4) + math.atan(2)) / (2 * math.pi))


def test_blocked_share_before_one_wall():
    """Derived: wall 10 m long, 1 m in front of its middle: 2·atan(5)/2π."""
    seen = blocked_share((0, 0), np.array([[[-5, 1], [5, 1]]]), 50.0)
    assert seen == pytest.approx(0.437167, abs=5e-7)
