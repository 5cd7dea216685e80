"""What the tests of the command line share: running it, and no window."""

import io
import sys
import types

import pytest

from siteplan.cli import main
from siteplan.desk import preflight
from siteplan.words import Text


@pytest.fixture(autouse=True)
def _no_window(monkeypatch):
    monkeypatch.setattr(preflight, "why_no_window", lambda: Text("no window in this test"))


@pytest.fixture
def run(capsys):
    """Run the command line and give its exit code, its output and its complaints."""

    def _run(*arguments):
        code = main.main(list(arguments))
        said = capsys.readouterr()
        assert "Traceback" not in said.out + said.err
        return types.SimpleNamespace(code=code, out=said.out, err=said.err)

    return _run


@pytest.fixture
def stdin(monkeypatch):
    def _give(raw):
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(raw), encoding="utf-8"))

    return _give
