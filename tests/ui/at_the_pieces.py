"""The bench of pieces in a program at work, for the tests of its pages."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from findsdesk.desk.desk import Desk
from findsdesk.desk.piece_rows import PieceRow
from findsdesk.desk.pieces import pieces_of
from findsdesk.ui.benches.pieces.page import PiecesBench
from findsdesk.ui.program import Program
from tests.desk.test_joins_and_vessels import put_pieces
from tests.ui.at_work import go_to, opened, scan
from tests.yard import new_yard


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    made = new_yard(tmp_path, by="Oren", station="trestle")
    put_pieces(made, 131, 3)
    put_pieces(made, 87, deposit="2019")
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


def piece(desk: Desk, name: str = "131.1") -> PieceRow:
    return next(one for one in pieces_of(desk, name.partition(".")[0]) if one.name == name)


def listed(bench: PiecesBench) -> list[str]:
    return [str(bench.list.model.index(row, 0).data()) for row in range(bench.list.model.rowCount())]


def fill(bench: PiecesBench, **values: Any) -> None:
    """Put values into the fields as if they had been typed."""
    bench.forms.take(values)


def refusal(bench: PiecesBench) -> str:
    """Return what is refused, in plain words, '' while nothing is."""
    said = bench.refusals.text().text() if bench.refusals.isVisible() else ""
    return said.replace("<b>", "").replace("</b>", "")
