"""``findsdesk answer``: answer rows of field lists that were set aside, or a tag and a list that differ."""

from __future__ import annotations

import argparse
from typing import Any

from findsdesk.cli.calls import DONE, add_json, add_moment, add_store
from findsdesk.cli.import_list import asked
from findsdesk.cli.saying import say, say_json
from findsdesk.cli.seat import reading_seat, writing_seat
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, _, put

EXAMPLE = (
    "findsdesk answer quay                                      (what waits for an answer)",
    "findsdesk answer quay 2026-07-14_bryn.csv 4 --deposit 2017 --by bryn",
    'findsdesk answer quay 2026-07-14_joren.csv 8 --leave-out "118 is yesterday\'s" --by joren',
    "findsdesk answer quay --tag 132 --deposit 2019 --by bryn",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("file", nargs="?", metavar="LIST", help=_("the name of the list's file"))
    parser.add_argument("line", nargs="?", metavar="LINE", help=_("the line of the row in it"))
    parser.add_argument("--tag", metavar="TAG", help=_("a container whose tag and list differ, instead of a row"))
    parser.add_argument("--number", help=_("the container's number, as it truly is"))
    parser.add_argument("--deposit", metavar="NUMBER", help=_("the deposit, as it truly is"))
    parser.add_argument("--square", metavar="NAME", help=_("the square, as it truly is"))
    parser.add_argument("--collected-on", metavar="DAY", help=_("the day, as it truly is"))
    parser.add_argument("--material", metavar="NAME", help=_("the material, as it truly is"))
    parser.add_argument("--answer", default="", metavar="TEXT", help=_("what the supervisor said"))
    parser.add_argument("--leave-out", metavar="WHY", help=_("leave the row out, and why"))
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """List what waits, or answer one."""
    if call.tag:
        return _answer_tag(call)
    if call.file is None:
        return _list(call)
    if call.line is None:
        raise Refusal("no_line", N_("Name the line of the row too. Without a list, answer shows those that wait."))
    return _answer_row(call)


def _list(call: argparse.Namespace) -> int:
    from findsdesk.desk.rows_set_aside import rows_set_aside

    with reading_seat(call) as desk:
        waiting = rows_set_aside(desk)
    rows: list[dict[str, Any]] = [
        {"file": one.file_name, "line": one.row.line, "number": one.row.number, "asked": asked(one.row, call.terms)}
        for one in waiting
    ]
    if call.json:
        say_json(rows)
        return DONE
    for row in rows:
        line = put(N_("{file}, line {line}, {container} {number}:"), call.terms, row)
        print(line, " ".join(row["asked"]))
    if not rows:
        say(N_("No row waits for an answer."))
    return DONE


def _answer_row(call: argparse.Namespace) -> int:
    from findsdesk.desk.playing import do

    row = {"file": call.file, "line": call.line}
    with writing_seat(call) as desk:
        if call.leave_out is not None:
            do(desk, "drop-row", row | {"reason": call.leave_out})
            result = None
        else:
            result = do(desk, "answer-row", row | _said(call) | {"answer": call.answer})
    if call.json:
        say_json(result)
    elif result is None:
        say(N_("{file}, line {line}: left out."), call.terms, **row)
    else:
        say(N_("{file}, line {line}: {container} {number} went in."), call.terms, **row, number=result.number)
    return DONE


def _answer_tag(call: argparse.Namespace) -> int:
    from findsdesk.desk.playing import do

    with writing_seat(call) as desk:
        arguments = {"tag": call.tag, "answer": call.answer} | _said(call)
        result = do(desk, "answer-difference", arguments)
    if call.json:
        say_json(result)
    else:
        text = N_("{Container} {number} is from {deposit} {deposit_number}. The question is closed.")
        say(text, call.terms, number=result.number, deposit_number=result.deposit)
    return DONE


def _said(call: argparse.Namespace) -> dict[str, str]:
    names = ("number", "deposit", "square", "collected_on", "material")
    return {name: getattr(call, name) for name in names if getattr(call, name) is not None}
