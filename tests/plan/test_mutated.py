"""A few hundred of the changed plan files that `tests/apart/fuzz_plans.py` makes by the 100,000."""

import importlib.util
import json
from pathlib import Path

import pytest

SCRIPT = Path(__file__).resolve().parents[1] / "apart" / "fuzz_plans.py"


@pytest.fixture(scope="module")
def fuzz():
    spec = importlib.util.spec_from_file_location("fuzz_plans", SCRIPT)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_changed_plan_files_are_reviewed_or_refused_in_one_line(fuzz):
    files = fuzz.corpus()
    trees = [json.loads(raw) for raw in files]
    ends = {fuzz.judge(fuzz.mutant(7, number, files, trees)) for number in range(250)}
    assert "refused" in ends
    assert "reviewed, worst DANGER" in ends


def test_the_files_themselves_are_plans(fuzz):
    for raw in fuzz.corpus():
        assert fuzz.judge(raw).startswith("reviewed")
