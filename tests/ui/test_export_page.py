"""The page of exports, from the end of the season: what it will be, written, stopped, refused in plain words."""

from __future__ import annotations

import errno
import os
import time
from pathlib import Path
from typing import Any

import pytest

from findsdesk.desk import exporting
from findsdesk.desk.exporting import FileForm
from findsdesk.desk.registers import Register, count
from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.sealed_folders import prove_sealed
from findsdesk.ui.benches.day.page import DayBench
from findsdesk.ui.export_page import ExportPage
from findsdesk.ui.export_state import FORMS, folder_of
from findsdesk.ui.program import Program
from tests.ui.at_the_shelves import KEY, press
from tests.ui.at_work import fits, go_to, opened, settled
from tests.ui.looking import SIZES, nameless
from tests.yard import new_yard, put_containers


def test_every_form_the_terminal_has_is_offered() -> None:
    assert sorted(FORMS) == sorted(FileForm)
    for text, code in (("", "no_folder_named"), ("out", "folder_not_whole")):
        with pytest.raises(Refusal, match=code):
            folder_of(text)
    assert folder_of(" ~ ") == Path.home()


def contents(page: ExportPage) -> dict[str, str]:
    return {row.cells[0].text: row.cells[1].text for row in page.model.rows}


def chosen(qtbot: Any, program: Program, page: ExportPage, form: str) -> None:
    page.form.show_values({"form": form})
    page.form.edited.emit()
    page.look()
    settled(qtbot, program)


def written(qtbot: Any, program: Program, page: ExportPage) -> str:
    page.write.setFocus()
    press(qtbot, program, KEY.Key_Space)
    return page.outcome.text()


def no_room(*_arguments: object) -> None:
    raise OSError(errno.ENOSPC, "No space left on device")


def until_stopped(work: Any) -> Any:
    while True:
        work.follow(3, 10)
        time.sleep(0.01)


def test_everything_goes_out_from_one_page(qtbot: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    desk = new_yard(tmp_path / "yard")
    put_containers(desk, (1, 2, 3))
    out = tmp_path / "out"
    shown: list[str] = []
    monkeypatch.setattr(
        "findsdesk.ui.export_page.QDesktopServices.openUrl", lambda url: shown.append(url.toLocalFile())
    )
    with opened(qtbot, desk) as program:
        bench = go_to(qtbot, program, "day")
        assert isinstance(bench, DayBench)
        bench.season_end.click()
        bench.end_page.export.click()
        settled(qtbot, program)
        page = bench.export_page
        a_bundle_is_what_is_proposed(qtbot, program, page, out)
        a_table_is_written_and_the_old_stays_when_the_disk_is_full(qtbot, program, bench, out, monkeypatch)
        it_can_be_stopped(qtbot, program, page, out, monkeypatch)
        page.show_folder.click()
        assert shown == []
        assert "tannery-bundle" in written(qtbot, program, page)
        prove_sealed(out / "tannery-bundle")
        page.show_folder.click()
        assert shown == [str(out)]
        for size in SIZES:
            program.window.resize(*size)
            settled(qtbot, program)
            fits(qtbot, bench)
            assert not nameless(bench)
        press(qtbot, program, KEY.Key_Escape)
        assert bench.end_page.isVisible()
        assert not page.isVisible()


def a_bundle_is_what_is_proposed(qtbot: Any, program: Program, page: ExportPage, out: Path) -> None:
    notices: Any = program.notices
    notices.folder_to_use = lambda _head, _folder=None: out
    page.choose.click()
    settled(qtbot, program)
    assert page.place.text() == f"It will be {out / 'tannery-bundle'}."
    assert contents(page)["squares of the grid"] == "12"
    assert contents(page)["contexts, each drawn as its square"] == "3"
    assert contents(page)["sheets and reports as PDF"] == "10"
    assert page.grid.entries["corner"].widget.isVisible()
    page.grid.show_values({"corner": "north"})
    assert written(qtbot, program, page) == ""
    assert "north is no corner" in page.bench.refusals.text().text()
    corner, turned = (page.grid.entries[key].widget for key in ("corner", "turned"))
    assert (corner.property("wrong"), corner.hasFocus()) == (True, True)
    page.grid.show_values({"corner": "", "turned": "askew"})
    assert written(qtbot, program, page) == ""
    assert (corner.property("wrong"), turned.property("wrong"), turned.hasFocus()) == (False, True, True)
    page.grid.show_values({"turned": "", "epsg": 4326})
    assert written(qtbot, program, page) == ""
    assert program.window.focusWidget() is page.grid.entries["epsg"].widget.focusProxy()
    page.grid.show_values({"epsg": None})
    assert not out.exists()


def a_table_is_written_and_the_old_stays_when_the_disk_is_full(
    qtbot: Any, program: Program, bench: DayBench, out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = bench.export_page
    chosen(qtbot, program, page, "csv")
    assert contents(page)["Buckets"] == "3"
    assert not page.grid.entries["corner"].widget.isVisible()
    said = written(qtbot, program, page)
    assert said == f"Written as at {bench.surroundings.desk.head()}. It lies in {out / 'tannery-csv'}."
    assert page.show_folder.isVisible()
    assert page.place.text().endswith("The older one there gives way when all of it is written.")
    before = sorted((out / "tannery-csv").iterdir())
    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", no_room)
        assert written(qtbot, program, page) == "Nothing was written."
    assert "the disk is full (No space left on device)" in bench.refusals.text().text()
    assert sorted((out / "tannery-csv").iterdir()) == before
    assert not page.show_folder.isVisible()


def it_can_be_stopped(
    qtbot: Any, program: Program, page: ExportPage, out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    chosen(qtbot, program, page, "json")
    with monkeypatch.context() as patched:
        patched.setitem(exporting._WAYS, FileForm.JSON, until_stopped)
        page.write.click()
        qtbot.waitUntil(lambda: page.bar.maximum() == 10)
        assert (page.bar.value(), page.stop.hasFocus(), page.write.isEnabled()) == (3, True, False)
        read: list[int] = []
        desk = program.surroundings.desk
        program.surroundings.lanes.read(lambda: count(desk, Register.CONTAINERS), then=read.append)
        qtbot.waitUntil(lambda: bool(read))
        assert read == [3], "the window goes on reading beside it"
        press(qtbot, program, KEY.Key_Space)
    assert page.outcome.text() == "Stopped. Nothing was written; what was there before is as it was."
    assert [one.name for one in out.iterdir()] == ["tannery-csv"]
    assert page.write.hasFocus()
    chosen(qtbot, program, page, "bundle")
