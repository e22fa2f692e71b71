"""All pieces searched at the bench of pieces: by words, by a number with its season."""

from __future__ import annotations

from datetime import date
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from findsdesk.desk.changing_pieces import change_piece
from findsdesk.desk.desk import Desk
from findsdesk.ui.benches.pieces.page import PiecesBench
from findsdesk.ui.program import Program
from tests.desk.test_joins_and_vessels import put_pieces
from tests.ui.at_the_pieces import bench, desk, listed, program  # noqa: F401
from tests.ui.at_the_registers import press
from tests.ui.at_work import scan, settled
from tests.yard import earlier_season

KEY = Qt.Key


def test_all_pieces_are_searched(qtbot: Any, program: Program, desk: Desk, bench: PiecesBench) -> None:
    press(qtbot, program, KEY.Key_F3, "2019")
    qtbot.waitUntil(lambda: listed(bench) == ["87.1", "87.2"], timeout=60_000)
    settled(qtbot, program)
    assert bench.going_on() == "2 pieces found"
    # A number with its season finds those of that season, as they are named where they are joined.
    earlier_season(desk)
    put_pieces(desk, 87, deposit=None, season="2024", collected_on=date(2024, 7, 12))
    widths = []
    searched = (
        ("2024/", ["2024/87.1", "2024/87.2"]),
        ("131.", ["131.1", "131.2", "131.3"]),
        ("2019", ["87.1", "87.2"]),
    )
    for typed, found in searched:
        bench.list.search.selectAll()
        QTest.keyClicks(bench.list.search, typed)
        qtbot.waitUntil(lambda found=found: listed(bench) == found, timeout=60_000)
        widths.append(bench.list.table.columnWidth(0))
    # The column of the names takes no more room than these names need.
    assert widths[0] > widths[1]
    settled(qtbot, program)
    press(qtbot, program, KEY.Key_Down)
    assert bench.list.table.hasFocus()
    assert bench.head.name.text() == "87.1"


def test_of_a_list_with_long_names_neither_name_nor_diameter_is_cut(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    earlier_season(desk)
    for facts in ({}, {"season": "2024", "deposit": None, "collected_on": date(2024, 7, 12)}):
        for one in put_pieces(desk, 104, 10, **facts):
            change_piece(desk, one.id, seen=one.version, drawing_wanted=True, rim_diameter_mm=240)
    table = bench.list.table
    for theme in ("shade", "sun"):
        bench.theme.use(theme)
        scan(qtbot, program, "104")
        assert len(listed(bench)) == 10
        assert [table.columnWidth(one) >= table.sizeHintForColumn(one) for one in range(3)] == [True] * 3
        bench.list.search.setText("2024/")
        bench.list.searched.emit("2024/")
        settled(qtbot, program)
        assert listed(bench)[-1] == "2024/104.10"
        assert [table.columnWidth(one) >= table.sizeHintForColumn(one) for one in (0, 2)] == [True] * 2
        assert table.horizontalScrollBar().maximum() == 0
        bench.list.forget_search()
