"""``findsdesk look``: write that somebody dipped, looked and tried a wet finger."""

from __future__ import annotations

import argparse

from findsdesk.cli.calls import DONE, REFUSED, add_json, add_moment, add_store
from findsdesk.cli.saying import say, say_json
from findsdesk.cli.seat import writing_seat
from findsdesk.cli.several import each
from findsdesk.words import N_, _

EXAMPLE = (
    "findsdesk look quay 131 132 --by tessa --station awning",
    'findsdesk look quay 109 --seen painted --note "white ground, red lines" --by tessa',
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("tags", nargs="+", metavar="TAG", help=_("tags as scanned, or numbers"))
    parser.add_argument(
        "--seen", metavar="WHAT", help=_("what holds it back: painted, inscribed, flaking, residue, other")
    )
    parser.add_argument("--note", default="", help=_("what was seen, in a few words"))
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Write the look for each tag."""
    from findsdesk.desk.playing import do

    seen = {"seen": call.seen} if call.seen else {}
    with writing_seat(call) as desk:
        stood, refused = each(call.tags, lambda tag: do(desk, "look", {"tag": tag, "note": call.note} | seen), call)
    if call.json:
        say_json({"done": stood, "refused": refused})
    else:
        for one in stood:
            if one.held_for:
                text = N_("{Container} {number} is held back for the ceramicist: {why}.")
                say(text, call.terms, number=one.number, why=one.held_for.value)
            else:
                say(N_("{Container} {number}: looked at, nothing holds it back."), call.terms, number=one.number)
    return REFUSED if refused else DONE
