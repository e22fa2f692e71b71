"""Tables brought in at Set-up, by keyboard: said what it holds, columns matched, questions, taken in, written out."""

import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from findsdesk.desk.deposit_facts import deposit_facts
from findsdesk.desk.setting_up import people
from findsdesk.desk.tables_taken import take_in_table
from findsdesk.ui.benches.set_up import tables_part
from findsdesk.ui.benches.set_up.page import SetUpBench
from findsdesk.ui.benches.set_up.tables_part import TablesPart
from findsdesk.ui.benches.set_up.tables_state import looked
from findsdesk.ui.program import Program
from tests.ui.at_the_registers import press
from tests.ui.at_work import fits, go_to, opened, settled
from tests.ui.looking import nameless, too_small
from tests.yard import acts, earlier_season, new_yard

KEY = Qt.Key
DEPOSITS = "SU;Sector;Anfang;Notes\n3001;A1;2026-07-06;silt\n3002;Z9;2026-07-06;\n"
SEASON = "Bucket;Context;Ware;Part;Pieces;Box\n1;2017;QRS;rim;3;B1\n1;2017;QRS;body;9;B1\n2;2017;NIX;rim;1;B1\n"


@pytest.fixture
def program(qtbot: Any, tmp_path: Path) -> Iterator[Program]:
    desk = new_yard(tmp_path, by="Mika")
    earlier_season(desk)
    with opened(qtbot, desk) as at_work:
        yield at_work


@pytest.fixture
def part(qtbot: Any, program: Program) -> TablesPart:
    bench = go_to(qtbot, program, "set_up")
    assert isinstance(bench, SetUpBench)
    bench.show_subject("tables")
    settled(qtbot, program)
    return bench.tables


def bring(qtbot: Any, program: Program, part: TablesPart, path: Path, text: str) -> None:
    """Choose a file with the button, by keyboard."""
    path.write_text(text, encoding="utf-8")
    program.surroundings.notices.to_open = path  # type: ignore[attr-defined]
    part.choose.setFocus()
    press(qtbot, program, KEY.Key_Space)
    settled(qtbot, program)


def fates(part: TablesPart) -> list[str]:
    """Return what becomes of each row, in words."""
    assert part.preview.state is not None
    return [row.cells[2].text for row in part.preview.state.rows]


def test_deposits_are_matched_looked_at_and_taken_in_by_keyboard(
    qtbot: Any, program: Program, part: TablesPart, tmp_path: Path
) -> None:
    desk, bench = program.surroundings.desk, part.bench
    before = acts(desk)
    assert isinstance(bench, SetUpBench)
    bench.subjects.setFocus()
    press(qtbot, program, KEY.Key_Return)
    assert part.kind.hasFocus(), "Enter goes from the list of subjects into the part"
    assert not part.season.isVisible()
    bring(qtbot, program, part, tmp_path / "contexts.csv", DEPOSITS)
    assert part.preview.refusal.isVisible()
    assert list(part.given.fields) == ["opened"]
    assert part.given.fields["opened"].hasFocus(), "what is missing is asked for"
    box = part.preview.boxes["Anfang"]
    box.setFocus()
    QTest.keyClicks(box, "Opened")
    settled(qtbot, program)
    assert part.preview.summary.text() == "1 row goes in, 1 waits with a question."
    assert fates(part)[0] == "a new context"
    assert fates(part)[1].startswith("Square: There is no square Z9.")
    assert acts(desk) == before
    fits(qtbot, part)
    assert not nameless(part)
    assert not too_small(part)
    assert part.preview.take.hasFocus()
    press(qtbot, program, KEY.Key_Space)
    qtbot.waitUntil(lambda: acts(desk) == before + 1)
    settled(qtbot, program)
    assert deposit_facts(desk, "3001").description == "silt"
    assert program.window.scan_line.answer.in_one_line() == "contexts.csv: 1 row taken in, 1 waits with a question"
    # What waits stays in view, is written out, corrected there and brought again; its columns are remembered.
    assert part.preview.summary.text().endswith("1 waits with a question, 1 is in already.")
    assert not part.preview.take.isEnabled()
    assert part.questions.hasFocus()
    program.surroundings.notices.to_write = tmp_path / "questions.csv"  # type: ignore[attr-defined]
    press(qtbot, program, KEY.Key_Space)
    settled(qtbot, program)
    listed = (tmp_path / "questions.csv").read_text("utf-8-sig")
    press(qtbot, program, KEY.Key_Escape)
    assert not part.preview.isVisible()
    assert part.choose.hasFocus()
    bring(qtbot, program, part, tmp_path / "questions.csv", listed.replace("Z9", "B1", 1))
    assert part.preview.take.text() == "Take in 1 row"
    part.preview.take.click()
    qtbot.waitUntil(lambda: acts(desk) == before + 2)
    settled(qtbot, program)
    assert deposit_facts(desk, "3002").square == "B1"
    # The last table is named, and taken back after a question.
    assert "questions.csv, 1 row, 2026-07-14 06:50" in part.last_said.text()
    part.back.setFocus()
    press(qtbot, program, KEY.Key_Space)
    qtbot.waitUntil(bench.refusals.is_asking)
    assert "1 row of questions.csv would go out again" in bench.refusals.text().text()
    settled(qtbot, program)
    press(qtbot, program, KEY.Key_Space)
    qtbot.waitUntil(lambda: acts(desk) == before + 3)
    settled(qtbot, program)
    assert "contexts.csv" in part.last_said.text()
    fits(qtbot, part)


def typed_for_all(qtbot: Any, program: Program, part: TablesPart, text: str, *keys: Qt.Key) -> None:
    """Type the role of all rows; without a key for it "Take in" is pressed."""
    field = part.given.fields["role"]
    field.selectAll()
    QTest.keyClicks(field, text)
    for key in keys:
        QTest.keyClick(field, key)
    if not keys:
        part.preview.take.click()
    settled(qtbot, program)


def test_other_kinds_an_old_season_and_what_cannot_be_read(
    qtbot: Any, program: Program, part: TablesPart, tmp_path: Path
) -> None:
    desk = program.surroundings.desk
    part.kind.setFocus()
    press(qtbot, program, KEY.Key_End)
    assert part.kind.currentText() == "An old season"
    assert part.season.isVisible()
    part.season.setFocus()
    press(qtbot, program, KEY.Key_End)
    assert part.season.currentText() == "2024"
    bring(qtbot, program, part, tmp_path / "old.csv", SEASON)
    assert part.preview.summary.text() == "3 wait with a question.", "context 2017 was not open in 2024"
    part.season.setFocus()
    press(qtbot, program, KEY.Key_Home)
    settled(qtbot, program)
    assert part.preview.summary.text() == "2 rows go in, 1 waits with a question."
    assert fates(part)[0] == "goes in: 3 QRS rim"
    fits(qtbot, part)
    # As another kind it is looked at afresh; what all rows have in common is told once.
    part.kind.setFocus()
    QTest.keyClicks(part.kind, "Peo")
    settled(qtbot, program)
    assert part.preview.boxes["Part"].findText("Role") > 0, "columns of the other kind are offered"
    assert part.preview.refusal.isVisible()
    bring(qtbot, program, part, tmp_path / "team.csv", "Name;Village\nWen Aro;Lower Quay\n")
    field, before = part.given.fields["role"], len(people(desk))
    assert field.hasFocus()
    QTest.keyClicks(field, "volunteer")
    press(qtbot, program, KEY.Key_Return)
    settled(qtbot, program)
    assert part.preview.take.hasFocus()
    # What is typed without Enter counts: what it makes of the rows is shown, or taken in where as many go in.
    typed_for_all(qtbot, program, part, "cook's cat")
    assert (part.preview.take.isEnabled(), len(people(desk))) == (False, before)
    typed_for_all(qtbot, program, part, "supervisor", KEY.Key_Return)
    typed_for_all(qtbot, program, part, "volunteer")
    qtbot.waitUntil(lambda: people(desk)[-1].name == "Wen Aro")
    settled(qtbot, program)
    assert people(desk)[-1].role == "volunteer"
    for name, text, code in (("empty.csv", "", "empty (0 bytes)"), ("none.csv", "Name;Role\n", "headers but no rows")):
        bring(qtbot, program, part, tmp_path / name, text)
        assert part.preview.state is not None
        assert code in part.preview.state.refusal
        assert part.preview.leave.hasFocus()
    bring(qtbot, program, part, tmp_path / "team.csv", "Name;Role\nWen Aro;volunteer\n")
    assert part.preview.summary.text() == "1 is in already."
    assert part.preview.take.text() == "Nothing new to take in"


def test_how_far_a_table_is_stands_there_and_it_can_be_called_off(
    qtbot: Any, program: Program, part: TablesPart, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk, gate = program.surroundings.desk, threading.Event()
    before = acts(desk)

    def wait_at(follow: Any) -> None:
        follow(1, 2)
        gate.wait(20)
        gate.clear()

    def slow_look(desk: Any, ask: Any, follow: Any) -> Any:
        wait_at(follow)
        return looked(desk, ask, follow)

    def slow_take(desk: Any, look: Any, *, follow: Any) -> Any:
        wait_at(follow)
        return take_in_table(desk, look, follow=follow)

    monkeypatch.setattr(tables_part, "looked", slow_look)
    monkeypatch.setattr(tables_part, "take_in_table", slow_take)
    path = tmp_path / "contexts.csv"
    path.write_text(DEPOSITS.replace("Anfang", "Opened").replace("Z9", "A2"), encoding="utf-8")

    def under_way() -> None:
        qtbot.waitUntil(lambda: part.rows.said.text() == "1 of 2 rows")
        assert part.rows.isVisible()
        assert (part.rows.bar.value(), part.rows.bar.maximum()) == (1, 2)

    def stopped() -> None:
        under_way()
        part.rows.stop.click()
        gate.set()
        settled(qtbot, program)
        assert not part.rows.isVisible()
        assert acts(desk) == before

    part.begin(path)
    stopped()
    assert (part.at, part.choose.isEnabled(), part.hint.isVisible()) == (None, True, True)
    part.begin(path)
    under_way()
    gate.set()
    settled(qtbot, program)
    assert part.preview.take.text() == "Take in 2 rows"
    part.preview.take.click()
    under_way()
    resting = (part.kind, part.choose, part.preview.leave, part.preview.boxes["Opened"])
    assert not any(one.isEnabled() for one in resting), "what goes in is not changed meanwhile"
    stopped()
    assert all(one.isEnabled() for one in resting)
    assert "Called off" in part.bench.refusals.text().text()
    assert part.preview.take.isEnabled()
    part.preview.take.click()
    under_way()
    gate.set()
    settled(qtbot, program)
    assert deposit_facts(desk, "3002").square == "A2"
    assert not part.rows.isVisible()
