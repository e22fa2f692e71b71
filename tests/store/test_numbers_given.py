"""Numbers that are given once: row ids across rollbacks and stations, series, blocks."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from findsdesk.store.models import Station
from findsdesk.store.numbers import ROWS_AT_ONCE, STATION_SHIFT, RowIds, raise_series, set_block_aside, take_numbers
from findsdesk.store.schema import bring_up
from findsdesk.store.session import Store


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """Return a new store with two stations."""
    made = Store(tmp_path / "made")
    bring_up(made)
    with made.writing() as session:
        session.add_all(
            [Station(id=number, name=name, running=0, head="", next_row=1) for number, name in ((1, "a"), (2, "b"))]
        )
    yield made
    made.close()


def take(store: Store, series: str, how_many: int = 1, station_id: int = 1) -> list[int]:
    with store.writing() as session:
        return list(take_numbers(session, series, how_many, station_id=station_id))


def test_row_ids_of_two_stations_never_meet(store: Store) -> None:
    one, other = RowIds(1), RowIds(2)
    with store.writing() as session:
        mine = [one.take(session) for _ in range(3)]
        theirs = [other.take(session) for _ in range(3)]
    assert mine == [(1 << STATION_SHIFT) + number for number in (1, 2, 3)]
    assert theirs == [(2 << STATION_SHIFT) + number for number in (1, 2, 3)]
    assert max(theirs) < 2**63


def test_no_row_id_is_given_twice_across_a_rollback(store: Store) -> None:
    ids = RowIds(1)
    given: list[int] = []

    def fail() -> None:
        with store.writing() as session:
            given.append(ids.take(session))
            raise RuntimeError

    with pytest.raises(RuntimeError):
        fail()
    ids.forget()
    with store.writing() as session:
        given_later = [ids.take(session) for _ in range(ROWS_AT_ONCE + 5)]
    again = RowIds(1)
    with store.writing() as session:
        after_a_restart = again.take(session)
    assert len(set(given_later)) == len(given_later)
    assert after_a_restart not in given_later
    with store.reading() as session:
        station = session.get_one(Station, 1)
        assert station.next_row + (1 << STATION_SHIFT) > max(given_later)


def test_a_series_gives_its_numbers_in_order_and_once(store: Store) -> None:
    assert take(store, "x", 3) == [1, 2, 3]
    assert take(store, "x") == [4]
    assert take(store, "y") == [1]


def test_numbers_of_a_deed_that_failed_are_given_again(store: Store) -> None:
    def fail() -> None:
        with store.writing() as session:
            take_numbers(session, "x", 5, station_id=1)
            raise RuntimeError

    with pytest.raises(RuntimeError):
        fail()
    assert take(store, "x") == [1]


def test_a_series_goes_on_after_a_number_that_came_from_elsewhere(store: Store) -> None:
    with store.writing() as session:
        raise_series(session, "x", 130)
    assert take(store, "x") == [131]
    with store.writing() as session:
        raise_series(session, "x", 20)
    assert take(store, "x") == [132]


def test_a_block_belongs_to_its_station_until_it_is_used_up(store: Store) -> None:
    with store.writing() as session:
        block = set_block_aside(session, "x", 3, station_id=2, row_id=9)
        assert (block.first, block.last) == (1, 3)
    assert take(store, "x", 2, station_id=1) == [4, 5]
    assert take(store, "x", 2, station_id=2) == [1, 2]
    assert take(store, "x", 2, station_id=2) == [6, 7], "what is left of the block is too short for two"
    assert take(store, "x", 1, station_id=2) == [3]
    assert take(store, "x", 1, station_id=2) == [8]


@pytest.mark.parametrize("number", [1_000_000_000, 3_000_000_000, 10**20])
def test_a_barcode_is_not_the_last_number_of_a_series(store: Store, number: int) -> None:
    """OWN: no database counts on after twenty digits, and nobody writes ten on a tag."""
    with store.writing() as session:
        raise_series(session, "tags", 41)
        raise_series(session, "tags", number)
    assert take(store, "tags") == [42]
