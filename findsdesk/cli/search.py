"""``findsdesk search``: look for words, numbers and codes in everything that is written down; make the index anew."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from findsdesk.cli.calls import DONE, add_json, add_store
from findsdesk.cli.saying import say, say_json
from findsdesk.cli.seat import reading_seat, writing_seat
from findsdesk.words import N_, _, grouped, plural, put

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.searching import Findings

EXAMPLE = (
    "findsdesk search quay amphora stopper",
    "findsdesk search quay VE-26-014 --of-each 20",
    "findsdesk search quay --anew          (make the index again from all rows)",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("words", nargs="*", metavar="WORD", help=_("words or beginnings of words, any case and accent"))
    parser.add_argument("--of-each", type=int, default=5, metavar="N", help=_("how many of each kind to show"))
    parser.add_argument("--anew", action="store_true", help=_("make the index again from all rows"))
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Search, or make the index anew."""
    from findsdesk.desk.searching import make_search_anew, nothing_found, search

    if call.anew:
        with writing_seat(call) as desk:
            rows = make_search_anew(desk)
        say_json({"rows": rows}) if call.json else print(
            plural("The search is made anew: {n} row.", "The search is made anew: {n} rows.", rows)
        )
        return DONE
    with reading_seat(call) as desk:
        found = search(desk, " ".join(call.words), of_each=max(call.of_each, 1))
        if not found.count:
            raise nothing_found(found.text)
        say_json(found) if call.json else say_findings(desk, found)
    return DONE


def say_findings(desk: Desk, found: Findings) -> None:
    """Print what a search found, by kind."""
    from findsdesk.desk.searching import KIND_FOUND, called

    for of_kind in found.kinds:
        many = f"{grouped(of_kind.count)}+" if of_kind.more else grouped(of_kind.count)
        say(N_("{kind}: {n}"), desk.terms, kind=put(KIND_FOUND[of_kind.kind], desk.terms), n=many)
        for hit in of_kind.hits:
            print("  " + "  ".join(part for part in (called(hit, desk.terms), hit.says) if part))
