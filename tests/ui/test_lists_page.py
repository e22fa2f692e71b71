"""The lists page of the labels bench: a sentence for each sheet, what is asked of it, progress, calling off."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from findsdesk.desk import all_papers
from findsdesk.desk.desk import Desk
from findsdesk.desk.paper_kinds import PAPERS
from findsdesk.desk.sheets import PrintedList
from findsdesk.desk.whole_papers import Asked
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.benches.labels.lists_page import ListsPage
from findsdesk.ui.benches.labels.page import LabelsBench
from findsdesk.ui.benches.labels.rows import Row
from findsdesk.ui.program import Program
from tests.desk.whole_yard import whole_yard
from tests.ui.at_the_labels import tab_to
from tests.ui.at_work import go_to, opened, scan, settled


@pytest.fixture(autouse=True)
def own_memory(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))
    monkeypatch.setattr("findsdesk.ui.paper_out.QDesktopServices.openUrl", lambda _url: False)


@pytest.fixture
def program(qtbot: Any, tmp_path: Path) -> Iterator[Program]:
    """Return a program on a yard with one of everything."""
    with opened(qtbot, whole_yard(tmp_path, photo=False), station="dig house") as made:
        made.notices.to_write = tmp_path / "paper.pdf"  # type: ignore[attr-defined]
        made.filter.uninstall()
        yield made


@pytest.fixture
def bench(qtbot: Any, program: Program) -> LabelsBench:
    """Return the labels bench with its lists shown."""
    shown = go_to(qtbot, program, "labels")
    assert isinstance(shown, LabelsBench)
    shown.parts.what.lines[Row.LISTS].click()
    settled(qtbot, program)
    return shown


def text_of(path: Path) -> str:
    document = pypdfium2.PdfDocument(path)
    try:
        return " ".join(word for page in document for word in page.get_textpage().get_text_bounded().split())
    finally:
        document.close()


def page_of(bench: LabelsBench) -> ListsPage:
    return bench.parts.lists


def test_each_sheet_says_what_it_is_for(bench: LabelsBench) -> None:
    page = page_of(bench)
    assert list(page.buttons) == [one.key for one in PAPERS]
    words = page._words["deposit"].text()
    assert "Sheet of a context" in words
    assert "buckets and steps" in words
    assert "(by context)" in words
    assert "one bucket to search for" in page._words["missing"].text()
    assert page.buttons["season"].accessibleName() == "Print Report of the season"


def test_every_sheet_is_kept_as_pdf(qtbot: Any, program: Program, bench: LabelsBench, tmp_path: Path) -> None:
    path = tmp_path / "paper.pdf"
    for one in PAPERS:
        if one.key == "deposit":
            continue
        path.unlink(missing_ok=True)
        page_of(bench).buttons[one.key].click()
        settled(qtbot, program)
        assert "Tannery Quay (invented example)" in text_of(path), one.key
        assert page_of(bench).buttons[one.key].text() == "Print"


def test_what_is_asked_goes_with_it_from_the_keyboard(
    qtbot: Any, program: Program, bench: LabelsBench, tmp_path: Path
) -> None:
    page = page_of(bench)
    tab_to(qtbot, program, page.deposit)
    QTest.keyClicks(page.deposit, "2003")
    tab_to(qtbot, program, page.buttons["deposit"])
    QTest.keyClick(page.buttons["deposit"], Qt.Key.Key_Return)
    settled(qtbot, program)
    assert "Context 2031" in text_of(tmp_path / "paper.pdf")


def test_a_day_that_is_none_is_marked_where_it_is_typed(
    qtbot: Any, program: Program, bench: LabelsBench, tmp_path: Path
) -> None:
    page = page_of(bench)
    page.day.setText("tomorrow")
    page.buttons["inspector"].click()
    settled(qtbot, program)
    assert page.day.property("wrong")
    assert QApplication.focusWidget() is page.day
    assert not (tmp_path / "paper.pdf").exists()
    page.day.setText("2026-07-14")
    page.buttons["inspector"].click()
    settled(qtbot, program)
    assert "2026-07-14, season 2026" in text_of(tmp_path / "paper.pdf")


def test_the_sheet_of_a_deposit_is_of_the_one_in_hand(
    qtbot: Any, program: Program, bench: LabelsBench, tmp_path: Path
) -> None:
    page_of(bench).buttons["deposit"].click()
    settled(qtbot, program)
    assert "Say which context the sheet is of." in bench.refusals.text().text()
    scan(qtbot, program, "131")
    page_of(bench).buttons["deposit"].click()
    settled(qtbot, program)
    assert "Context 2017" in text_of(tmp_path / "paper.pdf")


def test_work_under_way_says_how_far_it_is_and_is_called_off(
    qtbot: Any, program: Program, bench: LabelsBench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun, go_on = threading.Event(), threading.Event()

    def slow(_desk: Desk, asked: Asked) -> PrintedList:
        assert asked.follow is not None
        asked.follow(3, 40)
        begun.set()
        assert go_on.wait(10)
        asked.follow(4, 40)
        return PrintedList("too late", b"", 0, 0)

    monkeypatch.setitem(all_papers.MAKERS, "season", slow)
    page, before = page_of(bench), bench.going_on()
    page.buttons["season"].click()
    qtbot.waitUntil(begun.is_set)
    qtbot.waitUntil(lambda: bench.going_on() == "page 3 of 40")
    assert page.buttons["season"].text() == "Call off"
    assert not page.buttons["yard"].isEnabled()
    page.buttons["season"].click()
    assert bench.going_on() == before
    assert page.buttons["yard"].isEnabled()
    go_on.set()
    settled(qtbot, program)
    assert not (tmp_path / "paper.pdf").exists()
    assert "Called off" in program.window.scan_line.answer.in_one_line()


def test_a_day_that_is_none_is_said_below_it_and_nothing_older_stays(
    qtbot: Any, program: Program, bench: LabelsBench
) -> None:
    page = page_of(bench)
    bench.refuse(Refusal("no", "There is no context 9999. Look at the number again."))
    QTest.keyClicks(page.day, "31.2.26")
    page.buttons["yard"].click()
    settled(qtbot, program)
    assert page.day_said.isVisible()
    assert page.day_said.text() == "“31.2.26” is no day. Write it as 2026-07-14 or 14.7.2026."
    assert page.day.hasFocus()
    assert not bench.refusals.isVisible(), "what was said before is of another try"
    QTest.keyClicks(page.day, "1")
    assert not page.day_said.isVisible()
