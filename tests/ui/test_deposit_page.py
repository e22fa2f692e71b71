"""The page of a deposit in the registers, worked by keyboard on a real store."""

from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from findsdesk.desk.deposit_facts import deposit_facts
from findsdesk.desk.deposits import change_deposit
from findsdesk.desk.desk import Desk
from findsdesk.desk.redoing import redo_done, things_to_redo
from findsdesk.desk.registers import Register, page
from findsdesk.desk.renumbering import renumber_deposit
from findsdesk.domain.deposits import Security
from findsdesk.ui.benches.registers.page import RegistersBench
from findsdesk.ui.program import Program
from tests.ui.at_the_registers import begin, bench, desk, listed, open_deposit_page, press, program, show_list  # noqa: F401
from tests.ui.at_work import settled
from tests.yard import put_containers, sitting

KEY = Qt.Key


def test_a_deposit_is_opened_by_keyboard_with_levelling(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench
) -> None:
    bench.lists.foot.begin.setFocus()
    press(qtbot, program, KEY.Key_Space)
    press(qtbot, program, "2031", *[KEY.Key_Return] * 6)
    press(qtbot, program, "12.34", KEY.Key_Return, "1,25", KEY.Key_Return, "0.83")
    form = bench.deposit.form.fields
    assert form is not None
    assert form._below["opening_mm"].text() == "12.340 + 1.250 − 0.830 = 12.760 m"
    QTest.keyClick(form, KEY.Key_Return, Qt.KeyboardModifier.ControlModifier)
    settled(qtbot, program)
    # A1 has an open deposit already, and the yard's setting is to ask.
    assert "still open in A1" in bench.refusals.text().text()
    press(qtbot, program, KEY.Key_Space)
    facts = deposit_facts(desk, "2031")
    assert (facts.square, facts.opening_mm, facts.kind) == ("A1", 12760, "layer")
    assert bench.going_on() == "Context 2031"


def test_a_refusal_keeps_what_was_typed_and_stands_in_the_form(
    qtbot: Any, program: Program, bench: RegistersBench
) -> None:
    open_deposit_page(qtbot, program, bench)
    begin(qtbot, program, bench, "renumber")
    press(qtbot, program, "2019", KEY.Key_Return, "drawn so", KEY.Key_Return)
    assert "exists already" in bench.refusals.text().text()
    assert bench.deposit.form.isAncestorOf(bench.refusals)
    form = bench.deposit.form.fields
    assert form is not None
    assert form.peek() == {"to": "2019", "reason": "drawn so"}


def test_a_renumbering_says_what_to_write_again_and_leads_there(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench
) -> None:
    put_containers(desk, (131, 132))
    settled(qtbot, program)
    open_deposit_page(qtbot, program, bench)
    begin(qtbot, program, bench, "renumber")
    press(qtbot, program, "2050", KEY.Key_Return, "drawn so", KEY.Key_Return)
    assert deposit_facts(desk, "2017").number == "2050"
    assert bench.deposit.done.text() == "To write again: 2 tags"
    bench.deposit.redo.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert bench.lists.kind.key == "redo"
    assert bench.going_on() == "2 lines to write again"
    open_deposit_page(qtbot, program, bench)
    assert bench.deposit.done.text() == "To write again: 2 tags"
    redo_done(desk, [thing.id for thing in things_to_redo(desk)])
    bench.deposit.reload()
    settled(qtbot, program)
    assert bench.deposit.done.text() == "It is context 2050 now", "all of it was written again"
    assert not bench.deposit.redo.isVisible()


def test_what_is_written_again_leaves_the_list(qtbot: Any, desk: Desk, program: Program, bench: RegistersBench) -> None:
    put_containers(desk, (131, 132, 133))
    renumber_deposit(desk, "2017", to="2050", reason="drawn so")
    settled(qtbot, program)
    show_list(qtbot, program, bench, "redo")
    assert not bench.lists.foot.redo.isEnabled()
    bench.lists.to_rows()
    QTest.keyClick(bench.lists.table, KEY.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    assert bench.lists.foot.redo.text() == "Chosen: 2, written again"
    bench.lists.foot.redo.click()
    settled(qtbot, program)
    assert [thing.number for thing in things_to_redo(desk)] == ["133"]
    assert listed(bench, 1) == ["133"]


def test_containers_are_split_off_by_ticks_and_by_scan(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench
) -> None:
    codes = put_containers(desk, (131, 132, 133))
    settled(qtbot, program)
    open_deposit_page(qtbot, program, bench)
    begin(qtbot, program, bench, "split")
    press(qtbot, program, "2060", KEY.Key_Return, "cut seen in section")
    rows = bench.deposit.form.containers
    rows.setFocus()
    press(qtbot, program, KEY.Key_Space)
    program.window.on_scan(codes[2])
    settled(qtbot, program)
    assert bench.deposit.form.chosen.text().startswith("Ticked: 2 of 3")
    bench.deposit.form.write.setFocus()
    press(qtbot, program, KEY.Key_Space)
    found = page(desk, Register.CONTAINERS)
    assert {row.number: row.deposit for row in found} == {"131": "2060", "132": "2017", "133": "2060"}


@pytest.mark.parametrize("act", ["close", "reopen", "change", "merge", "mixed"])
def test_every_act_on_a_deposit_is_done_from_its_page(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench, act: str
) -> None:
    if act == "reopen":
        open_deposit_page(qtbot, program, bench)
        begin(qtbot, program, bench, "close")
        bench.deposit.form.write.click()
        settled(qtbot, program)
    open_deposit_page(qtbot, program, bench)
    begin(qtbot, program, bench, act)
    form = bench.deposit.form.fields
    if form is not None:
        form.show_values({"reason": "seen in section", "into": "2019", "description": "dark fill", "soil": "40 x 12"})
        bench.deposit.form.write.click()
        settled(qtbot, program)
    if bench.refusals.isVisible():
        bench.refusals._sure.click()
        settled(qtbot, program)
    facts = deposit_facts(desk, "2017")
    done = {
        "close": facts.closed is not None,
        "reopen": facts.closed is None,
        "change": facts.description == "dark fill",
        "merge": facts.number == "2019",
        "mixed": facts.security is Security.MIXED,
    }
    assert done[act]
    assert facts.soil == ("40 × 12 l" if act in ("close", "change") else "")


def test_its_sheet_is_printed_from_its_page(
    qtbot: Any, program: Program, bench: RegistersBench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))
    monkeypatch.setattr("findsdesk.ui.paper_out.QDesktopServices.openUrl", lambda _url: False)
    program.notices.to_write = tmp_path / "2017.pdf"  # type: ignore[attr-defined]
    open_deposit_page(qtbot, program, bench)
    bench.deposit.sheet.setFocus()
    press(qtbot, program, KEY.Key_Space)
    settled(qtbot, program)
    document = pypdfium2.PdfDocument(tmp_path / "2017.pdf")
    text = document[0].get_textpage().get_text_bounded()
    document.close()
    assert "Context 2017" in text
    assert "Everything that is known of it" in text


def test_a_change_that_met_another_shows_mine_theirs_and_before(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench
) -> None:
    open_deposit_page(qtbot, program, bench)
    begin(qtbot, program, bench, "change")
    form = bench.deposit.form.fields
    assert form is not None
    form.entries["description"].widget.setFocus()
    press(qtbot, program, "dark fill")
    change_deposit(sitting(desk, "Tessa"), "2017", description="pale fill")
    settled(qtbot, program)
    bench.deposit.form.write.click()
    settled(qtbot, program)
    note = bench.deposit.form.note.text()
    for said in ("“dark fill”", "“pale fill”", "–"):
        assert said in note
    assert "Tessa Quill" in bench.refusals.text().text()
    bench.deposit.form.write.click()
    settled(qtbot, program)
    assert deposit_facts(desk, "2017").description == "dark fill"


def test_what_somebody_types_is_not_swept_away_by_another_deposit_in_hand(
    qtbot: Any, program: Program, bench: RegistersBench
) -> None:
    open_deposit_page(qtbot, program, bench)
    begin(qtbot, program, bench, "renumber")
    press(qtbot, program, "2050")
    program.window.open_thing("deposit", "2019")
    settled(qtbot, program)
    form = bench.deposit.form.fields
    assert form is not None
    assert form.peek()["to"] == "2050"
    assert bench.going_on() == "Context 2017"


def test_the_acts_on_a_deposit_are_found_in_the_journal(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench
) -> None:
    renumber_deposit(desk, "2017", to="2050", reason="drawn so")
    settled(qtbot, program)
    open_deposit_page(qtbot, program, bench, "2050")
    bench.deposit.journal.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert bench.lists.kind.key == "journal"
    assert "context renumbered" in listed(bench, 2)
    assert bench.lists.chips.chips[0].text().startswith("context 2050")


# Files and paper
