"""How each command of the command line is called, for tests that try them all."""

import argparse

from siteplan.assets import sample
from siteplan.cli import main

BAD = str(sample("bad-placement.siteplan"))
GOOD = str(sample("good-placement.siteplan"))
NARROW = str(sample("narrow-lot.siteplan"))
# How each command is called; {plan} is a plan file and {out} a file without its ending.
COMMANDS = {
    "open": ["{plan}"],
    "review": ["{plan}"],
    "night": ["{plan}"],
    "air": ["{plan}"],
    "power": ["{plan}"],
    "spots": ["{plan}"],
    "paper": ["{plan}", "--for", "household", "-o", "{out}.pdf"],
    "draw": ["{plan}", "-o", "{out}.svg"],
    "export": ["{plan}", "-o", "{out}.csv"],
    "bring": ["{plan}", "-o", "{out}.siteplan"],
    "rules": [],
    "schema": [],
    "new": ["-o", "{out}.siteplan"],
}


def subparsers():
    parser = main._parser([])
    actions = [one for one in parser._actions if isinstance(one, argparse._SubParsersAction)]
    return actions[0].choices


PRESENT = sorted(subparsers())
TAKES_PLAN = [
    one for one in PRESENT if "{plan}" in COMMANDS.get(one, ()) and one not in {"bring", "open"}
]
WRITES = [one for one in PRESENT if "-o" in COMMANDS.get(one, ()) and one != "bring"]


def call(command, plan="", out=""):
    return [command, *(part.format(plan=plan, out=out) for part in COMMANDS[command])]
