"""``findsdesk day``: the day page, the evening by square, or the lists of the day on paper."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from findsdesk.cli import day_in_words
from findsdesk.cli.calls import DONE, add_json, add_store
from findsdesk.cli.saying import say, say_json, say_table
from findsdesk.cli.seat import day_named, reading_seat
from findsdesk.words import N_, CountOf, _, grouped, plural, put

if TYPE_CHECKING:
    from datetime import date

    from findsdesk.desk.desk import Desk
    from findsdesk.desk.evening import SquareEvening
    from findsdesk.desk.sheets import PrintedList
    from findsdesk.desk.the_day import Day

EXAMPLE = (
    "findsdesk day quay",
    "findsdesk day quay 2026-07-14 --evening",
    "findsdesk day quay --missing-pdf missing.pdf --evening-pdf evening.pdf --write-again-pdf again.pdf",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("day", nargs="?", metavar="DAY", help=_("the day, e.g. 2026-07-14 (else today)"))
    parser.add_argument("--material", default="pottery", metavar="NAME", help=_("the material whose balance is shown"))
    parser.add_argument("--evening", action="store_true", help=_("by square: what was done, dates, notes, questions"))
    parser.add_argument("--missing-pdf", type=Path, metavar="PDF", help=_("print what is missing, for the field"))
    parser.add_argument("--evening-pdf", type=Path, metavar="PDF", help=_("print the evening by square"))
    parser.add_argument("--write-again-pdf", type=Path, metavar="PDF", help=_("print what is to be written again"))
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Show the day, or write its lists."""
    from findsdesk.desk.evening import evening
    from findsdesk.desk.the_day import the_day

    with reading_seat(call) as desk:
        its_day = day_named(desk, call.day)
        if _papers(call, desk, its_day):
            return DONE
        if call.evening:
            squares = evening(desk, its_day)
            if call.json:
                say_json(squares)
            else:
                _say_evening(desk, squares)
            return DONE
        page = the_day(desk, its_day, material=call.material)
        if call.json:
            say_json(page)
        else:
            say_day(desk, page)
    return DONE


def _papers(call: argparse.Namespace, desk: Desk, day: date) -> bool:
    from findsdesk.desk.kept_sheets import write_paper
    from findsdesk.desk.sheets import evening_sheet, missing_list, redo_sheet

    wanted: tuple[tuple[Path | None, Callable[[Desk], PrintedList]], ...] = (
        (call.missing_pdf, missing_list),
        (call.evening_pdf, lambda desk: evening_sheet(desk, day)),
        (call.write_again_pdf, redo_sheet),
    )
    written = False
    for path, make in wanted:
        if path is not None:
            printed = make(desk)
            say(N_("{title}, {rows}: {file}"), None, title=printed.title,
                rows=plural("{n} row", "{n} rows", printed.rows), file=write_paper(printed.pdf, path))  # fmt: skip
            written = True
    return written


def say_day(desk: Desk, page: Day) -> None:
    """Print the day page."""
    print(day_in_words.heading(desk, page))
    print()
    print(put(N_("{Containers} by standing"), desk.terms))
    _figures(day_in_words.by_standing(page, desk.terms))
    print()
    say(N_("Washed and counted that day: {washed}, {pieces}"), desk.terms,
        washed=CountOf("{n} {container}", "{n} {containers}", page.washed_today),
        pieces=CountOf("{n} piece", "{n} pieces", page.pieces_today))  # fmt: skip
    print()
    print(put(N_("Every piece of the season")))
    _figures(day_in_words.balance(desk, page))
    print("  " + day_in_words.verdict(desk, page))
    if page.waits.to_mark:
        print("  " + plural("{n} kept piece to mark", "{n} kept pieces to mark", page.waits.to_mark))
    lines = list(day_in_words.needs(desk, page))
    if lines:
        print()
        print(put(N_("Needs a person")))
        for line in lines:
            print(f"  {line}")


def _figures(figures: list[tuple[str, int]]) -> None:
    width = max((len(grouped(number)) for _text, number in figures), default=0)
    for text, number in figures:
        print(f"  {grouped(number):>{width}}  {text}")


def _say_evening(desk: Desk, squares: tuple[SquareEvening, ...]) -> None:
    heads = (N_("{Square}"), N_("Came in"), N_("Washed"), N_("Count"), N_("Settled"), N_("Dates"), N_("Notable"),
             N_("Questions"))  # fmt: skip
    rows = [
        (
            *(one.square or "–", one.came_in, one.washed, one.pieces, one.read),
            *("; ".join(some) for some in (one.dates, one.notable, one.questions)),
        )
        for one in squares
    ]
    say_table([put(head, desk.terms) for head in heads], rows)
