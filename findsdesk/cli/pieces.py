"""``findsdesk pieces``: the pieces of a container or of all, what they measure, join and want."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from findsdesk.cli.calls import DONE, add_json, add_store
from findsdesk.cli.saying import say, say_json, say_table
from findsdesk.cli.seat import reading_seat
from findsdesk.words import N_, _

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.joins import JoinsBetween
    from findsdesk.desk.piece_rows import PieceRow

EXAMPLE = (
    "findsdesk pieces quay 131",
    "findsdesk pieces quay --wants drawing",
    "findsdesk pieces quay --joins         (joins between deposits, and what they say)",
    "findsdesk do quay lift 131 1 grams=28.6 --by oren",
    'findsdesk do quay describe 131.1 chord=62 sagitta=5.5 colour_inside="2.5YR 5/6" --by oren',
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("container", nargs="?", metavar="TAG", help=_("a container's tag or number; none: all pieces"))
    parser.add_argument("--search", default="", metavar="TEXT", help=_("pieces that hold these words"))
    parser.add_argument("--wants", choices=("drawing", "photo"), help=_("those that still want one"))
    parser.add_argument("--joins", action="store_true", help=_("joins between deposits instead"))
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """List the pieces, or the joins between deposits."""
    from findsdesk.desk.joins import joins_between_deposits
    from findsdesk.desk.registers import Register, RegisterQuery, all_rows

    with reading_seat(call) as desk:
        if call.joins:
            between = joins_between_deposits(desk)
            say_json(between) if call.json else _say_joins(desk, between)
            return DONE
        filters = tuple(
            (name, value) for name, value in (("container", call.container), ("wants", call.wants)) if value
        )
        with desk.reading() as reading:
            pieces = tuple(all_rows(reading, Register.PIECES, RegisterQuery(call.search, filters)))
        say_json(pieces) if call.json else _say_pieces(desk, pieces)
    return DONE


def _say_pieces(desk: Desk, pieces: tuple[PieceRow, ...]) -> None:
    from findsdesk.cli.registers import say_register
    from findsdesk.desk.registers import Register

    if not pieces:
        say(N_("No piece. Sherds are lifted out of a row: findsdesk do STORE lift TAG ROW."), desk.terms)
        return
    say_register(desk, Register.PIECES, pieces)


def _say_joins(desk: Desk, between: tuple[JoinsBetween, ...]) -> None:
    from findsdesk.desk.register_columns import wording
    from findsdesk.domain.cross_joins import JOINS_SAY_IN_WORDS

    words = wording(desk)
    heads = [
        words(N_("{Deposit}")),
        words(N_("and")),
        words(N_("Joins")),
        words(N_("Pieces")),
        words(N_("What it says")),
    ]
    rows = [
        [one.one, one.other, str(one.joins), ", ".join(one.pieces), words(JOINS_SAY_IN_WORDS[one.says])]
        for one in between
    ]
    if rows:
        say_table(heads, rows)
    else:
        say(N_("No join crosses two {deposits}."), desk.terms)
