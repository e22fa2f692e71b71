"""``findsdesk stocks``: which label stocks there are."""

from __future__ import annotations

import argparse

from findsdesk.cli.calls import DONE, add_json
from findsdesk.cli.saying import say_json, say_table
from findsdesk.words import N_, put

EXAMPLE = ("findsdesk stocks", "findsdesk stocks --json")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """List the stocks with their sizes."""
    from findsdesk.desk.laying_out import stocks

    listed = stocks()
    if call.json:
        say_json(listed)
    else:
        heads = [put(one) for one in (N_("Name"), N_("Stock"), N_("Labels a page"))]
        say_table(heads, ((one.name, one.title, len(one.places)) for one in listed))
    return DONE
