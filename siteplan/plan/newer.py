"""Reads what this program knows of a plan that a newer one wrote; such a file is never written."""

import json
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from siteplan.errors import Said
from siteplan.plan import store
from siteplan.plan.document import VERSION, Plan
from siteplan.plan.errors import NewerFormatError
from siteplan.plan.mistakes import explain

# Unknown fields show at the first try; rules across fields are only asked once those are gone.
_TRIES = 3
_NOT_SHOWN_TEXT = "{why}. This one cannot show it: {reason}"


def load_known(path: Path | str) -> Plan:
    """Read a plan file, leaving out the fields that only a newer program knows.

    Parameters
    ----------
    path : Path or str
        A plan file of the present format or a newer one.

    Returns
    -------
    Plan
        What is known of it. It says less than the file, so it must not be written over it.

    Raises
    ------
    FileAccessError
        If the file cannot be read.
    BrokenFileError
        If it is no plan.
    NewerFormatError
        If what is known of it does not hold by itself: a field has another meaning, or there is
        a kind of thing this program has no name for and so cannot judge.
    """
    raw, name = store.read_bytes(path), str(path)
    try:
        return store.parse(raw, name)
    except NewerFormatError as error:
        tree = store.json_tree(store.without_mark(raw), name)
        found = _known(tree)
        if found is None:
            raise
        if isinstance(found, ValidationError):
            why = Said(_NOT_SHOWN_TEXT, {"why": error.why, "reason": explain(found)})
            raise NewerFormatError(name, why) from error
        return found


def _known(tree: Any) -> Plan | ValidationError | None:  # noqa: ANN401 - JSON of any shape
    tree["version"] = VERSION
    for _ in range(_TRIES):
        try:
            return Plan.model_validate_json(json.dumps(tree))
        except ValidationError as error:
            mistakes = error.errors(include_url=False, include_input=False)
            if any(one["type"] != "extra_forbidden" for one in mistakes):
                return error
            for one in mistakes:
                _leave_out(tree, one["loc"])
    return None


def _leave_out(tree: Any, place: tuple[int | str, ...]) -> None:  # noqa: ANN401 - JSON of any shape
    node = tree
    for part in place[:-1]:
        # Of a thing that comes in several kinds, the kind stands in the place and not in the file.
        if isinstance(part, int) or part in node:
            node = node[part]
    node.pop(place[-1], None)
