"""The full-text index over numbers, codes, notes and descriptions: made, kept with each deed, asked, made anew.

Each row that says something has its words in ``searched_text``, written in the transaction of the deed that changed
the row. On a file, triggers of that one table carry them into an index of SQLite's FTS5 (its documentation, "External
Content Tables"); a server has them in a GIN index over text-search vectors (PostgreSQL's documentation, "Preferred
Index Types for Text Search"). Both hold the words that ``domain.searched_words`` makes, and so find the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import islice
from typing import Any

from sqlalchemy import Connection, bindparam, delete, insert, select, text
from sqlalchemy.orm import Session

from findsdesk.domain.searched_words import words_to_find
from findsdesk.store.journal import Changes
from findsdesk.store.models import Base, SearchedText
from findsdesk.store.put_or_add import insert_for

SAYS: Mapping[str, tuple[str, ...]] = {
    "deposit": ("number", "description"),
    "former_number": ("number", "reason"),
    "container": ("number", "code", "description"),
    "step": ("note",),
    "ledger_entry": ("why",),
    "mark_entry": ("said", "why"),
    "sherd_group": ("note",),
    "piece": ("code", "note", "parallels", "drawing"),
    "vessel": ("number", "note"),
    "sherd_join": ("note",),
    "found_object": ("number", "what", "description"),
    "lab_sample": ("number", "laboratory", "permit", "result"),
    "photo": ("file_name", "note"),
    "pottery_reading": ("line", "look_again_why", "looked_again_says"),
    "bag": ("code",),
    "box": ("number", "code", "note"),
    "place": ("name", "code", "note"),
    "loan": ("number", "code", "borrower", "purpose", "permit", "note"),
    "discard_list": ("carried_to", "inspector", "marker"),
    "discard_note": ("text",),
    "left_in_trench": ("what", "why"),
    "ware": ("code", "name", "source", "note"),
    "form": ("code", "name", "source", "note"),
    "person": ("name",),
}
"""The tables whose rows are found, and the columns by whose words."""

AT_ONCE = 2_000
INDEX = "search_index"
_TEXTS: Any = SearchedText.__table__
_LOOK: dict[str, Any] = {}
"""Stands for a row of which only some columns are known: it is read."""

_MADE_ON_FILE = (
    f"CREATE VIRTUAL TABLE IF NOT EXISTS {INDEX} USING fts5(said, content='searched_text', content_rowid='row_id', "
    "detail=none, prefix='2 3', tokenize=\"ascii tokenchars '-./=_'\")",
    "CREATE TRIGGER IF NOT EXISTS searched_text_added AFTER INSERT ON searched_text BEGIN "
    f"INSERT INTO {INDEX}(rowid, said) VALUES (new.row_id, new.said); END",
    "CREATE TRIGGER IF NOT EXISTS searched_text_gone AFTER DELETE ON searched_text BEGIN "
    f"INSERT INTO {INDEX}({INDEX}, rowid, said) VALUES ('delete', old.row_id, old.said); END",
    "CREATE TRIGGER IF NOT EXISTS searched_text_changed AFTER UPDATE ON searched_text BEGIN "
    f"INSERT INTO {INDEX}({INDEX}, rowid, said) VALUES ('delete', old.row_id, old.said); "
    f"INSERT INTO {INDEX}(rowid, said) VALUES (new.row_id, new.said); END",
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


def said_of(kind: str, values: Mapping[str, Any]) -> str:
    """Return the text under which a row is found; nothing where it says nothing."""
    words = words_to_find(" ".join(str(values[name]) for name in SAYS[kind] if values[name] is not None))
    return " ".join((f"={kind}", *words)) if words else ""


def keep_index(session: Session, changes: Changes) -> None:
    """Write the words of all rows that a deed changed; called at its end, within its transaction."""
    told = _told(changes)
    if told:
        put: list[dict[str, Any]] = []
        gone = [row_id for rows in told.values() for row_id, values in rows.items() if values is None]
        for kind, rows in told.items():
            read = _read(session, kind, [row_id for row_id, values in rows.items() if values is _LOOK])
            known = {row_id: values for row_id, values in rows.items() if values} | read
            for row_id, values in known.items():
                said = said_of(kind, values)
                put += [{"row_id": row_id, "kind": kind, "said": said}] if said else []
                gone += [row_id] if not said and row_id in read else []
        _write(session, put, gone)


def _told(changes: Changes) -> dict[str, dict[int, dict[str, Any] | None]]:
    """Return the rows whose words may be others now, by kind: their columns, ``_LOOK``, or None for a row that went."""
    told: dict[str, dict[int, dict[str, Any] | None]] = {}
    for change in changes.rows:
        columns = SAYS.get(change.kind)
        if columns is None:
            continue
        rows = told.setdefault(change.kind, {})
        if change.after is None:
            rows[change.row_id] = None
        elif change.before is None:
            rows[change.row_id] = {name: change.after[name] for name in columns}
        elif any(name in change.after for name in columns):
            rows[change.row_id] = _LOOK
    return {kind: rows for kind, rows in told.items() if rows}


def _read(session: Session, kind: str, ids: Sequence[int]) -> dict[int, dict[str, Any]]:
    table = Base.metadata.tables[kind]
    wanted = select(table.c.id, *(table.c[name] for name in SAYS[kind])).where(table.c.id.in_(ids))
    return {row.id: dict(row._mapping) for row in session.execute(wanted)} if ids else {}


def _write(session: Session, put: list[dict[str, Any]], gone: list[int]) -> None:
    connection = session.connection()
    if gone:
        that_row = delete(SearchedText).where(SearchedText.row_id == bindparam("gone"))
        connection.execute(that_row, [{"gone": row_id} for row_id in gone])
    if put:
        added = insert_for(connection.dialect.name)(_TEXTS)
        changed = {"kind": added.excluded.kind, "said": added.excluded.said}
        connection.execute(added.on_conflict_do_update(index_elements=["row_id"], set_=changed), put)


# Asking


def found(session: Session, words: Sequence[str], how_many: int, kind: str = "") -> list[tuple[str, int]]:
    """Return kind and id of rows that hold all words, or words that begin so, the newest first; of one kind if said.

    A word of one sign alone must be the whole word: half of all rows have one that begins with it.
    """
    connection = session.connection()
    asked = _ASKED_FILE if _on_file(connection) else _ASKED_SERVER
    question = (_question_file if _on_file(connection) else _question_server)(words, kind)
    return [(row.kind, row.row_id) for row in connection.execute(asked, {"question": question, "n": how_many})]


_ASKED_FILE = text(
    f"SELECT kind, row_id FROM (SELECT rowid AS hit FROM {INDEX} WHERE {INDEX} MATCH :question "
    "ORDER BY rowid DESC LIMIT :n) JOIN searched_text ON row_id = hit ORDER BY hit DESC"
)
_ASKED_SERVER = text(
    f"SELECT kind, row_id FROM searched_text WHERE {_VECTOR} @@ CAST(:question AS tsquery) "
    "ORDER BY row_id DESC LIMIT :n"
)


def _question_file(words: Sequence[str], kind: str) -> str:
    kinds = [f'"={kind}"'] if kind else []
    return " AND ".join([*kinds, *(f'"{word}"*' if len(word) > 1 else f'"{word}"' for word in words)])


def _question_server(words: Sequence[str], kind: str) -> str:
    kinds = [f"'={kind}'"] if kind else []
    return " & ".join([*kinds, *(f"'{word}':*" if len(word) > 1 else f"'{word}'" for word in words)])


# Made anew, and what should be in it


def texts_to_be(session: Session, kind: str) -> Iterator[tuple[int, str]]:
    """Yield the id and text of each row of a kind that says something, by id."""
    table = Base.metadata.tables[kind]
    wanted = select(table.c.id, *(table.c[name] for name in SAYS[kind])).order_by(table.c.id)
    for row in session.connection().execute(wanted.execution_options(yield_per=AT_ONCE)):
        said = said_of(kind, dict(row._mapping))
        if said:
            yield row.id, said


def make_index_anew(session: Session) -> int:
    """Write every text afresh and make the index again from them; returns how many rows are found by it."""
    connection, written = session.connection(), 0
    on_file = _on_file(connection)
    for statement in _TAKEN_DOWN_ON_FILE if on_file else _TAKEN_DOWN_ON_SERVER:
        connection.exec_driver_sql(statement)
    connection.execute(delete(SearchedText))
    for kind in SAYS:
        rows = ({"row_id": row_id, "kind": kind, "said": said} for row_id, said in texts_to_be(session, kind))
        for some in _batches(rows):
            connection.execute(insert(SearchedText), some)
            written += len(some)
    make_index(connection)
    if on_file:
        connection.exec_driver_sql(f"INSERT INTO {INDEX}({INDEX}) VALUES ('rebuild')")
    return written


def _batches(rows: Iterable[dict[str, Any]]) -> Iterator[list[dict[str, Any]]]:
    coming = iter(rows)
    while some := list(islice(coming, AT_ONCE)):
        yield some


def _on_file(connection: Connection) -> bool:
    return connection.dialect.name == "sqlite"
