"""Things added to the sample plans: what no sample holds, so that every rule has its say."""

from typing import Any

Change = tuple[tuple[str, Any], ...]
"""Ways to a field and what is put there; a way that ends in + adds to a list."""


def _box(x0: float, y0: float, x1: float, y1: float) -> list[list[float]]:
    return [[x0, y0], [x1, y0], [x1, y1], [x0, y1]]


def _on(kind: str, x: float, y: float, **fields: Any) -> dict[str, Any]:
    return {"id": "new", "kind": kind, "at": [x, y]} | fields


def _area(kind: str, x0: float, y0: float, x1: float, y1: float, **fields: Any) -> dict[str, Any]:
    return {"id": "new-area", "kind": kind, "outline": _box(x0, y0, x1, y1)} | fields


def _across(kind: str) -> tuple[str, Any]:
    """Return a ground that lies across the cord to the inlet."""
    return ("surroundings+", _area(kind, 12.0, 22.0, 17.0, 26.0))


def _house(x0: float, y0: float, x1: float, y1: float, name: str = "new", **fields: Any) -> Any:
    return {"id": name, "kind": "dwelling", "outline": _box(x0, y0, x1, y1)} | fields


def _hole(kind: str, wall: int, offset_m: float, building: str = "house", **fields: Any) -> Any:
    place = {"building": building, "wall": wall, "offset_m": offset_m, "width_m": 0.6}
    return {"id": "new-hole", "kind": kind} | place | fields


def _cord(to: str | None, end: list[float] | None, **fields: Any) -> dict[str, Any]:
    cord = {"id": "new-cord", "receptacle": "duplex-a", "to": to, "end": end, "pieces_m": [15.24]}
    return cord | {"gauge_awg": 12, "wires": 3, "outdoor_jacket": True} | fields


def _load(**fields: Any) -> dict[str, Any]:
    return {"id": "new-load", "appliance": "other", "running_w": 900.0, "via": "inlet"} | fields


_CORDS, _PLACE = "placements.0.cords", "placements.0"
_L_HOUSE = [[12.0, 12.0], [26.0, 12.0], [26.0, 16.0], [16.0, 16.0], [16.0, 26.0], [12.0, 26.0]]
_L_SHAPED: Change = (("buildings.0.outline", _L_HOUSE), ("openings.5.offset_m", 1.0))
_NO_HOLES: Change = (("openings", []), ("buildings", []), ("fixtures", []))
_ROSE = [
    {"from_deg": 0.0, "share": 0.5, "speed_m_s": 3.0},
    {"from_deg": 225.0, "share": 0.3, "speed_m_s": 5.0},
]
_PICTURE = {"media_type": "image/png", "data_base64": "aGk=", "check_error_m": 0.3}

GOOD: dict[str, Change] = {
    "a gas cylinder by a window": (("fixtures+", _on("gas-cylinder", 13.0, 18.6)),),
    "a cylinder filled on site": (
        ("fixtures+", _on("gas-cylinder", 13.0, 19.5, filled_on_site=True)),
    ),
    "a cylinder exchanged": (("fixtures+", _on("gas-cylinder", 13.0, 18.2, filled_on_site=False)),),
    "a cylinder in the house": (("fixtures+", _on("gas-cylinder", 12.0, 12.0)),),
    "a cylinder by the generator": (("fixtures+", _on("gas-cylinder", 13.5, 30.5)),),
    "an intake by the regulator": (("openings+", _hole("air-intake", 3, 7.2)),),
    "an intake far from the regulator": (("openings+", _hole("combustion-intake", 3, 4.0)),),
    "a regulator by the generator": (("fixtures+", _on("gas-meter", 13.0, 31.0)),),
    "wires over the generator": (("fixtures+", _on("service-drop", 13.0, 40.0, to=[13.0, 18.0])),),
    "wires by a window": (
        ("fixtures+", _on("service-drop", 2.0, 40.0, to=[10.0, 18.0], height_m=3.0)),
    ),
    "a tent by the generator": (("surroundings+", _area("tent", 14.0, 30.0, 17.0, 33.0)),),
    "an overhang over the generator": (
        ("surroundings+", _area("overhang", 12.0, 30.0, 15.0, 33.0)),
    ),
    "a canopy open on four sides": (
        ("surroundings+", _area("canopy", 12.0, 30.0, 15.0, 33.0, open_sides=4)),
    ),
    "a low canopy": (
        (
            "surroundings+",
            _area("canopy", 12.0, 30.0, 15.0, 33.0, open_sides=4, clear_height_m=1.2),
        ),
    ),
    "a high canopy": (
        (
            "surroundings+",
            _area("canopy", 12.0, 30.0, 15.0, 33.0, open_sides=4, clear_height_m=3.2),
        ),
    ),
    "a canopy open on three sides": (
        ("surroundings+", _area("canopy", 12.0, 30.0, 15.0, 33.0, open_sides=3)),
    ),
    "a deck under it": (("surroundings+", _area("deck", 12.0, 30.0, 15.0, 33.0)),),
    "a deck by it that cannot burn": (
        ("surroundings+", _area("deck", 14.0, 30.0, 17.0, 33.0, combustible=False)),
    ),
    "a deck by it that can burn": (
        ("surroundings+", _area("deck", 14.0, 30.0, 17.0, 33.0, combustible=True)),
    ),
    "brush by it": (("surroundings+", _area("brush", 13.5, 30.0, 17.0, 33.0)),),
    "a driveway under it": (("surroundings+", _area("driveway", 12.0, 30.0, 15.0, 33.0)),),
    "a walk under it": (("surroundings+", _area("walk", 12.0, 30.0, 15.0, 33.0)),),
    "a pool by it": (("surroundings+", _area("pool", 14.0, 30.0, 17.0, 33.0)),),
    "water under it": (("surroundings+", _area("standing-water", 12.0, 30.0, 15.0, 33.0)),),
    "a tree over it": (
        ("surroundings+", {"id": "elm", "kind": "tree", "at": [13.5, 32.5], "crown_m": 5.0}),
    ),
    "a condenser by it": (("fixtures+", _on("outdoor-unit", 13.9, 31.5)),),
    "a panel by it": (("fixtures+", _on("panel", 13.9, 31.5, working_space_clear=False)),),
    "an inlet by it": (("fixtures+", _on("power-inlet", 13.9, 31.5, neutral_sign=False)),),
    "a hundred-ampere inlet": (("fixtures+", _on("power-inlet", 8.0, 18.0, rating_a=100.0)),),
    "a disconnect without interlock": (
        (
            "fixtures+",
            _on("power-inlet", 8.0, 18.0, rating_a=100.0, interlocked_disconnect=False),
        ),
    ),
    "a disconnect with interlock": (
        (
            "fixtures+",
            _on(
                "power-inlet",
                8.0,
                18.0,
                rating_a=100.0,
                interlocked_disconnect=True,
                outdoor_enclosure=False,
                receptacle="odd",
            ),
        ),
    ),
    "diesel in store too": (("fixtures+", _on("fuel-store", 24.0, 19.0, fuel="diesel")),),
    "fuel in the house": (("fixtures+", _on("fuel-store", 12.0, 12.0, stored_l=10.0)),),
    "fuel in the garage": (("fixtures+", _on("fuel-store", 20.0, 12.0, stored_l=10.0)),),
    "fuel in the garage in a cabinet": (
        ("fixtures+", _on("fuel-store", 20.0, 12.0, stored_l=10.0, in_cabinet=True)),
    ),
    "fuel in the neighbour's house": (("fixtures+", _on("fuel-store", 35.0, 12.0, stored_l=9.0)),),
    "no fuel store": (("fixtures.5", _on("outdoor-unit", 25.0, 2.0)),),
    "a longer local figure": (
        (
            "overrides",
            [{"rule": "separation-opening", "distance_m": 12.0, "reason": "Town code"}],
        ),
    ),
    "a shorter local figure": (
        ("overrides", [{"rule": "separation-opening", "distance_m": 2.0, "reason": "Hearsay"}]),
    ),
    "local figures for nothing": (
        (
            "overrides",
            [
                {"rule": "no-such-rule", "distance_m": 2.0, "reason": "A slip"},
                {"rule": "co-alarms", "distance_m": 2.0, "reason": "A slip"},
            ],
        ),
    ),
    "a picture with an error": (("backdrop", _PICTURE),),
    "a wind rose": (("wind", {"sectors": _ROSE, "calm_share": 0.2, "origin": "A mast"}),),
    "an outlet fed by a cord": (
        ("fixtures+", _on("house-receptacle", 14.0, 18.0)),
        (f"{_CORDS}+", _cord("new", None)),
    ),
    "an outlet said to feed a load": (
        ("fixtures+", _on("house-receptacle", 14.0, 18.0)),
        ("loads+", _load(via="new")),
    ),
    "a cord to the panel": ((f"{_CORDS}+", _cord("panel", None)),),
    "a cord to the meter": ((f"{_CORDS}+", _cord("meter", None)),),
    "a cord to nothing": ((f"{_CORDS}+", _cord(None, None)),),
    "a cord of no gauge": ((f"{_CORDS}+", _cord(None, [11.0, 15.0], gauge_awg=None)),),
    "a cord through a wall": ((f"{_CORDS}+", _cord(None, [11.0, 15.0])),),
    "a cord with two wires": ((f"{_CORDS}+", _cord("inlet", None, wires=2)),),
    "a cord for a fridge": (
        (f"{_CORDS}+", _cord(None, [14.0, 22.0])),
        ("loads+", _load(via="new-cord", starting_w=2500.0)),
    ),
    "a heavy load on a thin cord": (
        (f"{_CORDS}+", _cord(None, [14.0, 22.0], gauge_awg=18)),
        ("loads+", _load(via="new-cord", running_w=2300.0, continuous=True)),
    ),
    "a load of 240 V on a cord of 120 V": (
        (f"{_CORDS}+", _cord(None, [14.0, 22.0])),
        ("loads+", _load(via="new-cord", volts=240)),
    ),
    "a medical load on a cord": (
        (f"{_CORDS}+", _cord(None, [14.0, 22.0])),
        ("loads+", _load(via="new-cord", medical=True)),
    ),
    "a load that no one feeds": (("loads+", _load(via=None)),),
    "a load too heavy": (("loads+", _load(running_w=9000.0, starting_w=12000.0, leg="a")),),
    "a box of outlets": (
        (f"{_CORDS}+", _cord(None, [14.0, 22.0], end_fitting="outlet-box", receptacle="l14-30")),
        ("loads+", _load(via="new-cord")),
    ),
    "a box with breakers": (
        (
            f"{_CORDS}+",
            _cord(
                None,
                [14.0, 22.0],
                end_fitting="outlet-box-with-breakers",
                wires=4,
                receptacle="l14-30",
            ),
        ),
        ("loads+", _load(via="new-cord", leg="a")),
    ),
    "an outlet through the wall": (
        ("fixtures+", _on("through-wall-outlet", 14.0, 18.0)),
        (f"{_CORDS}+", _cord("new", None)),
        ("loads+", _load(via="new")),
    ),
    "a protected outlet through the wall": (
        ("fixtures+", _on("through-wall-outlet", 14.0, 18.0, gfci=True)),
        (f"{_CORDS}+", _cord("new", None)),
    ),
    "an unprotected outlet through the wall": (
        ("fixtures+", _on("through-wall-outlet", 14.0, 18.0, gfci=False)),
        (f"{_CORDS}+", _cord("new", None)),
    ),
    "a cord over a driveway": (_across("driveway"),),
    "a ramp over it": (_across("driveway"), (f"{_CORDS}.0.ramp_at_driveway", True)),
    "no ramp over it": (_across("driveway"), (f"{_CORDS}.0.ramp_at_driveway", False)),
    "a cord through a pool": (_across("pool"), (f"{_CORDS}.0.routing", "drawn")),
    "a cord through a puddle": (_across("standing-water"), (f"{_CORDS}.0.routing", "drawn")),
    "a cord over a walk": (_across("walk"),),
    "a cord over a deck": (_across("deck"),),
    "a cord round a pool": (_across("pool"),),
    "a three-wire cord at a four-wire outlet": (
        (f"{_CORDS}+", _cord(None, [14.0, 22.0], receptacle="l14-30")),
        ("loads+", _load(via="new-cord")),
    ),
    "an outlet without ground": (("machine.receptacles.0.configuration", "10-30"),),
    "an outlet of no known kind": (("machine.receptacles.0.configuration", "odd"),),
    "a feeder thicker than any listed": (
        ("transfer.feeder_awg", -3),
        ("fixtures.4.rating_a", 400.0),
    ),
    "a cord of pieces too short": ((f"{_CORDS}.0.pieces_m", [3.0]),),
    "more watts than are compared": (("loads.0.running_w", 250000.0),),
    "a cord in no outlet": ((f"{_CORDS}+", _cord(None, [14.0, 22.0], receptacle=None)),),
    "two cords in one outlet": (
        (f"{_CORDS}+", _cord(None, [14.0, 22.0])),
        (f"{_CORDS}+", _cord(None, [15.0, 22.0], id="newer-cord")),
        ("loads+", _load(via="new-cord")),
    ),
    "a well pump that starts hard": (("loads.3.starting_w", 9000.0),),
    "loads without starting watts": (
        ("loads.0.starting_w", None),
        ("loads.3.starting_w", None),
        ("loads.2.starting_w", None),
    ),
    "a cord longer than any sold": (
        (f"{_CORDS}.0.routing", "drawn"),
        (f"{_CORDS}.0.waypoints", [[13.0, 240.0], [15.0, 19.0]]),
    ),
    "a longest cord": (
        (f"{_CORDS}.0.routing", "drawn"),
        (f"{_CORDS}.0.waypoints", [[13.0, 60.0], [15.0, 19.0]]),
    ),
    "two loads of one name": (("loads+", _load(running_w=4000.0, starting_w=None)),),
    "no loads": (("loads", []),),
    "no transfer equipment": (("transfer", None),),
    "a house beside it": (("buildings+", _house(16.0, 28.0, 22.0, 36.0)),),
    "an alcove": (
        ("buildings+", _house(14.0, 30.0, 18.0, 33.0, "right", eave_height_m=6.0)),
        ("buildings+", _house(8.0, 30.0, 12.0, 33.0, "left", eave_height_m=6.0)),
        ("buildings+", _house(8.0, 33.0, 18.0, 36.0, "behind", eave_height_m=6.0)),
    ),
    "an alcove of walls of unknown height": (
        ("buildings+", _house(15.0, 28.0, 19.0, 35.0, "right")),
        ("buildings+", _house(7.0, 28.0, 11.0, 35.0, "left")),
        ("buildings+", _house(7.0, 35.0, 19.0, 38.0, "behind")),
    ),
    "a passage": (
        ("buildings+", _house(14.0, 28.0, 18.0, 35.0, "right", storeys=2)),
        ("buildings+", _house(8.0, 28.0, 12.0, 35.0, "left", storeys=2)),
    ),
    "a soffit vent of an unknown roof": (
        ("openings+", _hole("soffit-vent", 2, 4.0)),
        ("buildings.0.overhang_m", None),
        (f"{_PLACE}.at", [12.0, 24.5]),
    ),
    "a workshop nobody drew the openings of": (
        ("buildings+", _house(15.0, 33.0, 18.0, 36.0, kind="other")),
    ),
    "a neighbour three metres off": (
        ("buildings+", _house(14.5, 30.0, 19.0, 34.0, owner="neighbour", storeys=2)),
    ),
    "a window over it": (
        ("buildings+", _house(14.5, 30.0, 19.0, 34.0, owner="neighbour", openings_complete=True)),
        ("openings+", _hole("window", 3, 1.0, "new", sill_m=1.0, head_m=2.0)),
    ),
    "no opening": (("openings", []),),
    "no building": (*_NO_HOLES, (f"{_CORDS}", []), ("loads", [])),
    "no machine": (("machine", None), (f"{_CORDS}", [])),
    "a plan that is a lot": (*_NO_HOLES, ("surroundings", []), ("loads", []), (f"{_CORDS}", [])),
    "under the eaves": ((f"{_PLACE}.at", [15.0, 18.5]),),
    "in the house": ((f"{_PLACE}.at", [12.0, 12.0]),),
    "in the garage": ((f"{_PLACE}.at", [20.0, 12.0]),),
    "on the porch": ((f"{_PLACE}.at", [10.0, 19.5]),),
    "on the boundary": ((f"{_PLACE}.at", [26.0, 31.0]),),
    "off the lot": ((f"{_PLACE}.at", [60.0, 31.0]),),
    "before the door": ((f"{_PLACE}.at", [10.6, 20.9]),),
    "by the fuel": ((f"{_PLACE}.at", [24.0, 20.5]),),
    "by the fence": ((f"{_PLACE}.at", [13.0, 40.8]),),
    "by the shed": ((f"{_PLACE}.at", [5.6, 36.0]),),
    "at the neighbour's fence": ((f"{_PLACE}.at", [1.0, 31.0]),),
}
"""Additions to good-placement."""
QUIET: dict[str, Change] = {
    "in an inside corner": (*_L_SHAPED, (f"{_PLACE}.at", [17.2, 17.2])),
    "aimed at another wing": (
        *_L_SHAPED,
        (f"{_PLACE}.at", [22.0, 22.0]),
        ("machine.exhaust_side", "front"),
        (f"{_PLACE}.turn_deg", 270.0),
    ),
    "two medical loads": (("loads+", _load(via=None, medical=True)),),
    "heavier than it carries": (("loads+", _load(via=None, running_w=2500.0)),),
    "more sound than allowed": (("machine.sound.level_dba", 75.0),),
    "a big store": (("fixtures.0.stored_l", 60.0),),
    "no time of starting": (("outage.quiet_from", "18:00"), ("outage.quiet_to", "18:00")),
    "long rest": (("outage.cooling_min", 240.0), ("outage.hours", 100.0)),
    "by the window": ((f"{_PLACE}.at", [17.0, 28.0]),),
    "under the neighbour's window": ((f"{_PLACE}.at", [19.0, 51.0]),),
}
"""Additions to quiet-hours."""
ADDED: dict[str, dict[str, Change]] = {"good-placement": GOOD, "quiet-hours": QUIET}
