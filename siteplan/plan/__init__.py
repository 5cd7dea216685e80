"""The document: what is on the lot, as frozen models in SI."""

from siteplan.plan.document import Plan
from siteplan.plan.store import load, save

__all__ = ["Plan", "load", "save"]
