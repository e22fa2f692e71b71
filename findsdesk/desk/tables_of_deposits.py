"""Deposits from a table: their squares, days and elevations, and which was merged into which."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.checked_tables import (
    CheckedTable,
    Said,
    ask_of_inner,
    ask_of_letters,
    full_names,
    in_order,
    sort_out,
    unknown,
)
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.list_checks import Fate
from findsdesk.desk.setting_up import person_or_new
from findsdesk.domain.deposits import KINDS, SECURITY_IN_WORDS, HowNumbered, Security
from findsdesk.domain.doubts import Doubt
from findsdesk.domain.finds_density import soil_said
from findsdesk.domain.natural_order import folded, sort_key
from findsdesk.domain.raw_tables import TableNote
from findsdesk.domain.read_tables import ReadTable
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.written_numbers import identifier_key
from findsdesk.store.many_rows import write_many
from findsdesk.store.models import Deposit, FormerNumber, Person, Square
from findsdesk.words import N_

_WORDS = {folded(word): key for key, word in SECURITY_IN_WORDS.items()} | {str(key): key for key in Security}


def check_deposits(session: Session, desk: Desk, read: ReadTable) -> CheckedTable:
    """Check deposits against the store: unknown squares, days that cannot be, numbers that others have or had."""
    squares = {identifier_key(row.name): row for row in session.execute(select(Square)).scalars()}
    here = {row.id: row for row in session.execute(select(Deposit)).scalars()}
    today = desk.now().astimezone(desk.facts.zone).date()
    by_number = {identifier_key(row.number): row for row in sorted(here.values(), key=lambda one: one.id)}
    full_name = full_names(session)
    said = [_said(read, place, squares, today) for place in range(len(read))]
    for row in said:
        row |= {"supervisor": full_name(row["supervisor"])} if "supervisor" in row else {}
        named = by_number.get(identifier_key(row.get("into", "")))
        row |= {"into": _holder(named, here).number} if named is not None else {}
    keys = [identifier_key(number) or None for number in read.texts("number")]
    stored = _stored(session, here, squares)
    _ask_about_former(session, read, keys, stored)
    ask_of_letters(read, {row.number for row in here.values()})
    checked = CheckedTable(sort_out(read, keys, said, stored))
    targets = _ask_about_merging(read, checked, keys, by_number, here)
    for place in checked.new_places():
        checked.rows[place] = _row(said[place], squares, targets.get(place))
    checked.notes = _new_kinds(session, checked)
    return checked


def _said(read: ReadTable, place: int, squares: Mapping[str, Square], today: date) -> dict[str, Any]:
    said: dict[str, Any] = read.row(place)
    square = squares.get(identifier_key(said.get("square", "")))
    if square is not None:
        said["square"] = square.name
    elif "square" in said:
        names = [row.name for row in squares.values()]
        read.ask(place, unknown("square", read.called("square"), said["square"], names))
    if "security" in said:
        found = _WORDS.get(folded(said["security"]))
        if found is None:
            read.ask(place, unknown("security", read.called("security"), said["security"], list(_WORDS)))
        else:
            said["security"] = found.value
    if "soil" in said:
        try:
            said["soil"] = soil_said(said.pop("soil"))
        except Refusal as no:
            read.ask(place, Doubt(no.code, no.text, no.facts, "soil"))
    _ask_about_days(read, place, said, today)
    return said


def _ask_about_days(read: ReadTable, place: int, said: Said, today: date) -> None:
    opened, closed = said.get("opened"), said.get("closed")
    if opened is not None and closed is not None and closed < opened:
        text = N_("It closed on {closed}, before it was opened ({opened}). Which day is wrong?")
        read.ask(place, Doubt("closed_first", text, {"closed": str(closed), "opened": str(opened)}, "closed"))
    for column, day in (("opened", opened), ("closed", closed)):
        if day is not None and day > today:
            text = N_("{day} has not come yet. Is the date right?")
            read.ask(place, Doubt("date_in_future", text, {"day": str(day)}, column))


def _stored(session: Session, here: Mapping[int, Deposit], squares: Mapping[str, Square]) -> dict[Any, Said]:
    """Return what is said here of each deposit, by its number; of two the one that was not merged."""
    names = {row.id: row.name for row in squares.values()}
    people = dict(session.execute(select(Person.id, Person.name)).all())
    rows = sorted(here.values(), key=lambda row: (row.merged_into_id is None, row.id))
    return {
        identifier_key(row.number): {
            "number": row.number,
            "square": names[row.square_id],
            "kind": row.kind,
            "opened": row.opened,
            "closed": row.closed,
            "supervisor": people.get(row.supervisor_id or 0, ""),
            "description": row.description,
            "opening": row.opening_mm,
            "closing": row.closing_mm,
            "security": row.security,
            "soil": row.soil,
            "into": here[row.merged_into_id].number if row.merged_into_id is not None else None,
        }
        for row in rows
    }


def _ask_about_former(session: Session, read: ReadTable, keys: list[Any], stored: Mapping[Any, Said]) -> None:
    once = select(FormerNumber.number, FormerNumber.now).where(FormerNumber.how != HowNumbered.SPLIT)
    former = {identifier_key(number): now for number, now in session.execute(once)}
    for place, key in enumerate(keys):
        if key in former and key not in stored:
            text = N_("{number} was once the number of {deposit} {now}. Is another one meant?")
            facts = {"number": read.texts("number")[place], "now": former[key]}
            read.ask(place, Doubt("number_was_used", text, facts, "number"))


def _ask_about_merging(
    read: ReadTable,
    checked: CheckedTable,
    keys: list[Any],
    by_number: Mapping[str, Deposit],
    here: Mapping[int, Deposit],
) -> dict[int, int]:
    """Follow what was merged into what; returns the deposit here that a new row was merged into, by its place."""
    numbers = read.texts("number")
    places = {key: place for place, key in reversed(list(enumerate(keys))) if key is not None}
    inner: dict[int, int] = {}
    targets: dict[int, int] = {}
    for place, into in enumerate(read.texts("into")):
        key = identifier_key(into)
        if not into:
            continue
        if key in by_number:
            targets[place] = _holder(by_number[key], here).id
        elif key in places:
            inner[place] = places[key]
        else:
            known = [*(row.number for row in by_number.values()), *numbers]
            read.ask(place, unknown("into", read.terms.deposit, into, known))
            checked.fates[place] = Fate.ASIDE
    ask_of_inner(read, checked, "into", inner, numbers)
    return targets


def _holder(row: Deposit, here: Mapping[int, Deposit]) -> Deposit:
    """Return the deposit that holds the finds of one that was merged: the end of the way."""
    while row.merged_into_id is not None:
        row = here[row.merged_into_id]
    return row


def _row(said: Said, squares: Mapping[str, Square], into: int | None) -> dict[str, Any]:
    return {
        "number": said["number"],
        "number_key": sort_key(said["number"]),
        "number_folded": folded(said["number"]),
        "square_id": squares[identifier_key(said["square"])].id,
        "kind": said.get("kind", KINDS[0]),
        "opened": said["opened"],
        "closed": said.get("closed"),
        "supervisor": said.get("supervisor", ""),
        "description": said.get("description", ""),
        "opening_mm": said.get("opening"),
        "closing_mm": said.get("closing"),
        "security": said.get("security", Security.NOT_SAID.value),
        "soil": said.get("soil", ""),
        "merged_into_id": into,
    }


def _new_kinds(session: Session, checked: CheckedTable) -> tuple[TableNote, ...]:
    known = {folded(kind) for kind in (*KINDS, *session.execute(select(Deposit.kind).distinct()).scalars())}
    new = sorted({row["kind"] for row in checked.rows.values() if folded(row["kind"]) not in known})
    if not new:
        return ()
    text = N_("Kinds of {deposits} that are new here: {kinds}.")
    return (TableNote("new_kinds", text, {"kinds": ", ".join(new)}),)


def write_deposits(deed: Deed, read: ReadTable, checked: CheckedTable, said_in: str) -> None:
    """Write the new deposits; the number of one that was merged leads to the one that holds its finds."""
    people = {name: person_or_new(deed, name) for name in {row["supervisor"] for row in checked.rows.values()}}
    ids = {place: deed.new_id() for place in checked.new_places()}
    rows = []
    for place in in_order(checked):
        row, person = dict(checked.rows[place]), people[checked.rows[place]["supervisor"]]
        del row["supervisor"]
        row |= {"id": ids[place], "supervisor_id": person.id if person else None}
        if place in checked.inner:
            row["merged_into_id"] = _end(checked, ids, place)
        rows.append(row)
    write_many(deed.session, deed.changes, Deposit, rows)
    _lead_on(deed, [row for row in rows if row["merged_into_id"] is not None], said_in)


def _end(checked: CheckedTable, ids: Mapping[int, int], place: int) -> int:
    """Return the deposit at the end of a way of mergings: the one that holds the finds."""
    while place in checked.inner:
        place = checked.inner[place]
    beyond: int | None = checked.rows[place]["merged_into_id"]
    return ids[place] if beyond is None else beyond


def _lead_on(deed: Deed, rows: list[dict[str, Any]], said_in: str) -> None:
    if not rows:
        return
    if deed.person_id is None:
        raise Refusal("person_needed", N_("Say who takes this in: whoever merges {deposits} is named beside them."))
    wanted = {row["merged_into_id"] for row in rows}
    now = {row.id: row.number for row in deed.session.execute(select(Deposit).where(Deposit.id.in_(wanted))).scalars()}
    write_many(
        deed.session,
        deed.changes,
        FormerNumber,
        (
            {
                "id": deed.new_id(),
                "deposit_id": row["merged_into_id"],
                "number": row["number"],
                "number_folded": row["number_folded"],
                "now": now[row["merged_into_id"]],
                "how": HowNumbered.MERGED.value,
                "reason": said_in,
                "person_id": deed.person_id,
                "happened_at": deed.happened_at,
            }
            for row in rows
        ),
    )
