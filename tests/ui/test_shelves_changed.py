"""What is put right at the shelves: a box's limit, a box given up, a loan's day, its results, proxy slips."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from findsdesk.desk.boxes import add_box
from findsdesk.desk.boxing import box_with_bags
from findsdesk.desk.loans import every_loan, lend
from findsdesk.desk.proving import prove
from findsdesk.desk.proxy_slips import slips_standing
from findsdesk.desk.shelves import places_tree
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.lending import BorrowerKind
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Tone
from findsdesk.ui.benches.shelves.page import ShelvesBench
from findsdesk.ui.benches.shelves.state import Page
from findsdesk.ui.program import Program
from tests.ui.at_the_shelves import BOX1, KEY, Store, press, said, texts, turn_to
from tests.ui.at_work import go_to, opened, scan, settled
from tests.ui.looking import nameless
from tests.yard import new_yard


def pressed(qtbot: Any, program: Program, button: Any, *keys: Any) -> None:
    button.setFocus()
    press(qtbot, program, KEY.Key_Space, *keys)


def test_boxes_loans_and_slips_are_put_right_from_the_keyboard(qtbot: Any, tmp_path: Path) -> None:
    store = Store(new_yard(tmp_path))
    add_box(store.desk, kind="sherds", place="Shelf 1")
    lend(store.desk, [store.glass], borrower="Nela Trost", kind=BorrowerKind.SPECIALIST, purpose="glass report",
         due_on=date(2026, 8, 15))  # fmt: skip
    with opened(qtbot, store.desk) as program:
        bench = go_to(qtbot, program, "shelves")
        a_place_with_things_in_it_stays(qtbot, program, store, bench)
        a_box_gets_another_limit_and_is_given_up(qtbot, program, store, bench)
        a_loan_is_due_another_day_and_its_results_are_kept(qtbot, program, store, bench, tmp_path)
        a_slip_is_written_and_laid_back(qtbot, program, store, bench)
        assert prove(store.desk).sound


def a_place_with_things_in_it_stays(qtbot: Any, program: Program, store: Store, bench: ShelvesBench) -> None:
    scan(qtbot, program, store.places["Shelf 1"])
    pressed(qtbot, program, bench.places.give_up)
    assert "Shelf 1 is not empty: 3 boxes there" in bench.refusals.text().text()
    scan(qtbot, program, store.places["Shelf 3"])
    pressed(qtbot, program, bench.places.give_up)
    assert said(program)[1].endswith("Shelf 3: given up; its code is never used again")
    assert "Shelf 3" not in {one.name for one in places_tree(store.desk)}
    assert bench.places.card.heading.text() == "Store · room"


def a_box_gets_another_limit_and_is_given_up(qtbot: Any, program: Program, store: Store, bench: ShelvesBench) -> None:
    turn_to(qtbot, program, bench, Page.PACK)
    scan(qtbot, program, BOX1)
    assert not bench.packing.give_up.isEnabled(), "it has bags in it"
    pressed(qtbot, program, bench.packing.change_it)
    form = bench.packing.change
    assert form.fields is not None
    form.fields.show_values({"limit_tenths": 200_000})
    press(qtbot, program, KEY.Key_Return, "250", KEY.Key_Return, "handle torn", KEY.Key_Return)
    assert bench.refusals.is_asking(), "20 kg is heavy to lift"
    assert box_with_bags(store.desk, "1").box.limit_tenths == 100_000
    bench.refusals.say_sure()
    settled(qtbot, program)
    box = box_with_bags(store.desk, "1").box
    assert (box.limit_tenths, box.empty_tenths, box.note) == (200_000, 2_500, "handle torn")
    assert not form.isVisible()
    assert bench.packing.card.weight.text() == "7.8 of 20.0 kg"
    scan(qtbot, program, make_code("TQ", Kind.BOX, 3))
    for _twice in range(2):
        bench.packing.give_up.click()
    settled(qtbot, program)
    assert not bench.refusals.isVisible(), "pressed twice it is given up once"
    assert said(program) == (Tone.DONE, "Box 3: given up; its number and code are never used again")
    with pytest.raises(Refusal, match="box_gone"):
        box_with_bags(store.desk, "3")
    assert bench.packing.empty.isVisible()
    a_box_scanned_while_another_is_given_up_stays_in_hand(qtbot, program, store, bench)


def a_box_scanned_while_another_is_given_up_stays_in_hand(
    qtbot: Any, program: Program, store: Store, bench: ShelvesBench
) -> None:
    (another,) = add_box(store.desk, kind="sherds", place="Shelf 1")
    scan(qtbot, program, another.code)
    bench.packing.give_up.click()
    bench.take_scan(BOX1)
    settled(qtbot, program)
    assert bench.packing.code == BOX1


def a_loan_is_due_another_day_and_its_results_are_kept(
    qtbot: Any, program: Program, store: Store, bench: ShelvesBench, folder: Path
) -> None:
    notices: Any = program.notices
    turn_to(qtbot, program, bench, Page.LOANS)
    pressed(qtbot, program, bench.loans.change)
    assert bench.loans.changing.fields is not None
    bench.loans.changing.fields.show_values({"due_on": date(2026, 9, 30)})
    press(qtbot, program, KEY.Key_Return, KEY.Key_Return, KEY.Key_Return, "asked for longer", KEY.Key_Return)
    (loan,) = every_loan(store.desk)
    assert (loan.due_on, loan.note) == (date(2026, 9, 30), "asked for longer")
    assert "asked for longer" in bench.loans.line.text()
    pressed(qtbot, program, bench.loans.change)
    bench.loans.changing.fields.show_values({"due_on": date(2026, 1, 1)})
    bench.loans.changing.wanted.emit()
    settled(qtbot, program)
    assert bench.refusals.text().isVisible(), "due before it was lent"
    press(qtbot, program, KEY.Key_Escape)
    bench.loans.begin_return()
    report = folder / "glass.pdf"
    report.write_bytes(b"%PDF-1.7 glass")
    notices.to_open = [report]
    pressed(qtbot, program, bench.loans.returning.files)
    part = bench.loans.results
    assert bench.loans.page is part
    part.form.show_values({"note": "report"})
    pressed(qtbot, program, part.act)
    assert texts(part.table) == ["glass.pdf"]
    assert not nameless(bench)
    notices.to_write = folder / "copy.pdf"
    part.table.setFocus()
    press(qtbot, program, KEY.Key_Return)
    assert (folder / "copy.pdf").read_bytes() == report.read_bytes()
    pressed(qtbot, program, part.act)
    assert "is here already, with this loan" in bench.refusals.text().text()
    press(qtbot, program, KEY.Key_Escape)
    assert "Results: glass.pdf" in bench.loans.line.text()
    pressed(qtbot, program, bench.loans.files, KEY.Key_Delete)
    assert every_loan(store.desk)[0].results == ()


def a_slip_is_written_and_laid_back(qtbot: Any, program: Program, store: Store, bench: ShelvesBench) -> None:
    turn_to(qtbot, program, bench, Page.SLIPS)
    assert bench.slips.empty.isVisible()
    scan(qtbot, program, store.bags[2])
    press(qtbot, program, "two rims", KEY.Key_Return, "2", KEY.Key_Return, "type series", KEY.Key_Return)
    press(qtbot, program, "Oren Vade", KEY.Key_Return)
    (slip,) = slips_standing(store.desk)
    assert (slip.bag_code, slip.what, slip.pieces, slip.went_to) == (store.bags[2], "two rims", 2, "Oren Vade")
    assert texts(bench.slips.table, 3) == ["two rims"]
    scan(qtbot, program, store.bags[2])
    assert said(program) == (Tone.DONE, "Slip 1: two rims")
    pressed(qtbot, program, bench.slips.laid_back)
    assert slips_standing(store.desk) == ()
    assert bench.slips.empty.isVisible()
