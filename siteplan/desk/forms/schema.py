"""What a form must ask for, read from the document's models."""

import types
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Any, Literal, Union, cast, get_args, get_origin

from pydantic.fields import FieldInfo

from siteplan.plan import edits
from siteplan.plan.base import Model

Sort = Literal[
    "number",
    "whole",
    "quantity",
    "choice",
    "yes-no",
    "tick",
    "text",
    "note",
    "refer",
    "wall",
    "point",
    "points",
    "lengths",
    "part",
    "parts",
]
Path = tuple[str | int, ...]

# Kept by the program or edited elsewhere: ids, collections with lists of their own, pictures.
HIDDEN = frozenset(
    {
        "id",
        "format",
        "version",
        "lot",
        "buildings",
        "openings",
        "surroundings",
        "fixtures",
        "machine",
        "placements",
        "chosen",
        "loads",
        "transfer",
        "outage",
        "household",
        "wind",
        "backdrop",
        "cords",
        "alarm_spots",
        "sectors",
        "none_here",
    }
)
# Fields that hold the id of something else, and what that is.
REFERS: dict[str, str] = {"receptacle": "receptacle", "to": "cord-end", "via": "feed"}


@dataclass(frozen=True, slots=True)
class Spec:
    """One field of a form.

    Attributes
    ----------
    name : str
        The field's name in its model.
    sort : str
        Which kind of editor it wants.
    optional : bool
        Whether "not known" is an answer.
    title : str or None
        The model's own label.
    quantity : str
        What a number measures, for a quantity; what an id refers to, for a reference.
    choices : tuple
        The values of a choice.
    model : type or None
        The model of a part or of each of many parts.
    low, high : float or None
        The range of a number [SI].
    above_low, below_high : bool
        Whether the end of the range is itself not allowed.
    """

    name: str
    sort: Sort
    optional: bool = False
    title: str | None = None
    quantity: str = ""
    choices: tuple[object, ...] = ()
    model: type[Model] | None = None
    low: float | None = None
    high: float | None = None
    above_low: bool = False
    below_high: bool = False


def specs(model: type[Model]) -> Iterator[Spec]:
    """Yield what a form for this model asks for, in the model's order."""
    for name, field in model.model_fields.items():
        if name not in HIDDEN:
            found = _spec(name, field)
            if found is not None:
                yield found


def _spec(name: str, field: FieldInfo) -> Spec | None:
    core, extra, title = _unwrapped(field.annotation)
    if isinstance(field.json_schema_extra, dict):
        extra = extra | field.json_schema_extra
    options = [one for one in core if one is not type(None)]
    optional = type(None) in core
    if len(options) != 1:
        return None
    quantity = str(extra.get("quantity", ""))
    refers = str(extra.get("refers", REFERS.get(name, "")))
    sort, choices, model = _sort(name, options[0], quantity, refers)
    if sort == "choice" and len(choices) < 2:
        return None
    extra = extra | _range(field.metadata)
    return Spec(
        name,
        sort,
        optional,
        field.title or title,
        refers or quantity,
        choices,
        model,
        low=extra.get("low"),
        high=extra.get("high"),
        above_low="above_low" in extra,
        below_high="below_high" in extra,
    )


def _range(notes: list[Any]) -> dict[str, Any]:
    """Return the ends of the range that the notes of a field give."""
    found: dict[str, Any] = {}
    for note in notes:
        for name, end in (("ge", "low"), ("gt", "low"), ("le", "high"), ("lt", "high")):
            if (value := getattr(note, name, None)) is not None:
                found[end] = value
                if name == "gt":
                    found["above_low"] = True
                elif name == "lt":
                    found["below_high"] = True
    return found


def _unwrapped(annotation: Any) -> tuple[list[Any], dict[str, Any], str | None]:  # noqa: ANN401
    """Return the members of a possibly annotated union, their extra words and title."""
    origin = get_origin(annotation)
    if origin is Annotated:
        base, *notes = get_args(annotation)
        core, extra, title = _unwrapped(base)
        for note in notes:
            if isinstance(note, FieldInfo):
                if isinstance(note.json_schema_extra, dict):
                    extra = extra | note.json_schema_extra
                title = title or note.title
                extra = extra | _range(note.metadata)
        return core, extra, title
    if origin in (Union, types.UnionType):
        members: list[Any] = []
        extra = {}
        title = None
        for one in get_args(annotation):
            core, more, named = _unwrapped(one)
            members += core
            extra |= more
            title = title or named
        return members, extra, title
    return [annotation], {}, None


_Sorted = tuple[Sort, tuple[object, ...], type[Model] | None]


def _sort(name: str, core: Any, quantity: str, refers: str) -> _Sorted:  # noqa: ANN401
    origin = get_origin(core)
    if origin is Literal:
        return "choice", get_args(core), None
    if isinstance(core, type) and issubclass(core, Model):
        return "part", (), core
    if origin is tuple:
        return _sort_tuple(get_args(core))
    if refers and core is str:
        return "refer", (), None
    if name == "wall":
        return "wall", (), None
    plain: dict[Any, Sort] = {bool: "yes-no", int: "whole", float: "number", str: "text"}
    sort = plain[core]
    if quantity:
        sort = "note" if quantity == "note" else "quantity"
    return sort, (), None


def _sort_tuple(args: tuple[Any, ...]) -> _Sorted:
    if len(args) == 2 and args[1] is Ellipsis:
        (core, *_), _, _ = _unwrapped(args[0])
        if isinstance(core, type) and issubclass(core, Model):
            return "parts", (), core
        return ("points" if get_origin(core) is tuple else "lengths"), (), None
    return "point", (), None


def value_at(part: Model, path: Path) -> object:
    """Return the value at a path of field names and places in tuples."""
    value: Any = part
    for step in path:
        value = value[step] if isinstance(step, int) else getattr(value, step)
    return cast("object", value)


def with_value(part: Model, path: Path, value: object) -> Model:
    """Return the part with the value at a path changed, checked again.

    Raises
    ------
    EditError
        If the value is not allowed.
    """
    name = str(path[0])
    if len(path) == 1:
        return edits.changed(part, **{name: value})
    inner: Any = getattr(part, name)
    if isinstance(path[1], int):
        items = list(inner)
        if len(path) == 2:
            items[path[1]] = value
        else:
            items[path[1]] = with_value(items[path[1]], path[2:], value)
        return edits.changed(part, **{name: tuple(items)})
    return edits.changed(part, **{name: with_value(inner, path[1:], value)})


def signature(part: Model | None) -> object:
    """Return what of a part decides which rows its form has."""
    if part is None:
        return None
    marks: list[object] = [type(part)]
    for spec in specs(type(part)):
        value: Any = getattr(part, spec.name)
        if spec.sort == "part":
            marks.append(signature(value))
        elif spec.sort == "parts":
            marks.append(tuple(signature(one) for one in value))
        elif spec.sort == "points":
            marks.append(len(value))
    return tuple(marks)
