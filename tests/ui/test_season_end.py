"""The page of the season's end: what is open leads to its bench, two sign for it, papers are made."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from findsdesk.desk.deadlines import add_deadline
from findsdesk.desk.desk import Desk
from findsdesk.desk.pins import set_pin
from findsdesk.desk.season_end import season_end
from findsdesk.domain.season_end import CountsFrom
from findsdesk.ui.benches.day.page import DayBench
from findsdesk.ui.benches.day.season_end_state import season_end_state
from findsdesk.ui.program import Program
from findsdesk.ui.widgets.form_entries import TextEntry
from findsdesk.ui.words_around import WordsAround
from tests.ui.at_work import fits, go_to, opened, settled
from tests.ui.looking import SIZES, nameless
from tests.yard import new_yard, put_containers, put_settled


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
    bench = go_to(qtbot, program, "day")
    assert isinstance(bench, DayBench)
    bench.season_end.click()
    settled(qtbot, program)
    return bench


def typed(bench: DayBench, key: str, text: str) -> None:
    entry = bench.end_page.form.entries[key]
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


def test_a_line_leads_to_its_bench_and_the_page_goes_back_to_the_day(qtbot: Any, program: Program) -> None:
    bench = page_open(qtbot, program)
    assert bench.end_page.isVisible()
    assert not bench.bars.isVisible()
    line = next(line for line in bench.end_page.open_things.lines if line.row.bench == "wash")
    line.setFocus()
    QTest.keyClick(line, Qt.Key.Key_Return)
    settled(qtbot, program)
    assert program.window.stack.currentWidget() is program.window.benches["wash"]
    bench.begin_anew()
    assert bench.end_page.isHidden()


def test_two_sign_from_the_keyboard_and_a_wrong_pin_is_said_on_the_bench(qtbot: Any, program: Program) -> None:
    bench = page_open(qtbot, program)
    typed(bench, "second", "Mika")
    typed(bench, "pin", "1111")
    bench.end_page.form.entered.emit()
    settled(qtbot, program)
    assert "That is not the PIN of Ilo Marr" in bench.refusals.text().text()
    assert season_end(program.surroundings.desk).signed == ()
    bench.end_page.form.show_values({"pin": ""})
    typed(bench, "pin", "2406")
    bench.end_page.form.entered.emit()
    settled(qtbot, program)
    (signed,) = season_end(program.surroundings.desk).signed
    assert (signed.first, signed.second) == ("Ilo Marr", "Mika Sool")
    assert "signed by Ilo Marr and Mika Sool" in bench.end_page.signed.text()
    assert not bench.end_page.sign_button.isEnabled()


@pytest.mark.parametrize("size", SIZES)
def test_nothing_is_cut_or_nameless(qtbot: Any, program: Program, size: tuple[int, int]) -> None:
    bench = page_open(qtbot, program)
    program.window.resize(*size)
    settled(qtbot, program)
    fits(qtbot, bench)
    assert not nameless(bench)
