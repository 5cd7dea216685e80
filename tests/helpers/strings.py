"""Finds every sentence the program can show, for the check of the translations."""

import ast
import tomllib
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
# Functions and classes whose first argument is a sentence for people.
SPEAKERS = frozenset({"Text", "say", "tr", "translate"})
# Names of constants that hold sentences, one or many.
TABLES = ("_WORDS", "_TEXT", "_TEXTS", "_LABELS", "_TITLES", "_SENTENCES")
TOML_FIELDS = ("title", "group", "explain")


def sentences() -> set[str]:
    """Every English sentence that needs a translation."""
    found: set[str] = set()
    for path in (ROOT / "siteplan").rglob("*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        found |= set(in_tree(tree))
    for path in (ROOT / "resources" / "rules").glob("*.toml"):
        for rule in tomllib.loads(path.read_text(encoding="utf-8"))["rule"]:
            found |= {rule[name] for name in TOML_FIELDS}
    return {one for one in found if any(sign.isalpha() for sign in _bare(one))}


def _bare(template: str) -> str:
    """The template without its named places."""
    out, depth = [], 0
    for sign in template:
        depth += sign == "{"
        if depth == 0:
            out.append(sign)
        depth -= sign == "}"
    return "".join(out)


def in_tree(tree: ast.AST) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and _name(node.func) in SPEAKERS and node.args:
            yield from _constants(node.args[0])
        elif isinstance(node, ast.Assign | ast.AnnAssign) and node.value is not None:
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            if any(_name(one).endswith(TABLES) for one in targets):
                yield from _table(node.value)
        elif isinstance(node, ast.Call) and _name(node.func) == "Field":
            for keyword in node.keywords:
                if keyword.arg == "title":
                    yield from _constants(keyword.value)


def _name(node: ast.expr) -> str:
    if isinstance(node, ast.Name):
        return node.id
    return node.attr if isinstance(node, ast.Attribute) else ""


def _constants(node: ast.expr) -> Iterator[str]:
    """The texts an expression can be: a literal, or either side of a choice."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from _constants(node.body)
        yield from _constants(node.orelse)


def _table(node: ast.expr) -> Iterator[str]:
    if isinstance(node, ast.Dict):
        for value in node.values:
            yield from _table(value)
    elif isinstance(node, ast.Tuple | ast.List | ast.Set):
        for value in node.elts:
            yield from _table(value)
    else:
        yield from _constants(node)
