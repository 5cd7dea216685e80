"""What ties a paper to its file: the plan's fingerprint, and how well it was measured."""

import hashlib
import json

from siteplan.plan.document import Plan
from siteplan.rules.common import accuracy_m
from siteplan.words import Quantity, Text, length

_SHOWN = 12
_MEASURED_TEXTS = {
    None: "Measuring not stated, counted as paced",
    "paced": "Paced",
    "taped": "Measured with a tape",
    "surveyed": "Surveyed",
    "figure": "Accuracy as stated",
}


def fingerprint(plan: Plan) -> str:
    """Return the first twelve hexadecimal digits of the plan's SHA-256, in groups of four.

    Taken of the plan as JSON with sorted keys and no spaces (the form of RFC 8785 for the
    values a plan can hold), so it does not change with layout or order of keys in the file.
    """
    canonical = json.dumps(
        plan.model_dump(mode="json"), sort_keys=True, separators=(",", ":"), ensure_ascii=False
    )
    digest = hashlib.sha256(canonical.encode("utf-8")).hexdigest()[:_SHOWN]
    return " ".join(digest[index : index + 4] for index in range(0, _SHOWN, 4))


def accuracy(plan: Plan) -> Text:
    """Return how well the drawing was measured, and what that takes off each distance."""
    how = None if plan.accuracy is None else plan.accuracy.method
    taken = length(accuracy_m(plan), "up")
    figure: dict[str, Quantity | Text | str | int] = {
        "how": Text(_MEASURED_TEXTS[how]),
        "taken": taken,
    }
    return Text("{how}: {taken} is taken off every distance", figure)
