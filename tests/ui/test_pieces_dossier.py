"""The dossier beside the bench of pieces: of the piece in the fields, as it stands now; what is in hand stays."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QCoreApplication, Qt, QTimer

from findsdesk.desk.desk import Desk
from findsdesk.desk.joins import join_pieces
from findsdesk.desk.pieces import lay_back
from findsdesk.desk.sherd_groups import add_group
from findsdesk.ui.benches.pieces.page import PiecesBench
from findsdesk.ui.program import Program
from tests.ui.at_the_pieces import bench, desk, fill, listed, piece, program  # noqa: F401
from tests.ui.at_the_registers import press
from tests.ui.at_work import go_to, scan, settled

KEY = Qt.Key


def dossier(program: Program) -> str:
    """Return title and first part of the dossier in one line."""
    facts = program.window.dossier.facts
    assert facts is not None
    first = (*facts.asked, *facts.sections)[0]
    return f"{facts.title}: {first.title}, {first.text}".replace("\n", ", ")


def heard(qtbot: Any, program: Program) -> None:
    """Wait until news of an act done elsewhere has come, and what follows from it."""
    QCoreApplication.processEvents()
    settled(qtbot, program)


def test_the_dossier_says_what_was_written_of_the_piece_at_once(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    one = piece(desk)
    scan(qtbot, program, one.code)
    assert dossier(program) == f"Bucket 131: Piece 131.1, {one.code}, QRS rim"
    assert program.window.scan_line.answer.in_one_line().startswith("Piece 131.1, bucket 131, context 2017: ")
    fill(bench, rim_diameter_mm=180, rim_permille=112, diameter_method="chart")
    bench.write()
    settled(qtbot, program)
    assert dossier(program).endswith("QRS rim, 180 mm, 11.2 % of the rim, by chart")
    join_pieces(desk, one.id, piece(desk, "87.1").id)
    heard(qtbot, program)
    assert program.window.dossier.facts is not None
    assert program.window.dossier.facts.asked[1].title == "It joins"
    # At another bench too, and a row written in its bucket does not take the piece away.
    day = go_to(qtbot, program, "day")
    assert day.isVisible()
    add_group(desk, one.container_code, ware="MBU", part="body", pieces=1)
    heard(qtbot, program)
    assert dossier(program).startswith("Bucket 131: Piece 131.1")
    last = piece(desk, "131.3")
    scan(qtbot, program, last.code)
    lay_back(desk, last.id, seen=last.version)
    heard(qtbot, program)
    assert "Piece" not in dossier(program)


def test_the_dossier_is_of_the_piece_in_the_fields_and_what_is_in_hand_stays(
    qtbot: Any, program: Program, desk: Desk, bench: PiecesBench
) -> None:
    scan(qtbot, program, piece(desk).code)
    bench.list.table.setFocus()
    press(qtbot, program, KEY.Key_Down)
    assert dossier(program).startswith("Bucket 131: Piece 131.2")
    press(qtbot, program, KEY.Key_F3, "2019")
    qtbot.waitUntil(lambda: listed(bench) == ["87.1", "87.2"], timeout=60_000)
    settled(qtbot, program)
    assert dossier(program).startswith("Bucket 87: Piece 87.1")
    # News of what is in hand leaves the search, the fields and the dossier as they are.
    add_group(desk, piece(desk).container_code, ware="MBU", part="body", pieces=1)
    heard(qtbot, program)
    assert (listed(bench), bench.list.search.text(), bench.head.name.text()) == (["87.1", "87.2"], "2019", "87.1")
    assert dossier(program).startswith("Bucket 87: Piece 87.1")
    # What is met in a container belongs to that of the piece, and says so.
    assert bench.object.card.heading.text() == "Met in bucket 87"
    go_to(qtbot, program, "day")
    assert dossier(program).startswith("Bucket 131: Piece 131.1")
    go_to(qtbot, program, "pieces")
    assert dossier(program).startswith("Bucket 87: Piece 87.1")
    bench.list.search.clear()
    qtbot.waitUntil(lambda: listed(bench) == ["131.1", "131.2", "131.3"], timeout=60_000)
    settled(qtbot, program)
    assert dossier(program).startswith("Bucket 131: Piece 131.1")
    # Scanned again, what is in hand is shown again.
    press(qtbot, program, KEY.Key_F3, "2019")
    qtbot.waitUntil(lambda: listed(bench) == ["87.1", "87.2"], timeout=60_000)
    scan(qtbot, program, piece(desk).code)
    assert (bench.list.search.text(), bench.head.name.text()) == ("", "131.1")
    assert not bench.list.findChild(QTimer).isActive(), "it is listed at once, not asked for once more later"
    assert dossier(program).startswith("Bucket 131: Piece 131.1")
