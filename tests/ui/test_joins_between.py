"""What joins between deposits say of mixing, and samples from their register: lists of the registers, by keyboard."""

from datetime import date
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from PySide6.QtCore import Qt

from findsdesk.desk.desk import Desk
from findsdesk.desk.joins import join_pieces
from findsdesk.desk.pieces import pieces_of
from findsdesk.desk.samples import sample_of, take_sample
from findsdesk.ui.benches.registers.page import RegistersBench
from findsdesk.ui.program import Program
from tests.desk.test_joins_and_vessels import put_pieces
from tests.ui.at_the_registers import bench, desk, in_hand, listed, press, program, show_list  # noqa: F401
from tests.ui.at_work import fits, settled
from tests.ui.looking import nameless

KEY = Qt.Key


@pytest.fixture
def pieces(desk: Desk) -> Desk:
    put_pieces(desk, 131, 3)
    put_pieces(desk, 87, deposit="2019")
    return desk


def test_joins_between_deposits_stand_as_a_list_with_what_they_say(
    qtbot: Any,
    pieces: Desk,
    program: Program,
    bench: RegistersBench,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    settled(qtbot, program)
    show_list(qtbot, program, bench, "between")
    assert bench.lists.empty.isVisible()
    here, there = pieces_of(pieces, "131"), pieces_of(pieces, "87")
    join_pieces(pieces, here[0].id, there[0].id, certain=True)
    join_pieces(pieces, here[1].id, there[1].id, certain=False)
    join_pieces(pieces, here[1].id, here[2].id, certain=True)
    settled(qtbot, program)
    show_list(qtbot, program, bench, "between")
    columns = [listed(bench, place) for place in range(4)]
    assert columns[:3] == [["2017"], ["2019"], ["2, 1 certain"]]
    assert columns[3] == ["Both are sealed, which these joins deny: look at the field records."]
    fits(qtbot, bench)
    assert nameless(bench) == []
    monkeypatch.setattr("findsdesk.ui.paper_out.QDesktopServices.openUrl", lambda _url: True)
    program.notices.to_write = tmp_path / "joins.pdf"  # type: ignore[attr-defined]
    bench.lists.foot.paper.click()
    settled(qtbot, program)
    text = pypdfium2.PdfDocument(tmp_path / "joins.pdf")[0].get_textpage().get_text_bounded()
    assert "Joins across contexts" in text
    assert "87.1, 87.2, 131.1, 131.2" in text
    bench.lists.table.setFocus()
    bench.lists.table.selectRow(0)
    press(qtbot, program, KEY.Key_Return)
    assert bench.lists.kind.key == "joins"
    assert [chip.value for chip in bench.lists.state.chips] == ["2017"]


def test_a_sample_is_followed_from_the_register(
    qtbot: Any, pieces: Desk, program: Program, bench: RegistersBench
) -> None:
    take_sample(pieces, "131.1", what_for="residue", taken_tenths=10, permit="VE-26-014 S2")
    settled(qtbot, program)
    show_list(qtbot, program, bench, "samples")
    bench.lists.table.setFocus()
    bench.lists.table.selectRow(0)
    press(qtbot, program, KEY.Key_Return)
    follow = bench.sample.follow
    assert follow.heading.text() == "Sample 1 of 131.1"
    fits(qtbot, bench)
    assert nameless(bench) == []
    press(qtbot, program, "Residues, Vesmar", KEY.Key_Return, KEY.Key_Return, "20.7.2026")
    follow.button.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert (sample_of(pieces, 1).laboratory, sample_of(pieces, 1).sent_on) == ("Residues, Vesmar", date(2026, 7, 20))
    assert bench.lists.isVisible()
    bench.lists.table.selectRow(0)
    bench.lists.table.setFocus()
    press(qtbot, program, KEY.Key_Return)
    bench.sample.there.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert in_hand(program) == "Bucket 131"
