"""`siteplan rules`: every rule with its figures, sources, and how they are known."""

import argparse
from typing import TYPE_CHECKING

from siteplan.cli import codes, common, terminal
from siteplan.words import Manner, translate

if TYPE_CHECKING:
    from siteplan.rules.book import Rule


def add_parser(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add this command to the command line."""
    parser = commands.add_parser("rules", help="list the rules, their figures and sources")
    parser.add_argument("id", nargs="?", metavar="ID", help="show one rule whole")
    common.add_manner(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the rule book, or one rule of it."""
    from siteplan.rules.book import book, by_group, rule

    manner = common.manner(args)
    if args.id is not None:
        if args.id not in book():
            raise common.UnknownNameError("rule", args.id, book())
        _print_rule(rule(args.id), manner)
        return codes.DONE
    for group, rules in by_group().items():
        print(f"\n{translate(group, manner.language)}")
        for one in rules:
            print(f"  {one.id:<28} {translate(one.title, manner.language)}")
    return codes.DONE


def _print_rule(one: "Rule", manner: Manner) -> None:
    from siteplan.rules.book import figure_value
    from siteplan.rules.figure_titles import FIGURE_TITLES
    from siteplan.sources import work

    print(f"{one.id}: {translate(one.title, manner.language)}")
    print(terminal.wrap(translate(one.explain, manner.language), "  "))
    for name, value in one.figures.items():
        title = translate(FIGURE_TITLES[name], manner.language)
        print(f"  {title}: {manner.show(figure_value(name, value))}")
    for source in one.sources:
        cited = work(source)
        note = f" {cited.remark(manner.language)}" if cited.note else ""
        print(terminal.wrap(f"{cited.line(manner.language)}.{note}", "    ", "  - "))
