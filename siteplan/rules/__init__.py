"""One small function per rule, and the review that runs them."""

from siteplan.rules.findings import Finding, Met, Review, Unjudged
from siteplan.rules.power.report import PowerReport, power_report
from siteplan.rules.review import review, review_scene

__all__ = [
    "Finding",
    "Met",
    "PowerReport",
    "Review",
    "Unjudged",
    "power_report",
    "review",
    "review_scene",
]
