"""Pictures of the type series in the set-up: shown, added, taken off, by keyboard on a real store."""

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton

from findsdesk.desk.desk import Desk
from findsdesk.desk.photos import add_photo, photos_of, take_off_photo
from findsdesk.desk.type_series import add_form, forms, remove_form
from findsdesk.ui.answers import Answer
from findsdesk.ui.benches.set_up.page import SetUpBench
from findsdesk.ui.program import Program
from tests.ui.at_the_registers import press
from tests.ui.at_work import fits, go_to, opened, settled
from tests.ui.looking import nameless
from tests.yard import new_yard

KEY = Qt.Key


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return new_yard(tmp_path, by="Ilo", station="dig house")


@pytest.fixture
def program(qtbot: Any, desk: Desk) -> Iterator[Program]:
    with opened(qtbot, desk, station=desk.station_name) as at_work:
        yield at_work


@pytest.fixture
def bench(qtbot: Any, program: Program) -> SetUpBench:
    shown = go_to(qtbot, program, "set_up")
    assert isinstance(shown, SetUpBench)
    return shown


@pytest.mark.skipif("FINDSDESK_TEST_SERVER" in os.environ, reason="photographs lie beside a store's file")
@pytest.mark.parametrize("subject", ["wares", "forms"])
def test_a_ware_and_a_form_have_a_picture_shown_added_and_taken_off(
    qtbot: Any, program: Program, bench: SetUpBench, desk: Desk, tmp_path: Path, subject: str
) -> None:
    add_form(desk, code="B1", name="bowl 1")
    bench.show_subject(subject)
    settled(qtbot, program)
    part, pictures = bench.lists[subject], bench.type_acts[subject].pictures
    Image.new("RGB", (400, 300), "#a9542f").save(tmp_path / "type.png")
    program.surroundings.notices.to_open = [str(tmp_path / "type.png")]  # type: ignore[attr-defined]
    qtbot.waitUntil(lambda: part.model.rowCount() > 0)
    part.table.setFocus()
    part.table.selectRow(0)
    settled(qtbot, program)
    kind, row_id = subject.removesuffix("s"), part.table.row_id()
    assert isinstance(row_id, int)
    assert not pictures.list.isVisible()
    pictures.add.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert [photo.file_name for photo in photos_of(desk, (kind, row_id))] == ["type.png"]
    assert pictures.list.count() == 1
    assert not pictures.list.item(0).icon().isNull()
    fits(qtbot, bench)
    assert not nameless(bench)
    pictures.off.setFocus()
    press(qtbot, program, KEY.Key_Space)
    assert photos_of(desk, (kind, row_id)) == ()
    assert not pictures.list.isVisible()


@pytest.mark.skipif("FINDSDESK_TEST_SERVER" in os.environ, reason="photographs lie beside a store's file")
def test_the_series_goes_out_with_its_pictures_comes_in_and_is_taken_back(
    qtbot: Any, program: Program, bench: SetUpBench, desk: Desk, tmp_path: Path
) -> None:
    Image.new("RGB", (400, 300), "#a9542f").save(tmp_path / "type.png")
    form = add_form(desk, code="B1", name="bowl 1")
    photo = add_photo(desk, tmp_path / "type.png", of=("form", form.id))
    bench.show_subject("forms")
    settled(qtbot, program)
    acts, notices = bench.type_acts["forms"], program.surroundings.notices
    notices.to_write = notices.to_open = tmp_path / "series.zip"  # type: ignore[attr-defined]

    said: list[Answer] = []
    program.surroundings.said.connect(said.append)

    def press_on(button: QPushButton) -> str:
        button.setFocus()
        press(qtbot, program, KEY.Key_Space)
        return said[-1].in_one_line() if said else ""

    assert "6 rows, 1 picture" in press_on(acts.out)
    take_off_photo(desk, photo.id, seen=photo.version)
    remove_form(desk, "B1")
    settled(qtbot, program)
    assert "1 new, 0 changed, 5 as they were, 1 new picture" in press_on(acts.take_in)
    (again,) = forms(desk)
    bench.lists["forms"].table.selectRow(0)
    settled(qtbot, program)
    assert acts.pictures.list.count() == 1
    fits(qtbot, bench)
    press_on(acts.back)
    assert "1 code and 1 picture would go out again" in bench.refusals.text().text()
    bench.refusals._sure.click()
    settled(qtbot, program)
    assert forms(desk) == ()
    assert photos_of(desk, ("form", again.id)) == ()
    assert not acts.pictures.list.isVisible()
