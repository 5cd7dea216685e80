"""What to call a thing in a sentence: the user's name for it, else its kind and number or id."""

from collections.abc import Mapping
from typing import Protocol

from siteplan.plan.machine import Receptacle
from siteplan.words import Text

KIND_WORDS: Mapping[str, str] = {
    "dwelling": "dwelling",
    "attached-garage": "attached garage",
    "detached-garage": "detached garage",
    "carport": "carport",
    "covered-porch": "covered porch",
    "shed": "shed",
    "other": "building",
    "door": "door",
    "window": "window",
    "fixed-window": "fixed window",
    "garage-door": "garage door",
    "pet-door": "pet door",
    "exhaust-hood": "exhaust hood",
    "soffit-vent": "soffit vent",
    "gable-vent": "gable vent",
    "foundation-vent": "foundation vent",
    "air-intake": "air intake",
    "combustion-intake": "combustion air intake",
    "room-air-conditioner": "room air conditioner",
    "evaporative-cooler": "evaporative cooler",
    "window-well": "window well",
    "fence": "fence",
    "wall": "garden wall",
    "hedge": "hedge",
    "deck": "deck",
    "driveway": "driveway",
    "walk": "walk",
    "pool": "pool",
    "standing-water": "standing water",
    "brush": "brush",
    "overhang": "overhang",
    "canopy": "canopy",
    "tent": "tent",
    "tree": "tree",
    "panel": "electric panel",
    "electric-meter": "electric meter",
    "gas-regulator": "gas regulator",
    "gas-meter": "gas meter",
    "outdoor-unit": "air-conditioner outdoor unit",
    "fuel-store": "fuel store",
    "gas-cylinder": "gas cylinder",
    "power-inlet": "power inlet",
    "through-wall-outlet": "through-wall outlet",
    "house-receptacle": "house outlet",
    "service-drop": "overhead service conductors",
    "storey": "storey",
    "sleeping-area": "sleeping area",
}

# What has no kind is numbered as it was made: its id says which it is.
_NUMBERED_TEXTS: Mapping[str, Text] = {
    "place": Text("Place {number}"),
    "cord": Text("Cord {number}"),
    "load": Text("Appliance {number}"),
}


class Named(Protocol):
    """Anything with an id and a name."""

    @property
    def id(self) -> str:
        """The stable id."""
        ...

    @property
    def name(self) -> str:
        """The user's name for it, or empty."""
        ...


def label(thing: Named) -> Text:
    """Return what to call the thing."""
    if thing.name:
        return Text("{name}", {"name": thing.name})
    kind = str(getattr(thing, "kind", "") or getattr(thing, "place", ""))
    if kind in KIND_WORDS:
        # The id that a new thing gets says its kind once more: only its number is news.
        rest = thing.id.removeprefix(f"{kind}-")
        told = rest if rest.isdigit() else thing.id
        return Text("{kind} {id}", {"kind": Text(KIND_WORDS[kind]), "id": told})
    stem, _, number = thing.id.rpartition("-")
    if number.isdigit() and stem in _NUMBERED_TEXTS:
        return Text(_NUMBERED_TEXTS[stem].template, {"number": number})
    return Text("{name}", {"name": thing.id.replace("-", " ")})


def outlet_label(outlet: Receptacle) -> Text:
    """Return what to call an outlet of the generator, after the word for it."""
    known = outlet.configuration
    if outlet.id == known.lower():
        return Text("{name}", {"name": known})
    words = outlet.id.removeprefix("outlet-").replace("-", " ")
    return Text("{name} ({configuration})", {"name": words, "configuration": known})
