"""The best places for the machine: searched by zones and routes, confirmed by the rules."""

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from functools import cached_property

from shapely import LineString

from siteplan.plan.document import Plan
from siteplan.rules.findings import Finding, serious, severity
from siteplan.scene import Scene, resolve
from siteplan.suggest.least_bad import least_bad
from siteplan.suggest.search import Search, Try
from siteplan.suggest.spot import Spot, cost, heard, reviewed, spot_at
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
    def known(self) -> bool:
        """Whether the dwelling is drawn that the places must keep away from."""
        return self._search.scene.plan.has_home

    @property
    def passes(self) -> bool:
        """Whether the review finds nothing at some place that another place could change."""
        return self.known and any(one.passes for one in self.places)

    @property
    def stands(self) -> bool:
        """Whether the machine may stand at some place, if not with the cords as entered."""
        return any(one.stands for one in self.places)

    @cached_property
    def anywhere(self) -> tuple[Finding, ...]:
        """What the review finds of WARNING or worse whatever the place, worst first."""
        found = {
            (one.rule, one.subjects): one for spot in self.places for one in serious(spot.anywhere)
        }
        return tuple(sorted(found.values(), key=lambda one: -severity(one.signal)))

    @cached_property
    def binding(self) -> tuple[Binding, ...]:
        """The rules that bar most of the lot, most first."""
        return binding(self._survey)

    @cached_property
    def changes(self) -> tuple[Change, ...]:
        """What would help, as far as the plan tells; never a shorter limit or a shut window."""
        return changes(self._search, self.places[0] if self.stands else None)


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
    looked = _Looked(search)
    good = looked.best(_tries(search), count)
    if not good and not search.most_room.is_empty:
        good = looked.best(search.every_turn(), count)
    if not good:
        return Spots(least_bad(search, survey, count), None, search, survey)
    nearest = looked.nearest() if good[0].passes else None
    best = [heard(search.scene, one) for one in good]
    return Spots(
        tuple(sorted(best, key=cost)),
        nearest and heard(search.scene, nearest),
        search,
        survey,
    )


def _tries(search: Search) -> Iterator[Try]:
    """Yield the promising places, then the exact nearest to the end of the best of them."""
    best: Try | None = None
    for one in search.promising():
        yield one
        if best is None or one.cords.weighed_m < best.cords.weighed_m:
            best = one
    if best is not None:
        end, ways = best.cords.end, best.cords.ways
        # No place off this disc is nearer on foot than the best so far.
        within = LineString(ways[0]).length if ways and len(ways[0]) > 1 else math.inf
        yield from search.nearest(search.shortest_exhaust_deg(end), end, within)


@dataclass(frozen=True, slots=True)
class _Looked:
    """Places measured, best first as far as measures tell, and those of them reviewed."""

    search: Search
    measured: list[Spot] = field(default_factory=list)
    reviewed: dict[int, Spot] = field(default_factory=dict)

    def best(self, tries: Iterable[Try], count: int) -> list[Spot]:
        """Return the best places that pass the review, some metres apart.

        Where none passes with the cords as entered, those where the machine may stand.
        """
        scene = self.search.scene
        found = [(not one.gentle, spot_at(scene, one.at, one.turn_deg, one.cords)) for one in tries]
        found.sort(key=lambda pair: (pair[0], cost(pair[1])))
        self.measured[:] = [spot for _, spot in found]
        self.reviewed.clear()
        good = list(self._apart(count, lambda one: one.passes))
        return good or list(self._apart(count, lambda one: one.stands))

    def nearest(self) -> Spot | None:
        """Return the place with the shortest cord that passes the review."""
        rows = sorted(range(len(self.measured)), key=self._cord_m)
        passing = (spot for row in rows if (spot := self._review(row)).passes)
        return next(passing, None)

    def _apart(self, count: int, will_do: Callable[[Spot], bool]) -> Iterator[Spot]:
        """Yield the first places that will do and lie apart from those before."""
        taken: list[Spot] = []
        for row, one in enumerate(self.measured):
            if len(taken) == count:
                return
            if any(math.dist(one.at, other.at) < _APART_M for other in taken):
                continue
            if will_do(spot := self._review(row)):
                taken.append(spot)
                yield spot

    def _review(self, row: int) -> Spot:
        if row not in self.reviewed:
            self.reviewed[row] = reviewed(self.search.scene, self.measured[row])
        return self.reviewed[row]

    def _cord_m(self, row: int) -> float:
        cord = self.measured[row].cord_m
        return math.inf if cord is None else cord
