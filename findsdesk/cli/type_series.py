"""``findsdesk types``: the type series; written as a file, alone or with its pictures, taken in and taken back."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from findsdesk.cli.calls import DONE, add_json, add_store, add_sure
from findsdesk.cli.saying import say, say_json, say_table
from findsdesk.cli.seat import reading_seat, writing_seat
from findsdesk.words import N_, _, plural, put

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.setting_up import WareFacts
    from findsdesk.desk.type_series import FormFacts

EXAMPLE = (
    "findsdesk types quay",
    "findsdesk types quay --write series.zip               (with the pictures; series.csv: the table alone)",
    "findsdesk types quay-2027 --take-in series.zip --by oren",
    "findsdesk types quay-2027 --take-back --by oren       (the file that was taken in last)",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    what = parser.add_mutually_exclusive_group()
    what.add_argument("--write", type=Path, metavar="FILE", help=_("write it: .zip with the pictures, .csv without"))
    what.add_argument(
        "--take-in", type=Path, metavar="FILE", help=_("take in a zip, a folder or a table (CSV, XLSX, ODS)")
    )
    what.add_argument(
        "--take-back", nargs="?", const="", metavar="NAME", help=_("take back the last file, or the one of this name")
    )
    add_sure(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """List, write, take in or take back."""
    if call.write is not None:
        _write(call)
    elif call.take_in is not None:
        _take_in(call)
    elif call.take_back is not None:
        _take_back(call)
    else:
        with reading_seat(call) as desk:
            _list(call, desk)
    return DONE


def _write(call: argparse.Namespace) -> None:
    from findsdesk.desk.type_files import write_types

    with reading_seat(call) as desk:
        written = write_types(desk, call.write)
    if call.json:
        say_json(written)
        return
    for name in written.missing:
        say(N_("Not written, its file is gone or changed: {file}"), None, file=name)
    rows = plural("{n} row", "{n} rows", written.rows)
    pictures = plural("{n} picture", "{n} pictures", written.pictures)
    say(N_("{rows} and {pictures} written: {file}"), None, rows=rows, pictures=pictures, file=call.write)


def _take_in(call: argparse.Namespace) -> None:
    from findsdesk.desk.type_files import take_in_types

    with writing_seat(call) as desk:
        taken = take_in_types(desk, call.take_in, sure=call.sure)
    if call.json:
        say_json(taken)
        return
    say(
        N_("{file}: {added} new, {changed} changed, {same} as they were, {pictures}."),
        None,
        file=call.take_in.name,
        added=len(taken.added),
        changed=len(taken.changed),
        same=taken.same,
        pictures=plural("{n} new picture", "{n} new pictures", taken.pictures),
    )


def _take_back(call: argparse.Namespace) -> None:
    from findsdesk.desk.types_taken_back import take_back_types

    with writing_seat(call) as desk:
        table = take_back_types(desk, call.take_back, sure=call.sure)
    if call.json:
        say_json(table)
    else:
        rows = plural("{n} row", "{n} rows", table.rows)
        say(N_("{file} is taken back: {rows}."), None, file=table.file_name, rows=rows)


def _list(call: argparse.Namespace, desk: Desk) -> None:
    from findsdesk.desk.setting_up import wares
    from findsdesk.desk.type_series import forms

    of_wares, of_forms = wares(desk), forms(desk)
    if call.json:
        say_json({"wares": of_wares, "forms": of_forms})
        return
    heads = (N_("Kind"), N_("Code"), N_("Name"), N_("Ware"), N_("From"), N_("To"), N_("Source"))
    rows = [_row(_("ware"), one, "") for one in of_wares] + [_row(_("form"), one, one.ware) for one in of_forms]
    say_table([put(one) for one in heads], rows)


def _row(kind: str, one: WareFacts | FormFacts, ware: str) -> tuple[str, ...]:
    from findsdesk.domain.years import year_in_words

    years = ("" if year is None else year_in_words(year) for year in (one.earliest, one.latest))
    return (kind, one.code, one.name, ware, *years, one.source)
