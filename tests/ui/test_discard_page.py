"""The page of a discard list in the registers, by keyboard on a real store: made, signed, carried, called back."""

import os
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QLineEdit

from findsdesk.desk.deposit_facts import deposit_facts
from findsdesk.desk.desk import Desk
from findsdesk.desk.discard_lists import WholeList, discard_list
from findsdesk.desk.discards import make_list, sign_list
from findsdesk.desk.photos import photos_of
from findsdesk.desk.pins import set_pin
from findsdesk.domain.discards import Stage
from findsdesk.ui.benches.registers.page import RegistersBench
from findsdesk.ui.program import Program
from tests.ui.at_the_registers import begin, bench, desk, listed, open_deposit_page, press, program, show_list  # noqa: F401
from tests.ui.at_work import fits, settled
from tests.ui.looking import nameless
from tests.yard import put_settled, sitting, with_settings

KEY = Qt.Key
PIN = "2406"


@pytest.fixture
def sherds(desk: Desk) -> Desk:
    put_settled(desk, 131, discarded=10)
    put_settled(desk, 132, discarded=12, deposit="2019")
    set_pin(sitting(desk, "Ilo"), "Ilo", pin=PIN)
    return desk


def act(qtbot: Any, program: Program, bench: RegistersBench, key: str) -> None:
    bench.discard.acts[key].setFocus()
    press(qtbot, program, KEY.Key_Space)


def whole(desk: Desk) -> WholeList:
    return discard_list(desk, 1)


def test_a_list_is_made_signed_and_carried_away_by_keyboard(
    qtbot: Any, sherds: Desk, program: Program, bench: RegistersBench
) -> None:
    settled(qtbot, program)
    show_list(qtbot, program, bench, "discards")
    assert bench.lists.foot.begin.text() == "Make a discard list"
    bench.lists.foot.begin.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert bench.discard.isVisible()
    assert bench.going_on() == "Discard list 1, proposed"
    assert [row.cells[0].text for row in bench.discard.model.rows] == ["131", "132"]
    assert program.window.scan_line.answer.in_one_line() == "Discard list 1: 22 sherds wait for a second person"
    act(qtbot, program, bench, "sign")
    assert bench.discard.form.write.text() == "Sign for 22 sherds"
    fields = bench.discard.form.fields
    assert fields is not None
    line = fields.entries["pin"].widget
    assert isinstance(line, QLineEdit)
    assert line.echoMode() is QLineEdit.EchoMode.Password
    assert line.hasFocus(), "a name stands already: what is typed is its PIN"
    press(qtbot, program, "9999", KEY.Key_Return)
    assert "That is not the PIN of Ilo Marr" in bench.refusals.text().text()
    assert bench.discard.form.isAncestorOf(bench.refusals)
    assert line.text() == ""
    press(qtbot, program, PIN, KEY.Key_Return)
    assert whole(sherds).facts.stage is Stage.SIGNED
    assert program.window.scan_line.answer.in_one_line() == "Discard list 1: 22 sherds signed for"
    assert (whole(sherds).facts.made_by, whole(sherds).facts.signed_by) == ("Mika Sool", "Ilo Marr")
    assert bench.discard.form.isHidden()
    act(qtbot, program, bench, "carry")
    assert any("Broken sherds cut" in slip.text().text() for slip in bench.discard.form.cautions)
    press(qtbot, program, "marked pit", KEY.Key_Tab, "barrow", KEY.Key_Tab, "tile", KEY.Key_Tab)
    assert bench.discard.form.write.hasFocus(), "after the last field comes the button that writes"
    press(qtbot, program, KEY.Key_Tab)
    assert bench.discard.form.leave_it.hasFocus()
    press(qtbot, program, KEY.Key_Tab)
    assert bench.discard.table.hasFocus(), "and then what stands below"
    press(qtbot, program, KEY.Key_Backtab, KEY.Key_Backtab)
    assert bench.discard.form.write.hasFocus()
    press(qtbot, program, KEY.Key_Return)
    assert whole(sherds).facts.stage is Stage.CARRIED
    assert program.window.scan_line.answer.in_one_line() == "Discard list 1: 22 sherds carried away"
    assert not bench.discard.acts["call_back"].isVisible()
    act(qtbot, program, bench, "note")
    press(qtbot, program, "the tile lies on top", KEY.Key_Return)
    assert [note.text for note in whole(sherds).notes] == ["the tile lies on top"]
    assert program.window.scan_line.answer.in_one_line() == "Discard list 1: the note is added"


def test_what_was_typed_stays_while_the_inspector_s_word_is_written(
    qtbot: Any, sherds: Desk, program: Program, bench: RegistersBench
) -> None:
    with_settings(sherds, inspector_signs=True)
    make_list(sitting(sherds, "Oren"))
    sign_list(sherds, 1, signer="Ilo", pin=PIN)
    settled(qtbot, program)
    bench.show_discard_list(1, "2026")
    settled(qtbot, program)
    act(qtbot, program, bench, "carry")
    press(qtbot, program, "marked pit", KEY.Key_Return, "barrow", KEY.Key_Return, "tile", KEY.Key_Return)
    assert "The permit asks for the inspector's word" in bench.refusals.text().text()
    act(qtbot, program, bench, "inspected")
    press(qtbot, program, "Sela Orin", KEY.Key_Return)
    act(qtbot, program, bench, "carry")
    press(qtbot, program, KEY.Key_Return, KEY.Key_Return, KEY.Key_Return)
    facts = whole(sherds).facts
    assert (facts.carried_to, facts.carried_how, facts.marker) == ("marked pit", "barrow", "tile")
    act(qtbot, program, bench, "note")
    press(qtbot, program, "the tile lies on top", KEY.Key_Return)
    act(qtbot, program, bench, "note")
    assert bench.discard.form.fields is not None
    assert bench.discard.form.fields.peek() == {"text": ""}, "what was written is not offered again"


def test_who_made_it_or_decided_a_line_is_not_offered_to_sign(
    qtbot: Any, sherds: Desk, program: Program, bench: RegistersBench
) -> None:
    make_list(sherds)
    settled(qtbot, program)
    bench.show_discard_list(1, "2026")
    settled(qtbot, program)
    act(qtbot, program, bench, "sign")
    fields = bench.discard.form.fields
    assert fields is not None
    assert [words for _value, words in fields.fields[0].choices] == ["Ilo Marr"], "Oren decided its lines"


def test_chosen_lines_are_called_back(qtbot: Any, sherds: Desk, program: Program, bench: RegistersBench) -> None:
    make_list(sherds)
    sign_list(sherds, 1, signer="Ilo", pin=PIN)
    settled(qtbot, program)
    show_list(qtbot, program, bench, "discards")
    bench.lists.to_rows()
    press(qtbot, program, KEY.Key_Return)
    assert bench.discard.isVisible()
    # No line chosen means none: all of them are called back only where all are chosen.
    bench.discard.table.clearSelection()
    act(qtbot, program, bench, "call_back")
    assert not bench.discard.form.write.isEnabled()
    assert bench.discard.form.lines.text() == "Choose lines below first; Ctrl+A there chooses all 2."
    press(qtbot, program, KEY.Key_Return, "one joins 87", KEY.Key_Return)
    assert [line.called_back_why for line in whole(sherds).lines] == ["", ""]
    bench.discard.table.selectAll()
    assert bench.discard.form.write.text() == "Call back 2 lines"
    press(qtbot, program, KEY.Key_Escape)
    bench.discard.table.selectRow(1)
    act(qtbot, program, bench, "call_back")
    assert bench.discard.form.write.text() == "Call back 1 line"
    why = "one joins 87, a rim of the same jar, and the rest looks like it"
    press(qtbot, program, KEY.Key_Return, why, KEY.Key_Return)
    assert [line.called_back_why for line in whole(sherds).lines] == ["", why]
    said = program.window.scan_line.answer.in_one_line()
    assert said == "Discard list 1: 1 line called back: 12 sherds stay"
    off = bench.discard.model.rows[1]
    assert off.said == off.cells[6].text == f"called back: {why}"
    told = [label.text() for label in bench.discard.known.findChildren(QLabel)]
    assert "Called back" in told
    assert any(text.startswith(f"12 sherds: {why} (2026-07-14 ") for text in told), "whole, however narrow the table is"
    fits(qtbot, bench)
    press(qtbot, program, KEY.Key_Escape)
    assert bench.lists.isVisible()
    assert listed(bench, 1) == ["signed", "called back"] or listed(bench, 1) == ["called back", "signed"]


def test_the_inspector_stands_among_the_acts_where_the_permit_asks(
    qtbot: Any, sherds: Desk, program: Program, bench: RegistersBench
) -> None:
    with_settings(sherds, inspector_signs=True)
    make_list(sherds)
    sign_list(sherds, 1, signer="Ilo", pin=PIN)
    settled(qtbot, program)
    bench.show_discard_list(1, "2026")
    settled(qtbot, program)
    act(qtbot, program, bench, "inspected")
    press(qtbot, program, "Sela Orin", KEY.Key_Return)
    assert whole(sherds).facts.inspector == "Sela Orin"
    assert not bench.discard.acts["inspected"].isVisible()


def test_who_discards_nothing_sees_no_discards(
    qtbot: Any, sherds: Desk, program: Program, bench: RegistersBench
) -> None:
    with_settings(sherds, discards=False)
    settled(qtbot, program)
    show_list(qtbot, program, bench, "deposits")
    keys = bench.lists.tabs.keys()
    assert "discards" not in keys
    assert "left" in keys


def test_what_was_left_is_written_on_the_page_of_its_deposit(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench
) -> None:
    open_deposit_page(qtbot, program, bench)
    begin(qtbot, program, bench, "left")
    press(qtbot, program, "coarse body sherds", KEY.Key_Return, KEY.Key_Return, "240", KEY.Key_Return, "all plain")
    press(qtbot, program, KEY.Key_Return)
    facts = deposit_facts(desk, "2017")
    assert (facts.left_entries, facts.left_pieces) == (1, 240)
    show_list(qtbot, program, bench, "left")
    assert listed(bench, 3) == ["coarse body sherds"]
    # It was written of the wrong one: taken back by its opposite, both stay readable.
    bench.lists.table.setFocus()
    bench.lists.table.selectRow(0)
    press(qtbot, program, KEY.Key_Return)
    entry = bench.left_entry
    assert entry.isVisible()
    assert entry.about.text().startswith("coarse body sherds, 240 pieces, all plain")
    fits(qtbot, bench)
    assert nameless(bench) == []
    press(qtbot, program, KEY.Key_Return)
    assert entry.isVisible()
    assert deposit_facts(desk, "2017").left_pieces == 240
    press(qtbot, program, "of 2019", KEY.Key_Return)
    assert bench.lists.isVisible()
    assert deposit_facts(desk, "2017").left_pieces == 0
    assert sorted(listed(bench, 4)) == ["-240", "240"]
    bench.lists.table.selectRow(listed(bench, 4).index("240"))
    bench.lists.table.setFocus()
    press(qtbot, program, KEY.Key_Return)
    assert entry.about.text().endswith("It was taken back.")
    assert not entry.button.isVisible()
    press(qtbot, program, KEY.Key_Escape)
    assert bench.lists.isVisible()


@pytest.mark.skipif("FINDSDESK_TEST_SERVER" in os.environ, reason="photographs lie beside a store's file")
def test_photographs_of_what_is_carried_away_are_taken_in_on_its_page(
    qtbot: Any, sherds: Desk, program: Program, bench: RegistersBench, tmp_path: Path
) -> None:
    made = make_list(sherds)
    settled(qtbot, program)
    bench.show_discard_list(1, "2026")
    settled(qtbot, program)
    assert not bench.discard.photos.isVisible(), "proposed alone, nothing is thrown away yet"
    sign_list(sherds, 1, signer="Ilo", pin=PIN)
    qtbot.waitUntil(lambda: bench.discard.acts["carry"].isVisible())
    settled(qtbot, program)
    assert bench.discard.photos.isVisible()
    act(qtbot, program, bench, "carry")
    press(qtbot, program, "marked pit", KEY.Key_Return, "barrow", KEY.Key_Return, "tile 2026", KEY.Key_Return)
    assert whole(sherds).facts.stage is Stage.CARRIED
    Image.new("RGB", (800, 600), "#a9542f").save(tmp_path / "pit.jpg")
    program.surroundings.notices.to_open = [str(tmp_path / "pit.jpg")]  # type: ignore[attr-defined]
    bench.discard.photos.add.setFocus()
    press(qtbot, program, KEY.Key_Space)
    (photo,) = photos_of(sherds, ("discard_list", made.facts.id))
    assert photo.file_name == "pit.jpg"
    assert bench.discard.photos.list.count() == 1
    fits(qtbot, bench)
    assert nameless(bench) == []
    bench.discard.photos.off.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert photos_of(sherds, ("discard_list", made.facts.id)) == ()


def test_no_word_of_the_page_is_cut(qtbot: Any, sherds: Desk, program: Program, bench: RegistersBench) -> None:
    make_list(sherds)
    sign_list(sherds, 1, signer="Ilo", pin=PIN)
    settled(qtbot, program)
    bench.show_discard_list(1, "2026")
    settled(qtbot, program)
    for key in ("carry", "call_back"):
        act(qtbot, program, bench, key)
        fits(qtbot, bench)
        assert nameless(bench) == []
