"""Pictures placed by two points, by more, and checked by a length."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from siteplan.drawing.calibration import (
    CalibrationError,
    Fit,
    affine,
    check_error_m,
    fit,
    picture_error_m,
)
from siteplan.plan.document import Backdrop, Plan
from siteplan.plan.lot import Accuracy
from siteplan.rules.common import accuracy_m


def true_place(pixel, size=0.05, turn=0.3, shift=(12.0, -4.0)):
    """A picture laid out by hand: v turned up, sized, turned counter-clockwise, shifted."""
    u, v = pixel[0] * size, -pixel[1] * size
    return (u * math.cos(turn) - v * math.sin(turn) + shift[0],
            u * math.sin(turn) + v * math.cos(turn) + shift[1])  # fmt: skip


PIXELS = st.tuples(st.floats(0, 4000), st.floats(0, 3000))


@settings(max_examples=60, deadline=None)
@given(PIXELS, st.floats(0.005, 1.0), st.floats(0, 6.28))
def test_two_points_place_every_other_point(pixel, size, turn):
    pairs = [(one, true_place(one, size, turn)) for one in ((100.0, 200.0), (3000.0, 2500.0))]
    found = fit(pairs)
    assert found.place(pixel) == pytest.approx(true_place(pixel, size, turn), abs=1e-6)
    assert found.m_per_px == pytest.approx(size)


def test_three_points_follow_a_picture_that_was_stretched():
    pixels = [(0.0, 0.0), (1000.0, 0.0), (0.0, 800.0)]
    places = [(0.0, 0.0), (50.0, 0.0), (0.0, -32.0)]
    found = fit(list(zip(pixels, places, strict=True)))
    assert found.place((500.0, 400.0)) == pytest.approx((25.0, -16.0))
    assert found.residual_m == 0.0


def test_more_points_are_fitted_as_numpy_polyfit_would_and_tell_their_miss():
    pixels = [(0.0, 0.0), (1000.0, 0.0), (0.0, 1000.0), (1000.0, 1000.0)]
    places = [true_place(one) for one in pixels]
    off = [(places[0][0] + 0.4, places[0][1]), *places[1:]]
    found = affine(list(zip(pixels, off, strict=True)))
    # A slip of one corner of a square spreads evenly: a quarter of it stays at every corner.
    assert found.residual_m == pytest.approx(0.1)
    normal = np.column_stack([np.array(pixels), np.ones(4)])
    expected = np.linalg.inv(normal.T @ normal) @ normal.T @ np.array(off)
    assert found.place((500.0, 500.0)) == pytest.approx(np.array([500, 500, 1]) @ expected)


@pytest.mark.parametrize(
    "pairs",
    [
        [],
        [((0.0, 0.0), (0.0, 0.0))],
        [((0.0, 0.0), (0.0, 0.0)), ((5.0, 5.0), (10.0, 0.0))],
        [((0.0, 0.0), (1.0, 1.0)), ((900.0, 0.0), (1.0, 1.0))],
        [((0.0, 0.0), (0.0, 0.0)), ((500.0, 10.0), (25.0, 0.0)), ((1000.0, 0.0), (50.0, 0.0))],
        [((0.0, 0.0), (0.0, 0.0)), ((500.0, 900.0), (25.0, 0.1)), ((1000.0, 0.0), (50.0, 0.0))],
        [((3.0, 3.0), (0.0, 0.0))] * 3,
    ],
)
def test_points_that_do_not_place_a_picture_are_refused(pairs):
    with pytest.raises(CalibrationError):
        fit(pairs)


@pytest.mark.parametrize(("height", "good"), [(255.0, False), (265.0, True)])
def test_a_thin_triangle_is_refused_just_under_the_limit(height, good):
    # Spread of an isosceles triangle: least over greatest = (h / sqrt 3) / (b / 2 * ... ) by hand:
    # deviations along the base are (-b/2, 0, b/2), across it (-h/3, 2h/3, -h/3), so the ratio is
    # h * sqrt(2/3) / (b * sqrt(1/2)) = 1.1547 h / b; at b = 2000 it passes 0.15 at h = 259.8.
    pixels = [(0.0, 0.0), (1000.0, height), (2000.0, 0.0)]
    pairs = [(one, true_place(one)) for one in pixels]
    if good:
        assert fit(pairs).residual_m == 0.0
    else:
        with pytest.raises(CalibrationError):
            fit(pairs)


def test_a_check_length_tells_the_error():
    found = Fit((0.05, 0.0, 0.0, 0.0, -0.05, 0.0), 0.0)
    assert check_error_m(found, (0.0, 0.0), (300.0, 400.0), 25.0) == pytest.approx(0.0)
    assert check_error_m(found, (0.0, 0.0), (300.0, 400.0), 25.3) == pytest.approx(0.3)
    for bad in (0.0, -1.0, float("nan")):
        with pytest.raises(CalibrationError):
            check_error_m(found, (0.0, 0.0), (1.0, 0.0), bad)
    with pytest.raises(CalibrationError):
        check_error_m(found, (1.0, 1.0), (1.0, 1.0), 5.0)


@pytest.mark.parametrize(("check_m", "error_m"), [(None, 0.2), (0.05, 0.2), (0.5, 0.5)])
def test_the_pictures_error_enters_the_accuracy_and_never_mends_it(check_m, error_m):
    found = Fit((0.05, 0.0, 0.0, 0.0, -0.05, 0.0), 0.2)
    assert picture_error_m(found, check_m) == error_m
    picture = Backdrop(media_type="image/png", data_base64="", check_error_m=error_m)
    taped = Accuracy(method="taped")
    assert accuracy_m(Plan(accuracy=taped)) == pytest.approx(0.10)
    assert accuracy_m(Plan(accuracy=taped, backdrop=picture)) == pytest.approx(0.10 + error_m)


def test_a_picture_without_a_check_adds_nothing_known():
    picture = Backdrop(media_type="image/png", data_base64="")
    assert accuracy_m(Plan(backdrop=picture)) == pytest.approx(0.60)
