"""``findsdesk count``: write a count."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from findsdesk.cli.calls import DONE, add_json, add_moment, add_store, add_sure
from findsdesk.cli.saying import say, say_json
from findsdesk.cli.seat import writing_seat
from findsdesk.words import N_, _

if TYPE_CHECKING:
    from findsdesk.desk.counting import Counted
    from findsdesk.words import Terms

EXAMPLE = (
    "findsdesk count quay 131 132 --by tessa --station awning",
    'findsdesk count quay 128 91 --again "she said 88" --by tessa',
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("tag", metavar="TAG", help=_("the tag as scanned, or the number"))
    parser.add_argument("pieces", metavar="PIECES", help=_("how many pieces; 0 is empty after washing"))
    parser.add_argument(
        "--again", metavar="WHY", nargs="?", const="", help=_("a second count; the first stays readable")
    )
    parser.add_argument("--grams", metavar="GRAMS", help=_("the dry weight in grams"))
    parser.add_argument("--wet", action="store_true", help=_("the grams are wet and stay out of the balance"))
    parser.add_argument("--tray", metavar="TRAY", help=_("the tray it dries in (else the next free one)"))
    add_sure(parser)
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Write the count."""
    from findsdesk.desk.playing import do

    arguments = {"tag": call.tag, "pieces": call.pieces}
    if call.grams is not None:
        arguments["grams"] = call.grams
    if call.wet:
        arguments["wet"] = "yes"
    if call.sure:
        arguments["sure"] = "yes"
    if call.again is not None:
        arguments["why"] = call.again
    elif call.tray is not None:
        arguments["tray"] = call.tray
    with writing_seat(call) as desk:
        counted = do(desk, "count" if call.again is None else "count-again", arguments)
    if call.json:
        say_json(counted)
    else:
        _say(counted, call.terms)
    return DONE


def _say(counted: Counted, terms: Terms) -> None:
    facts = {"number": counted.number, "pieces": counted.pieces, "before": counted.before}
    if counted.before is not None:
        say(N_("{Container} {number}: {pieces:,} counted, {before:,} before. The second count stands."), terms, **facts)
    elif counted.pieces == 0:
        say(N_("{Container} {number}: empty after washing."), terms, **facts)
    else:
        say(N_("{Container} {number}: {pieces:,} counted."), terms, **facts)
    if counted.soaked_h is not None:
        say(N_("It soaked only {hours:.1f} hours, less than the shortest set for this excavation."), None,
            hours=counted.soaked_h)  # fmt: skip
    trays = [tray for tray in counted.trays if tray]
    if trays and all(tray.isdecimal() for tray in trays):
        say(N_("It dries in tray {tray}."), terms, tray=", ".join(trays))
    elif trays:
        say(N_("It stands in the {crate}."), terms, crate=", ".join(trays))
    if counted.next_tray:
        say(N_("Tray {tray} is free next."), terms, tray=counted.next_tray)
