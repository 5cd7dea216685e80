"""Finds every sentence the program can show, for the check of the translations."""

import ast
import builtins
import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

from siteplan.sources import UNPUBLISHED

ROOT = Path(__file__).resolve().parents[2]
# Functions and classes whose first argument is a sentence for people.
SPEAKERS = frozenset({"Text", "say", "tr", "translate", "Said"})
# What Python itself raises is told to programmers.
BUILT_IN = frozenset(name for name in dir(builtins) if name.endswith("Error"))
# Names of constants that hold sentences, one or many.
TABLES = ("_WORDS", "_TEXT", "_TEXTS", "_LABELS", "_TITLES", "_SENTENCES")
# Of each data book, by its path in resources/: its tables, and the fields that are sentences.
BOOKS = {
    "rules/*.toml": ("rule", ("title", "group", "explain")),
    "appliances.toml": ("appliance", ("name", "note")),
    "sound_limits.toml": ("preset", ("name", "note")),
    "cards.toml": ("card", ("title", "steps", "notes")),
    "starts.toml": ("start", ("title",)),
    "starts.toml#": ("machine", ("title",)),
    "sources/*.toml": ("source", ("title", "clause", "note")),
}

# A line with a named place is a sentence, wherever it stands; of more lines it is a style sheet.
TEMPLATE = re.compile(r".*\{[a-z_]+\}.*")

Constants = Mapping[str, ast.expr]


def sentences() -> set[str]:
    """Every English sentence that needs a translation."""
    found = {one for path in (ROOT / "siteplan").rglob("*.py") for one in in_file(path)}
    found |= set(in_books())
    return {one for one in found if any(sign.isalpha() for sign in _bare(one))}


def in_books() -> Iterator[str]:
    """The sentences of the data books."""
    for pattern, (table, fields) in BOOKS.items():
        for path in (ROOT / "resources").glob(pattern.rstrip("#")):
            for row in tomllib.loads(path.read_text(encoding="utf-8"))[table]:
                # A published work keeps the name that it can be found by.
                if table == "source" and row["known"] not in UNPUBLISHED:
                    continue
                for name in fields:
                    yield from filter(None, _strings(row.get(name, "")))


def _strings(value: Any) -> Iterator[str]:
    """The texts in a field of a data book: one, a list of them, or questions with answers."""
    if isinstance(value, str):
        yield value
    else:
        for one in value.values() if isinstance(value, dict) else value:
            yield from _strings(one)


def _bare(template: str) -> str:
    """The template without its named places."""
    out, depth = [], 0
    for sign in template:
        depth += sign == "{"
        if depth == 0:
            out.append(sign)
        depth -= sign == "}"
    return "".join(out)


def in_file(path: Path) -> Iterator[str]:
    """The sentences in one file of the program."""
    return in_tree(_parsed(path))


def _parsed(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def in_tree(tree: ast.Module) -> Iterator[str]:
    """The sentences in a module: said, kept in a table by its name, or a field's title."""
    known = dict(_constants(tree.body)) | dict(_imported(tree))
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef):
            yield from _complaints(node)
    speakers = SPEAKERS | set(_passing_on(tree))
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            yield from _of_call(node, known, speakers)
        elif isinstance(node, ast.Assign | ast.AnnAssign) and node.value is not None:
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            if any(_name(one).endswith(TABLES) for one in targets):
                yield from _table(node.value)
    yield from _templates(tree)


def _templates(tree: ast.Module) -> Iterator[str]:
    told = {id(one.value) for one in ast.walk(tree) if isinstance(one, ast.Expr)}
    for node in ast.walk(tree):
        text = node.value if isinstance(node, ast.Constant) and id(node) not in told else None
        if isinstance(text, str) and TEMPLATE.fullmatch(text):
            yield text


def _of_call(node: ast.Call, known: Constants, speakers: Iterable[str]) -> Iterator[str]:
    name = _name(node.func)
    if name in speakers and node.args:
        yield from _said(node.args[0], known)
    elif name == "wrong" or (name.endswith("Error") and name not in BUILT_IN):
        for one in node.args:
            yield from _said(one, known)
    elif _name(node.func) == "Field":
        for keyword in node.keywords:
            if keyword.arg == "title":
                yield from _table(keyword.value)


def _complaints(function: ast.FunctionDef) -> Iterator[str]:
    """The texts kept in a variable and raised from there."""
    kept = dict(_constants(one for one in ast.walk(function) if isinstance(one, ast.stmt)))
    for node in ast.walk(function):
        if isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call):
            yield from _of_call(node.exc, kept, ())


def _constants(body: Iterable[ast.stmt]) -> Iterator[tuple[str, ast.expr]]:
    """What the module's own names stand for."""
    for node in body:
        if isinstance(node, ast.Assign | ast.AnnAssign) and node.value is not None:
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            yield from ((_name(one), node.value) for one in targets)


def _imported(tree: ast.Module) -> Iterator[tuple[str, ast.expr]]:
    """What names taken from other modules of the program stand for."""
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("siteplan."):
            path = ROOT / f"{node.module.replace('.', '/')}.py"
            there = dict(_constants(_parsed(path).body)) if path.exists() else {}
            yield from ((one.name, there[one.name]) for one in node.names if one.name in there)


def _passing_on(tree: ast.Module) -> Iterator[str]:
    """Functions of the module that say their own first argument."""
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef):
            taken = [one.arg for one in node.args.args if one.arg not in {"self", "cls"}]
            calls = (one for one in ast.walk(node) if isinstance(one, ast.Call) and one.args)
            said = {_name(one.args[0]) for one in calls if _name(one.func) in SPEAKERS}
            if taken and taken[0] in said:
                yield node.name


def _name(node: ast.expr) -> str:
    if isinstance(node, ast.Name):
        return node.id
    return node.attr if isinstance(node, ast.Attribute) else ""


def _said(node: ast.expr, known: Constants) -> Iterator[str]:
    """The texts an argument can be: a literal, either side of a choice, or out of a table."""
    if isinstance(node, ast.IfExp):
        yield from _said(node.body, known)
        yield from _said(node.orelse, known)
    elif isinstance(node, ast.Subscript):
        yield from _said(node.value, known)
    elif isinstance(node, ast.Name):
        yield from _table(known.get(node.id))
    else:
        yield from _table(node)


def _table(node: ast.expr | None) -> Iterator[str]:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from _table(node.body)
        yield from _table(node.orelse)
    elif isinstance(node, ast.Dict):
        for value in node.values:
            yield from _table(value)
    elif isinstance(node, ast.Tuple | ast.List | ast.Set):
        for value in node.elts:
            yield from _table(value)
