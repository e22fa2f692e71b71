"""The page of the season's end: what is open leads to its bench, two sign for it, papers are made."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from findsdesk.desk.deadlines import add_deadline, deadlines, take_starting_deadlines
from findsdesk.desk.desk import Desk
from findsdesk.desk.loans import lend
from findsdesk.desk.pins import set_pin
from findsdesk.desk.season_end import season_end
from findsdesk.desk.shipped import shipped_deadlines
from findsdesk.domain.lending import BorrowerKind
from findsdesk.domain.season_end import CountsFrom
from findsdesk.ui.benches.day.page import DayBench
from findsdesk.ui.benches.day.season_end_state import season_end_state
from findsdesk.ui.program import Program
from findsdesk.ui.widgets.form_entries import TextEntry
from findsdesk.ui.words_around import WordsAround
from tests.ui.at_work import fits, go_to, opened, settled
from tests.ui.looking import SIZES, nameless
from tests.yard import earlier_season, new_yard, put_containers, put_settled


def yard_at_its_end(folder: Path) -> Desk:
    """Return the director's desk in a yard with something open, a deadline, and a PIN of the director."""
    desk = new_yard(folder)
    put_containers(desk, (1, 2, 3, 4, 5, 6, 7, 8))
    put_settled(desk, 11)
    add_deadline(desk, "preliminary report", counts_from=CountsFrom.SEASON_END, offset=28, source="clause 9")
    set_pin(desk, "Ilo", pin="2406")
    return desk


@pytest.fixture
def program(qtbot: Any, tmp_path: Path) -> Iterator[Program]:
    """Return a program at work in that yard."""
    with opened(qtbot, yard_at_its_end(tmp_path)) as made:
        yield made


def page_open(qtbot: Any, program: Program) -> DayBench:
    program.filter.uninstall()
    bench = go_to(qtbot, program, "day")
    assert isinstance(bench, DayBench)
    bench.season_end.click()
    settled(qtbot, program)
    return bench


def typed(bench: DayBench, key: str, text: str) -> None:
    fields = bench.end_page.signing.fields
    assert fields is not None
    entry = fields.entries[key]
    assert isinstance(entry, TextEntry)
    QTest.keyClicks(entry.line, text)


def test_the_words_name_what_is_open_and_the_days_left(tmp_path: Path) -> None:
    desk = yard_at_its_end(tmp_path)
    state = season_end_state(season_end(desk), WordsAround.of(desk))
    unwashed = next(row for row in state.lines if row.bench == "wash")
    assert unwashed.head == "8"
    assert unwashed.text == (
        "Unwashed or unbrushed: bucket 1, bucket 2, bucket 3, bucket 4, bucket 5, bucket 6 and 2 more"
    )
    (due,) = state.deadlines
    assert (due.head, due.since) == (date(2026, 9, 13).isoformat(), "days left: 61")
    assert state.may_sign
    desk.close()


def line_of(bench: DayBench, key: str) -> Any:
    state = bench.end_page.state
    assert state is not None
    return next(one for one in bench.end_page.open_things.lines if state.behind[one.row].requirement.key == key)


def pressed(qtbot: Any, program: Program, widget: Any, key: Qt.Key = Qt.Key.Key_Return) -> None:
    widget.setFocus()
    QTest.keyClick(widget, key)
    settled(qtbot, program)


def test_a_line_leads_to_its_work_page_by_page(qtbot: Any, program: Program) -> None:
    put_containers(program.surroundings.desk, range(20, 290))
    bench = page_open(qtbot, program)
    assert bench.end_page.isVisible()
    assert not bench.bars.isVisible()
    pressed(qtbot, program, line_of(bench, "unwashed"))
    rows = bench.rows_page
    assert rows.isVisible()
    assert rows.head.text() == "Unwashed or unbrushed: 278"
    assert rows.model is not None
    assert (rows.model.rowCount(), len(rows.model._pages)) == (278, 1)
    QTest.keyClick(rows.table, Qt.Key.Key_End, Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(lambda: rows.table.currentIndex().siblingAtColumn(0).data() == "bucket 289")
    pressed(qtbot, program, rows.table)
    shown = program.window.bench_open()
    assert shown is not None
    assert shown.key == "wash"
    assert program.window.dossier.title().startswith("Bucket 289")
    go_to(qtbot, program, "day")
    QTest.keyClick(rows.table, Qt.Key.Key_Escape)
    assert bench.end_page.isVisible()
    bench.begin_anew()
    assert bench.end_page.isHidden()


def test_one_thing_alone_is_opened_at_once_each_kind_in_its_way(qtbot: Any, program: Program) -> None:
    desk, around = program.surroundings.desk, program.surroundings
    loan = lend(desk, ["11"], borrower="Nela Trost", kind=BorrowerKind.SPECIALIST, purpose="report",
                due_on=date(2026, 9, 1), sure=True)  # fmt: skip
    bench = page_open(qtbot, program)
    opened: list[object] = []
    for signal in (around.open_bench, around.take_in_hand, around.open_thing):
        signal.disconnect()
        signal.connect(lambda *said: opened.append(said))
    pressed(qtbot, program, line_of(bench, "unread"))
    assert opened[-1] == ("sorting",)
    assert around.reading_wished
    pressed(qtbot, program, line_of(bench, "on_loan"))
    assert (loan.code,) in opened[-2:]
    assert ("shelves",) in opened[-2:]
    pressed(qtbot, program, line_of(bench, "deposits_open"))
    pressed(qtbot, program, bench.rows_page.table)
    assert opened[-2:] == [("deposit", "2003"), ("registers",)]


def test_another_season_and_its_deadlines(qtbot: Any, program: Program) -> None:
    desk = program.surroundings.desk
    earlier_season(desk)
    put_containers(desk, (1, 2), season="2024")
    bench = page_open(qtbot, program)
    page = bench.end_page
    assert [page.seasons.itemText(n) for n in range(page.seasons.count())] == ["2026", "2024"]
    pressed(qtbot, program, page.deadlines.rows.lines[0])
    form = page.deadlines.changing.fields
    assert form is not None
    form.show_values({"permit_on": date(2026, 8, 31), "permit_says": "", "done_on": None})
    page.deadlines.changing.wanted.emit()
    settled(qtbot, program)
    assert "Write what the permit says" in bench.refusals.text().text()
    form.show_values({"permit_says": "within fifteen days, clause 9"})
    page.deadlines.changing.wanted.emit()
    settled(qtbot, program)
    assert deadlines(desk)[0].due_on == date(2026, 8, 31)
    assert "the permit says: within fifteen days" in page.deadlines.rows.lines[0].row.text
    page.seasons.setCurrentText("2024")
    page.seasons.activated.emit(1)
    settled(qtbot, program)
    assert page.what.heading.text().startswith("Season 2024.")
    filled: list[int] = []
    page.seasons.model().rowsInserted.connect(lambda *_rows: filled.append(1))
    page.read_again()
    settled(qtbot, program)
    assert not filled, "a list of seasons that is open is not taken from under the hand"
    assert line_of(bench, "unwashed").row.head == "2"
    assert page.deadlines.none.isVisible()
    pressed(qtbot, program, page.deadlines.take, Qt.Key.Key_Space)
    assert len(deadlines(desk, "2024")) == len(shipped_deadlines())
    page.deadlines.new.click()
    form = page.deadlines.adding.fields
    assert form is not None
    form.show_values({"deliverable": "crates to the depot", "offset": 7, "unit": "days", "before": "before"})
    page.deadlines.adding.wanted.emit()
    settled(qtbot, program)
    made = next(one for one in deadlines(desk, "2024") if one.deliverable == "crates to the depot")
    assert (made.offset, made.due_on) == (-7, date(2024, 8, 4))


def test_an_old_label_asks_which_season(qtbot: Any, program: Program) -> None:
    desk = program.surroundings.desk
    earlier_season(desk)
    put_containers(desk, (1,), season="2024")
    page_open(qtbot, program)
    field = program.window.scan_line.field
    field.setFocus()
    QTest.keyClicks(field, "2017-1")
    pressed(qtbot, program, field)
    assert program.window.scan_line.answer.in_one_line().startswith("Which season? 2017-1 fits 2026, 2024.")
    assert (field.text(), field.selectedText(), field.hasFocus()) == ("2024/2017-1", "2024", True)
    field.selectAll()
    QTest.keyClicks(field, "2017-1")
    QTest.keyClick(field, Qt.Key.Key_Return)
    QTest.keyClicks(field, "131")
    settled(qtbot, program)
    assert field.text() == "131", "what is typed on while it is looked for is not written over"
    field.setText("2024/2017-1")
    pressed(qtbot, program, field)
    found: Any = program.window.found
    assert found.thing.season == "2024"


def test_two_sign_from_the_keyboard_and_a_wrong_pin_is_said_on_the_bench(qtbot: Any, program: Program) -> None:
    bench = page_open(qtbot, program)
    pressed(qtbot, program, bench.end_page.sign_button, Qt.Key.Key_Space)
    typed(bench, "second", "Mika")
    typed(bench, "pin", "1111")
    bench.end_page.signing.wanted.emit()
    settled(qtbot, program)
    assert "That is not the PIN of Ilo Marr" in bench.refusals.text().text()
    assert season_end(program.surroundings.desk).signed == ()
    assert bench.end_page.signing.fields is not None
    bench.end_page.signing.fields.show_values({"pin": ""})
    typed(bench, "pin", "2406")
    bench.end_page.signing.wanted.emit()
    settled(qtbot, program)
    (signed,) = season_end(program.surroundings.desk).signed
    assert (signed.first, signed.second) == ("Ilo Marr", "Mika Sool")
    assert "signed by Ilo Marr and Mika Sool" in bench.end_page.signed.text()
    assert not bench.end_page.sign_button.isEnabled()
    assert not bench.end_page.signing.isVisible()


def test_nothing_is_cut_or_nameless(qtbot: Any, program: Program) -> None:
    take_starting_deadlines(program.surroundings.desk)
    bench = page_open(qtbot, program)
    for theme, size in (*(("shade", size) for size in SIZES), ("sun", (910, 512))):
        program.surroundings.theme.use(theme)
        program.window.resize(*size)
        settled(qtbot, program)
        fits(qtbot, bench)
        assert not nameless(bench)
    text, left = bench.end_page.deadlines.rows.lines[0].texts()
    assert left.geometry().top() > text.geometry().bottom(), "in a narrow card the days left stand below"
    program.surroundings.theme.use("shade")
    bench.end_page.begin_signing()
    fits(qtbot, bench)
    bench.end_page.deadlines.new.click()
    fits(qtbot, bench)
    assert not nameless(bench)
    fields = bench.end_page.deadlines.adding.fields
    assert fields is not None
    names = [one.widget.accessibleName() for one in fields.entries.values()]
    assert names[3:6] == ["of days, weeks or months", "comes after or before", "the day counted from"]
