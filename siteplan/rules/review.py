"""The review: every rule over one scene. A pure function of the plan."""

from collections.abc import Callable, Iterator, Mapping, Sequence

from siteplan.errors import OutOfRangeError
from siteplan.plan.document import Plan
from siteplan.rules import (
    boundary,
    carbon_monoxide_rule,
    confinement,
    drawing_rules,
    exhaust,
    fuel_store,
    gas,
    ground,
    heat,
    household,
    left_open,
    night_rules,
    overhead,
    power,
    separation,
    service,
    sound_rules,
    walled,
)
from siteplan.rules.book import rule
from siteplan.rules.findings import Met, Outcome, Review, Unjudged, gather
from siteplan.scene import Scene, Standing, resolve
from siteplan.words import Text, complaint

# Judged whether or not a generator stands on the plan.
OF_THE_PLAN: Mapping[str, Callable[[Scene], Iterator[Outcome]]] = {
    "drawing-accuracy": drawing_rules.drawing_accuracy,
    "local-figure": drawing_rules.local_figures,
    "gas-regulator-intake": gas.gas_regulator_intake,
    "gas-cylinder-opening": gas.gas_cylinder_opening,
    "fuel-store-amount": fuel_store.fuel_store_amount,
    "fuel-container": fuel_store.fuel_container,
    "fuel-store-place": fuel_store.fuel_store_place,
    "working-space": service.working_space,
    "service-drop-opening": service.service_drop_opening,
    "co-alarms": household.co_alarms,
    "extinguisher": household.extinguisher,
    "low-co-label": household.low_co_label,
    "fuel-enough": night_rules.fuel_enough,
    "fuel-top-up": night_rules.fuel_top_up,
    "refuel-asleep": night_rules.refuel_asleep,
    **power.OF_THE_PLAN,
}
# Judged only of a generator that stands somewhere.
OF_THE_PLACE: Mapping[str, Callable[[Scene, Standing], Iterator[Outcome]]] = {
    "separation-opening": separation.separation_opening,
    "separation-building": separation.separation_building,
    "separation-intake": separation.separation_intake,
    "opening-left-open": left_open.opening_left_open,
    "indoors": confinement.indoors,
    "under-roof": confinement.under_roof,
    "exhaust-direction": exhaust.exhaust_direction,
    "walled-in": walled.walled_in,
    "horizon-blocked": walled.horizon_blocked,
    "window-well": walled.window_well,
    "clear-air": heat.clear_air,
    "clear-above": overhead.clear_above,
    "cover": overhead.cover,
    "combustible-wall": heat.combustible_wall,
    "brush": heat.brush,
    "tree-overhead": overhead.tree_overhead,
    "deck": heat.deck,
    "outdoor-unit": heat.outdoor_unit,
    "ground-surface": ground.ground_surface,
    "level-and-dry": ground.level_and_dry,
    "pool": ground.pool,
    "standing-water": ground.standing_water,
    "gas-regulator": gas.gas_regulator,
    "gas-cylinder": gas.gas_cylinder,
    "fuel-store-distance": fuel_store.fuel_store_distance,
    "inlet-space": service.inlet_space,
    "service-drop": service.service_drop,
    "on-the-lot": boundary.on_the_lot,
    "lot-set-back": boundary.lot_set_back,
    "neighbours-drawn": boundary.neighbours_drawn,
    "vehicle-path": boundary.vehicle_path,
    "walk-kept-free": boundary.walk_kept_free,
    "exit-kept-free": boundary.exit_kept_free,
    "tent": boundary.tent,
    "sound-boundary": sound_rules.sound_boundary,
    "sound-window": sound_rules.sound_window,
    **power.OF_THE_PLACE,
}
# Judged last of a generator that stands somewhere: these look at what the others found.
OF_THE_WHOLE: Mapping[str, Callable[[Scene, Standing, Sequence[Outcome]], Iterator[Outcome]]] = {
    "co-estimate": carbon_monoxide_rule.co_estimate,
}
# The scene reviewed last. Whoever tries place after place on one lot need not have its walls
# resolved anew each time; only parts that are the same objects are reused, so the answer is
# the one a fresh start would give.
_LAST: list[Scene] = []
NO_MACHINE = Text("no generator stands on the plan yet")


def review(plan: Plan) -> Review:
    """Return what is wrong, what was met and what could not be judged.

    Of a plan with several placements, the one under review is judged.
    """
    scene = resolve(plan, *_LAST)
    _LAST[:] = [scene]
    return review_scene(scene)


def review_scene(scene: Scene) -> Review:
    """Return the review of a scene already resolved, as `review` does of a plan."""
    outcomes = [outcome for judge in OF_THE_PLAN.values() for outcome in judge(scene)]
    standing = scene.standing
    if standing is None:
        absent = (*OF_THE_PLACE, *OF_THE_WHOLE)
        outcomes += [Unjudged(rule_id, (), NO_MACHINE) for rule_id in absent]
    else:
        for rule_id, judge in OF_THE_PLACE.items():
            outcomes += _in_range(rule_id, judge(scene, standing))
        for rule_id, last in OF_THE_WHOLE.items():
            outcomes += list(_in_range(rule_id, last(scene, standing, tuple(outcomes))))
    return gather([_or_stated_none(one, scene.plan) for one in outcomes])


def _in_range(rule_id: str, judged: Iterator[Outcome]) -> Iterator[Outcome]:
    """Yield a rule's outcomes; where its formula does not reach, the rest is not judged."""
    try:
        yield from judged
    except OutOfRangeError as error:
        why = Text("figures in the range of the rule's formula ({why})", {"why": complaint(error)})
        yield Unjudged(rule_id, (), why)


def _or_stated_none(outcome: Outcome, plan: Plan) -> Outcome:
    """Return what is not drawn as met where the plan states that there is none of it.

    The statement holds only while nothing of the sort is drawn, and only where the book
    allows it: nobody can state a dwelling away.
    """
    if not isinstance(outcome, Unjudged) or not outcome.not_drawn:
        return outcome
    if outcome.rule not in plan.none_here or not rule(outcome.rule).may_be_none:
        return outcome
    what = Text("It is stated that there is none here ({missing}).", {"missing": outcome.missing})
    return Met(outcome.rule, outcome.subjects, what, rule(outcome.rule).sources, checked=0)
