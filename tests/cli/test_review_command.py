"""`siteplan review`: what it says, in which order and language, and what hostile names do."""

import json
import re

import pytest

from siteplan.plan import load, store
from siteplan.rules.findings import Finding, Review
from siteplan.words import Text
from tests.helpers.commands import BAD, GOOD, NARROW, TAKES_PLAN, WRITES, call


@pytest.mark.parametrize(
    ("plan", "code", "worst"), [(BAD, 1, "DANGER"), (GOOD, 0, "CAUTION"), (NARROW, 1, "DANGER")]
)
def test_the_samples_end_as_they_should(run, plan, code, worst):
    done = run("review", plan)
    assert (done.code, done.err) == (code, "")
    as_json = run("review", plan, "--json")
    assert as_json.code == code
    assert json.loads(as_json.out)["worst"] == worst
    assert ("DANGER" in done.out) == (worst == "DANGER")


def test_the_good_sample_says_what_was_met(run):
    out = " ".join(run("review", GOOD).out.split())
    assert re.search(r"Met \(\d+\)", out)
    assert "[separation-opening]" in out
    assert "no distance rules it out" in out
    assert "working CO alarms are needed" in out


def test_what_is_missing_is_said_as_not_judged(run, tmp_path):
    file = tmp_path / "p.siteplan"
    store.save(load(GOOD).model_copy(update={"accuracy": None}), file)
    out = " ".join(run("review", str(file)).out.split())
    assert "Not judged, because this is missing ? how the lot was measured" in out


FINDING_KEYS = {"rule", "signal", "subjects", "what", "do", "sources", "evidence"}
MET_KEYS = {"rule", "subjects", "what", "sources", "checked", "evidence"}
FIGURES = re.compile(
    r"(measured|limit|margin)"
    r"_(m|deg|share|a|w|v|l|l_per_h|dba|s|ppm|percent|count|c)"
)


@pytest.mark.parametrize("plan", [BAD, GOOD, NARROW])
def test_json_is_one_object_with_the_agreed_keys(run, plan):
    tree = json.loads(run("review", plan, "--json").out)
    assert {"review_format", "plan", "worst", "findings", "met", "unjudged"} <= set(tree)
    assert tree["review_format"] == 1
    assert tree["plan"]["file"] == plan
    for finding in tree["findings"]:
        assert set(finding) >= FINDING_KEYS
        assert all(FIGURES.fullmatch(key) for key in set(finding) - FINDING_KEYS)
        assert finding["signal"] in {"DANGER", "WARNING", "CAUTION", "NOTICE"}
        assert finding["sources"]
    for met in tree["met"]:
        assert set(met) >= MET_KEYS
        assert all(FIGURES.fullmatch(key) for key in set(met) - MET_KEYS)
    for unjudged in tree["unjudged"]:
        assert set(unjudged) >= {"rule", "subjects", "missing"}
    if tree["findings"]:
        assert tree["worst"] == tree["findings"][0]["signal"]


def test_margin_is_measured_less_limit_in_json(run):
    tree = json.loads(run("review", BAD, "--json").out)
    with_metres = [one for one in tree["findings"] if "margin_m" in one]
    assert with_metres
    for one in with_metres:
        difference = one["measured_m"] - one["limit_m"]
        assert one["margin_m"] == pytest.approx(difference, abs=2e-6)
        assert difference < 0


def test_findings_come_worst_first(run):
    order = ["DANGER", "WARNING", "CAUTION", "NOTICE"]
    tree = json.loads(run("review", BAD, "--json").out)
    ranks = [order.index(one["signal"]) for one in tree["findings"]]
    assert ranks == sorted(ranks)
    assert len(set(ranks)) > 1


@pytest.mark.parametrize("worst", ["DANGER", "WARNING", "CAUTION", "NOTICE"])
@pytest.mark.parametrize("asked", ["DANGER", "WARNING", "CAUTION", "NOTICE"])
def test_fail_on_draws_the_line(run, monkeypatch, worst, asked):
    one = Finding("indoors", worst, (), Text("What."), Text("Do."), ("cpsc-2022",))
    monkeypatch.setattr("siteplan.rules.review", lambda _plan: Review((one,)))
    order = ["NOTICE", "CAUTION", "WARNING", "DANGER"]
    reached = order.index(worst) >= order.index(asked)
    assert run("review", GOOD, "--fail-on", asked).code == int(reached)


@pytest.mark.parametrize(("worst", "code"), [("DANGER", 1), ("WARNING", 1), ("CAUTION", 0)])
def test_without_fail_on_a_warning_fails(run, monkeypatch, worst, code):
    one = Finding("indoors", worst, (), Text("What."), Text("Do."), ("cpsc-2022",))
    monkeypatch.setattr("siteplan.rules.review", lambda _plan: Review((one,)))
    assert run("review", GOOD).code == code


def test_no_finding_passes_at_any_line(run, monkeypatch):
    monkeypatch.setattr("siteplan.rules.review", lambda _plan: Review())
    assert run("review", GOOD, "--fail-on", "NOTICE").code == 0


def test_several_plans_give_several_reviews_and_the_worst_code(run):
    done = run("review", GOOD, BAD)
    assert done.code == 1
    assert done.out.index(GOOD) < done.out.index(BAD)
    tree = json.loads(run("review", GOOD, BAD, "--json").out)
    assert tree["review_format"] == 1
    assert [one["plan"]["file"] for one in tree["reviews"]] == [GOOD, BAD]
    assert run("review", GOOD, GOOD).code == 0


def test_one_broken_plan_among_several_is_said_before_any_review(run, tmp_path):
    broken = tmp_path / "b.siteplan"
    broken.write_text("{")
    done = run("review", GOOD, str(broken))
    assert (done.code, done.out) == (3, "")


def test_another_placement_can_be_judged(run, tmp_path):
    plan = load(GOOD)
    other = plan.placement.model_copy(update={"id": "in-the-house", "at": (12.0, 12.0)})
    file = tmp_path / "two.siteplan"
    store.save(plan.model_copy(update={"placements": (*plan.placements, other)}), file)
    assert run("review", str(file)).code == 0
    done = run("review", str(file), "--placement", "in-the-house", "--json")
    assert done.code == 1
    assert json.loads(done.out)["plan"]["placement"] == "in-the-house"
    assert "indoors" in {one["rule"] for one in json.loads(done.out)["findings"]}
    done = run("review", str(file), "--placement", "in-the-hous")
    assert (done.code, done.out) == (2, "")
    assert "did you mean in-the-house?" in done.err


def test_units_and_language_are_the_readers(run):
    feet, metres = run("review", BAD).out, run("review", BAD, "--units", "metres").out
    assert re.search(r"\d+' \d+\"", feet)
    assert re.search(r"\d+\.\d\d m\b", metres)
    assert not re.search(r"\d+' \d+\"", metres)


def test_a_review_in_spanish_holds_no_english_of_the_programs_own(run):
    done = run("review", BAD, "--language", "es")
    assert done.code == 1
    out = " ".join(done.out.split())
    for spanish in ("PELIGRO", "ADVERTENCIA", "PRECAUCIÓN", "Se cumple", "alarmas de CO"):
        assert spanish in out
    for english in ("DANGER", "The generator", "Met (", "Not judged", "is needed", "read in the"):
        assert english not in out
    # Lines stay in their column beside the longest signal word.
    assert max(len(line) for line in done.out.splitlines()[1:]) <= 100


HOSTILE = "\x1b[2J\x1b]0;x\x07\u202e\u2066{0}{name}%s\x9b31m\r\n\u2028<b>"


def _hostile_plan():
    plan = load(BAD)
    named = {"name": HOSTILE}
    return plan.model_copy(
        update={
            "title": HOSTILE,
            "note": HOSTILE,
            "buildings": tuple(one.model_copy(update=named) for one in plan.buildings),
            "openings": tuple(one.model_copy(update=named) for one in plan.openings),
            "placements": tuple(one.model_copy(update=named) for one in plan.placements),
        }
    )


@pytest.mark.parametrize("command", [one for one in TAKES_PLAN if one not in WRITES])
@pytest.mark.parametrize("options", [(), ("--json",)])
def test_hostile_names_do_nothing_to_the_terminal(run, tmp_path, command, options):
    file = tmp_path / "evil\x1b[31m.siteplan"
    store.save(_hostile_plan(), file)
    done = run(*call(command, str(file)), *options)
    for line in (done.out + done.err).splitlines():
        assert line.isprintable()
    if not options:
        assert "{0}{name}%s" in done.out
    else:
        assert isinstance(json.loads(done.out), dict)


def test_a_hostile_name_of_a_broken_file_does_nothing_to_the_terminal(run, tmp_path):
    file = tmp_path / "evil\x1b[31m\n.siteplan"
    file.write_text('{"format":"siteplan","version":1,"\\u001b[31m":1}')
    done = run("review", str(file))
    assert done.code == 3
    assert done.err.rstrip("\n").isprintable()
    done = run("review", str(tmp_path / "gone\x1b[31m"))
    assert done.code == 4
    assert done.err.rstrip("\n").isprintable()


def test_the_answers_are_printed_and_put_into_json_only_when_asked(run):
    assert "Which cord?" not in run("review", GOOD).out
    asked = run("review", GOOD, "--answers")
    for question in ("Where may it stand?", "Which cord?", "When may it be refuelled?"):
        assert question in asked.out
    assert "answers" not in json.loads(run("review", GOOD, "--json").out)
    told = json.loads(run("review", GOOD, "--answers", "--json").out)
    assert [one["question"] for one in told["answers"]] == [
        "where", "exhaust", "cord", "join", "house", "motors", "refuel", "sound",
    ]  # fmt: skip
    assert all(one["lines"] for one in told["answers"])
