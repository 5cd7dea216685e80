"""Liquid fuel in containers: how far, how much, how large, and where."""

from collections.abc import Iterator

import numpy as np
import shapely

from siteplan.geometry.arrays import BoolArray
from siteplan.plan.around import FuelStore, GasCylinder
from siteplan.plan.labels import label
from siteplan.rules.book import Rule, rule
from siteplan.rules.common import at_most
from siteplan.rules.findings import Evidence, Finding, Met, Outcome, Signal, Unjudged
from siteplan.rules.ladder import Says, ladder
from siteplan.scene import Scene, Standing
from siteplan.words import Text, Value

_NO_STORE = Text("no fuel store is drawn; fuel for an outage is kept somewhere")
_FAR = Says(
    Text("Store fuel at least {limit} from the generator."),
    _NO_STORE,
    advised=Text("Store it {limit} from the generator if the lot allows."),
)
_LESS = Text("Store less. Fuel beyond this needs a cabinet, a permit, or both.")
_SMALLER = Text("Keep it in approved containers of at most {limit} each.")
_OUTSIDE = Text("Store fuel outdoors or in a detached shed, away from flames and from the house.")
_OUTDOORS = Text(
    "Stand it outdoors and upright, away from openings: gas sinks, gathers and finds a flame."
)
_FUEL_TEXT = "Fuel is stored in {place}."
_GAS_TEXT = "A gas cylinder stands in {place}."
_OUTSIDE_TEXT = "{subject} is outside the dwelling."
_OPEN_SIDED = frozenset({"carport", "covered-porch"})
_ROUNDING_L = 1e-6


def fuel_store_distance(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the machine's distance to stored fuel."""
    near = scene.near("fuel-store")
    yield from ladder(scene, standing, rule("fuel-store-distance"), near, _FAR)


def _stores(scene: Scene) -> list[FuelStore]:
    return [one for one in scene.plan.fixtures if isinstance(one, FuelStore)]


def fuel_store_amount(scene: Scene) -> Iterator[Outcome]:
    """Judge how much of each fuel is stored, all its stores together."""
    book = rule("fuel-store-amount")
    stores = _stores(scene)
    if not stores:
        yield Unjudged(book.id, (), _NO_STORE, not_drawn=True)
        return
    for store in stores:
        if store.stored_l is None:
            missing = Text("how much fuel is kept at {subject}", {"subject": label(store)})
            yield Unjudged(book.id, (store.id,), missing)
    for fuel in ("gasoline", "diesel"):
        of_it = [one for one in stores if one.fuel == fuel]
        known = [one for one in of_it if one.stored_l is not None]
        for outcome in _amount(book, fuel, known) if known else ():
            # With an amount still unknown the sum can break a limit, but it cannot keep one.
            if len(known) == len(of_it) or not isinstance(outcome, Met):
                yield outcome


def _amount(book: Rule, fuel: str, stores: list[FuelStore]) -> Iterator[Outcome]:
    subjects = tuple(one.id for one in stores)
    total = sum(one.stored_l or 0.0 for one in stores)
    cabinets = [one.in_cabinet for one in stores]
    limit = book.figure("diesel_l" if fuel == "diesel" else "gasoline_l")
    if fuel == "gasoline" and total > limit + _ROUNDING_L:
        most = book.figure("gasoline_most_l")
        if all(cabinets):
            limit = book.figure("cabinet_l")
        elif total > most + _ROUNDING_L:
            limit = most
        elif False not in cabinets:
            missing = Text("whether the fuel is kept in a listed cabinet")
            yield Unjudged(book.id, subjects, missing)
            return
    figures = at_most(total, limit, "volume")
    values: dict[str, Value] = {
        "total": figures["measured"],
        "limit": figures["limit"],
        "fuel": Text(fuel),
    }
    if total <= limit + _ROUNDING_L:
        what = Text("{total} of {fuel} is stored.", values)
        yield Met(book.id, subjects, what, book.sources, checked=len(stores), **figures)
        return
    over = Text("{total} of {fuel} is stored; {limit} is the most.", values)
    signal: Signal = "CAUTION" if limit == book.figure("gasoline_l") else "WARNING"
    yield Finding(book.id, signal, subjects, over, _LESS, book.sources, **figures)


def fuel_container(scene: Scene) -> Iterator[Outcome]:
    """Judge the size of the largest container of each store."""
    book = rule("fuel-container")
    if not _stores(scene):
        yield Unjudged(book.id, (), _NO_STORE, not_drawn=True)
    for store in _stores(scene):
        yield _container(book, store)


def _container(book: Rule, store: FuelStore) -> Outcome:
    size = store.largest_container_l
    if size is None:
        missing = Text("how large the containers at {subject} are", {"subject": label(store)})
        return Unjudged(book.id, (store.id,), missing)
    figures = at_most(size, book.figure("container_l"), "volume")
    what = Text(
        "The largest container at {subject} holds {size}.",
        {"subject": label(store), "size": figures["measured"]},
    )
    if size <= book.figure("container_l") + _ROUNDING_L:
        return Met(book.id, (store.id,), what, book.sources, **figures)
    do = Text(_SMALLER.template, {"limit": figures["limit"]})
    return Finding(book.id, "CAUTION", (store.id,), what, do, book.sources, **figures)


def fuel_store_place(scene: Scene) -> Iterator[Outcome]:
    """Refuse fuel in a dwelling, warn of fuel in an attached garage, and of gas in any building."""
    book = rule("fuel-store-place")
    if not _stores(scene):
        yield Unjudged(book.id, (), _NO_STORE, not_drawn=True)
    places = scene.setting.around.places("fuel-store", "gas-cylinder").tolist()
    if places and not scene.plan.buildings:
        yield Unjudged(book.id, (), Text("no building is drawn"))
        return
    for place in places:
        yield from _place(scene, book, place)


def _enclosed(scene: Scene) -> BoolArray:
    """Tell which buildings hold gas that leaks in them; a roof without walls does not."""
    return np.array([one.kind not in _OPEN_SIDED for one in scene.plan.buildings], dtype=bool)


def _place(scene: Scene, book: Rule, place: int) -> Iterator[Outcome]:
    store = scene.setting.around.things[place]
    inside = shapely.contains_properly(scene.setting.walls, scene.setting.around.shapes[place])
    gas, occupied = isinstance(store, GasCylinder), scene.setting.occupied
    wrong = inside & (_enclosed(scene) if gas else occupied)
    bad = [(scene.plan.buildings[place], occupied[place]) for place in np.flatnonzero(wrong)]
    for home, lived_in in bad:
        grave = lived_in if gas else home.kind == "dwelling"
        yield Finding(
            rule=book.id,
            signal="DANGER" if grave else "WARNING",
            subjects=(store.id, home.id),
            what=Text(_GAS_TEXT if gas else _FUEL_TEXT, {"place": label(home)}),
            do=_OUTDOORS if gas else _OUTSIDE,
            sources=book.sources,
            evidence=(Evidence("area", home.outline),),
        )
    if not bad:
        inside_none = "{subject} stands in no building." if gas else _OUTSIDE_TEXT
        what = Text(inside_none, {"subject": label(store)})
        yield Met(book.id, (store.id,), what, book.sources)
