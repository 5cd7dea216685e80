"""One small function per rule, and the review that runs them."""

from siteplan.rules.findings import Finding, Met, Review, Unjudged
from siteplan.rules.review import review, review_scene

__all__ = ["Finding", "Met", "Review", "Unjudged", "review", "review_scene"]
