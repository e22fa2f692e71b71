"""``findsdesk sort``: write groups of sherds at the sorting table, or show what lies there."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from findsdesk.cli.calls import DONE, REFUSED, add_json, add_moment, add_store, add_sure
from findsdesk.cli.saying import say, say_json, say_table
from findsdesk.cli.seat import writing_seat
from findsdesk.cli.several import in_words
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, _, put

if TYPE_CHECKING:
    from findsdesk.desk.group_rows import GroupRow
    from findsdesk.desk.register_fields import SayListed
    from findsdesk.desk.sorting_table import SortingTable
    from findsdesk.words import Terms

EXAMPLE = (
    "findsdesk sort quay 131 QRS rim 11 340 keep --by oren --station trestle",
    "findsdesk sort quay 131 QRS body 54 611 discard no_diagnostic_value --by oren",
    "findsdesk sort quay 131 --lines dictated.csv --by oren   (ware, part, pieces, grams, decision, reason)",
    "findsdesk sort quay 131                                  (shows the table)",
)
_WORDS = ("ware", "part", "pieces", "grams", "decision", "reason")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("tag", metavar="TAG", help=_("the tag as scanned, or the number"))
    parser.add_argument(
        "group", nargs="*", metavar="WORD", help=_("ware, part, pieces, grams, decision and reason, as read aloud")
    )
    parser.add_argument("--lines", type=Path, metavar="FILE", help=_("a file of groups, one a line"))
    add_sure(parser)
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Write the groups, then say how the account of the container stands."""
    from findsdesk.desk.dictating import write_dictation
    from findsdesk.desk.playing import do
    from findsdesk.desk.register_columns import wording
    from findsdesk.desk.sorting_table import table_of

    if len(call.group) > len(_WORDS):
        raise Refusal("too_many_words", N_("A group is ware, part, pieces, grams, decision, reason; here is more."))
    sure = "yes" if call.sure else "no"
    refused = []
    groups: tuple[GroupRow, ...] = ()
    with writing_seat(call) as desk:
        if call.group:
            groups = (do(desk, "sort", {"sure": sure}, (call.tag, *call.group)),)
        if call.lines:
            dictated = write_dictation(desk, call.tag, call.lines, sure=call.sure)
            groups += dictated.groups
            for one in dictated.refused:
                said = in_words(one.refusal, call)
                refused.append({"line": one.line_number, "code": one.refusal.code, "said": said})
                print(f"{call.lines.name}:{one.line_number}: {said}", file=sys.stderr)
        table = table_of(desk, call.tag)
        say_it = wording(desk)
    if call.json:
        say_json({"written": groups, "refused": refused, "table": table})
    else:
        _say(table, groups, call.terms, say_it)
    return REFUSED if refused else DONE


def _say(table: SortingTable, written: tuple[GroupRow, ...], terms: Terms, say_it: SayListed) -> None:
    from findsdesk.desk.register_fields import why_in_words

    rows = written or table.groups
    if rows:
        heads = (N_("Row"), N_("Ware"), N_("Part"), N_("Count"), N_("Grams"), N_("Decision"), N_("Reason"))
        shown = [
            (
                *(row.ordinal, row.ware, say_it.listed("parts", row.part), row.pieces, _grams(row.tenths)),
                *(say_it.listed("decisions", row.decision), why_in_words(row.facts, say_it)),
            )
            for row in rows
        ]
        say_table([put(head) for head in heads], shown)
    ledger = table.ledger
    facts = {"number": table.number, "sorted": ledger.accounted, "expected": ledger.expected, "over": ledger.over}
    if ledger.over:
        say(
            N_("{Container} {number}: {sorted} of {expected}, {over} over. Count again or correct a row."),
            terms,
            **facts,
        )
    else:
        say(
            N_("{Container} {number}: {sorted} of {expected} sorted or explained, {left} left."),
            terms,
            **facts,
            left=ledger.unsorted,
        )


def _grams(tenths: int | None) -> str:
    return "" if tenths is None else f"{tenths // 10}.{tenths % 10}"
