"""The rule book: figures and sources of every rule, from `resources/rules/`."""

from collections.abc import Mapping
from functools import cache
from typing import NamedTuple

from siteplan.assets import read_toml, resource
from siteplan.errors import OwnFilesError
from siteplan.units import Side
from siteplan.words import Kind, Quantity, Text


class RuleBookError(OwnFilesError):
    """The rule book lacks a rule or a figure."""


class Rule(NamedTuple):
    """One rule of the book.

    Attributes
    ----------
    id, title, group : str
        Its name, its heading, and the chapter it stands in.
    explain : str
        What it asks and why, for people.
    sources : tuple of str
        Ids of the cited works, the one its figure comes from first.
    figures : mapping of str to float
        Its figures in SI, the unit in each name.
    may_be_none : bool
        Whether a plan may state that what it asks about is not there (no pool, no tent).
    """

    id: str
    title: str
    group: str
    explain: str
    sources: tuple[str, ...]
    figures: Mapping[str, float]
    may_be_none: bool = False

    def figure(self, name: str) -> float:
        """Return one figure.

        Raises
        ------
        RuleBookError
            If the book has no such figure.
        """
        try:
            return self.figures[name]
        except KeyError:
            msg = f"rule '{self.id}' has no figure '{name}'"
            raise RuleBookError(msg) from None


@cache
def book() -> Mapping[str, Rule]:
    """Return every rule by its id, in the order of the book."""
    rules: dict[str, Rule] = {}
    for path in sorted(resource("rules").glob("*.toml")):
        for row in read_toml(path)["rule"]:
            if row["id"] in rules:
                msg = f"two rules are called '{row['id']}' (second one in {path.name})"
                raise RuleBookError(msg)
            rules[row["id"]] = Rule(
                id=row["id"],
                title=row["title"],
                group=row["group"],
                explain=row["explain"],
                sources=tuple(row["sources"]),
                figures={name: float(value) for name, value in row.get("figures", {}).items()},
                may_be_none=row.get("may_be_none", False),
            )
    return rules


def rule(rule_id: str) -> Rule:
    """Return one rule.

    Raises
    ------
    RuleBookError
        If the book has no such rule.
    """
    try:
        return book()[rule_id]
    except KeyError:
        msg = f"the rule book has no rule '{rule_id}'; 'siteplan rules' lists them"
        raise RuleBookError(msg) from None


def titled(rule_id: str, what: Text) -> Text:
    """Return what is said under a rule, begun with the rule's title if the book has the rule.

    "The nearest that keeps its distance is …" says little without what it keeps distance from.
    """
    found = book().get(rule_id)
    if found is None:
        return what
    return Text("{title}. {what}", {"title": Text(found.title), "what": what})


def by_group() -> Mapping[str, tuple[Rule, ...]]:
    """Return the rules of each group together, groups in the order of the book."""
    found: dict[str, list[Rule]] = {}
    for one in book().values():
        found.setdefault(one.group, []).append(one)
    return {group: tuple(rules) for group, rules in found.items()}


_KINDS: Mapping[str, tuple[Kind, Side, float]] = {
    "_m": ("length", "near", 1.0),
    "_deg": ("angle", "near", 1.0),
    "_l": ("volume", "down", 1.0),
    "_share": ("percent", "near", 100.0),
    "_a": ("current", "near", 1.0),
}


def figure_value(name: str, value: float) -> Quantity | str:
    """Return a figure of the book as a quantity, told by the ending of its name."""
    for ending, (kind, side, scale) in _KINDS.items():
        if name.endswith(ending):
            return Quantity(scale * value, kind, side)
    return f"{value:g}"
