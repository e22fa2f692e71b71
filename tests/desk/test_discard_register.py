"""The registers of discards and of what was left in the trench: filtered, in words, as a file, and on paper."""

from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest
from python_calamine import CalamineWorkbook

from findsdesk.desk.desk import Desk
from findsdesk.desk.discards import call_back, carried_away, make_list, sign_list, take_off
from findsdesk.desk.left_in_trench import answer_left, left_in_trench
from findsdesk.desk.pins import set_pin
from findsdesk.desk.register_files import print_register, write_register
from findsdesk.desk.registers import Register, RegisterQuery, count, page
from findsdesk.desk.stations import set_numbers_aside
from findsdesk.domain.discards import Stage
from findsdesk.domain.refusals import Refusal
from findsdesk.store.numbers import RowIds
from tests.yard import advance, put_settled, sitting


def filtered(**filters: str) -> RegisterQuery:
    return RegisterQuery(filters=tuple(filters.items()))


@pytest.fixture
def carried(desk: Desk) -> Desk:
    """Return the yard with a first list carried away, one line of it called back before, and a second proposed."""
    put_settled(desk, 131, discarded=10, tenths=1234)
    put_settled(desk, 132, discarded=12, deposit="2019")
    set_pin(desk, "Ilo", pin="2406")
    oren = sitting(desk, "Oren")
    make_list(oren)
    sign_list(oren, 1, signer="Ilo", pin="2406")
    call_back(oren, 1, tags=["132"], why="one joins 87")
    advance(desk, days=3)
    carried_away(sitting(desk, "Tessa"), 1, where="marked pit in A4", how="barrow", marker="dated tile")
    put_settled(desk, 133, discarded=7)
    make_list(oren)
    return desk


def test_each_line_stands_with_the_events_of_its_list(carried: Desk) -> None:
    newest, back, thrown = page(carried, Register.DISCARDS)
    assert (newest.list_number, newest.stage, newest.container, newest.pieces) == (2, Stage.PROPOSED, "133", 7)
    assert (thrown.container, thrown.deposit, thrown.part, thrown.reason) == (
        "131",
        "2017",
        "body",
        "no diagnostic value",
    )
    assert (thrown.made_by, thrown.signed_by, thrown.carried_to) == ("Oren Vade", "Ilo Marr", "marked pit in A4")
    assert (thrown.stage, thrown.marker, thrown.called_back_at) == (Stage.CARRIED, "dated tile", None)
    assert (back.container, back.called_back_by, back.called_back_why) == ("132", "Oren Vade", "one joins 87")


def test_what_was_called_back_was_not_carried_away(carried: Desk) -> None:
    _newest, back, thrown = page(carried, Register.DISCARDS)
    assert (back.signed_by, back.signed_at) == ("Ilo Marr", thrown.signed_at), "it was signed for before"
    assert (back.carried_at, back.carried_to, back.carried_how, back.marker) == (None, "", "", "")


def test_what_was_taken_off_before_the_signature_was_not_signed_for(desk: Desk) -> None:
    for number in (131, 132):
        put_settled(desk, number, discarded=10)
    set_pin(desk, "Ilo", pin="2406")
    oren = sitting(desk, "Oren")
    make_list(oren)
    take_off(oren, 1, tags=["132"], why="one joins 87")
    advance(desk, hours=1)
    sign_list(desk, 1, signer="Ilo", pin="2406")
    rows = page(desk, Register.DISCARDS)
    assert sorted((row.container, row.signed_by, row.signed_at is None) for row in rows) == [
        ("131", "Ilo Marr", False),
        ("132", "", True),
    ]


def test_the_newest_list_stands_first_whichever_station_made_it(desk: Desk) -> None:
    """The ids of one station lie all above those of another: they do not tell which list is the newer one."""
    set_numbers_aside(desk, station="trench laptop", how_many=5)
    put_settled(desk, 131, discarded=10)
    make_list(replace(desk, row_ids=RowIds(desk.station_id + 1)))
    for number in (132, 133):
        advance(desk, hours=1)
        put_settled(desk, number, discarded=3)
        make_list(desk)

    def lists(query: RegisterQuery, first: int = 0) -> list[int]:
        return [row.list_number for row in page(desk, Register.DISCARDS, query, first=first)]

    assert lists(RegisterQuery()) == lists(RegisterQuery(sort="list", descending=True)) == [3, 2, 1]
    assert lists(RegisterQuery(sort="list")) == [1, 2, 3]
    assert lists(RegisterQuery(), first=2) == [1]
    assert lists(filtered(season="2026")) == [3, 2, 1]


def test_the_register_is_narrowed_by_list_stage_and_place(carried: Desk) -> None:
    def containers(**filters: str) -> list[str]:
        return [row.container for row in page(carried, Register.DISCARDS, filtered(**filters))]

    assert containers(list="1") == ["132", "131"]
    assert containers(stage="carried") == ["131"]
    assert containers(stage="called back") == ["132"]
    assert containers(stage="proposed") == ["133"]
    assert containers(stage="signed") == []
    assert containers(deposit="2019") == ["132"]
    assert containers(season="2026", square="A1") == ["133", "131"]
    assert count(carried, Register.DISCARDS, RegisterQuery(text="marl 131")) == 1
    with pytest.raises(Refusal) as refused:
        count(carried, Register.DISCARDS, filtered(stage="gone"))
    assert refused.value.code == "unknown_state"


def test_discards_go_out_as_a_file_and_on_paper(carried: Desk, tmp_path: Path) -> None:
    target = tmp_path / "discards.xlsx"
    assert write_register(carried, Register.DISCARDS, path=target) == 3
    head, *rows = CalamineWorkbook.from_path(str(target)).get_sheet_by_name("Discards").to_python()
    found = dict(zip(head, next(row for row in rows if "131" in row), strict=True))
    assert (found["Where to"], found["Marker"], found["Rule"] or "") == ("marked pit in A4", "dated tile", "")
    made = print_register(carried, Register.DISCARDS)
    text = pypdfium2.PdfDocument(made.pdf)[0].get_textpage().get_text_bounded().split()
    assert made.rows == 3
    for said in ("Discards", "Ilo", "called", "diagnostic", "marked"):
        assert said in text


def test_what_was_left_is_a_register_of_its_own(desk: Desk) -> None:
    first = left_in_trench(desk, "2017", what="coarse body sherds", pieces=240)
    left_in_trench(desk, "2003", what="roof tile", material="tile")
    answer_left(desk, first.id, why="collected after all")
    rows = page(desk, Register.LEFT)
    assert sorted((row.deposit, row.pieces) for row in rows if row.pieces) == [("2017", -240), ("2017", 240)]
    assert [row.what for row in page(desk, Register.LEFT, filtered(material="tile_brick"))] == ["roof tile"]
    assert count(desk, Register.LEFT, filtered(square="A1")) == 2
    assert count(desk, Register.LEFT, RegisterQuery(text="collected")) == 1
    assert count(desk, Register.DISCARDS) == 0
