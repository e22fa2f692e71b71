"""Field lists at Check-in, with the files a field team would write: preview, columns, questions, rows set aside."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent

from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import Dossier, find
from findsdesk.desk.rows_set_aside import rows_set_aside
from findsdesk.domain.standings import Standing
from findsdesk.ui.benches.check_in.list_state import MOST_SHOWN, ListAsk, look, preview_state
from findsdesk.ui.benches.check_in.page import CheckInBench
from findsdesk.ui.program import Program
from findsdesk.ui.words_around import WordsAround
from tests.ui.at_the_registers import press
from tests.ui.at_work import fits, go_to, opened, settled
from tests.ui.looking import SIZES, nameless
from tests.yard import acts, new_yard, put_container, sitting

BRYN = """Bucket,Context,Square,Date,Supervisor,Material,Description
127,2017,A1,2026-07-14,Bryn Hallo,pottery,"dark strokes, ink?"
128,2019,A2,2026-07-14,Bryn Hallo,pottery,coarse jar
129,ctx 2017 ,A1,2026-07-14,Bryn Hallo,pottery,many small sherds
130,2019,A2,2026-07-14,Bryn Hallo,bone,jaw
118,2003,B2,2026-07-14,Bryn Hallo,pottery,rim
"""
"""129 names its context oddly; 118 exists already."""

ODD = "Eimer;Befund;Tag\n91;2017;13.07.26\n92;2003;14.07.26\n"
TWO_ORDERS = "Bucket,Context,Date,Material\n140,2017,07/08/2026,pottery\n141,2017,08/07/2026,pottery\n"


@pytest.fixture
def program(qtbot: Any, tmp_path: Path) -> Iterator[Program]:
    """Return a program at Check-in; bucket 118 of context 2017 is here already."""
    desk = sitting(new_yard(tmp_path), "Tessa")
    put_container(desk, 118)
    with opened(qtbot, desk) as made:
        go_to(qtbot, made, "check_in")
        yield made


@pytest.fixture
def bench(program: Program) -> CheckInBench:
    """Return the bench, shown."""
    shown = program.window.benches["check_in"]
    assert isinstance(shown, CheckInBench)
    return shown


def brought(folder: Path, name: str, text: str) -> Path:
    file = folder / name
    file.write_text(text, encoding="utf-8")
    return file


def preview(qtbot: Any, program: Program, bench: CheckInBench, *files: Path) -> Any:
    bench.take_files(files)
    settled(qtbot, program)
    qtbot.waitUntil(lambda: bench.lists.seen is not None)
    return bench.lists.preview


def answer(program: Program) -> str:
    return program.window.scan_line.answer.in_one_line()


def dossier(desk: Desk, which: str) -> Dossier:
    found = find(desk, which)
    assert isinstance(found, Dossier)
    return found


def test_clear_rows_go_in_and_doubtful_ones_wait(
    qtbot: Any, program: Program, bench: CheckInBench, tmp_path: Path
) -> None:
    desk = bench.surroundings.desk
    before = acts(desk)
    shown = preview(qtbot, program, bench, brought(tmp_path, "bryn.csv", BRYN))
    assert shown.summary.text() == "3 rows go in, 2 wait with a question."
    assert acts(desk) == before
    fates = [row.cells[2].text for row in shown.state.rows]
    assert fates[:2] == ["goes in", "goes in"]
    assert "Is context 2017 meant?" in fates[2]
    assert "118 exists already" in fates[4] or "118 was taken in" in fates[4]
    assert shown.take.text() == "Take in 3 rows"
    shown.take.click()
    qtbot.waitUntil(lambda: acts(desk) == before + 1)
    settled(qtbot, program)
    assert answer(program) == "bryn.csv: 3 rows taken in, 2 wait with a question"
    assert dossier(desk, "130").material == "bone"
    assert dossier(desk, "127").standing is Standing.LISTED
    qtbot.waitUntil(lambda: bench.beside.questions.text() == "2 rows set aside")
    # The rail counts the same under the same name; Escape leaves the rows by keyboard as the button does.
    assert bench.what_waits() == "2 rows aside"
    bench.beside.questions.setFocus()
    press(qtbot, program, Qt.Key.Key_Space)
    assert bench.aside.isVisible()
    assert bench.aside.model.rowCount() == 2
    press(qtbot, program, Qt.Key.Key_Escape)
    assert not bench.aside.isVisible()
    assert bench.beside.questions.hasFocus()
    # From one of its fields too.
    press(qtbot, program, Qt.Key.Key_Space)
    bench.aside.number.setFocus()
    press(qtbot, program, Qt.Key.Key_Escape)
    assert not bench.aside.isVisible()


def test_the_same_file_twice_adds_nothing(qtbot: Any, program: Program, bench: CheckInBench, tmp_path: Path) -> None:
    desk = bench.surroundings.desk
    file = brought(tmp_path, "bryn.csv", BRYN)
    preview(qtbot, program, bench, file).take.click()
    qtbot.waitUntil(lambda: len(rows_set_aside(desk)) == 2)
    settled(qtbot, program)
    shown = preview(qtbot, program, bench, file)
    assert shown.summary.text().startswith("Taken in before, 2026-07-14 06:50")
    assert "3 are in already" in shown.summary.text()
    shown.take.click()
    settled(qtbot, program)
    assert len(rows_set_aside(desk)) == 2
    assert "0 rows taken in" in answer(program)


def test_columns_are_matched_by_hand_and_what_is_missing_is_told_once(
    qtbot: Any, program: Program, bench: CheckInBench, tmp_path: Path
) -> None:
    desk = bench.surroundings.desk
    shown = preview(qtbot, program, bench, brought(tmp_path, "odd.csv", ODD))
    assert "No column for" in shown.refusal.accessibleName()
    assert not shown.take.isVisible()
    for header, column in (("Eimer", "number"), ("Befund", "deposit"), ("Tag", "collected_on")):
        box = shown.boxes[header]
        box.setCurrentIndex(box.findData(column))
        box.activated.emit(box.currentIndex())
        settled(qtbot, program)
    assert shown.given_fields.material.isVisible()
    material = shown.given_fields.material
    material.setCurrentIndex(material.findData("pottery"))
    material.activated.emit(material.currentIndex())
    settled(qtbot, program)
    assert shown.summary.text() == "2 rows go in."
    shown.take.click()
    settled(qtbot, program)
    assert dossier(desk, "91").deposit == "2017"
    # Matched once, known the next time.
    again = preview(
        qtbot, program, bench, brought(tmp_path, "odd2.csv", ODD.replace("91;", "93;").replace("92;", "94;"))
    )
    assert [column for _header, column in again.state.matching] == ["number", "deposit", "collected_on"]


def test_dates_in_two_orders_are_asked_about_once(
    qtbot: Any, program: Program, bench: CheckInBench, tmp_path: Path
) -> None:
    shown = preview(qtbot, program, bench, brought(tmp_path, "orders.csv", TWO_ORDERS))
    qtbot.waitUntil(shown.question.isVisible)
    assert [button.text() for button in shown.question.buttons] == ["Day first", "Month first"]
    shown.question.buttons[0].click()
    settled(qtbot, program)
    dates = [row.cells[4].text for row in shown.state.rows]
    assert dates == ["2026-08-07", "2026-07-08"]


def test_a_list_that_is_left_changes_nothing(qtbot: Any, program: Program, bench: CheckInBench, tmp_path: Path) -> None:
    before = acts(bench.surroundings.desk)
    shown = preview(qtbot, program, bench, brought(tmp_path, "bryn.csv", BRYN), brought(tmp_path, "odd.csv", ODD))
    shown.leave.click()
    settled(qtbot, program)
    assert shown.name.text() == "odd.csv"
    shown.leave.click()
    settled(qtbot, program)
    assert bench.tag.isVisible()
    assert acts(bench.surroundings.desk) == before


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("empty.csv", b"", "empty"),
        ("picture.csv", b"\x89PNG\r\n\x1a\n" + b"\x00" * 64, ""),
        ("headers.csv", b"Bucket,Context,Date,Material\n", "no rows"),
    ],
)
def test_a_file_that_is_no_list_is_refused_in_words(
    qtbot: Any, program: Program, bench: CheckInBench, tmp_path: Path, name: str, content: bytes, words: str
) -> None:
    file = tmp_path / name
    file.write_bytes(content)
    shown = preview(qtbot, program, bench, file)
    assert shown.refusal.isVisible() or shown.question.isVisible()
    assert words in shown.refusal.accessibleName()
    assert not shown.take.isVisible()
    assert program.notices.told == []  # type: ignore[attr-defined]


def test_a_list_with_the_bytes_of_an_old_office_machine(
    qtbot: Any, program: Program, bench: CheckInBench, tmp_path: Path
) -> None:
    text = "Bucket;Context;Date;Material;Description\n150;2017;2026-07-14;pottery;größere Scherben, Fuß\n"
    file = tmp_path / "old.csv"
    file.write_bytes(text.encode("cp1252"))
    shown = preview(qtbot, program, bench, file)
    if shown.question.isVisible():
        right = next(button for button in shown.question.buttons if "größere" in button.text())
        right.click()
        settled(qtbot, program)
    assert shown.state.rows[0].cells[-1].text == "größere Scherben, Fuß"


def test_files_are_dropped_on_the_bench(qtbot: Any, program: Program, bench: CheckInBench, tmp_path: Path) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(brought(tmp_path, "bryn.csv", BRYN)))])
    drop = QDropEvent(
        QPointF(5, 5), Qt.DropAction.CopyAction, data, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    )
    bench.dropEvent(drop)
    settled(qtbot, program)
    assert bench.lists.preview.name.text() == "bryn.csv"


def test_waiting_rows_are_put_right_or_left_out(
    qtbot: Any, program: Program, bench: CheckInBench, tmp_path: Path
) -> None:
    desk = bench.surroundings.desk
    preview(qtbot, program, bench, brought(tmp_path, "bryn.csv", BRYN)).take.click()
    qtbot.waitUntil(lambda: bench.beside.questions.isVisible())
    bench.beside.questions.click()
    settled(qtbot, program)
    aside = bench.aside
    assert aside.asked.text() == "Written as “ctx 2017”. Is context 2017 meant?"
    assert aside.deposit.text() == "2017"
    aside.take.click()
    qtbot.waitUntil(lambda: len(rows_set_aside(desk)) == 1)
    settled(qtbot, program)
    assert dossier(desk, "129").deposit == "2017"
    assert aside.number.text() == "118"
    aside.drop.click()
    qtbot.waitUntil(bench.refusals.isVisible)
    assert "Write why" in bench.refusals.accessibleName()
    aside.answer.setText("typed twice by the field")
    aside.drop.click()
    qtbot.waitUntil(lambda: rows_set_aside(desk) == ())
    settled(qtbot, program)
    assert aside.none.isVisible()
    aside.back.click()
    assert bench.tag.isVisible()


def test_of_a_long_list_the_questions_come_first(tmp_path: Path) -> None:
    desk = new_yard(tmp_path)
    rows = ["Bucket,Context,Date,Material"]
    rows += [f"{1000 + n},2017,2026-07-14,pottery" for n in range(MOST_SHOWN + 100)]
    rows.append("5000,9999,2026-07-14,pottery")
    around = WordsAround.of(desk)
    state = preview_state(look(desk, ListAsk(brought(tmp_path, "long.csv", "\n".join(rows)))), around)
    assert (len(state.rows), state.left_out) == (MOST_SHOWN, 101)
    assert state.rows[0].late
    assert state.act == f"Take in {MOST_SHOWN + 100} rows"
    desk.close()


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("zoom", [100, 150])
def test_no_word_is_cut(
    qtbot: Any, program: Program, bench: CheckInBench, tmp_path: Path, size: tuple[int, int], zoom: int
) -> None:
    program.theme.zoom_to(zoom)
    program.window.resize(*size)
    for name, text in (("bryn.csv", BRYN), ("odd.csv", ODD), ("orders.csv", TWO_ORDERS)):
        preview(qtbot, program, bench, brought(tmp_path, name, text))
        fits(qtbot, bench)
        assert not nameless(bench)
    preview(qtbot, program, bench, brought(tmp_path, "bryn.csv", BRYN)).take.click()
    settled(qtbot, program)
    bench._show_aside()
    settled(qtbot, program)
    fits(qtbot, bench)
    assert not nameless(bench)
