"""The word "safe" is never a verdict: it stands nowhere in what the program shows."""

import ast
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SAFE = re.compile(r"\b(safe|safely|seguro|segura|seguros|seguras)\b", re.IGNORECASE)
SHOWN = (".toml", ".json", ".typ", ".svg", ".md", ".txt", ".siteplan", ".desktop", ".html", ".xml")
# What holds the word for a reason, and the reason.
ALLOWED = {
    'The word "safe" stands nowhere as a verdict.': "the rule itself, told to contributors",
}


def _texts_of_code(path):
    """Every string in a file that is not a docstring, with its line."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    docstrings = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    for node in ast.walk(tree):
        shown = isinstance(node, ast.Constant) and isinstance(node.value, str)
        if shown and id(node) not in docstrings:
            yield node.lineno, node.value


def _texts_of_file(path):
    yield from enumerate(path.read_text(encoding="utf-8").splitlines(), 1)


def _files():
    found = sorted((ROOT / "siteplan").rglob("*.py"))
    for folder in ("resources", "samples"):
        found += sorted(one for one in (ROOT / folder).rglob("*") if one.suffix in SHOWN)
    return [*found, ROOT / "README.md", ROOT / "DEVELOPERS.md"]


def verdicts(path):
    """Lines of a file that hold the word without an allowed reason."""
    texts = _texts_of_code(path) if path.suffix == ".py" else _texts_of_file(path)
    for line, text in texts:
        for allowed in ALLOWED:
            text = text.replace(allowed, "")  # noqa: PLW2901 - what is allowed is cut out
        if SAFE.search(text):
            yield f"{path.name}:{line}: {text.strip()[:100]}"


@pytest.mark.parametrize("path", _files(), ids=lambda path: str(path.relative_to(ROOT)))
def test_no_text_that_is_shown_calls_anything_safe(path):
    assert list(verdicts(path)) == []


@pytest.mark.parametrize(
    "line",
    [
        'Text("This place is safe.")',
        'X = {"a": f"Safe at {b}"}',
        'tr("Un lugar seguro")',
    ],
)
def test_the_search_itself_finds_the_word(tmp_path, line):
    file = tmp_path / "a.py"
    file.write_text(f'"""Docs may say safe."""\n{line}\n# a comment may say safe\n')
    assert len(list(verdicts(file))) == 1


@pytest.mark.parametrize("allowed", ALLOWED)
def test_what_is_allowed_is_still_there(allowed):
    assert any(allowed in path.read_text(encoding="utf-8") for path in _files())
