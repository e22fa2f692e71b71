"""``findsdesk settle``: settle containers whose account balances."""

from __future__ import annotations

import argparse

from findsdesk.cli.calls import DONE, REFUSED, add_json, add_moment, add_store, add_sure
from findsdesk.cli.saying import say, say_json
from findsdesk.cli.seat import writing_seat
from findsdesk.cli.several import each
from findsdesk.words import N_, _

EXAMPLE = ("findsdesk settle quay 131 132 --by oren --station trestle",)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("tags", nargs="+", metavar="TAG", help=_("tags as scanned, or numbers"))
    add_sure(parser)
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Settle each container."""
    from findsdesk.desk.sorting import settle

    with writing_seat(call) as desk:
        settled, refused = each(call.tags, lambda tag: settle(desk, tag, sure=call.sure), call)
    if call.json:
        say_json({"done": settled, "refused": refused})
    else:
        for one in settled:
            ledger = one.ledger
            say(
                N_("{Container} {number} is settled: of {expected}, {kept} kept, {held} on hold, {gone} to discard."),
                call.terms,
                number=one.number,
                expected=ledger.expected,
                kept=ledger.kept,
                held=ledger.on_hold,
                gone=ledger.to_discard,
            )
    return REFUSED if refused else DONE
