"""The policy and the PINs in the set-up, by keyboard on a real store."""

from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit

from findsdesk.desk.desk import Desk
from findsdesk.desk.pins import check_pin, pins_of_the_team, set_pin
from findsdesk.desk.retention import rules_of, take_starting_policy
from findsdesk.domain.balance import Decision
from findsdesk.ui.benches.set_up.page import SetUpBench
from findsdesk.ui.program import Program
from tests.ui.at_the_registers import press
from tests.ui.at_work import fits, settled
from tests.ui.looking import nameless
from tests.ui.test_set_up_bench import bench, fill, program, show  # noqa: F401
from tests.yard import acts, new_yard, person, put_settled

KEY = Qt.Key


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    opened = new_yard(tmp_path, by="Ilo", station="dig house")
    put_settled(opened, 131, kept=22, discarded=10)
    return opened


def shown_rules(bench: SetUpBench) -> list[list[str]]:
    return [[cell.text for cell in row.cells] for row in bench.policy.model.rows]


def test_the_shipped_policy_is_taken_in_and_a_rule_added(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench
) -> None:
    show(qtbot, program, bench, "policy")
    assert bench.policy.start.isVisible()
    bench.policy.start.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert not bench.policy.start.isVisible()
    assert shown_rules(bench)[-1] == [
        "6",
        "Body sherds, one in ten",
        "discard",
        "1 in 10, at least 3",
        "body, not to be told, neck, shoulder",
    ]
    # The reasons of the list are offered, those of the decision that is chosen.
    offered: Any = bench.policy.form.entries["reason"].widget
    assert "no diagnostic value" in [offered.itemText(place) for place in range(offered.count())]
    bench.policy.form.focus_first()
    press(qtbot, program, "Marl Buff of floors", KEY.Key_Return)
    fill(bench, "policy", decision=Decision.KEEP, reason="reference collection", wares="mbu, qrs", securities="sealed")
    settled(qtbot, program)
    rule = rules_of(desk)[-1].rule
    assert (rule.name, rule.fits.as_plain()) == (
        "Marl Buff of floors",
        {"wares": ["MBU", "QRS"], "securities": ["sealed"]},
    )


def test_a_rule_is_changed_moved_and_put_out_of_force(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench
) -> None:
    take_starting_policy(desk)
    show(qtbot, program, bench, "policy")
    bench.policy.table.setFocus()
    bench.policy.table.selectRow(5)
    press(qtbot, program, KEY.Key_Return)
    assert bench.policy.form.peek()["parts"] == "body, not to be told, neck, shoulder"
    fill(bench, "policy", parts="body", one_in=20, at_least=None, place=1, in_force=False)
    settled(qtbot, program)
    first = rules_of(desk)[0]
    assert (first.rule.name, first.rule.one_in, first.rule.at_least, first.in_force) == (
        "Body sherds, one in ten",
        20,
        None,
        False,
    )
    assert shown_rules(bench)[0][2] == "discard, out of force"
    # A new rule behind one that takes all it would says so, in the answer and in the list.
    fill(bench, "policy", name="Rims of floors", decision=Decision.KEEP, parts="rim", securities="sealed")
    settled(qtbot, program)
    said = program.window.scan_line.answer.in_one_line()
    assert said == "Written: proposes nothing: “Diagnostic” before it takes all of it"
    assert shown_rules(bench)[-1][2] == "keep, proposes nothing"


def test_a_word_that_is_on_no_list_is_refused_in_the_form(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench
) -> None:
    show(qtbot, program, bench, "policy")
    fill(bench, "policy", name="New", decision=Decision.KEEP, parts="toe")
    settled(qtbot, program)
    assert "“toe” is no part of a vessel here" in bench.refusals.text().text()
    assert bench.policy.form.peek()["parts"] == "toe"


def test_the_simulator_answers_and_writes_nothing(qtbot: Any, desk: Desk, program: Program, bench: SetUpBench) -> None:
    take_starting_policy(desk)
    show(qtbot, program, bench, "policy")
    before = acts(desk)
    bench.policy.ask.setFocus()
    press(qtbot, program, KEY.Key_Space)
    figures = [[cell.text for cell in row.cells] for row in bench.policy.figures.rows]
    assert figures[0] == ["count", "32", "22", "25", "25"]
    assert [row[0] for row in figures[3:5]] == ["mean date of the sherds", "TPQ by the sherds"]
    assert all(cell.isdecimal() for row in figures[3:5] for cell in row[1:])
    assert bench.policy.figure_table.isColumnHidden(4), "no rule is tried"
    assert "Boxes of 10 kg by weight alone" in bench.policy.note.text()
    fits(qtbot, bench)
    assert nameless(bench) == []
    press(qtbot, program, KEY.Key_Space)
    assert bench.policy.told.isHidden()
    bench.policy.form.show_values({"name": "All", "decision": Decision.DISCARD, "reason": "modern", "parts": "rim"})
    bench.policy.try_it.click()
    settled(qtbot, program)
    assert bench.policy.figures.rows[0].cells[4].text == "25", "the rule that keeps what is diagnostic comes first"
    bench.policy.form.show_values({"parts": "body", "one_in": None, "place": 1})
    bench.policy.form.show_values({"name": "None of it", "decision": Decision.KEEP, "reason": "", "parts": ""})
    bench.policy.try_it.click()
    settled(qtbot, program)
    tried = [cell.text for cell in bench.policy.figures.rows[0].cells]
    assert tried == ["count", "32", "22", "25", "32"], "a place can be given with a new rule"
    assert not bench.policy.never.isVisible()
    bench.policy.form.show_values({"name": "All", "decision": Decision.KEEP, "parts": "rim", "place": None})
    bench.policy.try_it.click()
    settled(qtbot, program)
    assert bench.policy.never.isVisible()
    assert bench.policy.never.text().startswith("This rule proposes nothing: “")
    fits(qtbot, bench)
    assert not bench.policy.figure_table.isColumnHidden(4)
    assert acts(desk) == before


def test_a_changed_rule_is_tried_beside_the_rules_as_they_stand_and_a_row_opens_from_there(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench
) -> None:
    take_starting_policy(desk)
    show(qtbot, program, bench, "policy")
    bench.policy.table.setFocus()
    bench.policy.table.selectRow(5)
    press(qtbot, program, KEY.Key_Return)
    bench.policy.form.show_values({"one_in": 2, "at_least": None})
    bench.policy.try_it.click()
    settled(qtbot, program)
    pieces = [int(cell.text) for cell in bench.policy.figures.rows[0].cells[1:]]
    assert pieces[3] > pieces[2], "one in two keeps more than one in ten"
    table = bench.policy.figure_table
    assert table.horizontalScrollBar().maximum() == 0, "every column stands on a laptop, the names beside the figures"
    for column in range(5):
        assert table.columnWidth(column) >= table.sizeHintForColumn(column), "no name and no figure is cut"
        heading = str(table.model().headerData(column, Qt.Orientation.Horizontal))
        assert table.columnWidth(column) >= table.horizontalHeader().fontMetrics().horizontalAdvance(heading) + 20
    assert bench.policy.put_away.hasFocus()
    press(qtbot, program, KEY.Key_Return)
    assert bench.policy.told.isHidden(), "Enter presses the button that has the keyboard"
    bench.policy.try_it.click()
    settled(qtbot, program)
    bench.policy.table.setFocus()
    bench.policy.table.selectRow(0)
    press(qtbot, program, KEY.Key_Return)
    assert bench.policy.told.isHidden()
    assert bench.policy.form.isVisible()


def test_a_share_of_nothing_is_refused_and_goes_with_the_form_that_is_left(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench
) -> None:
    take_starting_policy(desk)
    show(qtbot, program, bench, "policy")
    bench.policy.table.setFocus()
    bench.policy.table.selectRow(5)
    press(qtbot, program, KEY.Key_Return)
    fill(bench, "policy", one_in=0)
    settled(qtbot, program)
    assert "Leave the field empty" in bench.refusals.text().text()
    assert rules_of(desk)[5].rule.one_in == 10
    bench.policy.other.click()
    settled(qtbot, program)
    assert not bench.refusals.isVisible()
    assert bench.policy.table.hasFocus()


def test_a_pin_is_set_masked_and_the_old_one_asked_for(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench
) -> None:
    show(qtbot, program, bench, "people")
    part = bench.people
    part.open_pin.setFocus()
    press(qtbot, program, KEY.Key_Space)
    for key in ("own", "pin", "again"):
        line = part.pin_form.entries[key].widget
        assert isinstance(line, QLineEdit)
        assert line.echoMode() is QLineEdit.EchoMode.Password
    assert not part.pin_form.entries["own"].widget.isVisible()
    fits(qtbot, bench)
    part.pin_form.show_values({"person": "Ilo Marr", "pin": "2406", "again": "2407"})
    part.pin_button.click()
    settled(qtbot, program)
    assert "The two PINs differ" in bench.refusals.text().text()
    assert part.pin_form.peek()["pin"] == ""
    assert part.pin_form.entries["pin"].widget.hasFocus()
    part.pin_form.show_values({"pin": "2406", "again": "2406"})
    part.pin_button.click()
    settled(qtbot, program)
    check_pin(desk, person(desk, "Ilo"), "2406")
    assert part.pin_card.isHidden()
    part.open_pin.click()
    settled(qtbot, program)
    assert part.pin_form.entries["own"].widget.isVisible()
    part.pin_form.show_values({"person": "Ilo Marr", "own": "9999", "pin": "3307", "again": "3307"})
    part.pin_button.click()
    settled(qtbot, program)
    assert part.pin_form.entries["own"].widget.hasFocus(), "it was the own PIN that was wrong"
    part.pin_leave.click()
    part.table.selectRow(next(row for row, one in enumerate(part.entries) if one.name == "Mika Sool"))
    part.open_pin.click()
    settled(qtbot, program)
    assert part.pin_form.peek()["person"] == "Mika Sool", "the row that is chosen is proposed"
    part.table.setFocus()
    press(qtbot, program, KEY.Key_Return)
    assert part.pin_card.isHidden()
    assert part.card.isVisible()


def test_who_does_not_direct_sets_no_pin_but_the_own_one(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench
) -> None:
    set_pin(desk, "Ilo", pin="2406")
    program.window.surroundings.desk = desk.by(person(desk, "Mika"))
    show(qtbot, program, bench, "people")
    bench.people.open_pin.click()
    settled(qtbot, program)
    box = bench.people.pin_form.entries["person"].widget
    assert [box.itemData(place) for place in range(box.count())] == ["Mika Sool"]  # type: ignore[attr-defined]
    assert [one.name for one in pins_of_the_team(desk) if one.has_pin] == ["Ilo Marr"]
