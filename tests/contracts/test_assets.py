"""The program's own files are found from a checkout and from an installed wheel alike."""

import tomllib
from pathlib import Path

import pytest

from siteplan import assets
from siteplan.errors import MissingAssetError

ROOT = Path(__file__).resolve().parents[2]


def test_a_checkout_has_them_beside_the_package():
    assert assets.resource("rules") == ROOT / "resources" / "rules"
    assert assets.sample("bad-placement.siteplan").is_file()


def test_a_wheel_has_them_inside_the_package_and_that_comes_first(tmp_path, monkeypatch):
    inside, beside = tmp_path / "_shared", tmp_path / "beside"
    for root in (inside, beside):
        (root / "resources").mkdir(parents=True)
        (root / "resources" / "a.toml").touch()
    monkeypatch.setattr(assets, "_ROOTS", (inside, beside))
    assert assets.resource("a.toml") == inside / "resources" / "a.toml"
    (inside / "resources" / "a.toml").unlink()
    assert assets.resource("a.toml") == beside / "resources" / "a.toml"


def test_the_wheel_is_told_to_take_both_folders_where_they_are_looked_for():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    taken = project["tool"]["hatch"]["build"]["targets"]["wheel"]["force-include"]
    package = Path(assets.__file__).parent
    inside = {package.parent / where for where in taken.values()}
    root = assets._ROOTS[0]
    assert inside == {root / "resources", root / "samples", root / "README.md"}
    assert set(taken) == {"resources", "samples", "README.md"}


@pytest.mark.parametrize("find", [assets.resource, assets.sample])
def test_a_missing_file_says_what_to_do(find):
    with pytest.raises(MissingAssetError, match=r"no-such-file is missing; install siteplan again"):
        find("no-such-file")
