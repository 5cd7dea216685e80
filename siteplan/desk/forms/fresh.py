"""First versions of parts that a form adds inside another part."""

from siteplan.desk.forms.schema import Spec
from siteplan.plan import Plan
from siteplan.plan.around import OnWall
from siteplan.plan.base import Model
from siteplan.plan.lot import Accuracy, Leg, Origin, Override
from siteplan.plan.machine import Cover, Machine, Pass, Receptacle, SoundRating


def fresh_part(plan: Plan, spec: Spec, holder: Model | None) -> Model | None:
    """Return a first version of what a field holds, or None if there is nothing to refer to."""
    if spec.model is Receptacle:
        return Receptacle(id=_receptacle_id(holder), configuration="5-20")
    if spec.model is Pass:
        opening = plan.openings[0].id if plan.openings else None
        return None if opening is None else Pass(opening=opening, how="held-ajar")
    if spec.model is OnWall:
        building = plan.buildings[0].id if plan.buildings else None
        return None if building is None else OnWall(building=building, wall=0, offset_m=0.0)
    makers: dict[type[Model] | None, Model] = {
        Cover: Cover(kind="canopy"),
        SoundRating: SoundRating(level_dba=65.0),
        Accuracy: Accuracy(method="taped"),
        Leg: Leg(azimuth_deg=0.0, length_m=1.0),
        Origin: Origin(longitude_deg=0.0, latitude_deg=0.0),
        Override: Override(rule="separation-opening", distance_m=7.62, reason="Local rule"),
    }
    return makers.get(spec.model)


def _receptacle_id(holder: Model | None) -> str:
    used = {one.id for one in holder.receptacles} if isinstance(holder, Machine) else set()
    number = 1
    while f"outlet-{number}" in used:
        number += 1
    return f"outlet-{number}"
