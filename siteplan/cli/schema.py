"""`siteplan schema`: the JSON Schema of a plan file."""

import argparse
import json

from siteplan.cli import codes


def add_parser(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add this command to the command line."""
    parser = commands.add_parser("schema", help="print the JSON Schema of a plan file")
    parser.set_defaults(run=run)


def run(_args: argparse.Namespace) -> int:
    """Print the schema."""
    from siteplan.plan.document import Plan

    tree = {"$schema": "https://json-schema.org/draft/2020-12/schema"} | Plan.model_json_schema()
    # A plan in memory has both by itself; a file must say them.
    tree["required"] = ["format", "version"]
    print(json.dumps(tree, indent=1))
    return codes.DONE
