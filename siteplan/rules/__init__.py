"""One small function per rule, and the review that runs them."""

from typing import TYPE_CHECKING

from siteplan.rules.findings import Finding, Met, Review, Unjudged
from siteplan.rules.review import review, review_scene

if TYPE_CHECKING:
    from siteplan.rules.power.report import PowerReport
    from siteplan.scene import Scene

__all__ = ["Finding", "Met", "Review", "Unjudged", "power_report", "review", "review_scene"]


def power_report(scene: "Scene") -> "PowerReport":
    """Return the power path of a scene: loads, legs, cords, the ways in, and what to buy."""
    # A review alone need not wait for the comparison of ways to load.
    from siteplan.rules.power import report  # noqa: PLC0415

    return report.power_report(scene)
