import numpy as np
import pytest

from siteplan.sound.reflection import images
from siteplan.sound.screens import Screens

SOURCE = np.array([0.0, 0.0, 1.0])
EAR = np.array([(0.0, 10.0, 1.0)])


def wall(x=-4.0, low=-30.0, high=30.0, tall=10.0):
    return Screens.build([[(x, low), (x, high)]], [tall])


def test_an_image_is_as_far_as_the_bent_path():
    # Mirror of (0, 0) in x = -4 is (-8, 0): 12.81 m from (0, 10), by Pythagoras.
    found = images(SOURCE, EAR, wall())
    np.testing.assert_allclose(found.plan_m, [np.hypot(8, 10)])
    assert found.counts.all()


@pytest.mark.parametrize(("high", "seen"), [(4.99, 0), (5.0, 1), (5.01, 1)])
def test_the_mirror_point_must_lie_on_the_wall(high, seen):
    # The bent path touches the wall half-way, at y = 5.
    assert len(images(SOURCE, EAR, wall(high=high)).receiver) == seen


@pytest.mark.parametrize(("tall", "seen"), [(1.99, 0), (2.0, 1), (2.01, 1)])
def test_the_mirror_point_must_lie_below_the_top(tall, seen):
    # Half-way between 1 m and 3 m the path is 2 m high.
    assert len(images(SOURCE, np.array([(0.0, 10.0, 3.0)]), wall(tall=tall)).receiver) == seen


def test_a_wall_between_mirrors_nothing():
    assert len(images(SOURCE, np.array([(-9.0, 0.0, 1.0)]), wall()).receiver) == 0


def test_small_walls_mirror_only_high_bands():
    # 1/lambda > [2/(l cos b)^2] ds dr/(ds + dr): l = 1.2 m, cos b = 0.8/1.28..., by hand:
    # ds = dr = 6.403 m, cos b = 0.6247, right side 11.39/m, so from 340 * 11.39 = 3874 Hz up.
    found = images(SOURCE, EAR, Screens.build([[(-4, 4.4), (-4, 5.6)]], [10.0]))
    assert found.counts[0].tolist() == [False] * 6 + [True] * 2


def test_a_building_mirrors_with_its_near_face_alone():
    house = Screens.build((), (), [[(-9, -9), (-4, -9), (-4, 30), (-9, 30)]], [5.0])
    assert len(images(SOURCE, EAR, house).receiver) == 1
