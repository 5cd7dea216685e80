"""The rules as the window uses them: the scene of the last plan is kept and reused."""

from siteplan.plan import Plan
from siteplan.rules.findings import Review
from siteplan.rules.review import review_scene
from siteplan.scene import Scene, resolve


class Judge:
    """Reviews plan after plan; what has not changed is not resolved again."""

    def __init__(self) -> None:
        self.scene: Scene | None = None

    def __call__(self, plan: Plan) -> tuple[Review, Scene]:
        """Return the review of a plan, and its scene."""
        self.scene = resolve(plan, self.scene)
        return review_scene(self.scene), self.scene
