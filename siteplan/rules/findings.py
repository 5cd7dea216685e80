"""What a review says: findings, what was met, and what could not be judged."""

from collections.abc import Iterable, Mapping
from typing import Literal, NamedTuple

from siteplan.words import Manner, Quantity, Text

Signal = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
SIGNALS: tuple[Signal, ...] = ("DANGER", "WARNING", "CAUTION", "NOTICE")
"""ANSI Z535 signal words, worst first."""

# Unit suffix of each kind of quantity in machine-readable output.
SUFFIX: Mapping[str, str] = {
    "length": "m",
    "angle": "deg",
    "share": "share",
    "current": "a",
    "power": "w",
    "voltage": "v",
    "volume": "l",
    "rate": "l_per_h",
    "level": "dba",
    "time": "s",
    "concentration": "ppm",
    "percent": "percent",
    "count": "count",
    "temperature": "c",
}


def severity(signal: Signal | None) -> int:
    """Return 4 for DANGER down to 1 for NOTICE, 0 for none."""
    return 0 if signal is None else len(SIGNALS) - SIGNALS.index(signal)


class Evidence(NamedTuple):
    """What to draw to show a finding: a line, an area or a point [m]."""

    shape: Literal["line", "area", "point"]
    points: tuple[tuple[float, float], ...]


class Finding(NamedTuple):
    """Something wrong.

    Attributes
    ----------
    rule : str
        The rule's id.
    signal : str
        The signal word.
    subjects : tuple of str
        Ids of the things concerned, the machine's placement apart.
    what, do : Text
        What is wrong, and what to do about it.
    sources : tuple of str
        Ids of the cited works.
    measured, limit, margin : Quantity or None
        In SI; measured has the drawing's accuracy subtracted, margin is measured minus limit.
    evidence : tuple of Evidence
        What to draw.
    """

    rule: str
    signal: Signal
    subjects: tuple[str, ...]
    what: Text
    do: Text
    sources: tuple[str, ...]
    measured: Quantity | None = None
    limit: Quantity | None = None
    margin: Quantity | None = None
    evidence: tuple[Evidence, ...] = ()


class Met(NamedTuple):
    """A rule that was checked and met; the figures are those of the governing subject."""

    rule: str
    subjects: tuple[str, ...]
    what: Text
    sources: tuple[str, ...]
    measured: Quantity | None = None
    limit: Quantity | None = None
    margin: Quantity | None = None
    checked: int = 1
    evidence: tuple[Evidence, ...] = ()


class Unjudged(NamedTuple):
    """A rule that could not be judged, and which data are missing.

    `not_drawn` marks the rules whose subject is not on the plan at all (no pool, no tent):
    there may be none, which the plan cannot say.
    """

    rule: str
    subjects: tuple[str, ...]
    missing: Text
    not_drawn: bool = False


Outcome = Finding | Met | Unjudged


class Review(NamedTuple):
    """All outcomes of one plan's placement under review, findings worst first."""

    findings: tuple[Finding, ...] = ()
    met: tuple[Met, ...] = ()
    unjudged: tuple[Unjudged, ...] = ()

    @property
    def worst(self) -> Signal | None:
        """The worst signal word, or None if there is no finding."""
        return self.findings[0].signal if self.findings else None


_ROOFED = frozenset({"indoors", "under-roof"})


def serious(found: Iterable["Finding"]) -> tuple["Finding", ...]:
    """Return those of WARNING or worse."""
    return tuple(one for one in found if severity(one.signal) >= severity("WARNING"))


def gather(outcomes: "list[Outcome]") -> Review:
    """Return a review of these outcomes: worst first, then by shortest margin, then by name.

    Of equals, a machine in a building or under a roof comes first: no distance mends that.
    """
    findings = [one for one in outcomes if isinstance(one, Finding)]
    findings.sort(key=_urgency)
    return Review(
        tuple(findings),
        tuple(one for one in outcomes if isinstance(one, Met)),
        tuple(one for one in outcomes if isinstance(one, Unjudged)),
    )


def _urgency(finding: Finding) -> tuple[int, bool, float, str, tuple[str, ...]]:
    margin = 0.0 if finding.margin is None else finding.margin.value
    open_air = finding.rule not in _ROOFED
    return (-severity(finding.signal), open_air, margin, finding.rule, finding.subjects)


def figures(outcome: Finding | Met) -> dict[str, float]:
    """Return measured, limit and margin with their units in the keys, for machines."""
    found: dict[str, float] = {}
    for name in ("measured", "limit", "margin"):
        quantity: Quantity | None = getattr(outcome, name)
        if quantity is not None:
            found[f"{name}_{SUFFIX[quantity.kind]}"] = round(quantity.value, 6)
    return found


def as_tree(outcome: Outcome, manner: Manner) -> dict[str, object]:
    """Return an outcome as plain data for JSON, its sentences in the reader's manner."""
    tree: dict[str, object] = {"rule": outcome.rule, "subjects": list(outcome.subjects)}
    if isinstance(outcome, Unjudged):
        return tree | {
            "missing": outcome.missing.say(manner),
            "not_drawn": outcome.not_drawn,
        }
    tree |= figures(outcome)
    tree |= {"sources": list(outcome.sources), "what": outcome.what.say(manner)}
    tree["evidence"] = [
        {"shape": one.shape, "points_m": [list(point) for point in one.points]}
        for one in outcome.evidence
    ]
    if isinstance(outcome, Finding):
        return tree | {"signal": outcome.signal, "do": outcome.do.say(manner)}
    return tree | {"checked": outcome.checked}
