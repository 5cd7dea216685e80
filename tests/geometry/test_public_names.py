import importlib
import subprocess
import sys

import pytest

import siteplan.geometry

MODULES = ("clearance", "nearest", "openness", "routes", "shapes", "survey", "ties", "zones")


@pytest.mark.parametrize("name", siteplan.geometry.__all__)
def test_public_names_are_what_they_say_even_after_every_module_is_loaded(name):
    for module in (
        "clearance",
        "nearest",
        "openness",
        "routes",
        "shapes",
        "survey",
        "ties",
        "zones",
    ):
        importlib.import_module(f"siteplan.geometry.{module}")
    assert getattr(siteplan.geometry, name).__name__ == name


def test_an_unknown_name_is_an_attribute_error():
    with pytest.raises(AttributeError, match="no attribute 'shortest_path'"):
        siteplan.geometry.shortest_path  # noqa: B018


def test_neither_the_package_nor_any_route_loads_a_graph_library():
    program = (
        "import sys, siteplan.geometry as g; assert 'shapely' not in sys.modules;"
        "from shapely import box; g.shortest_route((-1, 0), (3, 0), [box(0, -1, 1, 1)]);"
        "assert 'scipy' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", program], check=True, timeout=60)
