"""Proving the full-text index: each row's words are those it says now, and the index holds them and nothing else."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.store.batches import AT_ONCE
from findsdesk.store.models import SearchedText
from findsdesk.store.search_index import INDEX, SAYS, row_at, texts_to_be


@dataclass(frozen=True, slots=True)
class WrongText:
    """A row not found by its words: ``why`` is 'missing', 'stale' or 'left over'; '' is the index itself."""

    why: str
    kind: str = ""
    row_id: int = 0


def wrong_texts(session: Session) -> Iterator[WrongText]:
    """Yield each row that is found by other words than it says; last, whether the index holds other words than all."""
    kinds = sorted(SAYS, key=lambda kind: SAYS[kind][0])
    to_be = chain.from_iterable(texts_to_be(session, kind) for kind in kinds)
    kept = _kept(session)
    one, other = next(to_be, None), next(kept, None)
    while one is not None or other is not None:
        if other is None or (one is not None and one[0] < other[0]):
            assert one is not None
            yield WrongText("missing", *row_at(one[0]))
            one = next(to_be, None)
        elif one is None or other[0] < one[0]:
            yield WrongText("left over", *row_at(other[0]))
            other = next(kept, None)
        else:
            if one != other:
                yield WrongText("stale", *row_at(one[0]))
            one, other = next(to_be, None), next(kept, None)
    if session.get_bind().dialect.name == "sqlite" and not _index_holds_the_texts(session):
        yield WrongText("")


def _kept(session: Session) -> Iterator[tuple[int, str]]:
    wanted = select(SearchedText.place, SearchedText.said).order_by(SearchedText.place)
    for row in session.connection().execute(wanted.execution_options(yield_per=AT_ONCE)):
        yield row.place, row.said


_OTHER_ROWS = (
    f"SELECT EXISTS (SELECT 1 FROM searched_text WHERE place NOT IN (SELECT id FROM {INDEX}_docsize)) "
    f"OR EXISTS (SELECT 1 FROM {INDEX}_docsize WHERE id NOT IN (SELECT place FROM searched_text))"
)
_WORDS_OF_THE_TEXTS = (
    "SELECT coalesce(sum(length(said) - length(replace(said, ' ', '')) + 1), 0), "
    "coalesce(sum(length(replace(said, ' ', ''))), 0) FROM searched_text"
)
_WORDS_OF_THE_INDEX = "SELECT coalesce(sum(doc), 0), coalesce(sum(doc * length(term)), 0) FROM temp.words_of_the_index"


def _index_holds_the_texts(session: Session) -> bool:
    """Compare rows, words and letters: FTS5's own check writes to the index, and whoever proves a store only reads."""
    connection = session.connection()
    if connection.exec_driver_sql(_OTHER_ROWS).scalar():
        return False
    connection.exec_driver_sql(
        f"CREATE VIRTUAL TABLE IF NOT EXISTS temp.words_of_the_index USING fts5vocab('main', '{INDEX}', 'row')"
    )
    texts = connection.exec_driver_sql(_WORDS_OF_THE_TEXTS).one()
    return tuple(connection.exec_driver_sql(_WORDS_OF_THE_INDEX).one()) == tuple(texts)
