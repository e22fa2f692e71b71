"""What two stores said differently of the same thing: listed with both words, and decided by an act of one's own."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.clash_emptied import keep_emptied
from findsdesk.desk.clash_twice import keep_one, sides_of
from findsdesk.desk.courier_numbers import with_what_follows
from findsdesk.desk.deed_words import DEED_IN_WORDS, KIND_IN_WORDS
from findsdesk.desk.desk import Deed, Desk, Reading
from findsdesk.desk.rows_by_name import Thing, names_of, things_in, with_names
from findsdesk.desk.standing_together import refuse_what_cannot_stand, sorted_here, what_is_wrong
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.standings import Standing
from findsdesk.store.courier_clashes import BY_NAME, FIGURES, GONE, NUMBER, VALUES
from findsdesk.store.courier_rows import unique_keys
from findsdesk.store.emptied import EMPTIED, empty_beside_sorted, let_sorted_stand
from findsdesk.store.figures_decided import put_figures_right
from findsdesk.store.models import Act, Clash, Container, Station
from findsdesk.store.one_of_two import LENT, MARKED, PACKED, TWICE, stand
from findsdesk.store.put_right import containers_of, put_right
from findsdesk.store.references import references_to
from findsdesk.store.rows_told import told_of
from findsdesk.store.sums import deposits_of, put_totals_right
from findsdesk.store.told_changes import plain_columns, set_columns, table_of, tell_change, tell_gone, tell_new
from findsdesk.words import N_

BOTH = "both"
"""The answer that both words stand, or were put right elsewhere."""
MOST_LISTED = 500


@dataclass(frozen=True, slots=True)
class ClashSide:
    """What one station said: in which act, by whom, when, and the values by column, with names people know."""

    station: str
    deed: str
    said: str
    person: str
    happened_at: datetime | None
    values: Mapping[str, Any]
    gone: bool


@dataclass(frozen=True, slots=True)
class ListedClash:
    """A clash: of what row (``kind`` a message key, ``name`` as people know it), what each side said, what stands.

    ``stands`` is the station whose word the row has now, or nothing where it has neither's.
    """

    id: int
    what: str
    kind: str
    name: str
    one: ClashSide
    other: ClashSide
    stands: str
    choices: tuple[str, ...]
    """The stations whose word may be kept, and 'both' where both may stand."""
    found_at: datetime
    decided_at: datetime | None
    choice: str


def clashes(desk: Desk, *, decided: bool = False) -> tuple[ListedClash, ...]:
    """Return the clashes that wait for a decision, or those decided, the oldest first."""
    with desk.reading() as reading:
        wanted = select(Clash).where(Clash.decided_at.is_not(None) if decided else Clash.decided_at.is_(None))
        rows = reading.session.execute(wanted.order_by(Clash.found_at, Clash.id).limit(MOST_LISTED)).scalars().all()
        return _listed(reading, rows)


def clashes_waiting(desk: Desk) -> int:
    """Return how many clashes wait for a decision."""
    with desk.reading() as reading:
        wanted = select(func.count()).select_from(Clash).where(Clash.decided_at.is_(None))
        return reading.session.execute(wanted).scalar_one()


def _listed(reading: Reading, rows: Sequence[Clash]) -> tuple[ListedClash, ...]:
    session = reading.session
    things: set[Thing] = set()
    for row in rows:
        things.add((row.kind, row.row_id))
        for side in (row.one, row.other):
            things.update(things_in(side["values"]))
            things.update(things_in(side["whole"]))
    of_containers = {(row.kind, row.row_id): _container_of(session, row) for row in rows}
    things.update(("container", one) for one in of_containers.values() if one is not None)
    names = names_of(session, things)
    stations = dict(session.execute(select(Station.id, Station.name)).all())
    return tuple(_clash(session, row, names, stations, of_containers[row.kind, row.row_id]) for row in rows)


def _container_of(session: Session, row: Clash) -> int | None:
    if "container_id" not in table_of(row.kind).columns:
        return None
    there = plain_columns(session, row.kind, row.row_id, ["container_id"])
    whole = there or row.one["whole"] or row.other["whole"]
    return whole.get("container_id")


def _clash(
    session: Session, row: Clash, names: Mapping[Thing, str], stations: Mapping[int, str], container_id: int | None
) -> ListedClash:
    one = _side(session, row.one, stations[row.one_station_id], names)
    other = _side(session, row.other, stations[row.other_station_id], names)
    owner = names.get(("container", container_id), "") if container_id else ""
    return ListedClash(
        id=row.id,
        what=row.what,
        kind=KIND_IN_WORDS.get(row.kind, row.kind),
        name=names.get((row.kind, row.row_id), owner),
        one=one,
        other=other,
        stands=_stands(session, row, one.station, other.station),
        choices=_choices(row, one, other),
        found_at=row.found_at,
        decided_at=row.decided_at,
        choice=row.choice,
    )


def _side(session: Session, side: Mapping[str, Any], station: str, names: Mapping[Thing, str]) -> ClashSide:
    act = session.get(Act, side["act"])
    values = with_names(side["values"] or {}, names) or {}
    if act is None:
        return ClashSide(station, "", "", "", None, values, bool(side["gone"]))
    deed = DEED_IN_WORDS.get(act.deed, act.deed)
    return ClashSide(station, deed, act.said, act.person_name, act.happened_at, values, bool(side["gone"]))


def _stands(session: Session, row: Clash, one: str, other: str) -> str:
    if row.what == FIGURES or (row.kind == "deposit" and row.what == NUMBER):
        return ""
    if row.what == EMPTIED:
        empty = session.get_one(Container, row.row_id).standing == Standing.EMPTY
        return one if empty == ("none" in row.one["values"]) else other
    if row.what in TWICE:
        stands = stand(session, sides_of(row))
        return "" if stands[0] == stands[1] else one if stands[0] else other
    for row_id, side, station in (
        (row.row_id, row.one, one),
        (row.other_row_id or row.row_id, row.other, other),
    ):
        there = plain_columns(session, row.kind, row_id, side["values"] or ["id"])
        if there is None if side["gone"] else there is not None and _holds(there, side["values"]):
            return station
    return ""


def _holds(there: Mapping[str, Any], said: Mapping[str, Any]) -> bool:
    """Tell whether a row holds what was said, of values by name those that were named."""

    def same(here: Any, value: Any) -> bool:
        by_name = isinstance(value, dict) and isinstance(here, dict)
        return _holds(here, value) if by_name else bool(here == value)

    return all(same(there[name], value) for name, value in said.items() if name in there)


def _choices(row: Clash, one: ClashSide, other: ClashSide) -> tuple[str, ...]:
    stations = (one.station, other.station)
    if row.what == FIGURES:
        entries = row.one["values"]["entries"] and row.other["values"]["entries"]
        return (*stations, BOTH) if entries else (BOTH,)
    if row.what == NUMBER:
        return (BOTH,) if row.kind == "deposit" else stations
    return (*stations, BOTH) if row.what in TWICE else stations


def decide_clash(desk: Desk, clash: int, *, keep: str) -> ListedClash:
    """Decide a clash: whose word stands, by the station's name, or 'both' where both may stand. Opposite: again.

    Refusals: ``unknown_clash``, ``unknown_choice``, ``row_is_gone``, ``row_in_use``, ``already_answered``,
    ``packed_since``, ``cannot_stand_together``; for a container kept as empty those of ``need_nothing_sorted``.
    """
    with desk.reading() as reading:
        row = reading.session.get(Clash, clash)
        if row is None:
            raise Refusal("unknown_clash", N_("There is no such clash. Look at the list again."))
        listed = _listed(reading, (row,))[0]
        _refuse_choice(listed, keep)
        was_wrong = what_is_wrong(reading.session)
    with desk.deed("decide_clash") as deed:
        row = deed.session.get_one(Clash, clash)
        kept_first = keep == listed.one.station
        containers = containers_of(deed.session, [(row.kind, row.row_id)])
        deposits = deposits_of(deed.session, containers)
        if keep != BOTH and row.what in _KEEP:
            _KEEP[row.what](deed, row, kept_first)
        row.decided_at, row.decided_by_id, row.choice = deed.happened_at, deed.person_id, keep
        deed.said = f"{listed.name or listed.id}: {keep}"
        deed.session.flush()
        if row.what == FIGURES:
            put_figures_right(deed.session, deed.changes, row.row_id)
        put_right(deed.session, deed.changes, [(row.kind, row.row_id)])
        deed.session.flush()
        if row.what != EMPTIED:
            # An emptied container's entries are in the deed's own totals.
            containers |= containers_of(deed.session, [(row.kind, row.row_id)])
            put_totals_right(deed.session, containers, deposits)
            for emptied in list(empty_beside_sorted(deed.session, sorted_here(), containers)):
                let_sorted_stand(deed.session, deed.changes, emptied.container_id)
        refuse_what_cannot_stand(deed.session, was_wrong)
    with desk.reading() as reading:
        return _listed(reading, (reading.session.get_one(Clash, clash),))[0]


def _refuse_choice(listed: ListedClash, keep: str) -> None:
    if keep not in listed.choices:
        text = N_("“{said}” cannot be kept here. Choose one of: {choices}.")
        raise Refusal("unknown_choice", text, said=keep, choices=", ".join(listed.choices))


def _keep_values(deed: Deed, row: Clash, first: bool) -> None:
    values = dict((row.one if first else row.other)["values"])
    for kind, name in BY_NAME:
        if kind == row.kind and name in values:
            there = plain_columns(deed.session, kind, row.row_id, [name])
            values[name] = {**(there or {}).get(name, {}), **values[name]}
    said = values | {
        name: value
        for column, number in values.items()
        if column in ("number", "name")
        for name, value in with_what_follows(row.kind, column, number).items()
    }
    if not tell_change(deed.session, deed.changes, row.kind, row.row_id, said, even_if_same=True):
        raise Refusal("row_is_gone", N_("This was taken away since. There is nothing left to decide about it."))


def _keep_gone(deed: Deed, row: Clash, first: bool) -> None:
    kept = row.one if first else row.other
    there = plain_columns(deed.session, row.kind, row.row_id, ["id"]) is not None
    told = next(told_of(deed.session, row.kind, [row.row_id], never_gone=True))
    whole = dict(told.values or {})
    if kept["gone"] and there:
        using = references_to(deed.session, row.kind, row.row_id)
        if using:
            text = N_("Other records hang on it, so it cannot go. Take those away first, or keep it.")
            raise Refusal("row_in_use", text)
        tell_gone(deed.session, deed.changes, row.kind, row.row_id, whole)
    elif not kept["gone"] and not there:
        _refuse_taken(deed.session, row.kind, whole | kept["values"])
        version = None if told.version is None else told.version + 1
        tell_new(deed.session, deed.changes, row.kind, row.row_id, version, whole | kept["values"])


def _refuse_taken(session: Session, kind: str, values: Mapping[str, Any]) -> None:
    """Refuse to bring a row back whose code or name another has by now."""
    table = table_of(kind)
    for columns in unique_keys(kind):
        same = select(table.c.id).where(*(table.c[name] == values.get(name) for name in columns))
        if session.execute(same).first() is not None:
            text = N_("Another has its code or name by now, so it cannot come back. Correct that one instead.")
            raise Refusal("already_there", text)


def _keep_number(deed: Deed, row: Clash, first: bool) -> None:
    """Let the two things change their numbers where the other is to keep the one that was given twice."""
    (column, number) = next(iter(row.one["values"].items()))
    other_id = row.other_row_id or 0
    holders = [
        row_id
        for row_id in (row.row_id, other_id)
        if (plain_columns(deed.session, row.kind, row_id, [column]) or {}).get(column) == number
    ]
    # The row of the lower id is of the lower station, as the sides are.
    wanted = row.row_id if first else other_id
    if not holders or holders[0] == wanted:
        return
    holds, gives = holders[0], with_what_follows(row.kind, column, number)
    mine = plain_columns(deed.session, row.kind, wanted, gives)
    if mine is None:
        raise Refusal("row_is_gone", N_("This was taken away since. There is nothing left to decide about it."))
    aside: Any = f"~{holds}" if isinstance(number, str) else -1
    set_columns(deed.session, row.kind, holds, {column: aside})
    tell_change(deed.session, deed.changes, row.kind, wanted, gives)
    tell_change(deed.session, deed.changes, row.kind, holds, mine, before=gives)


_KEEP = {
    VALUES: _keep_values, GONE: _keep_gone, NUMBER: _keep_number, PACKED: keep_one, LENT: keep_one, MARKED: keep_one,
    EMPTIED: keep_emptied,
}  # fmt: skip
