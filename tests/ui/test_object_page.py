"""The page of an object in the registers: described and photographed by keyboard, on a real store."""

import os
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from PySide6.QtCore import Qt

from findsdesk.desk.desk import Desk
from findsdesk.desk.objects import Leaves, object_of, register_object
from findsdesk.desk.photos import photos_of
from findsdesk.ui.benches.registers.page import RegistersBench
from findsdesk.ui.program import Program
from tests.ui.at_the_registers import bench, desk, in_hand, open_deposit_page, press, program, show_list  # noqa: F401
from tests.ui.at_work import fits, settled
from tests.ui.looking import nameless
from tests.yard import put_settled

KEY = Qt.Key


@pytest.mark.skipif("FINDSDESK_TEST_SERVER" in os.environ, reason="photographs lie beside a store's file")
def test_an_object_is_described_and_photographed_on_its_page(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench, tmp_path: Path
) -> None:  # fmt: skip
    put_settled(desk, 131)
    register_object(desk, "131", what="coin", material="bronze", leaves=Leaves.NOT_COUNTED, tenths=24, earliest=330)
    settled(qtbot, program)
    show_list(qtbot, program, bench, "objects")
    bench.lists.to_rows()
    press(qtbot, program, KEY.Key_Return)
    page = bench.object
    assert page.isVisible()
    assert page.card.heading.text() == "Object 1, season 2026"
    assert page.met.text() == f"Metal. Met in bucket 131. Now bucket {object_of(desk, 1).container}."
    # A photograph is taken in while something is typed, which stays.
    assert (page.form.peek()["made_of"], page.form.peek()["tenths"]) == ("bronze", 24)
    page.form.show_values({"what": "token", "made_of": "billon", "tenths": 23, "latest": 320})
    Image.new("RGB", (80, 60), "#a9542f").save(tmp_path / "coin.jpg")
    program.surroundings.notices.to_open = [str(tmp_path / "coin.jpg")]  # type: ignore[attr-defined]
    page.photos.add.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert [one.file_name for one in photos_of(desk, ("object", object_of(desk, 1).id))] == ["coin.jpg"]
    assert (page.photos.list.count(), page.form.peek()["what"]) == (1, "token")
    fits(qtbot, bench)
    assert nameless(bench) == []
    # What is refused marks its field and writes nothing.
    page.button.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert "runs backwards" in bench.refusals.text().text()
    assert object_of(desk, 1).what == "coin"
    page.form.show_values({"earliest": None, "latest": None, "description": "worn smooth"})
    page.button.setFocus()
    press(qtbot, program, KEY.Key_Space)
    said = object_of(desk, 1)
    assert (said.what, said.earliest, said.latest, said.description) == ("token", None, None, "worn smooth")
    assert (said.made_of, said.tenths) == ("billon", 23)
    assert bench.lists.isVisible()
    bench.lists.to_rows()
    press(qtbot, program, KEY.Key_Return)
    page.there.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert in_hand(program) == f"Bucket {said.container}"


def test_an_object_opened_from_another_page_has_no_word_of_that_page_beside_the_title(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench
) -> None:
    put_settled(desk, 131)
    register_object(desk, "131", what="coin", material="bronze", leaves=Leaves.NOT_COUNTED)
    settled(qtbot, program)
    open_deposit_page(qtbot, program, bench)
    assert "2017" in bench.going_on()
    bench.show_further("object", 1, "2026")
    settled(qtbot, program)
    assert bench.object.isVisible()
    assert bench.going_on() == ""
    bench.object.back.click()
    settled(qtbot, program)
    assert bench.going_on() == bench.lists.counted
