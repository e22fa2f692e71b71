"""Where counting is done at the table, and pieces that came from another container."""

from sqlalchemy import select

from findsdesk.desk.counting import count_again, log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.moving import take_out
from findsdesk.desk.pieces import lift_pieces
from findsdesk.desk.sorting import (
    add_group,
    answer_entry,
    begin_sorting,
    count_at_sorting,
    explain,
    remove_group,
    settle,
    table_of,
)
from findsdesk.desk.washing import dip_and_look
from findsdesk.domain.balance import Entry, Ledger
from findsdesk.domain.standings import Standing
from findsdesk.store.models import Container, Part
from tests.desk.at_the_table import dry_container, prove_totals, refused
from tests.yard import DRY, put_container, with_settings


def places_of(desk: Desk, code: str) -> list[tuple[str, str]]:
    with desk.reading() as reading:
        rows = reading.session.execute(select(Part).join(Container).where(Container.code == code)).scalars()
        return [(part.place_kind, part.place) for part in rows]


def test_where_counting_is_done_at_the_table_the_groups_become_the_count(desk: Desk) -> None:
    with_settings(desk, count_at_wash=False)
    code = put_container(desk, 131, steps=DRY)
    begin_sorting(desk, code)
    assert not table_of(desk, code).counted
    with refused(desk, "nothing_sorted"):
        settle(desk, code)
    add_group(desk, code, ware="QRS", part="rim", pieces=11)
    explain(desk, code, Entry.FOUND_MORE, pieces=2)
    explain(desk, code, Entry.NOT_A_SHERD, pieces=1)
    settled = settle(desk, code)
    assert settled.ledger == Ledger(counted=10, found_more=2, kept=11, not_a_sherd=1)
    table = table_of(desk, code)
    assert (table.counted, table.counts_at_wash, table.ledger) == (True, False, settled.ledger)
    prove_totals(desk)


def test_a_count_at_the_table_is_written_once(desk: Desk) -> None:
    with_settings(desk, count_at_wash=False)
    code = put_container(desk, 131, steps=DRY)
    assert count_at_sorting(desk, code, pieces=12, tenths=800).ledger == Ledger(counted=12)
    with refused(desk, "already_counted"):
        count_at_sorting(desk, code, pieces=12)
    with refused(desk, "pieces_out_of_range"):
        count_at_sorting(desk, code, pieces=-1)
    empty = put_container(desk, 132, steps=DRY)
    assert count_at_sorting(desk, empty, pieces=0).standing is Standing.EMPTY
    assert places_of(desk, empty) == [("gone", "")]


def test_what_was_never_counted_does_not_settle_where_counting_is_done_at_the_wash(desk: Desk) -> None:
    code = put_container(desk, 131, steps=DRY)
    add_group(desk, code, ware="QRS", part="rim", pieces=11)
    with refused(desk, "not_counted_yet"):
        settle(desk, code)
    count_at_sorting(desk, code, pieces=11)
    assert settle(desk, code).standing is Standing.SETTLED


def test_pieces_that_came_from_another_container_are_not_counted_twice(desk: Desk) -> None:
    """Seven pieces of 140 get a tag of their own, 133 are left; washed and counted they are still seven."""
    code = dry_container(desk, 131, 140)
    taken = take_out(desk, code, pieces=7, material="pottery")
    dip_and_look(desk, taken.tag.code)
    log_count(desk, taken.tag.code, pieces=7)
    assert table_of(desk, taken.tag.code).ledger.expected == 7
    assert table_of(desk, code).ledger.unsorted == taken.left == 133
    prove_totals(desk)


def test_a_container_that_holds_sorted_sherds_is_not_counted_empty(desk: Desk) -> None:
    """Counted as 0 it would be empty after washing, with its rows out of sight and no key to bring them back."""
    code = dry_container(desk, 131, 12)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=1)
    body = add_group(desk, code, ware="QRS", part="body", pieces=5)
    with refused(desk, "sorted_stand") as caught:
        count_again(desk, code, pieces=0)
    assert caught.value.in_words() == "6 sherds are sorted in rows. Count what is here, or take the rows off first."
    lift_pieces(desk, row.id, seen=row.version)
    with refused(desk, "sorted_stand") as caught:
        count_again(desk, code, pieces=0)
    assert caught.value.in_words().startswith("5 sherds are sorted in rows, 1 is lifted out.")
    assert count_again(desk, code, pieces=6).standing is Standing.SORTING
    remove_group(desk, body.id, seen=body.version)
    with refused(desk, "sorted_stand") as caught:
        count_again(desk, code, pieces=0)
    assert caught.value.in_words() == "1 sherd is lifted out. Count what is here, or lay back what was lifted first."


def test_a_container_whose_pieces_are_explained_is_not_counted_empty(desk: Desk) -> None:
    code = dry_container(desk, 131, 3)
    begin_sorting(desk, code)
    entry = explain(desk, code, Entry.NOT_A_SHERD, pieces=3, why="pebble")
    with refused(desk, "explained_stand"):
        count_again(desk, code, pieces=0)
    answer_entry(desk, entry.entry_id, why="typed wrongly")
    assert count_again(desk, code, pieces=0, why="pebbles").standing is Standing.EMPTY


def test_what_was_never_counted_is_not_counted_empty_beside_its_rows(desk: Desk) -> None:
    code = put_container(desk, 131, steps=DRY)
    add_group(desk, code, ware="QRS", part="rim", pieces=1)
    for count in (count_at_sorting, log_count):
        with refused(desk, "sorted_stand") as caught:
            count(desk, code, pieces=0)
        assert caught.value.in_words().startswith("1 sherd is sorted in rows.")
