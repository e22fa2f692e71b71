"""``findsdesk marks``: the marking list, and what is ticked off it: written, checked, slip bags; taken back."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from findsdesk.cli.calls import DONE, add_json, add_moment, add_store
from findsdesk.cli.saying import say, say_json, say_table
from findsdesk.cli.seat import reading_seat, writing_seat
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, _, grouped, plural, put

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.mark_lines import MarkLine

EXAMPLE = (
    "findsdesk marks quay                                   (what is still to be written, checked or inked again)",
    "findsdesk marks quay list --deposit 2017 --all",
    "findsdesk marks quay written 131 pieces=20 who=wim --by mika   (without pieces: all that are left)",
    "findsdesk marks quay again 131 pieces=10 who=wim --by mika   (old marks taken off and written again)",
    "findsdesk marks quay checked 131 pieces=3 wrong=1 who=oren --by mika",
    'findsdesk marks quay slip 131 pieces=2 why="too small" --by mika',
    'findsdesk marks quay take-back 131 checked why="looked at 87" --by mika   (also: written, wrong, slip)',
    "findsdesk marks quay print --deposit 2017 --out marking.pdf",
)
_DEEDS = {
    "written": "write-marks",
    "again": "write-marks-again",
    "checked": "check-marks",
    "slip": "slip-bag",
    "take-back": "take-back-marks",
}
_WHAT = ("list", "print", *_DEEDS)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("what", nargs="?", default="list", choices=_WHAT, metavar="WHAT", help=", ".join(_WHAT))
    parser.add_argument("tag", nargs="?", metavar="TAG", help=_("a tag, a bag or a piece as scanned, or a number"))
    parser.add_argument(
        "words",
        nargs="*",
        metavar="KEY=VALUE",
        help=_("pieces, wrong, who, why; take-back: which of written, checked, wrong, slip, and why"),
    )
    parser.add_argument("--deposit", metavar="NUMBER", help=_("only of one deposit"))
    parser.add_argument("--all", action="store_true", help=_("what is done too"))
    parser.add_argument("--out", "--pdf", type=Path, metavar="PDF", help=_("the PDF to write, for print"))
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """List or print the marking list, or tick something off it."""
    if call.what == "list":
        return _list(call)
    if call.what == "print":
        return _print(call)
    if call.tag is None:
        raise Refusal("no_tag", N_("Name what was marked: a tag or number, a bag or a piece."))
    return _do(call)


def _list(call: argparse.Namespace) -> int:
    from findsdesk.desk.mark_lines import mark_lines, progress_of

    with reading_seat(call) as desk:
        every = mark_lines(desk, call.deposit, open_only=not (call.all or call.json))
        lines = [one for one in every if call.all or not one.is_done]
        if call.json:
            say_json({"lines": lines, "deposits": progress_of(every)})
        elif lines:
            _say_lines(desk, lines)
        else:
            say(N_("Nothing is to be marked, checked or inked again."), desk.terms)
    return DONE


def _say_lines(desk: Desk, lines: list[MarkLine]) -> None:
    heads = (N_("{Container}"), N_("{Deposit}"), N_("Mark"), N_("mm"), N_("Sherds from, mm"), N_("Kept"),
             N_("To mark"), N_("Written"), N_("Again"), N_("In slip bags"), N_("Checked"), N_("To check"))  # fmt: skip
    rows = [
        (
            one.number,
            one.deposit,
            one.text,
            -(-one.length_tenths // 10),
            one.smallest_mm,
            *(
                grouped(n) if n else None
                for n in (
                    one.tally.kept,
                    one.tally.left,
                    one.tally.written,
                    one.tally.outdated,
                    one.tally.slipped,
                    one.tally.checked,
                    one.to_check,
                )
            ),
        )
        for one in lines
    ]
    say_table([put(head, desk.terms) for head in heads], rows)


def _print(call: argparse.Namespace) -> int:
    from findsdesk.desk.kept_sheets import write_paper
    from findsdesk.desk.marking_sheet import marking_sheet

    if call.out is None:
        raise Refusal("no_pdf", N_("Name the PDF to write: --out list.pdf."))
    with reading_seat(call) as desk:
        printed = marking_sheet(desk, call.deposit, all_lines=call.all)
        path = write_paper(printed.pdf, call.out)
    if call.json:
        say_json({"pdf": path, "lines": printed.rows, "pages": printed.pages})
    else:
        rows = plural("{n} line", "{n} lines", printed.rows)
        say(N_("{title}, {rows}: {file}"), None, title=printed.title, rows=rows, file=path)
    return DONE


def _do(call: argparse.Namespace) -> int:
    from findsdesk.desk.mark_lines import MarkLine
    from findsdesk.desk.playing import do

    positional = [call.tag, *(word for word in call.words if "=" not in word)]
    said = dict(_pair(word) for word in call.words if "=" in word)
    with writing_seat(call) as desk:
        answer = do(desk, _DEEDS[call.what], said, positional)
        if call.json:
            say_json(answer)
        elif isinstance(answer, MarkLine):
            _say_lines(desk, [answer])
            if call.what in ("written", "again"):
                _say_cautions()
        else:
            say(N_("Taken back: {container} {number}, {n}."), desk.terms, number=answer.number, n=answer.pieces)
    return DONE


def _say_cautions() -> None:
    from findsdesk.desk.shipped import cautions_at
    from findsdesk.domain.cautions import At

    for one in cautions_at(At.MARK):
        print(f"{put(one.lead)} {put(one.text)}")


def _pair(text: str) -> tuple[str, str]:
    name, _sign, value = text.partition("=")
    return name.strip(), value
