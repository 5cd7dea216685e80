import json

import pytest
from pypdf import PdfReader

from siteplan.desk.steps import paper
from siteplan.plan import edits
from siteplan.plan.lot import Origin


def placed_on_earth(plan):
    origin = Origin(longitude_deg=-90.0, latitude_deg=30.0)
    return edits.with_fields(plan, lot=edits.changed(plan.lot, origin=origin))


@pytest.fixture
def shown(monkeypatch):
    """The files that would be shown in another program."""
    found = []
    monkeypatch.setattr(
        paper.QDesktopServices, "openUrl", lambda url: found.append(url.toLocalFile())
    )
    return found


@pytest.mark.parametrize("kind", ["household", "records", "installer"])
def test_each_set_of_papers_is_written_and_shown(demo_window, answers, tmp_path, shown, kind):
    path = tmp_path / f"{kind}.pdf"
    answers.paths = [path]
    demo_window.panels["paper"].save_papers(kind)
    assert shown == [str(path)]
    assert "Lantern Row" in "".join(page.extract_text() for page in PdfReader(path).pages)


@pytest.mark.parametrize("ending", ["svg", "png", "csv", "geojson"])
def test_the_drawing_and_the_figures_are_written(demo_window, answers, tmp_path, ending):
    answers.paths = [tmp_path / "plan"]
    demo_window.session.edit("place", placed_on_earth)
    demo_window.panels["paper"].save(ending)
    assert answers.told == []
    content = (tmp_path / f"plan.{ending}").read_bytes()
    starts = {"svg": b"<?xml", "png": b"\x89PNG", "csv": b"outcome", "geojson": b"{"}
    assert content.startswith(starts[ending])
    if ending == "geojson":
        assert json.loads(content)["type"] == "FeatureCollection"


def test_shapes_without_a_place_on_the_earth_are_refused_in_words(demo_window, answers, tmp_path):
    answers.paths = [tmp_path / "plan"]
    demo_window.panels["paper"].save("geojson")
    assert len(answers.told) == 1
    assert not (tmp_path / "plan.geojson").exists()


def test_no_file_chosen_writes_nothing(demo_window, answers, shown):
    assert demo_window.panels["paper"].save_papers("household") is None
    assert shown == []


def test_a_folder_that_is_not_there_is_said(demo_window, answers, tmp_path, shown):
    answers.paths = [tmp_path / "nowhere" / "a.pdf"]
    demo_window.panels["paper"].save_papers("household")
    assert answers.told
    assert shown == []
