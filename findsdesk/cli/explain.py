"""``findsdesk explain``: write what became of pieces that lie in no group, or that more were found."""

from __future__ import annotations

import argparse

from findsdesk.cli.calls import DONE, add_json, add_moment, add_store
from findsdesk.cli.saying import say, say_json
from findsdesk.cli.seat import writing_seat
from findsdesk.words import N_, _

EXAMPLE = (
    'findsdesk explain quay 131 "not a sherd" 1 --why pebble --by oren --station trestle',
    'findsdesk explain quay 49 "found more" 2 --why "stuck inside a jar neck" --by oren',
    'findsdesk explain quay 131 "not a sherd" --answer --why "it is one after all" --by oren',
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("tag", metavar="TAG", help=_("the tag as scanned, or the number"))
    parser.add_argument("entry", metavar="ENTRY", help=_("found more, not a sherd, not found or used up"))
    parser.add_argument("pieces", nargs="?", default="1", metavar="PIECES", help=_("how many (1 where nobody says)"))
    parser.add_argument("--why", default="", help=_("why"))
    parser.add_argument("--answer", action="store_true", help=_("answer the newest such entry by its opposite"))
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Write the entry, or answer one."""
    from findsdesk.desk.playing import do

    arguments = {"tag": call.tag, "entry": call.entry, "why": call.why}
    with writing_seat(call) as desk:
        if call.answer:
            explained = do(desk, "answer-explanation", arguments)
        else:
            explained = do(desk, "explain", arguments | {"pieces": call.pieces})
    if call.json:
        say_json(explained)
    else:
        text = N_("{Container} {number}: {pieces:,} {entry}. {sorted:,} of {expected:,} sorted or explained.")
        if call.answer:
            text = N_(
                "{Container} {number}: {pieces:,} {entry}, taken back. {sorted:,} of {expected:,} sorted or explained."
            )
        say(
            text,
            call.terms,
            number=explained.number,
            pieces=abs(explained.pieces),
            entry=explained.kind.value,
            sorted=explained.ledger.accounted,
            expected=explained.ledger.expected,
        )
    return DONE
