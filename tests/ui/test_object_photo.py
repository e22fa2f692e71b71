"""A coin becomes an object with its photograph in one act; the base of a piece says how it was measured."""

from pathlib import Path
from typing import Any

from PIL import Image

from findsdesk.desk.desk import Desk
from findsdesk.desk.objects import Leaves, object_of
from findsdesk.desk.photos import photos_of
from findsdesk.ui.benches.pieces.page import PiecesBench
from findsdesk.ui.benches.pieces.state import MEASURES, TAKEN
from findsdesk.ui.pieces_in_words import measured
from findsdesk.ui.program import Program
from findsdesk.ui.words_around import WordsAround
from tests.ui.at_the_pieces import bench, desk, fill, piece, program, refusal  # noqa: F401
from tests.ui.at_work import scan, settled
from tests.yard import acts


def test_a_coin_is_registered_with_its_photograph(
    qtbot: Any,
    tmp_path: Path,
    program: Program,
    desk: Desk,
    bench: PiecesBench,
) -> None:
    bench.show_page(TAKEN)
    bench.object.form.show_values({"what": "coin", "material": "bronze", "leaves": Leaves.NOT_COUNTED})
    spoilt, coin = tmp_path / "coin.png", tmp_path / "coin.jpg"
    spoilt.write_text("no picture", encoding="utf-8")
    Image.new("RGB", (60, 40), "brown").save(coin)
    notices: Any = program.notices
    notices.to_open = [spoilt]
    bench.object.choose_photo.click()
    assert bench.object.photo_name.text() == "coin.png"
    before = acts(desk)
    bench.object.button.click()
    settled(qtbot, program)
    assert acts(desk) == before, "a photograph that is none takes no object in either"
    assert "coin.png" in refusal(bench)
    assert bench.object.form.as_typed()["what"] == "coin"
    notices.to_open = [coin]
    bench.object.choose_photo.click()
    bench.object.button.click()
    settled(qtbot, program)
    assert acts(desk) == before + 1
    assert [photo.file_name for photo in photos_of(desk, ("object", object_of(desk, 1).id))] == ["coin.jpg"]
    assert bench.object.photo_name.text() == ""


def test_a_chosen_photograph_is_of_the_container_it_was_chosen_at(
    qtbot: Any,
    tmp_path: Path,
    program: Program,
    bench: PiecesBench,
) -> None:
    bench.show_page(TAKEN)
    notices: Any = program.notices
    notices.to_open = [tmp_path / "bead.jpg"]
    bench.object.choose_photo.click()
    scan(qtbot, program, "87")
    assert (bench.object.photo, bench.object.photo_name.text()) == (None, "")


def test_the_base_is_measured_in_its_own_way(
    qtbot: Any,
    program: Program,
    desk: Desk,
    bench: PiecesBench,
) -> None:
    scan(qtbot, program, "131.1")
    bench.show_page(MEASURES)
    fill(bench, base_diameter_mm=60, base_uncertainty_mm=3, base_method="chart", base_permille=250)
    bench.write()
    settled(qtbot, program)
    said = measured(piece(desk, "131.1"), WordsAround.of(desk))
    assert said == "base 60 ± 3 mm, 25 % of the base, by chart"
