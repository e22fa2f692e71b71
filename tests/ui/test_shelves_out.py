"""What leaves the shelves: taken out, looked for, lent, printed; and how the bench looks, on a real store."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from findsdesk.desk.boxes import add_box
from findsdesk.desk.loans import every_loan, lend, loans_out
from findsdesk.desk.missing_things import missing_things
from findsdesk.desk.stock_takes import stock_takes
from findsdesk.desk.taking_away import out_now
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.command_cards import Command, command_code
from findsdesk.domain.lending import BorrowerKind
from findsdesk.domain.shelving import Met
from findsdesk.ui.answers import Tone
from findsdesk.ui.benches.shelves.page import ShelvesBench
from findsdesk.ui.benches.shelves.state import Page
from findsdesk.ui.program import Program
from tests.ui.at_the_shelves import BOX1, BOX2, KEY, Store, press, said, texts, turn_to
from tests.ui.at_work import fits, go_to, opened, scan, settled
from tests.ui.looking import SIZES, nameless, too_small
from tests.yard import advance, new_yard


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store(new_yard(tmp_path))


@pytest.fixture
def program(qtbot: Any, store: Store) -> Iterator[Program]:
    with opened(qtbot, store.desk) as at_work:
        yield at_work


@pytest.fixture
def bench(qtbot: Any, program: Program) -> ShelvesBench:
    shown = go_to(qtbot, program, "shelves")
    assert isinstance(shown, ShelvesBench)
    return shown


def test_a_box_goes_out_to_the_table_and_comes_back_by_its_scan(
    qtbot: Any, program: Program, store: Store, bench: ShelvesBench
) -> None:
    turn_to(qtbot, program, bench, Page.OUT)
    scan(qtbot, program, BOX1)
    scan(qtbot, program, store.places["Drawing table"])
    assert bench.out.form.entries["to"].in_words() == "Dig house › Drawing room › Drawing table"
    scan(qtbot, program, command_code("TQ", Command.WRITE))
    (row,) = out_now(store.desk)
    assert row.to.endswith("Drawing table")
    assert texts(bench.out.table) == ["Box 1"]
    scan(qtbot, program, BOX1)
    assert said(program) == (Tone.DONE, "Box 1 is back: it belongs to Dig house › Store › Shelf 1")
    assert out_now(store.desk) == ()


def test_a_box_goes_out_to_a_person_by_name(qtbot: Any, program: Program, store: Store, bench: ShelvesBench) -> None:
    turn_to(qtbot, program, bench, Page.OUT)
    scan(qtbot, program, BOX1)
    name = store.desk.person.name
    bench.out.form.focus_first()
    press(qtbot, program, name, KEY.Key_Return, "to draw", KEY.Key_Return)
    (row,) = out_now(store.desk)
    assert (row.to, row.why) == (name, "to draw")


def test_a_stock_take_finds_misses_and_sees_what_stands_wrong(
    qtbot: Any, program: Program, store: Store, bench: ShelvesBench
) -> None:
    add_box(store.desk, kind="sherds", place="Shelf 2")
    turn_to(qtbot, program, bench, Page.STOCK)
    scan(qtbot, program, store.places["Store"])
    scan(qtbot, program, BOX1)
    assert said(program)[1] == "Not counted: begin the stock-take first, then scan what stands there"
    scan(qtbot, program, command_code("TQ", Command.WRITE))
    for code in (store.places["Shelf 2"], BOX1, store.bags[0], store.bags[2]):
        scan(qtbot, program, code)
    assert said(program)[1].startswith(f"Bag {store.bags[2]}: in the wrong place")
    scan(qtbot, program, store.places["Drawing table"])
    assert "outside of" in bench.refusals.text().text()
    scan(qtbot, program, make_code("TQ", Kind.BOX, 3))
    assert bench.stock.act is not None
    bench.stock.act.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert "2 were not met and are written as missing: 2, " in bench.refusals.text().text()
    press(qtbot, program, KEY.Key_Space)
    (take,) = stock_takes(store.desk)
    assert {one.number or one.code for one in take.of(Met.FOUND)} == {3, store.bags[0]}
    assert {one.number or one.code for one in take.of(Met.MISSING)} == {2, store.bags[1]}
    assert {one.number or one.code for one in take.of(Met.ELSEWHERE)} == {1, store.bags[2]}
    assert "2 missing. 2 are still missing: scan what is found" in bench.stock.sums.text()
    assert texts(bench.stock.table)[0] == "Box 2"
    assert bench.stock.paper.isVisible()
    advance(store.desk, minutes=1)
    scan(qtbot, program, BOX2)
    assert said(program) == (Tone.DONE, "Box 2: found. It belongs to Dig house › Store › Shelf 1")
    assert "1 is still missing" in bench.stock.sums.text()
    bench.stock.table.go_to(store.bags[1])
    bench.stock.table.setFocus()
    press(qtbot, program, KEY.Key_Return)
    assert "missing since stock-take 1" in str(program.window.dossier.facts)
    assert len(missing_things(store.desk)) == 1, "looked at, not found"
    turn_to(qtbot, program, bench, Page.PLACES)
    scan(qtbot, program, store.places["Shelf 1"])
    assert "1 met by nobody" in bench.places.line.text()


def test_a_loan_leaves_by_scan_and_comes_back_in_parts(
    qtbot: Any, program: Program, store: Store, bench: ShelvesBench
) -> None:
    turn_to(qtbot, program, bench, Page.LOANS)
    bench.loans.empty.act.emit()
    settled(qtbot, program)
    scan(qtbot, program, store.glass)
    assert texts(bench.loans.lending.table) == [store.glass]
    press(qtbot, program, "Nela Trost", KEY.Key_Return, KEY.Key_Return, "glass report", KEY.Key_Return, KEY.Key_Return)
    press(qtbot, program, "sound", KEY.Key_Return, KEY.Key_Return, KEY.Key_Return)
    (loan,) = loans_out(store.desk)
    assert (loan.borrower, loan.purpose, loan.pieces, loan.lines[0].condition_out) == (
        "Nela Trost", "glass report", 22, "sound",
    )  # fmt: skip
    assert bench.loans.page is None
    press(qtbot, program, KEY.Key_Return)
    assert bench.loans.page is bench.loans.returning
    scan(qtbot, program, store.bags[0])
    assert "did not leave with loan 1" in bench.refusals.text().text()
    scan(qtbot, program, store.glass)
    bench.loans.returning.form.focus_first()
    press(qtbot, program, "21")
    assert bench.loans.returning.act.text() == "21 of 22 back: write it"
    press(qtbot, program, KEY.Key_Return, KEY.Key_Return, "one chipped", KEY.Key_Return)
    assert loans_out(store.desk)[0].still_out == 1
    assert said(program) == (Tone.DONE, "Loan 1: 1 piece still out")
    press(qtbot, program, KEY.Key_Return)
    bench.loans.returning.form.focus_first()
    press(qtbot, program, KEY.Key_Return, KEY.Key_Return, KEY.Key_Return)
    assert every_loan(store.desk)[0].back_on is not None
    a_wrong_return_is_taken_back(qtbot, program, store, bench)
    all_of_two_things_is_asked_first(qtbot, program, store, bench)


def a_wrong_return_is_taken_back(qtbot: Any, program: Program, store: Store, bench: ShelvesBench) -> None:
    page = bench.loans
    assert not page.take_back.isEnabled()
    page.undo.setFocus()
    press(qtbot, program, KEY.Key_Space, KEY.Key_Return, KEY.Key_Return)
    assert "Write the reason first" in bench.refusals.text().text()
    assert page.undoing.fields is not None
    assert page.undoing.fields.peek() == {"pieces": 22, "why": ""}
    page.undoing.fields.focus_first()
    press(qtbot, program, "2", KEY.Key_Return, "two were left there", KEY.Key_Return)
    assert said(program) == (Tone.DONE, "Loan 1: 2 pieces still out")
    assert page.undoing.fields is None
    assert page.take_back.isEnabled()
    bench.loans.begin_return()
    bench.loans.returning.form.focus_first()
    press(qtbot, program, KEY.Key_Return, KEY.Key_Return, KEY.Key_Return)
    assert every_loan(store.desk)[0].back_on is not None


def all_of_two_things_is_asked_first(qtbot: Any, program: Program, store: Store, bench: ShelvesBench) -> None:
    bench.loans.begin_loan()
    lending, part = bench.loans.lending, bench.loans.returning
    assert lending.act is not None
    assert part.act is not None
    assert lending.act.text() == "Lend: scan what leaves"
    lending.form.focus_field("due_on")
    lending.form.entries["due_on"].widget.selectAll()  # type: ignore[attr-defined]
    press(qtbot, program, "12 August")
    lending.form.entered.emit()
    assert "The day it is due back is no day with its year." in bench.refusals.text().text()
    lend(store.desk, [BOX1, store.glass], borrower="Nela Trost", kind=BorrowerKind.SPECIALIST, purpose="report",
         due_on=date(2026, 9, 15))  # fmt: skip
    bench.loans.show_list()
    settled(qtbot, program)
    bench.loans.wanted = loans_out(store.desk)[0].code
    bench.loans.read_again()
    settled(qtbot, program)
    bench.loans.begin_return()
    assert part.act.text() == "All of it is back"
    assert not part.form.entries["pieces"].widget.isEnabled()
    part.act.click()
    settled(qtbot, program)
    assert "2 things with 42 pieces out, and none was scanned." in bench.refusals.text().text()
    assert loans_out(store.desk)[0].still_out == 42
    bench.refusals.say_sure()
    settled(qtbot, program)
    assert loans_out(store.desk) == ()


def test_an_overdue_loan_opens_from_the_day_and_is_asked_for(
    qtbot: Any, program: Program, store: Store, bench: ShelvesBench
) -> None:
    lend(store.desk, [store.glass], borrower="Nela Trost", kind=BorrowerKind.SPECIALIST, purpose="glass report",
         due_on=date(2026, 7, 15))  # fmt: skip
    advance(store.desk, days=5)
    program.window.surroundings.changes.add([("loan", 1)])
    day = go_to(qtbot, program, "day")
    line = next(one for one in day.needs.lines if one.row.head == "Loan 1")
    line.click()
    settled(qtbot, program)
    assert program.window.bench_open() is bench
    assert bench.open is Page.LOANS
    assert program.window.dossier.title().startswith("Loan 1")
    assert texts(bench.loans.table, 5) == ["4 days overdue"]
    assert bench.loans.table.rows.rows[0].late
    bench.loans.ask.setFocus()
    press(qtbot, program, KEY.Key_Space, "telephone", KEY.Key_Return, "in the post", KEY.Key_Return)
    assert every_loan(store.desk)[0].chased[0].answer == "in the post"
    assert "Asked for on" in bench.loans.line.text()


def test_papers_print_and_labels_are_led_to(
    qtbot: Any, program: Program, store: Store, bench: ShelvesBench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("findsdesk.ui.paper_out.QDesktopServices.openUrl", lambda _url: True)
    notices: Any = program.notices
    lend(store.desk, [store.glass], borrower="Nela Trost", kind=BorrowerKind.SPECIALIST, purpose="glass report",
         due_on=date(2026, 9, 15))  # fmt: skip
    turn_to(qtbot, program, bench, Page.LOANS)
    for name, button in (("loan", bench.loans.form), ("return", bench.loans.form_back)):
        notices.to_write = tmp_path / f"{name}.pdf"
        button.click()
        qtbot.waitUntil((tmp_path / f"{name}.pdf").exists, timeout=60_000)
        settled(qtbot, program)
    turn_to(qtbot, program, bench, Page.PACK)
    scan(qtbot, program, BOX1)
    notices.to_write = tmp_path / "box.pdf"
    bench.packing.paper.click()
    qtbot.waitUntil((tmp_path / "box.pdf").exists, timeout=60_000)
    settled(qtbot, program)
    bench.packing.tags.click()
    settled(qtbot, program)
    labels: Any = program.window.bench_open()
    assert labels.key == "labels"
    assert labels.state.kind == "box labels"


def test_an_empty_store_says_what_to_do_first(qtbot: Any, tmp_path: Path) -> None:
    with opened(qtbot, new_yard(tmp_path)) as program:
        bench = go_to(qtbot, program, "shelves")
        assert bench.places.empty.isVisible()
        turn_to(qtbot, program, bench, Page.LOANS)
        assert bench.loans.empty.isVisible()
        turn_to(qtbot, program, bench, Page.PROPOSE)
        assert bench.proposal.words.text() == "No bag waits for a box there."
        assert not bench.proposal.act.isVisible()


@pytest.mark.parametrize(("size", "theme"), [(SIZES[0], "shade"), (SIZES[1], "shade"), (SIZES[1], "sun")])
def test_no_word_is_cut_and_everything_has_a_name(
    qtbot: Any, program: Program, store: Store, bench: ShelvesBench, size: tuple[int, int], theme: str
) -> None:
    lend(store.desk, [store.glass], borrower="Nela Trost", kind=BorrowerKind.SPECIALIST, purpose="glass report",
         due_on=date(2026, 9, 15))  # fmt: skip
    program.window.resize(*size)
    program.theme.use(theme)
    for page in Page:
        turn_to(qtbot, program, bench, page)
        if page in (Page.PACK, Page.MOVE, Page.OUT):
            scan(qtbot, program, BOX1)
        fits(qtbot, bench)
        assert not nameless(bench)
        assert not too_small(bench)
    bench.loans.begin_loan()
    scan(qtbot, program, store.bags[0])
    fits(qtbot, bench)
    bench.loans.show_list()
    settled(qtbot, program)
    bench.loans.begin_return()
    fits(qtbot, bench)
    assert not nameless(bench)
