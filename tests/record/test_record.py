"""Regression: what is said of the samples, and of small changes to them, is what was said before.

The kept lines come from the program itself. They prove nothing right; they show every change
in what is said, wanted or not. `python -m tests.record` tells how to see and to keep a change.
"""

from pathlib import Path

import pytest

from tests.record.changes import NAMES, changed, samples
from tests.record.dump import contour_digest, digests, sentences

KEPT = Path(__file__).with_name("kept")
DIGESTS = dict(
    line.rsplit(": ", 1) for line in (KEPT / "changes.txt").read_text("utf-8").splitlines()
)


@pytest.mark.parametrize("name", NAMES)
def test_the_sentences_said_of_a_sample_are_those_kept(name):
    plan = samples()[name]
    figures, *said = (KEPT / f"{name}.txt").read_text("utf-8").splitlines()
    assert sentences(plan) == said
    assert f"{digests(plan)} {contour_digest(plan)}" == figures


def test_every_change_is_kept():
    assert list(DIGESTS) == list(changed())


@pytest.mark.parametrize("change", DIGESTS)
def test_what_is_said_after_a_change_is_what_was_kept(change):
    assert digests(changed()[change]) == DIGESTS[change]
