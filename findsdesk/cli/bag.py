"""``findsdesk bag``: put what is kept into bags, each with its own code."""

from __future__ import annotations

import argparse

from findsdesk.cli.calls import DONE, REFUSED, add_json, add_moment, add_store
from findsdesk.cli.saying import say, say_json, say_table
from findsdesk.cli.seat import writing_seat
from findsdesk.cli.several import each
from findsdesk.words import N_, _, put

EXAMPLE = (
    "findsdesk bag quay 131 --by mika --station registry",
    "findsdesk bag quay --all --by mika",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("tags", nargs="*", metavar="TAG", help=_("tags as scanned, or numbers"))
    parser.add_argument("--all", action="store_true", help=_("everything that is settled and in no bag yet"))
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Bag each container and list its bags."""
    from findsdesk.desk.bagging import bag, settled_to_bag
    from findsdesk.domain.bags import BAG_IN_WORDS

    with writing_seat(call) as desk:
        tags = [*call.tags, *(one.code for one in settled_to_bag(desk))] if call.all else call.tags
        packed, refused = each(tags, lambda tag: bag(desk, tag), call)
    bags = [one for of_one in packed for one in of_one]
    if call.json:
        say_json({"bags": bags, "refused": refused})
    elif bags:
        heads = [put(one, call.terms) for one in (N_("Bag"), N_("{Container}"), N_("Holds"), N_("Count"))]
        rows = [
            (one.code, one.number, BAG_IN_WORDS[one.what] and put(BAG_IN_WORDS[one.what]), one.pieces) for one in bags
        ]
        say_table(heads, rows)
    elif not refused:
        say(N_("Nothing waits for a bag."))
    return REFUSED if refused else DONE
