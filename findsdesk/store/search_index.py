"""The full-text index over numbers, codes, notes and descriptions: made, kept with each deed, asked, made anew.

Each row that says something has its words in ``searched_text``, written in the transaction of the deed that changed
the row. On a file, triggers of that one table carry them into an index of SQLite's FTS5 (its documentation, "External
Content Tables"); a server has them in a GIN index over text-search vectors (PostgreSQL's documentation, "Preferred
Index Types for Text Search"). Both hold the words that ``domain.searched_words`` makes, and so find the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from sqlalchemy import Connection, String, bindparam, delete, insert, or_, select, text, true
from sqlalchemy.orm import Session

from findsdesk.domain.passing import OFTEN
from findsdesk.domain.searched_words import words_to_find
from findsdesk.store.batches import AT_ONCE, batches
from findsdesk.store.every_table import table_named
from findsdesk.store.journal import INTO_WORDS, Changes
from findsdesk.store.models import SearchedText
from findsdesk.store.put_or_add import insert_for

SAYS: Mapping[str, tuple[int, tuple[str, ...]]] = {
    "person": (1, ("name",)),
    "ware": (2, ("code", "name", "source", "note")),
    "form": (3, ("code", "name", "source", "note")),
    "place": (4, ("name", "code", "note")),
    "discard_list": (5, ("carried_to", "inspector", "marker")),
    "discard_note": (6, ("text",)),
    "loan": (7, ("number", "code", "borrower", "purpose", "permit", "note")),
    "former_number": (8, ("number", "reason")),
    "vessel": (9, ("number", "note")),
    "lab_sample": (10, ("number", "laboratory", "permit", "result")),
    "left_in_trench": (11, ("what", "why")),
    "box": (12, ("number", "code", "note")),
    "sherd_join": (13, ("note",)),
    "found_object": (14, ("number", "what", "made_of", "description")),
    "deposit": (15, ("number", "description")),
    "pottery_reading": (16, ("line", "look_again_why", "looked_again_says")),
    "photo": (17, ("file_name", "note")),
    "piece": (24, ("code", "note", "parallels", "drawing")),
    "ledger_entry": (25, ("why",)),
    "step": (26, ("note",)),
    "mark_entry": (27, ("said", "why")),
    "sherd_group": (28, ("note",)),
    "bag": (29, ("code",)),
    "container": (30, ("number", "code", "description")),
}
"""The tables whose rows are found: a number from 1 to 31, never another's; and the columns by whose words.

Tables of few rows have low numbers: they are looked through first.
"""

KIND_SHIFT = 58
"""Ids of rows end below this bit: that of the station above 40 bits (``numbers.STATION_SHIFT``), of 18."""
LOOKED_THROUGH = 5_000
"""So many places are gathered at once, those of kinds of few rows first."""
MOST = 1_000
"""So many rows of a kind are counted where there are more than are gathered."""
INDEX = "search_index"
_TEXTS: Any = SearchedText.__table__
_LOOK: dict[str, Any] = {}
"""Stands for a row of which only some columns are known: it is read."""

_MADE_ON_FILE = (
    f"CREATE VIRTUAL TABLE IF NOT EXISTS {INDEX} USING fts5(said, content='searched_text', content_rowid='place', "
    "detail=none, prefix='2 3 4 5', tokenize=\"ascii tokenchars '-./'\")",
    "CREATE TRIGGER IF NOT EXISTS searched_text_added AFTER INSERT ON searched_text BEGIN "
    f"INSERT INTO {INDEX}(rowid, said) VALUES (new.place, new.said); END",
    "CREATE TRIGGER IF NOT EXISTS searched_text_gone AFTER DELETE ON searched_text BEGIN "
    f"INSERT INTO {INDEX}({INDEX}, rowid, said) VALUES ('delete', old.place, old.said); END",
    "CREATE TRIGGER IF NOT EXISTS searched_text_changed AFTER UPDATE ON searched_text BEGIN "
    f"INSERT INTO {INDEX}({INDEX}, rowid, said) VALUES ('delete', old.place, old.said); "
    f"INSERT INTO {INDEX}(rowid, said) VALUES (new.place, new.said); END",
)
_TAKEN_DOWN_ON_FILE = (
    "DROP TRIGGER IF EXISTS searched_text_added",
    "DROP TRIGGER IF EXISTS searched_text_gone",
    "DROP TRIGGER IF EXISTS searched_text_changed",
    f"DROP TABLE IF EXISTS {INDEX}",
)
_VECTOR = "array_to_tsvector(string_to_array(said, ' '))"
_MADE_ON_SERVER = (f"CREATE INDEX IF NOT EXISTS {INDEX} ON searched_text USING gin ({_VECTOR})",)
_TAKEN_DOWN_ON_SERVER = (f"DROP INDEX IF EXISTS {INDEX}",)


def make_index(connection: Connection) -> None:
    """Make the index and what keeps it where they are not there: a table that is rebuilt loses its triggers."""
    for statement in _MADE_ON_FILE if _on_file(connection) else _MADE_ON_SERVER:
        connection.exec_driver_sql(statement)


def is_of_the_index(connection: Connection, table: str) -> bool:
    """Tell whether a table belongs to the index and to no model: for comparing a store's schema with the models."""
    return _on_file(connection) and table.startswith(INDEX)


def place_of(kind: str, row_id: int) -> int:
    """Return where a row stands in the index."""
    return (SAYS[kind][0] << KIND_SHIFT) + row_id


_KINDS = {number: kind for kind, (number, _columns) in SAYS.items()}


def row_at(place: int) -> tuple[str, int]:
    """Return kind and id of the row that stands at a place of the index; '' where no kind has its number."""
    number = place >> KIND_SHIFT
    return _KINDS.get(number, ""), place - (number << KIND_SHIFT)


def said_of(kind: str, values: Mapping[str, Any]) -> str:
    """Return the text under which a row is found; nothing where it says nothing."""
    return " ".join(words_to_find(" ".join(str(values[name]) for name in SAYS[kind][1] if values[name] is not None)))


def keep_index(session: Session, changes: Changes) -> None:
    """Write the words of all rows that a deed changed; called at its end, within its transaction."""
    put: list[dict[str, Any]] = []
    gone: list[int] = []
    for kind, rows in _told(changes).items():
        gone += [place_of(kind, row_id) for row_id, values in rows.items() if values is None]
        read = _read(session, kind, [row_id for row_id, values in rows.items() if values is _LOOK])
        known = {row_id: values for row_id, values in rows.items() if values} | read
        for place, (row_id, values) in enumerate(known.items()):
            if not place % OFTEN:
                changes.passed(INTO_WORDS, place, 2 * len(known))
            said = said_of(kind, values)
            put += [{"place": place_of(kind, row_id), "said": said}] if said else []
            gone += [place_of(kind, row_id)] if not said and row_id in read else []
    _write(session, put, gone, lambda done: changes.passed(INTO_WORDS, len(put) + done, 2 * len(put)))


def _told(changes: Changes) -> dict[str, dict[int, dict[str, Any] | None]]:
    """Return the rows whose words may be others now, by kind: their columns, ``_LOOK``, or None for a row that went."""
    told: dict[str, dict[int, dict[str, Any] | None]] = {}
    for change in changes.rows:
        if change.kind not in SAYS:
            continue
        columns = SAYS[change.kind][1]
        rows = told.setdefault(change.kind, {})
        if change.after is None:
            rows[change.row_id] = None
        elif change.before is None:
            rows[change.row_id] = {name: change.after[name] for name in columns}
        elif any(name in change.after for name in columns):
            rows[change.row_id] = _LOOK
    return {kind: rows for kind, rows in told.items() if rows}


def _read(session: Session, kind: str, ids: Sequence[int]) -> dict[int, dict[str, Any]]:
    table = table_named(kind)
    wanted = select(table.c.id, *(table.c[name] for name in SAYS[kind][1])).where(table.c.id.in_(ids))
    return {row.id: dict(row._mapping) for row in session.execute(wanted)} if ids else {}


def _write(
    session: Session, put: list[dict[str, Any]], gone: list[int], passed: Callable[[int], None] | None = None
) -> None:
    if gone:
        that_row = delete(SearchedText).where(SearchedText.place == bindparam("gone"))
        session.connection().execute(that_row, [{"gone": place} for place in gone])
    if put:
        connection = session.connection()
        added = insert_for(connection.dialect.name)(_TEXTS)
        changed = {"said": added.excluded.said}
        statement = added.on_conflict_do_update(index_elements=["place"], set_=changed)
        for first in range(0, len(put), OFTEN):
            connection.execute(statement, put[first : first + OFTEN])
            if passed is not None:
                passed(min(len(put), first + OFTEN))


# Asking


@dataclass(frozen=True, slots=True)
class FoundOfKind:
    """What was found of one kind: the ids of the newest, how many there are (``more``: at least so many)."""

    kind: str
    newest: tuple[int, ...]
    count: int
    more: bool


def found(session: Session, words: Sequence[str], how_many: int) -> tuple[FoundOfKind, ...]:
    """Return rows that hold all words, or words that begin so, by kind, ``how_many`` of each, the newest first.

    A word of one sign alone must be the whole word: half of all rows have one that begins with it. Where very much is
    found, kinds of many rows are counted up to ``MOST``.
    """
    places = _places(session, words, 0, (1 << 63) - 1, LOOKED_THROUGH + 1)
    kinds = {number: list(group) for number, group in groupby(places, lambda one: one >> KIND_SHIFT)}
    cut = max(kinds) if len(places) > LOOKED_THROUGH else 32
    answers = [_whole(number, group, how_many) for number, group in kinds.items() if number < cut and number in _KINDS]
    for number in sorted(number for number in _KINDS if number >= cut):
        first = number << KIND_SHIFT
        newest = _places(session, words, first, first + (1 << KIND_SHIFT) - 1, MOST + 1, falling=True)
        if newest:
            ids = tuple(place - first for place in newest[:how_many])
            answers.append(FoundOfKind(_KINDS[number], ids, min(len(newest), MOST), len(newest) > MOST))
    return tuple(answers)


def _whole(number: int, places: Sequence[int], how_many: int) -> FoundOfKind:
    ids = tuple(place - (number << KIND_SHIFT) for place in places[: -how_many - 1 : -1])
    return FoundOfKind(_KINDS[number], ids, len(places), False)


def _places(
    session: Session, words: Sequence[str], first: int, last: int, how_many: int, *, falling: bool = False
) -> list[int]:
    connection = session.connection()
    on_file = _on_file(connection)
    asked = (_ASKED_FILE if on_file else _ASKED_SERVER)[falling]
    question = _question_file(words) if on_file else _question_server(words)
    facts = {"question": question, "first": first, "last": last, "n": how_many}
    return list(connection.execute(asked, facts).scalars())


_ASKED_FILE = [
    text(
        f"SELECT rowid FROM {INDEX} WHERE {INDEX} MATCH :question AND rowid BETWEEN :first AND :last "
        f"ORDER BY rowid {order} LIMIT :n"
    )
    for order in ("ASC", "DESC")
]
_ASKED_SERVER = [
    text(
        f"SELECT place FROM searched_text WHERE {_VECTOR} @@ CAST(:question AS tsquery) "
        f"AND place BETWEEN :first AND :last ORDER BY place {order} LIMIT :n"
    )
    for order in ("ASC", "DESC")
]


def _question_file(words: Sequence[str]) -> str:
    return " AND ".join(f'"{word}"*' if len(word) > 1 else f'"{word}"' for word in words)


def _question_server(words: Sequence[str]) -> str:
    return " & ".join(f"'{word}':*" if len(word) > 1 else f"'{word}'" for word in words)


# Made anew, and what should be in it


def texts_to_be(session: Session, kind: str) -> Iterator[tuple[int, str]]:
    """Yield the place and text of each row of a kind that says something, by place."""
    table = table_named(kind)
    columns = [table.c[name] for name in SAYS[kind][1]]
    # Most groups and steps say nothing: they are left out before anything is read.
    says_something = [column != "" if isinstance(column.type, String) else true() for column in columns]
    wanted = select(table.c.id, *columns).where(or_(*says_something)).order_by(table.c.id)
    for row in session.connection().execute(wanted.execution_options(yield_per=AT_ONCE)):
        said = said_of(kind, dict(row._mapping))
        if said:
            yield place_of(kind, row.id), said


def make_index_anew(session: Session) -> int:
    """Write every text afresh and make the index again from them; returns how many rows are found by it."""
    connection, written = session.connection(), 0
    on_file = _on_file(connection)
    for statement in _TAKEN_DOWN_ON_FILE if on_file else _TAKEN_DOWN_ON_SERVER:
        connection.exec_driver_sql(statement)
    connection.execute(delete(SearchedText))
    for kind in SAYS:
        rows = ({"place": place, "said": said} for place, said in texts_to_be(session, kind))
        for some in batches(rows):
            connection.execute(insert(SearchedText), some)
            written += len(some)
    make_index(connection)
    if on_file:
        connection.exec_driver_sql(f"INSERT INTO {INDEX}({INDEX}) VALUES ('rebuild')")
    return written


def _on_file(connection: Connection) -> bool:
    return connection.dialect.name == "sqlite"
