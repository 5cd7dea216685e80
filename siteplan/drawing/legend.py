"""What each kind of mark means, in words, for the kinds that a drawing holds."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from siteplan.drawing.ground import LETTERS
from siteplan.drawing.marks import Dimension, Fill, Mark, Role, Stroke, Symbol
from siteplan.drawing.walls import TAGS
from siteplan.words import Text

Swatch = Literal["line", "area", "symbol"]

_ROLES: Mapping[Role, tuple[Swatch, Text]] = {
    "machine": ("area", Text("Generator")),
    "exhaust-arrow": ("line", Text("Exhaust direction")),
    "machine-cover": ("line", Text("Cover over the generator")),
    "machine-other": ("line", Text("Other place considered")),
    "cord": ("line", Text("Cord")),
    "distance-danger": ("line", Text("DANGER: too near")),
    "distance-warning": ("line", Text("WARNING: too near")),
    "distance-caution": ("line", Text("CAUTION: near")),
    "distance-notice": ("line", Text("NOTICE")),
    "distance-met": ("line", Text("Distance met")),
    "area-danger": ("area", Text("DANGER: area or wall")),
    "area-warning": ("area", Text("WARNING: area or wall")),
    "area-caution": ("area", Text("CAUTION: area or wall")),
    "area-notice": ("area", Text("NOTICE: area or wall")),
    "keep-out": ("area", Text("Not here")),
    "standing-zone": ("area", Text("No rule forbids it, as turned")),
    "sound-contour": ("line", Text("Line of equal sound level")),
    "setout-line": ("line", Text("Tape from a known corner")),
    "lot-line": ("line", Text("Lot line")),
    "dwelling-wall": ("area", Text("House wall")),
    "dwelling-wall-combustible": ("area", Text("House wall, can burn")),
    "outbuilding-wall": ("area", Text("Outbuilding wall")),
    "outbuilding-wall-combustible": ("area", Text("Outbuilding, can burn")),
    "neighbour-wall": ("area", Text("Neighbour's building")),
    "neighbour-wall-combustible": ("area", Text("Neighbour's, can burn")),
    "open-roof": ("area", Text("Roof on posts")),
    "eave-line": ("line", Text("Edge of the roof")),
    "opening-door": ("area", Text("Door")),
    "opening-window": ("area", Text("Window")),
    "opening-garage": ("area", Text("Garage door")),
    "opening-vent": ("area", Text("Vent, small opening")),
    "opening-well": ("area", Text("Window well")),
    "opening-ajar": ("line", Text("Opening left open or ajar")),
    "fence": ("line", Text("Fence")),
    "garden-wall": ("line", Text("Garden wall")),
    "hedge": ("line", Text("Hedge")),
    "deck": ("area", Text("Deck")),
    "driveway": ("area", Text("Driveway or walk")),
    "pool": ("area", Text("Pool")),
    "standing-water": ("area", Text("Standing water")),
    "brush": ("area", Text("Brush")),
    "shelter": ("area", Text("Overhang, canopy or tent")),
    "tree": ("area", Text("Tree")),
    "service-drop": ("line", Text("Overhead service wires")),
}

_SIGNS: Mapping[str, tuple[Role, Text]] = {
    "danger": ("distance-danger", Text("DANGER at this place")),
    "warning": ("distance-warning", Text("WARNING at this place")),
    "caution": ("distance-caution", Text("CAUTION at this place")),
    "notice": ("distance-notice", Text("NOTICE at this place")),
}

_TAG_TEXT: Mapping[str, Text] = {
    "pet-door": Text("Pet door"),
    "exhaust-hood": Text("Exhaust hood"),
    "soffit-vent": Text("Soffit vent"),
    "gable-vent": Text("Gable vent"),
    "foundation-vent": Text("Foundation vent"),
    "air-intake": Text("Air intake"),
    "combustion-intake": Text("Combustion air intake"),
    "room-air-conditioner": Text("Room air conditioner"),
    "evaporative-cooler": Text("Evaporative cooler"),
}

_FIXTURE_TEXT: Mapping[str, Text] = {
    "panel": Text("Electric panel"),
    "electric-meter": Text("Electric meter"),
    "gas-regulator": Text("Gas regulator"),
    "gas-meter": Text("Gas meter"),
    "outdoor-unit": Text("Outdoor unit"),
    "fuel-store": Text("Fuel store"),
    "gas-cylinder": Text("Gas cylinder"),
    "power-inlet": Text("Power inlet"),
    "through-wall-outlet": Text("Through-wall outlet"),
    "house-receptacle": Text("House receptacle"),
}


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of a legend: what to show, in which role, and what it means."""

    swatch: Swatch
    role: Role
    text: Text
    symbol: str = ""
    letters: str = ""


def entries(marks: Iterable[Mark]) -> list[Entry]:
    """Return the legend of these marks, in a fixed order; only what is drawn is explained."""
    items = list(marks)
    roles = {one.role for one in items if isinstance(one, Stroke | Fill | Dimension)}
    if "walk" in roles:
        roles.add("driveway")
    plain = [Entry(*_of(role)) for role in _ROLES if role in roles]
    return [*plain, *_signs(items)]


def _of(role: Role) -> tuple[Swatch, Role, Text]:
    swatch, text = _ROLES[role]
    return swatch, role, text


def _signs(items: Iterable[Mark]) -> Iterator[Entry]:
    signs = [one for one in items if isinstance(one, Symbol)]
    for name, (role, text) in _SIGNS.items():
        if any(one.name == name for one in signs):
            yield Entry("symbol", role, text, name)
    tags = {one.text for one in signs if one.role == "opening-tag"}
    names = {one.name for one in signs if one.role == "fixture"}
    for kind, letters in TAGS.items():
        if letters in tags:
            yield Entry("symbol", "opening-tag", _TAG_TEXT[kind], "tag", letters)
    for kind, text in _FIXTURE_TEXT.items():
        if kind in names:
            yield Entry("symbol", "fixture", text, kind, LETTERS.get(kind, ""))


_OF_THE_GROUND = ("wall", "roof", "eave", "opening", "fence", "garden", "hedge", "deck", "drive",
                  "pool", "standing-water", "brush", "shelter", "tree", "service")  # fmt: skip


def shortened(rows: list[Entry], most: int) -> list[Entry]:
    """Return the lines about the machine, and the lettered signs for which there is room."""
    first = [one for one in rows if _about_machine(one)]
    lettered = [one for one in rows if one.swatch == "symbol" and one not in first]
    return [*first, *lettered[: max(0, most - len(first))]]


def _about_machine(row: Entry) -> bool:
    """Tell whether a line of a legend is about the machine and not about the ground it is on."""
    if row.swatch == "symbol":
        return row.role.startswith("distance-") or row.symbol in {"power-inlet", "panel"}
    return not any(part in row.role for part in _OF_THE_GROUND)
