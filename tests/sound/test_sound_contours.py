import numpy as np
import pytest

from siteplan.errors import OutOfRangeError
from siteplan.sound import Screens, assess
from siteplan.sound.contours import MOST_NODES, Grid, contour_lines, level_grid


def spreading(ears):
    """A level that falls by 20 dB per decade from 100 at 1 m: circles by arithmetic."""
    return 100 - 20 * np.log10(np.maximum(np.hypot(ears[:, 0] - 3, ears[:, 1] + 2), 0.5))


def test_equal_levels_of_a_point_are_circles():
    grid = level_grid((-30, -30, 35, 30), spreading, spacing_m=0.5)
    lines = contour_lines(grid, [80, 75, 90])
    assert [line.level_dba for line in lines] == [75, 80, 90]
    for line in lines:
        radius = 10 ** ((100 - line.level_dba) / 20)
        distances = np.hypot(line.points[:, 0] - 3, line.points[:, 1] + 2)
        np.testing.assert_allclose(distances, radius, atol=0.03)
        np.testing.assert_array_equal(line.points[0], line.points[-1])


def test_a_plane_is_met_exactly():
    grid = level_grid((0, 0, 10, 4), lambda ears: 3 * ears[:, 0], spacing_m=1)
    (line,) = contour_lines(grid, [13.5])
    np.testing.assert_allclose(line.points[:, 0], 4.5)
    assert sorted(line.points[:, 1])[0] == 0.0
    assert sorted(line.points[:, 1])[-1] == 4.0


def test_lines_stop_where_nothing_was_modelled():
    level = np.add.outer(np.zeros(5), np.arange(5.0))
    level[2, 2] = np.nan
    lines = contour_lines(Grid(np.arange(5.0), np.arange(5.0), level), [1.5])
    assert len(lines) == 2
    assert all(np.isfinite(line.points).all() for line in lines)


def test_a_level_that_does_not_occur_has_no_line():
    assert contour_lines(level_grid((0, 0, 9, 9), spreading), [200]) == []


@pytest.mark.parametrize("bounds", [(0, 0, 60, 40), (0, 0, 1000, 10), (0, 0, 0.5, 900)])
def test_the_default_grid_stays_small(bounds):
    grid = level_grid(bounds, lambda ears: np.zeros(len(ears)))
    assert MOST_NODES / 3 < grid.level_dba.size <= MOST_NODES


def test_rows_are_northings_and_heights_are_passed_on():
    seen = []

    def levels(ears):
        seen.append(ears)
        return ears[:, 1]

    grid = level_grid((0, 0, 3, 2), levels, spacing_m=1, height_m=4.0)
    np.testing.assert_array_equal(grid.level_dba[:, 0], [0, 1, 2])
    assert set(seen[0][:, 2]) == {4.0}


def test_a_fence_bends_the_lines_of_an_assessment():
    fence = Screens.build([[(5, -30), (5, 30)]], [2.0])
    grid = level_grid((-30, -30, 30, 30), lambda ears: assess((0, 0), ears, 98, fence).level_dba)
    line = max(contour_lines(grid, [65.0]), key=lambda found: len(found.points))
    assert line.points[:, 0].min() == pytest.approx(-17.8, abs=0.5)  # 98 - 8 - 65 = 20 lg 17.8
    assert line.points[:, 0].max() < 12.0


@pytest.mark.parametrize(
    ("bounds", "height", "spacing"),
    [
        ((0, 0, 0, 5), 1.5, None),
        ((5, 0, 0, 5), 1.5, None),
        ((0, 0, 10001, 5), 1.5, None),
        ((0, 0, np.nan, 5), 1.5, None),
        ((0, 0, 5, 5), -1, None),
        ((0, 0, 5, 5), 1.5, 0.01),
    ],
)
def test_impossible_areas_are_refused(bounds, height, spacing):
    with pytest.raises(OutOfRangeError):
        level_grid(bounds, spreading, height_m=height, spacing_m=spacing)


def test_impossible_levels_are_refused():
    with pytest.raises(OutOfRangeError, match="contour level"):
        contour_lines(level_grid((0, 0, 9, 9), spreading), [np.nan])
