"""Registers that go out: every row once, identifiers as texts, what is said of the list, and paper within reason."""

import csv
from datetime import date
from pathlib import Path

import pypdfium2
import pytest
from python_calamine import CalamineWorkbook

from findsdesk.desk import register_files
from findsdesk.desk.boxes import add_box
from findsdesk.desk.desk import Desk
from findsdesk.desk.discards import make_list
from findsdesk.desk.left_in_trench import left_in_trench
from findsdesk.desk.loans import lend
from findsdesk.desk.printing import PrintKind, print_labels
from findsdesk.desk.readings import read_container
from findsdesk.desk.register_columns import fields_of
from findsdesk.desk.register_files import print_register, write_register
from findsdesk.desk.registers import Register, RegisterQuery, page, sorts_of
from findsdesk.desk.stations import numbers_aside, set_numbers_aside, stations
from findsdesk.domain.lending import BorrowerKind
from findsdesk.domain.refusals import Refusal
from tests.desk.on_the_shelves import furnish_store, put_bags
from tests.desk.test_piece_registers import put_some_of_each
from tests.yard import put_bag, put_containers, put_settled


def test_a_file_holds_every_row_of_the_choice_in_its_order(desk: Desk, tmp_path: Path) -> None:
    put_containers(desk, ("3-11", "2", "10"), deposit="2017")
    put_containers(desk, ("50",), deposit="2003")
    query = RegisterQuery(filters=(("deposit", "2017"),), sort="number", descending=True)
    target = tmp_path / "buckets.csv"
    assert write_register(desk, Register.CONTAINERS, query, path=target) == 3
    with target.open(encoding="utf-8-sig", newline="") as stream:
        rows = list(csv.reader(stream))
    assert rows[0][:3] == ["Bucket", "Context", "Square"]
    assert [row[0] for row in rows[1:]] == ["10", "3-11", "2"]
    assert rows[1][3] == "2026-07-13"


def test_a_spreadsheet_keeps_identifiers_as_texts_and_says_what_it_is(desk: Desk, tmp_path: Path) -> None:
    put_containers(desk, ("3-11", "131"))
    target = tmp_path / "buckets.xlsx"
    assert write_register(desk, Register.CONTAINERS, path=target, filter_words="square A1") == 2
    book = CalamineWorkbook.from_path(str(target))
    rows = book.get_sheet_by_name("Buckets").to_python()
    assert [row[0] for row in rows[1:]] == ["3-11", "131"]
    about = {row[0]: row[1] for row in book.get_sheet_by_name("About this list").to_python() if row[0]}
    assert about["Choice"] == "square A1"
    assert (about["Excavation"], about["By"], about["Store"]) == ("Tannery Quay", "Ilo Marr", desk.head())


@pytest.mark.parametrize("register", Register)
def test_every_register_goes_out_whole_in_both_kinds(desk: Desk, tmp_path: Path, register: Register) -> None:
    put_bag(desk, put_settled(desk, 130, marked=True))
    read_container(desk, "130", main="II")
    make_list(desk)
    put_some_of_each(desk, tmp_path)
    left_in_trench(desk, "2017", what="roof tile", material="tile")
    furnish_store(desk)
    add_box(desk, kind="sherds")
    lend(
        desk,
        put_bags(desk, 129, [84], material="glass"),
        borrower="Nela Trost",
        kind=BorrowerKind.SPECIALIST,
        purpose="report",
        due_on=date(2026, 8, 20),
    )
    print_labels(desk, PrintKind.BOX, stock="a4-3x8-70x37")
    shown = page(desk, register)
    for name in ("all.csv", "all.xlsx"):
        assert write_register(desk, register, path=tmp_path / name) == len(shown) > 0


def test_a_file_of_another_kind_is_refused_and_nothing_is_written(desk: Desk, tmp_path: Path) -> None:
    with pytest.raises(Refusal) as told:
        write_register(desk, Register.BAGS, path=tmp_path / "bags.doc")
    assert told.value.code == "unknown_ending"
    assert not list(tmp_path.glob("*.doc"))


def test_writing_that_is_called_off_leaves_no_file(desk: Desk, tmp_path: Path) -> None:
    put_containers(desk, ("1", "2"))
    for name in ("a.csv", "a.xlsx"):
        with pytest.raises(Refusal) as told:
            write_register(desk, Register.CONTAINERS, path=tmp_path / name, called_off=lambda: True)
        assert told.value.code == "called_off"
        assert not (tmp_path / name).exists()


def test_rows_are_read_in_runs_and_none_is_lost_between_two(
    desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("findsdesk.desk.register_windows.AT_ONCE", 3)
    put_containers(desk, range(1, 9))
    assert write_register(desk, Register.CONTAINERS, path=tmp_path / "a.csv") == 8
    lines = (tmp_path / "a.csv").read_text("utf-8-sig").splitlines()
    assert [line.split(",")[0] for line in lines[1:]] == [str(n) for n in range(1, 9)]


def test_a_list_on_paper_says_its_choice_and_its_rows(desk: Desk) -> None:
    put_containers(desk, ("131", "132"))
    made = print_register(desk, Register.CONTAINERS, filter_words="day 2026-07-13")
    text = pypdfium2.PdfDocument(made.pdf)[0].get_textpage().get_text_bounded()
    assert made.rows == 2
    for said in ("131", "132", "day 2026-07-13", "Buckets"):
        assert said in text


def test_more_rows_than_paper_is_for_are_refused(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(register_files, "MOST_ON_PAPER", 2)
    put_containers(desk, ("1", "2", "3"))
    with pytest.raises(Refusal) as told:
        print_register(desk, Register.CONTAINERS)
    assert told.value.code == "too_long_for_paper"


@pytest.mark.parametrize("register", Register)
def test_every_offered_order_belongs_to_a_column(register: Register) -> None:
    assert {field.sort for field in fields_of(register)} - {""} == set(sorts_of(register))


def test_numbers_set_aside_are_known_afterwards(desk: Desk) -> None:
    set_numbers_aside(desk, station="trench laptop", how_many=10)
    (block,) = numbers_aside(desk)
    assert (block.station, block.first, block.last, block.next) == ("trench laptop", 1, 10, 1)
    assert stations(desk) == ("first", "trench laptop")
