"""The review: every rule over one scene. A pure function of the plan."""

from collections.abc import Callable, Iterator, Mapping

from siteplan.plan.document import Plan
from siteplan.rules import confinement, drawing_rules, exhaust, separation
from siteplan.rules.findings import Outcome, Review, Unjudged, gather
from siteplan.scene import Scene, Standing, resolve
from siteplan.words import Text

# Judged whether or not a generator stands on the plan.
OF_THE_PLAN: Mapping[str, Callable[[Scene], Iterator[Outcome]]] = {
    "drawing-accuracy": drawing_rules.drawing_accuracy,
    "local-figure": drawing_rules.local_figures,
}
# Judged only of a generator that stands somewhere.
OF_THE_PLACE: Mapping[str, Callable[[Scene, Standing], Iterator[Outcome]]] = {
    "separation-opening": separation.separation_opening,
    "separation-building": separation.separation_building,
    "indoors": confinement.indoors,
    "under-roof": confinement.under_roof,
    "exhaust-direction": exhaust.exhaust_direction,
}
NO_MACHINE = Text("no generator stands on the plan yet")


def review(plan: Plan) -> Review:
    """Return what is wrong, what was met and what could not be judged.

    Of a plan with several placements, the one under review is judged.
    """
    return review_scene(resolve(plan))


def review_scene(scene: Scene) -> Review:
    """Return the review of a scene already resolved, as `review` does of a plan."""
    outcomes = [outcome for judge in OF_THE_PLAN.values() for outcome in judge(scene)]
    standing = scene.standing
    if standing is None:
        outcomes += [Unjudged(rule_id, (), NO_MACHINE) for rule_id in OF_THE_PLACE]
    else:
        outcomes += [one for judge in OF_THE_PLACE.values() for one in judge(scene, standing)]
    return gather(outcomes)
