"""``findsdesk dry``: write that containers are dry."""

from __future__ import annotations

import argparse

from findsdesk.cli.calls import DONE, REFUSED, add_json, add_moment, add_store
from findsdesk.cli.saying import say, say_json
from findsdesk.cli.seat import writing_seat
from findsdesk.cli.several import each
from findsdesk.words import N_, _

EXAMPLE = ("findsdesk dry quay 99 103 104 --by tessa --station awning",)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("tags", nargs="+", metavar="TAG", help=_("tags as scanned, or numbers"))
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Write each as dry."""
    from findsdesk.desk.washing import mark_dry

    with writing_seat(call) as desk:
        stood, refused = each(call.tags, lambda tag: mark_dry(desk, [tag])[0], call)
    if call.json:
        say_json({"done": stood, "refused": refused})
    else:
        for one in stood:
            say(N_("{Container} {number} is dry and ready for the sorting table."), call.terms, number=one.number)
    return REFUSED if refused else DONE
