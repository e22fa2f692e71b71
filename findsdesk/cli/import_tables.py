"""``findsdesk import --of``: take in a table of deposits, containers, wares, people, places, or a whole old season."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Any

from findsdesk.cli.calls import DONE
from findsdesk.cli.saying import say_json
from findsdesk.cli.seat import reading_seat, writing_seat
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, plural, put

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.table_looks import TableLook
    from findsdesk.desk.tables_taken import TableTaken
    from findsdesk.domain.table_kinds import TableKind
    from findsdesk.words import Terms

MOST_SHOWN = 20
"""Questions printed of one table; all of them stand in the JSON and in the list of questions."""


def take_in_tables(call: argparse.Namespace) -> int:
    """Look at each table, say what becomes of its rows, and take it in unless it is a trial."""
    from findsdesk.desk.table_looks import look_at_table
    from findsdesk.desk.tables_taken import take_in_table
    from findsdesk.domain.table_kinds import TableKind

    kind = TableKind(call.of)
    if call.questions_to is not None and len(call.files) > 1:
        raise Refusal("one_table", N_("A list of questions is of one table. Name one file with --questions-to."))
    told: list[dict[str, Any]] = []
    with reading_seat(call) if call.dry_run else writing_seat(call) as desk:
        how = _how(call, kind, desk.terms)
        for file in call.files:
            look = look_at_table(desk, file, of=kind, **how)
            taken = None if call.dry_run else take_in_table(desk, look)
            told.append(_plain(look, taken))
            if not call.json:
                _say(desk, look, taken)
            _write_questions(call, look)
    if call.json:
        say_json(told)
    return DONE


def _how(call: argparse.Namespace, kind: TableKind, terms: Terms) -> dict[str, Any]:
    columns = {header: column_said(kind, name, terms) for name, header in _pairs(call.columns)}
    columns |= {header: column_said(kind, name, terms) for header, name in _pairs(call.column)}
    given = {column_said(kind, name, terms): value for name, value in _pairs(call.given)}
    how = {"encoding": call.encoding, "sheet": call.sheet, "season": call.season}
    return (
        how
        | {"columns": columns, "given": given, "day_order": call.day_order, "decimal": call.decimal}
        | {"circles": call.circles}
    )


def column_said(kind: TableKind, name: str, terms: Terms) -> str:
    """Return the column of a kind of table that a person names, by any word for it; empty leaves a header out."""
    from findsdesk.domain.table_kinds import COLUMNS, column_meant, column_name

    column = name if name in COLUMNS[kind] or not name else column_meant(kind, name, terms)
    if column is None:
        known = ", ".join(f"{one} ({column_name(kind, one, terms)})" for one in COLUMNS[kind])
        raise Refusal(
            "no_such_column", N_("Such a table has no column {name}. It has: {known}."), name=name, known=known
        )
    return column


def _pairs(texts: Iterable[str]) -> Iterator[tuple[str, str]]:
    for text in texts:
        name, sign, value = text.partition("=")
        if not sign or not (name or value):
            raise Refusal("pair_unreadable", N_("{text} is no pair. Write NAME=VALUE."), text=text)
        yield name.strip(), value.strip()


def _plain(look: TableLook, taken: TableTaken | None) -> dict[str, Any]:
    from findsdesk.desk.list_checks import Fate
    from findsdesk.desk.tables_taken import asked

    headers = look.table.headers
    return {
        "file": look.ask.path.name,
        "of": look.ask.kind,
        "season": look.season,
        "dry_run": taken is None,
        "columns": {column: headers[place] for column, place in look.match.mapping.items()},
        "not_used": look.match.unused,
        "in": taken.taken if taken else look.how_many(Fate.NEW),
        "same": taken.same if taken else look.how_many(Fate.SAME),
        "notes": [put(note.text, look.read.terms, note.facts) for note in look.notes],
        "questions": [
            {"line": look.read.lines[place], "asked": asked(look, place)} for place in look.places(Fate.ASIDE)
        ],
    }


def _say(desk: Desk, look: TableLook, taken: TableTaken | None) -> None:
    from findsdesk.desk.list_checks import Fate
    from findsdesk.desk.tables_taken import asked

    new, same = (taken.taken, taken.same) if taken else (look.how_many(Fate.NEW), look.how_many(Fate.SAME))
    aside = look.places(Fate.ASIDE)
    parts = [plural("{n} row would go in", "{n} rows would go in", new)]
    if taken is not None:
        parts = [plural("{n} row went in", "{n} rows went in", new)]
    if same:
        parts.append(plural("{n} was here already", "{n} were here already", same))
    if aside:
        parts.append(plural("{n} has a question", "{n} have a question", len(aside)))
    print(f"{look.ask.path.name}: {', '.join(parts)}.")
    if look.match.unused:
        print("  " + put(N_("not used: {headers}"), None, {"headers": ", ".join(look.match.unused)[:300]}))
    for note in look.notes:
        print(f"  {put(note.text, desk.terms, note.facts)}")
    for place in aside[:MOST_SHOWN]:
        for question in asked(look, place):
            facts = {"line": look.read.lines[place], "question": question}
            print("  " + put(N_("line {line}, {question}"), desk.terms, facts))
    if len(aside) > MOST_SHOWN:
        more = plural("{n} more row has a question", "{n} more rows have a question", len(aside) - MOST_SHOWN)
        print("  " + put(N_("{more}: --questions-to FILE writes all of them"), None, {"more": more}))


def _write_questions(call: argparse.Namespace, look: TableLook) -> None:
    from findsdesk.desk.list_checks import Fate
    from findsdesk.desk.tables_taken import write_questions

    if call.questions_to is None or not look.how_many(Fate.ASIDE):
        return
    written = write_questions(look, call.questions_to)
    if not call.json:
        rows = plural("{n} row", "{n} rows", written)
        facts = {"rows": rows, "file": call.questions_to}
        print(put(N_("{rows} with a question in {file}: correct them there and bring the file in again."), None, facts))
