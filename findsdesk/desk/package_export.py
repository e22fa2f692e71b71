"""The whole store as a data package: every table with its meaning, to be read without us, or taken in again."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import astuple
from pathlib import Path
from typing import Any

from findsdesk import __version__
from findsdesk.desk.desk import Desk, Reading
from findsdesk.desk.following import Counting, Follow, quietly
from findsdesk.desk.package_schema import ControlledTerm, controlled_terms, described, terms_table
from findsdesk.exchange.data_packages import WrittenTable, write_descriptor, write_table
from findsdesk.exchange.outgoing_folders import write_text
from findsdesk.store.journal import store_head
from findsdesk.store.schema import NEWEST
from findsdesk.store.whole_tables import counted, rows_of, whole_tables
from findsdesk.words import N_, put

OURS = "findsdesk"
"""The property of ``datapackage.json`` that says which version wrote it and what the store's head was."""


def write_package(moment: Desk, folder: Path, follow: Follow = quietly) -> tuple[WrittenTable, ...]:
    """Write the store of a desk, as it stands at its moment, as a data package into an empty folder.

    Frictionless Data Package version 1, a CSV for each table of the store whatever tables there are; PINs are left
    out. ``follow`` is told rows. Refusal: ``cannot_write``.
    """
    with moment.reading() as reading:
        tables = whole_tables()
        counting = Counting(sum(counted(reading.session, one.name) for one in tables), follow)
        written = tuple(_written(reading, folder, counting))
        counting.finish()
        write_descriptor(folder, _about(reading), written)
        write_text(_readme(reading, written), folder / "README.md")
    return written


def _written(reading: Reading, folder: Path, counting: Counting) -> Iterator[WrittenTable]:
    session = reading.session
    terms: list[ControlledTerm] = []
    for table in whole_tables():
        own = controlled_terms(reading.desk, session, table)
        terms += own
        yield write_table(folder, described(table, own), counting.passing(rows_of(session, table.name)))
    yield write_table(folder, terms_table(), map(astuple, terms))


def _about(reading: Reading) -> dict[str, Any]:
    desk = reading.desk
    return {
        "name": re.sub(r"[^a-z0-9]+", "-", desk.facts.name.lower()).strip("-") or "excavation",
        "title": desk.facts.name,
        "description": put(N_("The records of the finds of this excavation, every table of its store."), desk.terms),
        "version": __version__,
        "created": reading.now.astimezone(desk.facts.zone).isoformat(timespec="seconds"),
        OURS: {"schema": NEWEST, "head": store_head(reading.session)},
    }


_README: tuple[str, ...] = (
    N_("Every table of the records of the finds of this excavation, as they stood on {moment}."),
    N_("Written by FindsDesk {version}, to be read without it."),
)
_RULES: tuple[str, ...] = (
    N_("`datapackage.json` says what each table and field is: types, units, keys, and the terms a field may hold."),
    N_("It is a Frictionless Data Package, version 1 (specs.frictionlessdata.io), with the SHA-256 of each file."),
    N_("`data/NAME.csv` is a table: comma, quotes, CRLF (RFC 4180), in UTF-8 without a byte order mark."),
    N_("Texts are as they were typed: a spreadsheet program may take one that begins with = or + for a formula."),
    N_("`data/terms.csv` says what the controlled terms are called."),
    N_("An empty cell says nothing; in a text field that is always filled it is the empty text."),
    N_("In a text field that may be empty, a single \\ is the empty text; a text of nothing but \\ has one more."),
    N_("Weights are whole tenths of a gram, shares of rims and bases thousandths of a whole one."),
    N_("Moments are UTC; years are astronomical (0 is 1 BCE)."),
    N_("The tables `act` and `line` are the journal: who did what when, and what changed."),
    N_("Each act's hash covers the act before it. The head of the whole: {head}."),
    N_("The PINs of the people are not in here."),
)


def _readme(reading: Reading, written: tuple[WrittenTable, ...]) -> str:
    desk = reading.desk
    moment = f"{reading.now.astimezone(desk.facts.zone):%Y-%m-%d %H:%M %z}"
    facts = {"moment": moment, "version": __version__, "head": store_head(reading.session)}

    def say(text: str) -> str:
        return put(text, desk.terms, facts)

    rules = [f"- {say(one)}" for one in _RULES]
    rows = [f"| {one.table.name} | {one.rows} | {one.table.description} |" for one in written]
    head = [say(N_("| table | rows | what a row is |")), "|---|---|---|"]
    return "\n".join([f"# {desk.facts.name}", "", *map(say, _README), "", *rules, "", *head, *rows, ""])
