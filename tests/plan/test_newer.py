import json

import pytest

from siteplan.assets import sample
from siteplan.plan import load, newer
from siteplan.plan.errors import BrokenFileError, NewerFormatError


@pytest.fixture
def written(tmp_path):
    """Write the demo lot as a newer program might have, its tree changed first."""

    def write(change, version=2):
        tree = json.loads(sample("bad-placement.siteplan").read_bytes())
        tree["version"] = version
        change(tree)
        path = tmp_path / "newer.siteplan"
        path.write_text(json.dumps(tree), encoding="utf-8")
        return path

    return write


def add_fields(tree):
    tree["phase_of_the_moon"] = {"phase": "full"}
    tree["buildings"][0]["colour"] = "green"
    # These come in several kinds, so that the kind stands in the place of the mistake.
    tree["surroundings"][0]["height_of_roots_m"] = 1.0
    tree["fixtures"][0]["maker"] = "unknown"
    tree["machine"]["receptacles"][0]["colour"] = "black"


def test_what_is_known_of_a_newer_file_is_read(written):
    path = written(add_fields)
    with pytest.raises(NewerFormatError):
        load(path)
    assert newer.load_known(path) == load(sample("bad-placement.siteplan"))


@pytest.mark.parametrize("version", [2, 3, 99])
def test_any_newer_version_is_tried(written, version):
    path = written(lambda tree: None, version)
    assert newer.load_known(path) == load(sample("bad-placement.siteplan"))


def test_a_present_file_is_read_as_ever(written):
    assert newer.load_known(written(lambda tree: None, 1)).buildings


def test_a_kind_of_thing_without_a_name_here_is_not_left_out_in_silence(written):
    path = written(lambda tree: tree["surroundings"][0].update(kind="volcano"))
    with pytest.raises(NewerFormatError, match="volcano"):
        newer.load_known(path)


def test_a_field_with_another_meaning_is_refused(written):
    path = written(lambda tree: tree.update(north_deg="up"))
    with pytest.raises(NewerFormatError, match=r"version 2.*north_deg"):
        newer.load_known(path)


def test_what_does_not_hang_together_without_the_unknown_is_refused(written):
    def change(tree):
        add_fields(tree)
        tree["chosen"] = "nowhere"

    with pytest.raises(NewerFormatError, match="nowhere"):
        newer.load_known(written(change))


def test_an_unknown_field_in_a_present_file_stays_a_mistake(written):
    with pytest.raises(BrokenFileError, match="is no field of a plan"):
        newer.load_known(written(add_fields, 1))
