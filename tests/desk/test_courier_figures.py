"""Figures said in several stores: none counted beside sorted sherds, decisions taken twice, three stores in a round."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from sqlalchemy import select, text

from findsdesk.desk.clash_words import side_in_words, way_in_words, what_in_words
from findsdesk.desk.clashes import ListedClash, clashes, clashes_waiting, decide_clash
from findsdesk.desk.correcting import correct_container
from findsdesk.desk.counting import count_again, log_count
from findsdesk.desk.courier import make_station_store
from findsdesk.desk.deposits import change_deposit
from findsdesk.desk.desk import Desk
from findsdesk.desk.explaining import explain
from findsdesk.desk.finding import container_of
from findsdesk.desk.ledgers import count_that_stands
from findsdesk.desk.opening import open_store
from findsdesk.desk.proving import FindingKind, prove
from findsdesk.desk.sherd_groups import add_group, remove_group
from findsdesk.desk.sorting import settle
from findsdesk.domain.balance import Entry
from findsdesk.store.models import BalanceTotal, Container, SherdGroup
from tests.desk.at_the_table import dry_container
from tests.desk.two_stores import TRENCH, alike, both_ways, brought, parted, records_of, refused, sound, two_waiting
from tests.yard import advance, put_containers

TENT = "tent laptop"


def dry(desk: Desk) -> None:
    dry_container(desk, 131, 30)


def figures(desk: Desk, number: str = "131") -> tuple[int, int]:
    """Return what came in and what is sorted of a container."""
    with desk.reading() as reading:
        total = reading.session.execute(
            select(BalanceTotal).join(Container).where(Container.number == number)
        ).scalar_one()
        return total.counted, total.kept


def stands_as(desk: Desk, number: str = "131") -> tuple[str, int | None]:
    """Return where a container stands, and what its newest count says."""
    with desk.reading() as reading:
        container = container_of(reading.session, desk, number)
        return container.standing, count_that_stands(reading.session, container.id)


def emptied(desk: Desk) -> ListedClash:
    (one,) = (one for one in clashes(desk) if one.kind != "part")
    return one


def in_words(one: ListedClash) -> str:
    return " | ".join([what_in_words(one), way_in_words(one), side_in_words(one.one), side_in_words(one.other)])


# --- a count of none beside sorted sherds -------------------------------------------------------------------------


@pytest.mark.parametrize("sorted_first", [True, False])
def test_none_counted_in_one_store_and_sorted_in_the_other(tmp_path: Path, *, sorted_first: bool) -> None:
    with parted(tmp_path, dry) as (home, trench):
        if sorted_first:
            add_group(home, "131", ware="QRS", part="rim", pieces=10)
            count_again(trench, "131", pieces=0)
        else:
            count_again(trench, "131", pieces=0)
            add_group(home, "131", ware="QRS", part="rim", pieces=10)
        both_ways(home, trench, tmp_path)
        alike(home, trench)
        # What lies in rows stands until somebody decides: it is seen, and nothing of it is lost.
        assert (figures(home), stands_as(home)) == ((30, 10), ("sorting", 30))
        one = emptied(home)
        assert (one.what, one.name, one.choices, one.stands) == ("emptied", "131", ("first", TRENCH), "first")
        assert "10 sorted" in in_words(one)
        assert "nothing left" in in_words(one)
        # As within one store: none is not said beside what lies in rows.
        refused("sorted_stand", lambda: decide_clash(home, one.id, keep=TRENCH))
        decide_clash(home, one.id, keep="first")
        both_ways(home, trench, tmp_path)
        alike(home, trench)
        assert {one.kind for one in clashes(trench)} <= {"part"}, "where it lies is listed by itself"
        with home.reading() as reading:
            group = reading.session.execute(select(SherdGroup.id)).scalar_one()
        remove_group(home, group, seen=1)
        advance(home, hours=1)
        decide_clash(home, one.id, keep=TRENCH)
        both_ways(home, trench, tmp_path)
        alike(home, trench)
        assert (figures(trench), stands_as(trench)) == ((0, 0), ("empty", 0))


def test_what_is_left_is_counted_of_the_material_it_is_now(tmp_path: Path) -> None:
    def corrected(desk: Desk) -> None:
        dry(desk)
        correct_container(desk, "131", material="bone", reason="misheard")
        correct_container(desk, "131", material="pottery", reason="it was pottery")

    with parted(tmp_path, corrected) as (home, trench):
        add_group(home, "131", ware="QRS", part="rim", pieces=10)
        count_again(trench, "131", pieces=0)
        both_ways(home, trench, tmp_path)
        alike(home, trench)
        assert stands_as(home) == stands_as(trench) == ("sorting", 30)


def test_none_counted_beside_an_explanation_and_decided_in_both(tmp_path: Path) -> None:
    with parted(tmp_path, dry) as (home, trench):
        add_group(home, "131", ware="QRS", part="rim", pieces=28)
        explain(home, "131", Entry.NOT_FOUND, pieces=2, why="swept off the table")
        settle(home, "131")
        count_again(trench, "131", pieces=0)
        brought(trench, home, tmp_path)
        brought(home, trench, tmp_path)
        alike(home, trench)
        assert (figures(trench), stands_as(trench)[0]) == ((30, 28), "settled")
        one = emptied(home)
        for desk in (home, trench):
            decide_clash(desk, one.id, keep="first")
        both_ways(home, trench, tmp_path)
        alike(home, trench)
        assert {one.kind for one in clashes(home)} <= {"part"}


def test_a_store_in_which_none_stands_beside_sorted_sherds_is_named(tmp_path: Path) -> None:
    with parted(tmp_path, dry) as (home, _trench):
        add_group(home, "131", ware="QRS", part="rim", pieces=10)
        with home.store.writing() as session:
            session.execute(text("UPDATE container SET standing = 'empty'"))
        found = {one.kind: one.in_words(home.terms) for one in prove(home).findings}
        assert "131 counts as empty after washing, and 10" in found[FindingKind.EMPTY]


# --- one clash decided in both stores -----------------------------------------------------------------------------


@pytest.mark.parametrize(("at_home", "in_the_trench"), [("first", TRENCH), ("both", "first")])
def test_figures_decided_in_both_stores_are_right_at_once(tmp_path: Path, at_home: str, in_the_trench: str) -> None:
    says = {"first": 40, TRENCH: 42, "both": 82}
    with parted(tmp_path, two_waiting) as (home, trench):
        log_count(home, "131", pieces=40)
        log_count(trench, "131", pieces=42)
        both_ways(home, trench, tmp_path)
        (one,) = clashes(home)
        decide_clash(home, one.id, keep=at_home)
        decide_clash(trench, one.id, keep=in_the_trench)
        both_ways(home, trench, tmp_path)
        alike(home, trench)
        assert clashes(home) == ()
        (decided,) = clashes(home, decided=True)
        assert figures(home)[0] == figures(trench)[0] == says[decided.choice]
        # Decided anew in both, twice in the one: the figures still are what was decided.
        for keep in ("first", TRENCH, "both", "first"):
            decide_clash(trench, one.id, keep=keep)
            assert figures(trench)[0] == says[keep]
        decide_clash(home, one.id, keep=TRENCH)
        both_ways(home, trench, tmp_path)
        alike(home, trench)
        assert clashes(home) == ()
        (decided,) = clashes(trench, decided=True)
        assert figures(home)[0] == says[decided.choice]


# --- three stores -------------------------------------------------------------------------------------------------


@contextmanager
def three(folder: Path) -> Iterator[tuple[Desk, Desk, Desk]]:
    """Give the dig house, the laptop in the trench and one in the tent, whose stores were made from the first."""

    def furnish(desk: Desk) -> None:
        put_containers(desk, ("140",))
        two_waiting(desk)

    with parted(folder, furnish) as (home, trench):
        made = make_station_store(home, station=TENT, into=folder / "away" / "tent", how_many=50)
        tent = open_store(made.store, station=TENT, clock=home.clock)
        try:
            yield home, trench, tent
        finally:
            tent.let_go()


def round_trip(desks: tuple[Desk, Desk, Desk], folder: Path) -> None:
    """Carry the files once round and once more, until all have heard of all."""
    for _turn in range(2):
        for place, desk in enumerate(desks):
            brought(desk, desks[(place + 1) % 3], folder)


def all_alike(desks: tuple[Desk, Desk, Desk]) -> None:
    sound(*desks)
    first, *others = [records_of(desk) for desk in desks]
    for other in others:
        assert {name for name, rows in first.items() if rows != other[name]} == set()


def test_three_stores_in_a_round_with_a_clash_that_two_of_them_decide(tmp_path: Path) -> None:
    with three(tmp_path) as desks:
        home, trench, tent = desks
        log_count(trench, "131", pieces=40)
        log_count(tent, "131", pieces=42)
        log_count(home, "132", pieces=21)
        change_deposit(tent, "2017", seen=1, description="ash")
        round_trip(desks, tmp_path)
        all_alike(desks)
        assert stands_as(tent, "132") == stands_as(trench, "132") == ("drying", 21)
        (one,) = clashes(home)
        assert one.choices == (TRENCH, TENT, "both")
        decide_clash(tent, one.id, keep=TENT)
        decide_clash(home, one.id, keep=TRENCH)
        round_trip(desks, tmp_path)
        all_alike(desks)
        assert [clashes_waiting(desk) for desk in desks] == [0, 0, 0]
        (decided,) = clashes(trench, decided=True)
        assert {figures(desk)[0] for desk in desks} == {{TRENCH: 40, TENT: 42}[decided.choice]}


def test_three_stores_that_all_count_one_container(tmp_path: Path) -> None:
    with three(tmp_path) as desks:
        home = desks[0]
        for desk, pieces in zip(desks, (40, 41, 42), strict=True):
            log_count(desk, "131", pieces=pieces)
        round_trip(desks, tmp_path)
        all_alike(desks)
        for one in clashes(home):
            decide_clash(home, one.id, keep="first" if "first" in one.choices else TRENCH)
        round_trip(desks, tmp_path)
        all_alike(desks)
        assert [clashes_waiting(desk) for desk in desks] == [0, 0, 0]
        assert figures(home)[0] == 40
