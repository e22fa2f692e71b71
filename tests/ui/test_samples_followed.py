"""A sample at the bench of pieces: sent, back, its rest and its result, by keyboard on a real store."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt

from findsdesk.desk.desk import Desk
from findsdesk.desk.pieces import pieces_of
from findsdesk.desk.proving import prove
from findsdesk.desk.samples import sample_of, take_sample
from findsdesk.ui.benches.pieces.page import PiecesBench
from findsdesk.ui.benches.pieces.state import TAKEN
from findsdesk.ui.program import Program
from tests.desk.test_joins_and_vessels import put_pieces
from tests.ui.at_the_registers import press
from tests.ui.at_work import fits, go_to, opened, scan, settled
from tests.ui.looking import nameless
from tests.yard import new_yard

KEY = Qt.Key


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    made = new_yard(tmp_path, by="Oren", station="trestle")
    put_pieces(made, 131, 3)
    return made


@pytest.fixture
def program(qtbot: Any, desk: Desk) -> Iterator[Program]:
    with opened(qtbot, desk, station=desk.station_name) as at_work:
        yield at_work


@pytest.fixture
def bench(qtbot: Any, program: Program) -> PiecesBench:
    shown = go_to(qtbot, program, "pieces")
    assert isinstance(shown, PiecesBench)
    scan(qtbot, program, "131")
    return shown


def test_a_sample_is_followed_until_its_result_came_back(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    samples = bench.samples
    bench.show_page(TAKEN)
    take_sample(desk, pieces_of(desk, "131")[0].code, what_for="thin section", taken_tenths=20, permit="VE-26-014 S1")
    qtbot.waitUntil(lambda: samples.model.rowCount() == 1)
    settled(qtbot, program)
    assert samples.model.index(0, 3).data() == "here"
    samples.table.setFocus()
    samples.table.selectRow(0)
    press(qtbot, program, KEY.Key_Return)
    assert samples.follow.heading.text() == "Sample 1 of 131.1"
    assert not samples.card.isVisible()
    samples.follow.form.show_values({"laboratory": "Petrology, Vesmar", "sent_on": date(2026, 7, 20)})
    samples.follow.button.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert sample_of(desk, 1).sent_on == date(2026, 7, 20)
    assert samples.card.isVisible()
    assert samples.model.index(0, 3).data() == "sent 20 July, Petrology, Vesmar"
    # Back before it was sent is refused, and what was typed stays.
    samples.open_sample(sample_of(desk, 1).id)
    said = {"back_on": date(2026, 7, 1), "rest_tenths": 12, "result": "local clay, quartz and shell"}
    samples.follow.form.show_values(said)
    samples.follow.button.click()
    settled(qtbot, program)
    assert "cannot be back" in bench.refusals.accessibleName()
    assert sample_of(desk, 1).result == ""
    samples.follow.form.show_values({"back_on": date(2026, 8, 3)})
    samples.follow.button.click()
    settled(qtbot, program)
    sample = sample_of(desk, 1)
    assert (sample.back_on, sample.rest_tenths, sample.result) == (date(2026, 8, 3), 12, said["result"])
    assert samples.model.index(0, 4).data() == said["result"]
    samples.open_sample(sample.id)
    samples.follow.form.show_values({"back_on": None, "rest_tenths": None})
    samples.follow.button.click()
    settled(qtbot, program)
    sample = sample_of(desk, 1)
    assert (sample.sent_on, sample.back_on, sample.rest_tenths) == (date(2026, 7, 20), None, None)
    assert samples.model.index(0, 3).data() == "sent 20 July, Petrology, Vesmar"
    samples.open_sample(sample.id)
    press(qtbot, program, KEY.Key_Escape)
    assert not samples.follow.isVisible()
    fits(qtbot, bench)
    assert not nameless(bench)
    assert prove(desk).sound
