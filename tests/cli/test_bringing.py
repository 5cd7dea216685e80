"""`siteplan bring` with files that are too large, too deep, or changed at random."""

import io
import json
import random
import re
import sys

import pytest

from siteplan.cli import main
from siteplan.errors import SiteplanError
from siteplan.paper import bring
from siteplan.plan import load, store
from tests.helpers.mutations import HOSTILE, changed_bytes, changed_tree


def square(west, south, side=1e-4):
    east, north = west + side, south + side
    return [[west, south], [east, south], [east, north], [west, north], [west, south]]


def feature(ring, **properties):
    geometry = {"type": "Polygon", "coordinates": [ring]}
    return {"type": "Feature", "properties": properties, "geometry": geometry}


def collection(*features):
    return {"type": "FeatureCollection", "features": list(features)}


LOT = feature(square(-93.0, 45.0, 1e-3), kind="parcel", name="Lantern Row")
HOUSE = feature(square(-92.9997, 45.0003), building="house")
SHED = feature(square(-92.9999, 45.0001, 3e-5), building="shed", name=HOSTILE)
TOWN = collection(LOT, HOUSE, SHED)


@pytest.fixture
def run(tmp_path, capsys):
    def _run(raw, *options):
        file = tmp_path / "town.geojson"
        file.write_bytes(raw if isinstance(raw, bytes) else json.dumps(raw).encode())
        code = main.main(["bring", str(file), "-o", str(tmp_path / "lot.siteplan"), *options])
        said = capsys.readouterr()
        assert said.out == ""
        assert all(line.isprintable() for line in said.err.splitlines())
        return code, said.err, tmp_path / "lot.siteplan"

    return _run


def test_a_town_becomes_a_plan(run):
    code, err, file = run(TOWN)
    assert code == 0
    assert "a lot was brought, and buildings: 2" in err
    # 0.001° at 45° north: 78.85 m by 111.13 m (WGS 84, Vincenty; from memory to the metre).
    assert re.search(r"the lot is 258' \d+\S* wide and 364' \d+\S* deep", err)
    plan = load(file)
    assert plan.title == "Lantern Row"
    assert [one.kind for one in plan.buildings].count("shed") == 1


def test_what_is_there_is_not_overwritten(run):
    run(TOWN)
    code, err, file = run(collection(LOT))
    assert (code, len(load(file).buildings)) == (2, 2)
    assert "--force" in err
    code, _, file = run(collection(LOT), "--force")
    assert (code, len(load(file).buildings)) == (0, 0)


def test_it_comes_by_standard_input_too(tmp_path, monkeypatch):
    raw = json.dumps(TOWN).encode()
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(raw), encoding="utf-8"))
    assert main.main(["bring", "-", "-o", str(tmp_path / "p.siteplan")]) == 0
    assert len(load(tmp_path / "p.siteplan").buildings) == 2


@pytest.mark.parametrize(("houses", "kept"), [(2000, 2000), (2001, 2000), (30_000, 2000)])
def test_of_a_whole_town_the_nearest_houses_are_brought_and_the_rest_is_said(run, houses, kept):
    # A grid 150 across, from the lot's own corner outward.
    grid = [
        feature(square(-93.0 + (k % 150) * 2e-4, 45.0 + (k // 150) * 1.5e-4, 5e-5))
        for k in range(houses)
    ]
    code, err, file = run(collection(LOT, *reversed(grid)))
    plan = load(file)
    assert (code, len(plan.buildings)) == (0, kept)
    assert ("only the 2000 buildings nearest the lot were brought" in err) == (houses > kept)
    assert sum(one.owner == "own" for one in plan.buildings) > 10


def test_houses_of_many_corners_are_brought_up_to_what_a_plan_holds(run):
    comb = [[-93.0 + k * 1e-6, 45.0 + (k % 2) * 1e-6] for k in range(398)]
    ring = [*comb, [-92.9996, 45.00005], [-93.0, 45.00005], comb[0]]
    houses = [feature([[x, y + n * 2e-4] for x, y in ring]) for n in range(60)]
    code, err, file = run(collection(LOT, *houses))
    assert code == 0
    assert "buildings nearest the lot were brought" in err
    assert 40 < len(load(file).buildings) < 60


def _deep(depth, inner):
    return json.loads("[" * depth + json.dumps(inner) + "]" * depth)


@pytest.mark.parametrize(
    "raw",
    [
        collection(feature(square(-93.0, 45.0), name=_deep(900, 1), kind=_deep(900, 1))),
        collection(LOT, feature(square(-93.0, 45.0), role="building", kind=["x"], building={})),
    ],
)
def test_properties_of_any_shape_are_no_harm(run, raw):
    assert run(raw)[0] == 0


@pytest.mark.parametrize(
    "raw",
    [
        {"crs": _deep(900, 1)} | collection(LOT),
        collection(feature(_deep(900, [1, 2]))),
        b'{"type":"Polygon","coordinates":[[[' + b"9" * 5000 + b",1]]]}",
        b'{"type":"Polygon","coordinates":[[[1e400,1],[2,2],[3,1]]]}',
        b'{"type":"Polygon","coordinates":[' + b"[]," * 2_000_000 + b"[]]}",
        b'{"type":"Polygon","type":"Point","coordinates":[]}',
        b" " * (store.LARGEST_FILE_BYTES + 1),
        collection(feature([[-93.0, 45.0], [-92.999, 45.001], [-92.999, 45.0], [-93.0, 45.001]])),
    ],
    ids=["deep crs", "deep ring", "digits", "1e400", "values", "twin", "long", "bow tie"],
)
def test_what_cannot_be_brought_ends_with_3_in_one_line(run, raw):
    code, err, file = run(raw)
    assert code == 3
    assert err.count("\n") == 1
    assert len(err) < 700
    assert not file.exists()


def test_changed_files_are_brought_or_refused_in_one_line():
    rng = random.Random(5)  # noqa: S311 - to be repeated, not to be secret
    brought = 0
    for _ in range(400):
        whole = json.dumps(TOWN).encode()
        raw = changed_bytes(rng, whole) if rng.random() < 0.2 else changed_tree(rng, TOWN)
        try:
            plan = bring.read(raw).plan
        except SiteplanError as error:
            line = str(error)
            assert line.isprintable()
            assert len(line) < 700
            continue
        brought += 1
        assert store.parse(store.dump(plan).encode()) == plan
    assert 20 < brought < 400
