"""``findsdesk stocks``: which label stocks there are; add one by measuring it, print its frames, or take it away."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from findsdesk.cli.calls import DONE, add_json
from findsdesk.cli.saying import quoted, say, say_json, say_table
from findsdesk.domain.numbers import read_hundredths_of_millimetres
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, _, put

if TYPE_CHECKING:
    from findsdesk.desk.own_stocks import LabelStock

EXAMPLE = (
    "findsdesk stocks",
    'findsdesk stocks add "shop labels" --page A4 --grid 3 7 --size 63.5 38.1 --first 7.2 15.15 --last 139.2 243.75',
    'findsdesk stocks add "awning roll" --roll --size 57 32 --gap 3',
    'findsdesk stocks add "small slips" --page A4 --cut --size 60 30',
    'findsdesk stocks frames "shop labels" --pdf frames.pdf        (hold it against the sheet)',
    'findsdesk stocks take-away "shop labels"',
)
_WHAT = ("list", "add", "frames", "take-away")
_PAIR = ("ACROSS", "DOWN")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    parser.add_argument("what", nargs="?", default="list", choices=_WHAT, metavar="WHAT", help=", ".join(_WHAT))
    parser.add_argument("name", nargs="?", default="", metavar="NAME", help=_("what the stock is called"))
    parser.add_argument("--page", default="A4", metavar="PAGE", help=_("add: the page, A4 or Letter") + " [A4]")
    parser.add_argument("--page-size", nargs=2, metavar=_PAIR, help=_("add: mm of a page of another size"))
    parser.add_argument("--grid", nargs=2, metavar=_PAIR, help=_("add: how many labels stand across and down"))
    parser.add_argument("--size", nargs=2, metavar=_PAIR, help=_("add: mm of one label"))
    parser.add_argument(
        "--first", nargs=2, metavar=_PAIR, help=_("add: mm from the paper's left and top edge to the first label")
    )
    parser.add_argument(
        "--last", nargs=2, metavar=_PAIR, help=_("add: mm to the left edge of the last column, the top of the last row")
    )
    parser.add_argument("--corner", default="0", metavar="MM", help=_("add: radius of the corners of a label"))
    parser.add_argument("--gap", default="0", metavar="MM", help=_("add: the gap between two labels of a roll"))
    parser.add_argument("--roll", action="store_true", help=_("add: a roll of single labels"))
    parser.add_argument("--cut", action="store_true", help=_("add: plain paper, cut at marks"))
    parser.add_argument("--card", action="store_true", help=_("add: a card of tags to cut, with hole and counterfoil"))
    parser.add_argument("--pdf", "--out", type=Path, metavar="PDF", help=_("frames: the PDF to write"))
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """List, add, show or take away."""
    {"list": _list, "add": _add, "frames": _frames, "take-away": _take_away}[call.what](call)
    return DONE


def _list(call: argparse.Namespace) -> None:
    from findsdesk.desk.laying_out import stocks

    listed = stocks()
    if call.json:
        say_json(listed)
        return
    heads = [put(one) for one in (N_("Name"), N_("Stock"), N_("Labels a page"))]
    say_table(heads, ((one.name, one.title, len(one.places)) for one in listed))


def _add(call: argparse.Namespace) -> None:
    stock = _measured(call)
    if call.json:
        say_json(stock)
        return
    say(N_("{stock} is kept: {words}."), None, stock=stock.name, words=stock.in_words())
    say(N_("Look whether it meets the sheet: findsdesk stocks frames {stock} --pdf frames.pdf"), None,
        stock=quoted(stock.name))  # fmt: skip
    say(N_("Print at actual size (100 %), never “fit to page”."))


def _measured(call: argparse.Namespace) -> LabelStock:
    from findsdesk.desk.own_stocks import MeasuredSheet, add_paper_to_cut, add_roll, add_sheet, pages

    width, height = _lengths(call.size, "--size")
    if call.roll:
        return add_roll(call.name, width, height, _length(call.gap), _length(call.corner))
    if call.cut:
        return add_paper_to_cut(call.name, call.page, width, height)
    page, page_width, page_height = call.page, 0, 0
    if call.page_size:
        page_width, page_height = _lengths(call.page_size, "--page-size")
        page = f"{call.page_size[0]} × {call.page_size[1]} mm"
    elif call.page in pages():
        page_width, page_height = pages()[call.page].page_width, pages()[call.page].page_height
    columns, rows = _whole(call.grid, "--grid")
    left, top = _lengths(call.first, "--first")
    last_left, last_top = _lengths(call.last, "--last") if call.last or columns > 1 or rows > 1 else (0, 0)
    measured = MeasuredSheet(
        page_width, page_height, columns, rows, width, height, left, top, last_left, last_top, _length(call.corner)
    )
    return add_sheet(call.name, page, measured, "tags" if call.card else "sheet")


def _lengths(said: Sequence[str] | None, option: str) -> tuple[int, int]:
    across, down = _need(said, option)
    return _length(across), _length(down)


def _whole(said: Sequence[str] | None, option: str) -> tuple[int, int]:
    from findsdesk.domain.set_up_numbers import read_whole

    across, down = _need(said, option)
    return read_whole(across), read_whole(down)


def _need(said: Sequence[str] | None, option: str) -> Sequence[str]:
    if said is None:
        text = N_("{option} is missing: two numbers, across and down, measured on the sheet.")
        raise Refusal("not_measured", text, option=option)
    return said


def _length(text: str) -> int:
    return read_hundredths_of_millimetres(text)


def _frames(call: argparse.Namespace) -> None:
    from findsdesk.desk.kept_sheets import write_paper
    from findsdesk.desk.laying_out import frames_of

    if call.pdf is None:
        raise Refusal("no_pdf", N_("Name the PDF to write: --pdf frames.pdf."))
    write_paper(frames_of(call.name, moment=datetime.now().astimezone()), call.pdf)
    if call.json:
        say_json({"stock": call.name, "pdf": call.pdf})
        return
    say(N_("The frames of {stock}: {file}. Print them on plain paper at actual size (100 %)."), None, stock=call.name,
        file=call.pdf)  # fmt: skip


def _take_away(call: argparse.Namespace) -> None:
    from findsdesk.desk.own_stocks import take_stock_away

    stock = take_stock_away(call.name)
    if call.json:
        say_json(stock)
    else:
        say(N_("{stock} is taken away."), None, stock=stock.name)
