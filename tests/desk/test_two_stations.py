"""Two stations on one server at the same moment: the second waits for the first, and never undoes what it proved.

They need a server (FINDSDESK_TEST_SERVER); in a file one program alone writes.
"""

from __future__ import annotations

import os
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from sqlalchemy import event

from findsdesk.desk.counting import count_again, log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.discards import call_back, carried_away, make_list, sign_list, take_off
from findsdesk.desk.explaining import explain
from findsdesk.desk.listed_containers import list_container
from findsdesk.desk.moving import take_out
from findsdesk.desk.opening import open_store
from findsdesk.desk.pieces import lift_pieces
from findsdesk.desk.pins import check_pin, set_pin
from findsdesk.desk.proving import prove
from findsdesk.desk.retention import add_rule
from findsdesk.desk.shares import draw_share
from findsdesk.desk.sorting import add_group, begin_sorting, change_group, remove_group, reopen, settle
from findsdesk.desk.sorting_table import table_of
from findsdesk.desk.tags import issue_tags
from findsdesk.desk.washing import mark_dry
from findsdesk.domain.balance import Decision, Entry
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.standings import Standing
from tests.yard import LOOKED_AT, Clock, advance, new_yard, put_container, put_settled, sitting, standing_of

pytestmark = pytest.mark.skipif(
    not os.environ.get("FINDSDESK_TEST_SERVER"), reason="two stations write only where there is a server"
)
A_MOMENT_S = 1.0


@pytest.fixture
def stations(tmp_path: Path) -> Iterator[tuple[Desk, Desk]]:
    first = new_yard(tmp_path)
    where = first.store.engine.url.render_as_string(hide_password=False).replace("postgresql+psycopg", "postgresql")
    second = open_store(f"{where}?schema={first.store.schema}", station="second", clock=Clock(first.clock()))
    yield first, second
    second.close()
    first.close()


def while_writing(first: Desk, one: Callable[[], object], other: Callable[[], object]) -> BaseException | None:
    """Do one deed, and the other while the first has done everything but its commit; returns what stopped the other."""
    stopped: list[BaseException] = []

    def run() -> None:
        try:
            other()
        except BaseException as fault:
            stopped.append(fault)

    thread = threading.Thread(target=run)

    def begin(_connection: object) -> None:
        if not thread.ident:
            thread.start()
            thread.join(A_MOMENT_S)

    event.listen(first.store.engine, "commit", begin)
    try:
        one()
    finally:
        event.remove(first.store.engine, "commit", begin)
    thread.join(30)
    assert not thread.is_alive()
    return stopped[0] if stopped else None


def at_the_table(desk: Desk, number: int, pieces: int) -> str:
    code = put_container(desk, number, steps=LOOKED_AT)
    log_count(desk, code, pieces=pieces)
    mark_dry(desk, [code])
    begin_sorting(desk, code, sure=True)
    return code


def test_no_row_is_written_into_what_is_being_settled(stations: tuple[Desk, Desk]) -> None:
    first, second = stations
    code = at_the_table(first, 131, 10)
    add_group(first, code, ware="QRS", part="rim", pieces=10)
    stopped = while_writing(
        first, lambda: settle(first, code), lambda: add_group(second, code, ware="MBU", part="body", pieces=3)
    )
    assert isinstance(stopped, Refusal)
    assert stopped.code == "already_settled"
    assert standing_of(first, code) is Standing.SETTLED
    assert table_of(first, code).ledger.balances


def test_no_row_is_removed_from_what_is_being_settled(stations: tuple[Desk, Desk]) -> None:
    first, second = stations
    code = at_the_table(first, 131, 10)
    row = add_group(first, code, ware="QRS", part="rim", pieces=10)
    stopped = while_writing(first, lambda: settle(first, code), lambda: remove_group(second, row.id, seen=row.version))
    assert isinstance(stopped, Refusal)
    assert table_of(first, code).ledger.balances


def test_what_is_settled_while_a_row_is_written_does_not_settle_unbalanced(stations: tuple[Desk, Desk]) -> None:
    first, second = stations
    code = at_the_table(first, 131, 10)
    add_group(first, code, ware="QRS", part="rim", pieces=10)
    stopped = while_writing(
        first, lambda: add_group(first, code, ware="MBU", part="body", pieces=3), lambda: settle(second, code)
    )
    assert isinstance(stopped, Refusal)
    assert stopped.code == "over"


def test_two_do_not_write_off_more_than_the_share_together(stations: tuple[Desk, Desk]) -> None:
    first, second = stations
    code = at_the_table(first, 131, 100)
    volunteers = [desk.by(desk.person.__class__(desk.person.id, desk.person.name, None)) for desk in (first, second)]
    stopped = while_writing(
        first,
        lambda: explain(volunteers[0], code, Entry.NOT_FOUND, pieces=2),
        lambda: explain(volunteers[1], code, Entry.NOT_FOUND, pieces=2),
    )
    assert isinstance(stopped, Refusal)
    assert stopped.code == "lead_needed"


def test_two_do_not_take_out_more_than_there_is(stations: tuple[Desk, Desk]) -> None:
    first, second = stations
    code = put_container(first, 131, steps=LOOKED_AT)
    log_count(first, code, pieces=10)
    stopped = while_writing(
        first,
        lambda: take_out(first, code, pieces=7, material="bone"),
        lambda: take_out(second, code, pieces=7, material="bone"),
    )
    assert isinstance(stopped, Refusal)
    assert stopped.code == "more_than_there"
    assert prove(first).findings == ()


def test_two_that_type_one_number_are_told_so(stations: tuple[Desk, Desk]) -> None:
    first, second = stations
    stopped = while_writing(
        first,
        lambda: list_container(first, "131", deposit="2017"),
        lambda: list_container(second, "131", deposit="2019"),
    )
    assert isinstance(stopped, Refusal)


def test_a_list_and_a_block_of_tags_do_not_wait_for_each_other_in_a_circle(stations: tuple[Desk, Desk]) -> None:
    first, second = stations
    issue_tags(first, how_many=3)
    for _turn in range(5):
        threads = [
            threading.Thread(target=issue_tags, args=(first,), kwargs={"how_many": 40}),
            threading.Thread(target=lambda: list_many(second)),
        ]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    numbers = issue_tags(first, how_many=1).tags[0].number
    assert int(numbers) >= 200


def list_many(desk: Desk) -> None:
    for number in range(1000, 1010):
        try:
            list_container(desk, str(number), deposit="2017", sure=True)
        except Refusal:
            continue


def test_two_that_count_again_at_once_do_not_add_their_differences(stations: tuple[Desk, Desk]) -> None:
    first, second = stations
    code = at_the_table(first, 131, 12)
    while_writing(first, lambda: count_again(first, code, pieces=10), lambda: count_again(second, code, pieces=15))
    assert table_of(first, code).ledger.counted == 15


def test_the_newest_count_is_the_one_made_last_at_whatever_station(stations: tuple[Desk, Desk]) -> None:
    first, second = stations
    code = put_container(second, 131, steps=LOOKED_AT)
    log_count(second, code, pieces=12)
    for desk in stations:
        advance(desk, hours=1)
    assert count_again(first, code, pieces=10).before == 12
    for desk in stations:
        advance(desk, hours=1)
    assert count_again(second, code, pieces=11).before == 10


def test_two_do_not_put_the_same_sherds_on_two_lists(stations: tuple[Desk, Desk]) -> None:
    first, second = stations
    put_settled(first, 131)
    stopped = while_writing(first, lambda: make_list(first), lambda: make_list(second))
    assert isinstance(stopped, Refusal)
    assert stopped.code == "nothing_to_discard"
    assert prove(first).findings == ()


def test_what_is_being_listed_is_not_opened_again(stations: tuple[Desk, Desk]) -> None:
    first, second = stations
    code = put_settled(first, 131)
    stopped = while_writing(first, lambda: make_list(first), lambda: reopen(second, code, reason="a join"))
    assert isinstance(stopped, Refusal)
    assert stopped.code == "container_on_list"
    take_off(first, 1, why="joins")
    reopen(first, code, reason="a join")
    row = table_of(first, code).groups[0]
    change_group(first, row.id, seen=row.version, decision=Decision.DISCARD, reason="modern")
    settle(first, code)
    stopped = while_writing(first, lambda: reopen(first, code, reason="no"), lambda: make_list(second))
    assert isinstance(stopped, Refusal)
    assert stopped.code == "nothing_to_discard"


def test_nothing_is_lifted_out_of_what_is_being_listed(stations: tuple[Desk, Desk]) -> None:
    first, second = stations
    code = put_settled(first, 131)
    row = table_of(first, code).groups[1]
    stopped = while_writing(
        first, lambda: make_list(first), lambda: lift_pieces(second, row.id, seen=row.version, how_many=2)
    )
    assert isinstance(stopped, Refusal)
    assert stopped.code == "on_discard_list"
    assert prove(first).findings == ()


def test_what_is_being_carried_away_is_not_called_back(stations: tuple[Desk, Desk]) -> None:
    first, second = stations
    put_settled(first, 131)
    set_pin(first, "Ilo", pin="2406")
    make_list(sitting(first, "Oren"))
    sign_list(first, 1, pin="2406")
    stopped = while_writing(
        first,
        lambda: carried_away(first, 1, where="pit", how="barrow", marker="tile"),
        lambda: call_back(second, 1, why="joins"),
    )
    assert isinstance(stopped, Refusal)
    assert stopped.code == "carried_off"
    assert prove(first).findings == ()


def test_two_shares_of_one_deposit_are_drawn_one_after_the_other(stations: tuple[Desk, Desk]) -> None:
    first, second = stations
    add_rule(first, "Body", decision=Decision.DISCARD, reason="modern", parts=["body"], one_in=10)
    rows = [
        add_group(first, at_the_table(first, number, 12), ware="MBU", part="body", pieces=12) for number in (131, 132)
    ]
    stopped = while_writing(
        first,
        lambda: draw_share(first, rows[0].id, seen=rows[0].version, start=4),
        lambda: draw_share(second, rows[1].id, seen=rows[1].version, start=4),
    )
    assert stopped is None
    other = add_group(first, at_the_table(first, 133, 12), ware="MBU", part="body", pieces=12)
    # 24 sherds in one row from the 4th on: 4, 14, 24; the 34th is the 10th of the next.
    assert draw_share(first, other.id, seen=other.version).share.first == 10


def test_wrong_pins_at_two_stations_at_once_are_both_counted(stations: tuple[Desk, Desk]) -> None:
    first, second = stations
    set_pin(first, "Ilo", pin="2406")
    for _turn in range(3):
        with pytest.raises(Refusal):
            check_pin(first, first.person, "0000")
    stopped = while_writing(first, lambda: wrong_pin(first), lambda: check_pin(second, second.person, "0000"))
    assert isinstance(stopped, Refusal)
    with pytest.raises(Refusal) as caught:
        check_pin(first, first.person, "2406")
    assert caught.value.code == "pin_waits"


def wrong_pin(desk: Desk) -> None:
    with pytest.raises(Refusal):
        check_pin(desk, desk.person, "0000")
