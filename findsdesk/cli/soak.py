"""``findsdesk soak``: put containers into a tub."""

from __future__ import annotations

import argparse

from findsdesk.cli.calls import DONE, REFUSED, add_json, add_moment, add_store
from findsdesk.cli.saying import say, say_json
from findsdesk.cli.seat import writing_seat
from findsdesk.cli.several import each
from findsdesk.words import N_, _

EXAMPLE = (
    "findsdesk soak quay 131 132 133 --tub 3 --by tessa --station awning",
    "findsdesk soak quay 130 --tub 5 --part 2 --by tessa",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("tags", nargs="+", metavar="TAG", help=_("tags as scanned, or numbers"))
    parser.add_argument("--tub", required=True, metavar="TUB", help=_("the number of the tub"))
    parser.add_argument("--part", metavar="PART", help=_("the part, where a container stands in several"))
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Put each container into the tub."""
    from findsdesk.desk.playing import do

    where = {"tub": call.tub} | ({"part": call.part} if call.part else {})
    with writing_seat(call) as desk:
        stood, refused = each(call.tags, lambda tag: do(desk, "soak", {"tag": tag} | where), call)
    if call.json:
        say_json({"done": stood, "refused": refused})
    else:
        for one in stood:
            say(N_("{Container} {number} soaks in tub {tub}."), call.terms, number=one.number, tub=call.tub)
    return REFUSED if refused else DONE
