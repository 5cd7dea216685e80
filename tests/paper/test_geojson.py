"""GeoJSON out and in, held against independent readers and geodesics."""

import json
import math

import geopandas
import pyproj
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import shape

from siteplan.paper import bring, geojson
from siteplan.paper.documents import about
from siteplan.paper.earth import Projection
from siteplan.plan.document import Plan
from siteplan.plan.edits import changed
from siteplan.plan.errors import BrokenFileError
from siteplan.plan.lot import Lot, Origin
from tests.helpers.papers import HOUSE, full_plan

ORIGIN = Origin(longitude_deg=-93.25, latitude_deg=44.95)
GEOD = pyproj.Geod(ellps="WGS84")


def placed(**fields):
    plan = full_plan(**fields)
    return changed(plan, lot=changed(plan.lot, origin=ORIGIN))


def written(plan):
    return geojson.write(about(plan))


@settings(max_examples=60, deadline=None)
@given(
    st.floats(-180, 180),
    st.floats(-84, 84),
    st.floats(-250, 250),
    st.floats(-250, 250),
    st.floats(0, 359),
)
def test_distances_on_the_earth_are_those_of_the_drawing(lon, lat, x, y, north):
    earth = Projection(Origin(longitude_deg=lon, latitude_deg=lat), north)
    (start, end) = earth.degrees([(0.0, 0.0), (x, y)])
    _, _, length = GEOD.inv(*start, *end)
    # Seven decimals of a degree are about 1 cm.
    assert length == pytest.approx((x * x + y * y) ** 0.5, abs=0.02)
    assert earth.metres([end])[0] == pytest.approx((x, y), abs=0.02)


def test_north_of_the_drawing_turns_with_its_arrow():
    # North lies 90 degrees clockwise from the top: what is drawn to the right is north.
    (_, end) = Projection(ORIGIN, 90.0).degrees([(0.0, 0.0), (100.0, 0.0)])
    assert end[0] == pytest.approx(ORIGIN.longitude_deg, abs=1e-6)
    assert end[1] > ORIGIN.latitude_deg


def test_an_independent_reader_finds_the_lot_with_its_area(tmp_path):
    path = tmp_path / "lot.geojson"
    path.write_text(written(placed()), encoding="utf-8")
    frame = geopandas.read_file(path)
    assert frame.crs.to_epsg() == 4326
    assert frame.geometry.is_valid.all()
    flat = frame.to_crs(frame.estimate_utm_crs())
    lot = flat[flat["role"] == "lot"]
    # UTM scales areas by up to 0.08 %.
    assert float(lot.area.iloc[0]) == pytest.approx(200.0, rel=2e-3)
    assert set(frame["role"]) >= {"lot", "building", "opening", "fixture", "machine"}


def test_the_file_keeps_to_rfc_7946():
    tree = json.loads(written(placed()))
    assert set(tree) == {"type", "features"}
    for feature in tree["features"]:
        geometry = feature["geometry"]
        if geometry["type"] == "Polygon":
            ring = geometry["coordinates"][0]
            assert ring[0] == ring[-1]
            assert shape(geometry).exterior.is_ccw
        text = json.dumps(geometry["coordinates"])
        assert all(
            len(one.split(".")[1]) <= 7
            for one in text.replace("[", "").replace("]", "").split(", ")
            if "." in one
        )


def test_hostile_names_stay_inside_their_strings():
    house = changed(HOUSE, name='"}]}, {"type": "Feature"\u202e</script>')
    tree = json.loads(written(placed(buildings=(house,))))
    (found,) = [one for one in tree["features"] if one["properties"].get("id") == "house"]
    assert found["properties"]["name"] == '"}]}, {"type": "Feature"</script>'


def test_a_lot_without_a_place_on_the_earth_says_so():
    with pytest.raises(geojson.NoOriginError, match="no place on the earth"):
        written(full_plan())
    with pytest.raises(geojson.NoOriginError):
        written(Plan())


def test_what_was_written_can_be_brought_again():
    back = bring.read(written(placed()).encode()).plan
    assert len(back.buildings) == 1
    assert back.buildings[0].kind == "dwelling"
    assert back.buildings[0].owner == "own"
    assert shape(
        {"type": "Polygon", "coordinates": [[*back.lot.outline, back.lot.outline[0]]]}
    ).area == pytest.approx(200.0, abs=0.3)


def square(lon, lat, side_deg=0.0002):
    return [
        [lon, lat],
        [lon + side_deg, lat],
        [lon + side_deg, lat + side_deg],
        [lon, lat + side_deg],
        [lon, lat],
    ]


BOW_TIE = [[-93.0, 45.0], [-92.9999, 45.0001], [-92.9999, 45.0], [-93.0, 45.0001]]


def feature(geometry, **properties):
    return {"type": "Feature", "geometry": geometry, "properties": properties}


def polygon(ring, **properties):
    return feature({"type": "Polygon", "coordinates": [ring]}, **properties)


def collection(*features):
    return json.dumps({"type": "FeatureCollection", "features": features}).encode()


PARCEL = polygon(square(-93.0, 45.0, 0.0006), name="Parcel 7")
FOOTPRINT = polygon(square(-92.9998, 45.0002), building="yes")


def test_the_polygon_that_holds_the_others_is_the_lot():
    away = polygon(square(-92.9990, 45.0002), building="garage", name="Next door")
    plan = bring.read(collection(FOOTPRINT, PARCEL, away)).plan
    assert plan.title == "Parcel 7"
    assert [(one.owner, one.kind) for one in plan.buildings] == [
        ("own", "dwelling"),
        ("neighbour", "detached-garage"),
    ]
    # Side of the footprint by geodesic: 0.0002° of latitude at 45°.
    _, _, side = GEOD.inv(-92.9998, 45.0002, -92.9998, 45.0004)
    ys = [y for _, y in plan.buildings[0].outline]
    assert max(ys) - min(ys) == pytest.approx(side, abs=0.01)


def test_a_marked_parcel_wins_over_a_larger_polygon():
    block = polygon(square(-93.0002, 44.9998, 0.0020))
    marked = polygon(square(-93.0, 45.0, 0.0006), type="Parcel", name="Marked")
    plan = bring.read(collection(block, marked)).plan
    assert plan.title == "Marked"


def test_a_building_is_never_taken_for_the_lot():
    with pytest.raises(BrokenFileError, match="holds buildings but no parcel"):
        bring.read(collection(FOOTPRINT))
    around = polygon(square(-93.0, 45.0, 0.0006), building="yes", name="A hall")
    with pytest.raises(BrokenFileError, match="holds buildings but no parcel"):
        bring.read(collection(around, FOOTPRINT))


def test_of_several_parcels_with_buildings_none_is_guessed():
    mine = polygon(square(-93.0, 45.0, 0.0006), type="parcel", name="Mine")
    theirs = polygon(square(-92.999, 45.0, 0.0006), type="parcel", name="Theirs")
    next_door = polygon(square(-92.9988, 45.0002), building="yes")
    with pytest.raises(BrokenFileError, match="holds 2 parcels with buildings"):
        bring.read(collection(mine, theirs, FOOTPRINT, next_door))
    brought = bring.read(collection(mine, theirs, FOOTPRINT))
    assert (brought.plan.title, len(brought.plan.buildings)) == ("Mine", 1)
    assert any("parcels beside the lot" in one.say() for one in brought.notes)


def test_whose_a_building_is_the_file_may_say():
    off = polygon(square(-92.9990, 45.0002), role="building", kind="dwelling", owner="own")
    on = polygon(square(-92.9998, 45.0002), building="yes", owner="neighbour")
    plan = bring.read(collection(PARCEL, off, on)).plan
    assert {one.owner for one in plan.buildings} == {"own", "neighbour"}
    (home,) = [one for one in plan.buildings if one.owner == "own"]
    assert home.outline[0][0] > 0.0


@pytest.mark.parametrize(
    ("latitude", "right"),
    [(-75.1, False), (-60.1, False), (-54.8, True), (69.6, True), (77.2, False)],
)
def test_latitudes_where_no_town_is_are_taken_for_swapped_longitudes(latitude, right):
    # Ushuaia lies at 54.8° south, Tromsø at 69.6° north (from memory).
    parcel = polygon(square(40.0, latitude, 0.0006))
    if right:
        assert bring.read(collection(parcel)).plan.lot is not None
    else:
        with pytest.raises(BrokenFileError, match="GeoJSON puts longitude first"):
            bring.read(collection(parcel))


@pytest.mark.parametrize(
    ("extra", "note"),
    [
        (feature(None), "without a geometry"),
        (feature({"type": "Point", "coordinates": [-93.0, 45.0]}), "points and lines"),
        (feature({"type": "Polygon", "coordinates": []}), "empty polygons"),
        (polygon(BOW_TIE), "cross themselves"),
        (polygon([[-93.0, 45.0], [-92.9999, 45.0]]), "cross themselves"),
    ],
)
def test_what_cannot_be_used_is_left_out_and_said(extra, note):
    brought = bring.read(collection(PARCEL, FOOTPRINT, extra))
    assert len(brought.plan.buildings) == 1
    assert any(note in one.say() for one in brought.notes)


@pytest.mark.parametrize(
    "geometry",
    [
        {
            "type": "MultiPolygon",
            "coordinates": [[square(-92.9998, 45.0002)], [square(-92.9995, 45.0002, 0.00005)]],
        },
        {
            "type": "GeometryCollection",
            "geometries": [
                {"type": "Polygon", "coordinates": [square(-92.9998, 45.0002)]},
                {
                    "type": "GeometryCollection",
                    "geometries": [
                        {"type": "Polygon", "coordinates": [square(-92.9995, 45.0002, 0.00005)]}
                    ],
                },
            ],
        },
    ],
)
def test_every_part_of_a_collection_is_a_building(geometry):
    plan = bring.read(collection(PARCEL, feature(geometry, building="yes"))).plan
    assert len(plan.buildings) == 2


def test_heights_unclosed_rings_and_courtyards_are_survived():
    ring = [[*one, 231.5] for one in square(-92.9998, 45.0002)[:-1]]
    hole = square(-92.99975, 45.00025, 0.00005)
    brought = bring.read(
        collection(PARCEL, feature({"type": "Polygon", "coordinates": [ring, hole]}))
    )
    assert len(brought.plan.buildings[0].outline) == 4
    assert any("courtyards" in one.say() for one in brought.notes)


def test_a_bare_geometry_will_do():
    raw = json.dumps({"type": "Polygon", "coordinates": [square(-93.0, 45.0)]}).encode()
    plan = bring.read(raw).plan
    assert len(plan.lot.outline) == 4
    assert plan.buildings == ()


@pytest.mark.parametrize(
    ("raw", "why"),
    [
        (b"\xff\xfe", "not UTF-8"),
        (b"{", "not JSON"),
        (b"[1, 2]", "not GeoJSON"),
        (b'{"type": "Topology"}', "no type 'Topology'"),
        (b'{"type": "FeatureCollection", "features": 3}', "'features' must be a list"),
        (b'{"type": "FeatureCollection", "features": []}', "no polygon"),
        (b'{"type": "Polygon", "coordinates": [[[NaN, 1], [2, 3], [4, 5]]]}', "NaN is no"),
        (b'{"type": "Polygon", "coordinates": [[["1", 2], [2, 3], [4, 5]]]}', "no position"),
        (b'{"type": "Polygon", "coordinates": [[[true, 2], [2, 3], [4, 5]]]}', "no position"),
        (
            b'{"type": "Polygon", "coordinates": [[[2812345.1, 1e5], [2.8e6, 1e5]]]}',
            "metres or feet of a map projection",
        ),
        (b'{"type": "Polygon", "coordinates": [[[0, 91], [1, 91], [1, 92]]]}', "map projection"),
        (
            b'{"type": "Polygon", "coordinates": [[[0, 89], [0.001, 89], [0.001, 89.001]]]}',
            "GeoJSON puts longitude first",
        ),
        (b'{"type": "Polygon", "coordinates": [[[0, 0], [1, 0], [1, 1]]]}', "spreads over"),
        (b'{"type": "Polygon", "crs": {"name": "EPSG:2263"}}', "coordinate system of its own"),
        (b'{"type": "GeometryCollection", "geometries": [' * 40 + b"]}" * 40, "nested too deeply"),
        (b"[" * 200_000, "nested too deeply"),
    ],
)
def test_what_is_no_geojson_of_a_lot_is_refused_in_one_line(raw, why):
    with pytest.raises(BrokenFileError) as caught:
        bring.read(raw, "file.geojson")
    assert why in str(caught.value)
    assert str(caught.value).startswith("file.geojson: ")
    assert "\n" not in str(caught.value)


def test_a_crs_member_that_names_wgs_84_is_harmless():
    tree = json.loads(collection(PARCEL)) | {
        "crs": {"type": "name", "properties": {"name": "urn:ogc:def:crs:OGC:1.3:CRS84"}}
    }
    assert bring.read(json.dumps(tree).encode()).plan.lot is not None


def test_hostile_names_become_plain_titles():
    parcel = polygon(square(-93.0, 45.0), name="=cmd\u202e\x07" + "x" * 500)
    title = bring.read(collection(parcel)).plan.title
    assert len(title) <= 120
    assert title.isprintable()


def test_a_footprint_of_thousands_of_corners_is_thinned():
    ring = [
        [
            -92.9997 + 1e-4 * math.cos(2 * math.pi * k / 3000),
            45.0003 + 1e-4 * math.sin(2 * math.pi * k / 3000),
        ]
        for k in range(3000)
    ]
    plan = bring.read(collection(PARCEL, polygon(ring))).plan
    assert 8 < len(plan.buildings[0].outline) <= 500


def test_the_lot_model_takes_what_was_brought():
    lot = bring.read(collection(PARCEL)).plan.lot
    assert isinstance(lot, Lot)
    assert lot.origin.latitude_deg == pytest.approx(45.0003)
