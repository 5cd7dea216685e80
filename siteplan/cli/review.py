"""`siteplan review`: what is wrong, what was met, and what could not be judged."""

import argparse
import json
import sys
from typing import TYPE_CHECKING

from siteplan.cli import codes, common, terminal
from siteplan.words import Manner, Text, translate

if TYPE_CHECKING:
    from siteplan.plan.document import Plan
    from siteplan.rules.findings import Finding, Met, Review, Unjudged

REVIEW_FORMAT = 1
_MOST_RULES = 4
NO_FINDING = Text(
    "No fault was found in what could be judged. That is not leave to run it: read what was not "
    "judged above."
)


def add_parser(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add this command to the command line."""
    parser = commands.add_parser("review", help="say what is wrong with a plan")
    parser.add_argument("plans", nargs="+", metavar="PLAN", help="plan file, or - for stdin")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.add_argument(
        "--fail-on",
        choices=("DANGER", "WARNING", "CAUTION", "NOTICE"),
        default="WARNING",
        help="exit with 1 at a finding of this signal word or worse (WARNING)",
    )
    parser.add_argument(
        "--answers", action="store_true", help="answer the eight questions in plain words as well"
    )
    parser.add_argument("--placement", metavar="ID", help="judge this placement, not the chosen")
    common.add_manner(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Review each plan and return the worst exit code."""
    from siteplan.rules import review
    from siteplan.rules.findings import severity

    manner = common.manner(args)
    worst = codes.DONE
    trees = []
    # All are read first, so that a broken one among them is said before any is judged.
    plans = [_choose(common.read_plan(name), args.placement) for name in args.plans]
    for index, (name, plan) in enumerate(zip(args.plans, plans, strict=True)):
        found = review(plan)
        if severity(found.worst) >= severity(args.fail_on):
            worst = codes.FINDINGS
        if args.json:
            made = tree(name, plan, found, manner)
            trees.append(made | _answers_tree(plan, found, manner) if args.answers else made)
        else:
            if index:
                print()
            _print(name, plan, found, manner, with_answers=args.answers)
    if args.json:
        whole = trees[0] if len(trees) == 1 else {"review_format": REVIEW_FORMAT, "reviews": trees}
        print(json.dumps(whole, allow_nan=False, indent=1))
    return worst


def _choose(plan: "Plan", placement: str | None) -> "Plan":
    if placement is None:
        return plan
    from siteplan.plan.edits import with_fields

    known = [one.id for one in plan.placements]
    if placement not in known:
        raise common.UnknownNameError("placement", placement, known)
    return with_fields(plan, chosen=placement)


def tree(name: str, plan: "Plan", review: "Review", manner: Manner) -> dict[str, object]:
    """Return a review as plain data for JSON."""
    from siteplan.rules.findings import as_tree

    placement = plan.placement
    return {
        "review_format": REVIEW_FORMAT,
        "plan": {
            "file": name,
            "title": plan.title,
            "placement": None if placement is None else placement.id,
        },
        "worst": review.worst,
        "findings": [as_tree(one, manner) for one in review.findings],
        "met": [as_tree(one, manner) for one in review.met],
        "unjudged": [as_tree(one, manner) for one in review.unjudged],
        "caution": common.CAUTION.say(manner),
    }


def _answers_tree(plan: "Plan", review: "Review", manner: Manner) -> dict[str, object]:
    from siteplan.scene import resolve
    from siteplan.suggest.answers import answers

    return {
        "answers": [
            {
                "question": one.question,
                "title": one.title.say(manner),
                "lines": [line.say(manner) for line in one.lines],
            }
            for one in answers(resolve(plan), review)
        ]
    }


def _print(
    name: str, plan: "Plan", review: "Review", manner: Manner, *, with_answers: bool
) -> None:
    from siteplan.plan.labels import label

    say = manner.show
    placement = plan.placement
    where = "" if placement is None else f" · {say(label(placement))}"
    print(f"{say(name)}: {say(plan.title)}{where}")
    for finding in review.findings:
        _print_finding(finding, manner)
    _print_met(review.met, manner)
    _print_unjudged(review.unjudged, manner)
    if not review.findings:
        print(terminal.wrap(NO_FINDING.say(manner), "  "))
    if with_answers:
        _print_answers(plan, review, manner)
    print()
    print(terminal.wrap(common.CAUTION.say(manner), "  "))


def _print_answers(plan: "Plan", review: "Review", manner: Manner) -> None:
    from siteplan.scene import resolve
    from siteplan.suggest.answers import answers

    print(f"\n  {translate('Answers', manner.language)}")
    for one in answers(resolve(plan), review):
        print(f"  {one.title.say(manner)}")
        for line in one.lines:
            print(terminal.wrap(line.say(manner), "      ", "    - "))


def _print_finding(finding: "Finding", manner: Manner) -> None:
    from siteplan.sources import work

    width = terminal.signal_width(manner.language)
    indent = " " * (width + 4)
    print()
    head = terminal.panel(
        finding.signal, sys.stdout, translate(finding.signal, manner.language), width
    )
    print(head, terminal.wrap(finding.what.say(manner), indent).lstrip())
    print(terminal.wrap(finding.do.say(manner), indent))
    cited = "; ".join(work(source).line(manner.language) for source in finding.sources[:1])
    more = f" +{len(finding.sources) - 1}" if len(finding.sources) > 1 else ""
    print(terminal.wrap(f"[{finding.rule}] {cited}{more}", indent))


def _print_met(met: "tuple[Met, ...]", manner: Manner) -> None:
    from siteplan.rules.book import titled

    if met:
        print(f"\n  {translate('Met', manner.language)} ({len(met)})")
    for one in met:
        said = titled(one.rule, one.what).say(manner)
        print(terminal.wrap(f"{said} [{one.rule}]", "    ", "  ✓ "))


def _print_unjudged(unjudged: "tuple[Unjudged, ...]", manner: Manner) -> None:
    from siteplan.rules.missing import grouped

    if unjudged:
        print(f"\n  {translate('Not judged, because this is missing', manner.language)}")
    for one in grouped(unjudged):
        more = len(one.rules) - _MOST_RULES
        names = ", ".join(one.rules[:_MOST_RULES]) + (f" +{more}" if more > 0 else "")
        print(terminal.wrap(f"{one.text.say(manner)} [{names}]", "    ", "  ? "))
