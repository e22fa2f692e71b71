"""Sessions: no update is lost, what fails leaves nothing, a reader sees one moment and writes nothing."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from sqlalchemy import select, update
from sqlalchemy.exc import IntegrityError

from findsdesk.domain.refusals import Refusal, StoreFault
from findsdesk.store.models import NumberBlock, NumberSeries, Person
from findsdesk.store.schema import bring_up
from findsdesk.store.session import Store

THREADS, ROUNDS = 4, 150


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """Return a new store with one number series in it."""
    made = Store(tmp_path / "made")
    bring_up(made)
    with made.writing() as session:
        session.add(NumberSeries(name="turns", next=0))
    yield made
    made.close()


def turns(store: Store) -> int:
    with store.reading() as session:
        return session.get_one(NumberSeries, "turns").next


def test_no_update_is_lost_when_several_threads_read_and_then_write(store: Store) -> None:
    """The gate against SQLAlchemy's own way on SQLite, which loses most of these without a word."""

    def work(_thread: int) -> None:
        for _round in range(ROUNDS):
            with store.writing() as session:
                row = session.get_one(NumberSeries, "turns")
                row.next = row.next + 1

    with ThreadPoolExecutor(THREADS) as pool:
        list(pool.map(work, range(THREADS)))
    assert turns(store) == THREADS * ROUNDS


def test_an_error_leaves_the_store_as_it_was(store: Store) -> None:
    def half_a_deed() -> None:
        with store.writing() as session:
            session.execute(update(NumberSeries).values(next=7))
            session.flush()
            raise RuntimeError("the cable")

    with pytest.raises(RuntimeError, match="the cable"):
        half_a_deed()
    assert turns(store) == 0


def test_a_reader_sees_one_moment(store: Store) -> None:
    with store.reading() as reading:
        assert reading.get_one(NumberSeries, "turns").next == 0
        with store.writing() as writing:
            writing.get_one(NumberSeries, "turns").next = 5
        reading.expire_all()
        assert reading.get_one(NumberSeries, "turns").next == 0
    assert turns(store) == 5


def test_a_reading_session_writes_nothing(store: Store) -> None:
    def write_while_reading() -> None:
        with store.reading() as session:
            session.execute(update(NumberSeries).values(next=9))

    with pytest.raises(StoreFault) as fault:
        write_while_reading()
    assert fault.value.code == "read_only"
    assert turns(store) == 0


def test_a_store_open_for_reading_refuses_to_write(store: Store) -> None:
    assert store.path is not None
    looking = Store(store.path, read_only=True)
    assert turns(looking) == 0
    with pytest.raises(Refusal, match="read_only"), looking.writing():
        pass
    looking.close()


def test_a_reference_to_nothing_is_not_written(store: Store) -> None:
    def wrong() -> None:
        with store.writing() as session:
            session.add(NumberBlock(id=1, series="turns", station_id=77, first=1, next=1, last=9))

    with pytest.raises(IntegrityError):
        wrong()
    with store.reading() as session:
        assert session.execute(select(NumberBlock)).first() is None


def test_sqlite_keeps_what_is_written_through_a_cut(store: Store) -> None:
    """The durability SQLite's documentation asks for: a write-ahead log that is synchronised at each commit."""
    with store.writing() as session:
        pragma = {
            name: session.connection().exec_driver_sql(f"PRAGMA {name}").scalar()
            for name in ("foreign_keys", "synchronous", "journal_mode")
        }
    assert pragma == {"foreign_keys": 1, "synchronous": 2, "journal_mode": "wal"}  # 2 is FULL


def test_a_row_changed_by_somebody_else_meanwhile_is_refused(store: Store) -> None:
    with store.writing() as session:
        session.add(Person(id=1, name="Lio", role="volunteer", active=True))

    def late_change() -> None:
        with store.writing() as session:
            row = session.execute(select(Person)).scalar_one()
            session.connection().exec_driver_sql("UPDATE person SET version = version + 1")
            row.name = "Lio M."
            session.flush()

    with pytest.raises(Refusal, match="changed_meanwhile"):
        late_change()
