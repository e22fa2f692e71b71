"""Couriers in the window: a store for a laptop, a file out, a file in, and clashes decided by keys."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt

from findsdesk.desk.clashes import clashes
from findsdesk.desk.courier import write_courier
from findsdesk.desk.courier_taking import take_courier
from findsdesk.desk.deposits import change_deposit, open_deposit
from findsdesk.desk.desk import Desk
from findsdesk.desk.opening import open_store
from findsdesk.ui.benches.set_up.page import SetUpBench
from findsdesk.ui.program import Program
from tests.ui.at_the_registers import press
from tests.ui.at_work import fits, go_to, opened, settled
from tests.yard import new_yard

KEY = Qt.Key


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return new_yard(tmp_path / "home", by="Ilo", station="dig house")


@pytest.fixture
def program(qtbot: Any, desk: Desk) -> Iterator[Program]:
    with opened(qtbot, desk, station=desk.station_name) as at_work:
        yield at_work


def test_a_laptop_goes_out_comes_back_and_both_words_are_decided_by_keys(
    qtbot: Any, desk: Desk, program: Program, tmp_path: Path
) -> None:
    bench = go_to(qtbot, program, "set_up")
    assert isinstance(bench, SetUpBench)
    bench.show_subject("courier")
    settled(qtbot, program)
    part = bench.courier
    assert part.nothing.isVisible()
    assert not part.table.isVisible()
    part.make.click()
    assert part.station.entries["station"].widget.hasFocus()
    part.station.show_values({"station": "laptop"})
    program.notices.to_write = tmp_path / "away.findsdesk"  # type: ignore[attr-defined]
    part.make.click()
    settled(qtbot, program)
    assert "is the store of laptop, with the numbers 1–500" in part.said.text()
    away = open_store(tmp_path / "away", station="laptop", clock=desk.clock)
    try:
        for at, said in ((desk, "floor"), (away, "floor fill, burnt")):
            change_deposit(at, "2017", description=said)
            open_deposit(at, "2044", square="C1", kind="layer", sure=True)
        program.notices.to_open = write_courier(away, tmp_path / "stick").file  # type: ignore[attr-defined]
        part.take.click()
        settled(qtbot, program)
        assert "From laptop: " in part.said.text()
        assert "2 clashes wait below." in part.said.text()
        assert part.model.rowCount() == 2
        assert bench.what_waits() == "2 clashes to decide"
        part.table.setFocus()
        wanted = next(place for place, one in enumerate(clashes(desk)) if one.what == "values")
        part.table.setCurrentIndex(part.model.index(wanted, 0))
        assert ["floor" in part.sides[0].text(), "floor fill, burnt" in part.sides[1].text()] == [True, True]
        assert [one.isVisible() for one in part.keeps] == [True, True, False]
        fits(qtbot, bench)
        press(qtbot, program, KEY.Key_3)
        assert len(clashes(desk)) == 2
        press(qtbot, program, KEY.Key_1)
        settled(qtbot, program)
        assert [one.choice for one in clashes(desk, decided=True)] == ["dig house"]
        assert [one.isVisible() for one in part.keeps] == [False, False, True]
        press(qtbot, program, KEY.Key_3)
        settled(qtbot, program)
        assert clashes(desk) == ()
        assert part.nothing.isVisible()
        assert bench.what_waits() == ""
        program.notices.to_write = tmp_path / "back.courier"  # type: ignore[attr-defined]
        part.write.click()
        settled(qtbot, program)
        assert "back.courier: " in part.said.text()
        take_courier(away, tmp_path / "back.courier")
        assert clashes(away) == ()
        (tmp_path / "stick.courier").write_bytes(b"half")
        program.notices.to_open = tmp_path / "stick.courier"  # type: ignore[attr-defined]
        part.take.click()
        settled(qtbot, program)
        assert "is not whole" in bench.refusals.text().text()
        assert part.isAncestorOf(bench.refusals)
    finally:
        away.let_go()
