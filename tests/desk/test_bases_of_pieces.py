"""The base of a piece: its diameter with a method and an uncertainty of its own, beside those of the rim."""

from pathlib import Path
from typing import Any

import pypdfium2
import pytest

from findsdesk.desk.changing_pieces import change_piece
from findsdesk.desk.desk import Desk
from findsdesk.desk.piece_catalogue import piece_catalogue
from findsdesk.desk.piece_rows import PieceRow
from findsdesk.desk.pieces import lift_pieces, pieces_of
from findsdesk.desk.playing import do
from findsdesk.desk.register_files import write_register
from findsdesk.desk.registers import Register
from findsdesk.desk.sorting import add_group
from findsdesk.desk.whole_papers import Asked
from tests.desk.at_the_table import dry_container, refused
from tests.yard import last_said


@pytest.fixture
def piece(desk: Desk) -> PieceRow:
    code = dry_container(desk, 131, 1)
    row = add_group(desk, code, ware="QRS", part="profile", pieces=1)
    return lift_pieces(desk, row.id, seen=row.version).pieces[0]


def test_rim_and_base_are_measured_each_in_its_own_way(desk: Desk, piece: PieceRow, tmp_path: Path) -> None:
    said = change_piece(
        desk,
        piece.id,
        seen=piece.version,
        rim_diameter_mm=180,
        diameter_method="chord",
        diameter_uncertainty_mm=15,
        base_diameter_mm=90,
        base_method="chart",
    )
    assert (said.diameter_method, said.base_method, said.base_uncertainty_mm) == ("chord", "chart", None)
    do(desk, "describe", {"base_uncertainty": "10"}, ("131.1",))
    assert last_said(desk) == "131.1: how sure that of the base is"
    assert pieces_of(desk, "131")[0].base_uncertainty_mm == 10
    write_register(desk, Register.PIECES, path=tmp_path / "pieces.csv")
    assert ",15,by chord and arc height,10,by chart," in (tmp_path / "pieces.csv").read_text("utf-8-sig")
    pages = pypdfium2.PdfDocument(piece_catalogue(desk, Asked()).pdf)
    printed = " ".join(word for page in pages for word in page.get_textpage().get_text_bounded().split())
    assert "rim 180 ± 15 mm (by chord and arc height); base 90 ± 10 mm (by chart)" in printed


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ({"base_method": "chart"}, "method_without_diameter"),
        ({"base_method": "chart", "rim_diameter_mm": 60}, "method_without_diameter"),
        ({"base_method": "guess", "base_diameter_mm": 60}, "unknown_word"),
        ({"diameter_uncertainty_mm": -1, "rim_diameter_mm": 60}, "not_a_length"),
        ({"base_uncertainty_mm": -1, "base_diameter_mm": 60}, "not_a_length"),
    ],
)
def test_what_cannot_be_said_of_a_base(desk: Desk, piece: PieceRow, said: Any, code: str) -> None:
    with refused(desk, code):
        change_piece(desk, piece.id, seen=piece.version, **said)
