"""``findsdesk stocks``: the label stocks there are."""

from __future__ import annotations

import argparse

from findsdesk.cli.calls import DONE, add_json
from findsdesk.cli.saying import say_json, say_table
from findsdesk.words import _

EXAMPLE = ("findsdesk stocks",)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """List the stocks."""
    from findsdesk.desk.printing import stocks

    if call.json:
        say_json([{"name": one.name, "title": one.title, "labels": len(one.places)} for one in stocks()])
    else:
        say_table((_("name"), _("stock"), _("labels")), [(one.name, one.title, len(one.places)) for one in stocks()])
    return DONE
