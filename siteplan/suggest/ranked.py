"""The best places for the machine: searched by zones and routes, confirmed by the rules."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cached_property

from siteplan.plan.document import Plan
from siteplan.scene import Scene, resolve
from siteplan.suggest.least_bad import least_bad
from siteplan.suggest.search import Search, Try
from siteplan.suggest.spot import Spot, cost, heard, spot_at
from siteplan.suggest.survey import Survey
from siteplan.suggest.why import Binding, Change, binding, changes
from siteplan.suggest.zone import placed

_APART_M = 3.0


@dataclass(frozen=True)
class Spots:
    """What a search found.

    Attributes
    ----------
    places : tuple of Spot
        Best first; if none passes, the least bad.
    nearest : Spot or None
        The place with the shortest cord among those that pass, for its direction of exhaust.
    """

    places: tuple[Spot, ...]
    nearest: Spot | None
    _search: Search = field(repr=False, compare=False)
    _survey: Survey = field(repr=False, compare=False)

    @property
    def passes(self) -> bool:
        """Whether any place passes the rules about it."""
        return any(one.passes for one in self.places)

    @cached_property
    def binding(self) -> tuple[Binding, ...]:
        """The rules that bar most of the lot, most first."""
        return binding(self._survey)

    @cached_property
    def changes(self) -> tuple[Change, ...]:
        """What would help, as far as the plan tells; never a shorter limit or a shut window."""
        return changes(self._search, self.places[0] if self.passes else None)


def spots(plan: Plan, count: int = 5, scene: Scene | None = None) -> Spots:
    """Return the best places for the machine, each confirmed by the rules.

    Ranked by their worst finding, then as `siteplan.suggest.spot.cost` tells.

    Parameters
    ----------
    plan : Plan
        With a machine.
    count : int
        Places wanted, 1 to 50.
    scene : Scene, optional
        The plan already resolved.

    Raises
    ------
    NoMachineError
        If the plan has no machine.
    """
    search = Search.of(placed(scene or resolve(plan)))
    survey = Survey(search.scene)
    good = sorted(_passing(search, _tries(search)), key=cost)
    if not good and not search.most_room.is_empty:
        good = sorted(_passing(search, search.every_turn()), key=cost)
    if not good:
        return Spots(least_bad(search, survey, count), None, search, survey)
    nearest = min(good, key=lambda one: math.inf if one.cord_m is None else one.cord_m)
    best = [heard(search.scene, one) for one in _apart(good, count)]
    return Spots(tuple(sorted(best, key=cost)), heard(search.scene, nearest), search, survey)


def _tries(search: Search) -> Iterator[Try]:
    """Yield the promising places, then the exact nearest to the end of the best of them."""
    best: Try | None = None
    for one in search.promising():
        yield one
        if best is None or one.cords.weighed_m < best.cords.weighed_m:
            best = one
    if best is not None:
        end = best.cords.end
        yield from search.nearest(search.shortest_exhaust_deg(end), end)


def _passing(search: Search, tries: Iterable[Try]) -> Iterator[Spot]:
    for one in tries:
        spot = spot_at(search.scene, one.at, one.turn_deg, one.cords)
        if spot.passes:
            yield spot


def _apart(found: list[Spot], count: int) -> Iterator[Spot]:
    """Yield the first of places that lie apart from those before."""
    taken: list[Spot] = []
    for one in found:
        if all(math.dist(one.at, other.at) >= _APART_M for other in taken):
            taken.append(one)
            yield one
        if len(taken) == count:
            return
