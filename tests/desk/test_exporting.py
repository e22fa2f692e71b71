"""Everything goes out at one moment, in words, whole or not at all."""

from __future__ import annotations

import csv
import errno
import json
import os
import sqlite3
from pathlib import Path

import openpyxl
import pytest

from findsdesk.desk.desk import Desk
from findsdesk.desk.export_tables import TABLES
from findsdesk.desk.exporting import FileForm, How, export
from findsdesk.desk.following import unless
from findsdesk.desk.registers import Register, count
from findsdesk.desk.sorting import add_group
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.square_grid import GridPlace
from findsdesk.exchange import geopackage
from tests.desk.at_the_table import dry_container
from tests.desk.handed_over import everything_in, fresh, full_yard, gone_out
from tests.desk.whole_yard import whole_yard
from tests.yard import new_yard, put_deposit, sitting


def read_csv(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def test_every_register_and_table_goes_out_with_all_its_rows() -> None:
    desk, made = full_yard(), gone_out(FileForm.CSV)
    assert made.rows.keys() == {table.key for table in TABLES}
    # What is drawn stands among the pieces; groups and people go out as tables of their own.
    for register in set(Register) - {Register.DRAWINGS}:
        assert made.rows[register.value] == count(desk, register)
    for key, rows in made.rows.items():
        assert len(read_csv(made.path / f"{key}.csv")) == rows
    stored = everything_in(desk)
    assert (made.rows["groups"], made.rows["counts"]) == (len(stored["sherd_group"]), len(stored["count"]))
    assert made.head == desk.head()


def test_people_read_words_and_units() -> None:
    rows = read_csv(gone_out(FileForm.CSV).path / "groups.csv")
    rims = next(row for row in rows if row["Bucket"] == "131" and row["Part"] == "rim")
    # 20 rims of 400 g and 150 % were written; two of them were lifted out as pieces with their even share.
    assert (rims["Ware"], rims["Context"], rims["Square"], rims["Count"]) == ("QRS", "2017", "A1", "18")
    assert float(rims["Grams"]) == 360.0
    assert "Rim, %" in rims
    assert {row["Decision"] for row in rows} == {"keep", "discard"}


def test_the_spreadsheet_holds_typed_cells_under_a_head_that_stays() -> None:
    # Source: openpyxl 3.1 as an independent reader.
    book = openpyxl.load_workbook(gone_out(FileForm.XLSX).path)
    assert len(book.sheetnames) == len(TABLES) + 1
    groups = book["Groups of sherds"]
    heads = [cell.value for cell in groups[1]]
    first = dict(zip(heads, groups[2], strict=True))
    assert groups.freeze_panes == "A2"
    assert (first["Bucket"].data_type, first["Bucket"].number_format) == ("s", "@")
    assert (first["Count"].data_type, first["Grams"].data_type) == ("n", "n")
    assert book["Counts"]["D2"].is_date


def test_json_says_what_its_columns_are() -> None:
    said = json.loads((gone_out(FileForm.JSON).path / "groups.json").read_text("utf-8"))
    assert said["columns"]["grams"] == "Grams"
    assert len(said["rows"]) == gone_out(FileForm.JSON).rows["groups"]
    assert isinstance(said["rows"][0]["pieces"], int)
    empty = json.loads((gone_out(FileForm.JSON).path / "loans.json").read_text("utf-8"))
    assert empty["rows"] == []


def test_a_text_that_looks_like_a_formula_is_guarded_and_numbers_are_not(desk: Desk, tmp_path: Path) -> None:
    code, oren = dry_container(desk, 131, 10), sitting(desk, "Oren")
    formulas = ('=HYPERLINK("http://x")', "-1 {of} two")
    for note, pieces in zip(formulas, (6, 4), strict=True):
        add_group(oren, code, ware="QRS", part="rim", pieces=pieces, note=note)
    groups = read_csv(export(desk, FileForm.CSV, tmp_path / "out").path / "groups.csv")
    assert [(row["Note"], row["Count"]) for row in groups] == [(f"'{formulas[0]}", "6"), (f"'{formulas[1]}", "4")]
    sheet = openpyxl.load_workbook(export(desk, FileForm.XLSX, tmp_path / "out").path)["Groups of sherds"]
    cells = [cell for row in sheet for cell in row]
    assert {cell.value for cell in cells if cell.data_type == "s"} >= set(formulas)
    assert "f" not in {cell.data_type for cell in cells}


@pytest.mark.parametrize("with_mark", [True, False])
def test_csv_goes_out_with_a_byte_order_mark_or_without(desk: Desk, tmp_path: Path, with_mark: bool) -> None:
    made = export(desk, FileForm.CSV, tmp_path, how=How(with_mark=with_mark))
    assert (made.path / "deposits.csv").read_bytes().startswith(b"\xef\xbb\xbf") is with_mark


def test_what_is_written_meanwhile_is_not_in_it(desk: Desk, tmp_path: Path) -> None:
    before = count(desk, Register.DEPOSITS)
    heard: list[int] = []

    def write_meanwhile(_done: int, _of: int) -> None:
        if not heard:
            put_deposit(desk, "2099")
        heard.append(1)

    head = desk.head()
    made = export(desk, FileForm.DATA_PACKAGE, tmp_path, follow=write_meanwhile)
    assert (made.rows["deposit"], made.head) == (before, head)
    assert count(desk, Register.DEPOSITS) == before + 1


# A map is some hundred rows: nobody needs to call it off.
@pytest.mark.parametrize("form", [one for one in FileForm if one is not FileForm.GEOPACKAGE])
def test_calling_off_leaves_what_was_there(tmp_path: Path, form: FileForm) -> None:
    into = tmp_path / "out"
    into.mkdir()
    with pytest.raises(Refusal, match="called_off"):
        export(full_yard(), form, into, follow=unless(lambda: True))
    assert list(into.iterdir()) == []


def test_progress_goes_up_to_its_end(tmp_path: Path) -> None:
    for form in (FileForm.CSV, FileForm.DATA_PACKAGE, FileForm.BUNDLE):
        told: list[tuple[int, int]] = []
        export(full_yard(), form, tmp_path, follow=lambda done, of, told=told: told.append((done, of)))
        assert [done for done, _of in told] == sorted(done for done, _of in told)
        assert told[-1][0] == told[-1][1] > 0


def no_room(*_arguments: object, **_options: object) -> None:
    raise OSError(errno.ENOSPC, "No space left on device")


def no_room_for_a_map(*_arguments: object) -> int:
    raise sqlite3.OperationalError("database or disk is full")


def content_of(made: Path) -> dict[str, bytes]:
    files = [made] if made.is_file() else [one for one in made.rglob("*") if one.is_file()]
    return {one.relative_to(made.parent).as_posix(): one.read_bytes() for one in files}


@pytest.mark.parametrize("form", FileForm)
def test_a_full_disk_leaves_the_old_export_whole(tmp_path: Path, monkeypatch, form: FileForm) -> None:
    made = fresh(form, tmp_path / "out")
    before = content_of(made)
    monkeypatch.setattr(os, "fsync", no_room)
    monkeypatch.setattr(geopackage, "_fill", no_room_for_a_map)
    with pytest.raises(Refusal) as caught:
        export(full_yard(), form, tmp_path / "out")
    said = caught.value.in_words()
    assert said.startswith(f"{made} cannot be written: the disk is full (")
    assert said.endswith("Make room or take another folder; the old stays.")
    assert content_of(made) == before
    assert [one.name for one in (tmp_path / "out").iterdir()] == [made.name]


def test_a_disk_that_fills_while_it_is_put_in_place_brings_the_old_one_back(desk: Desk, tmp_path: Path, monkeypatch):
    made = export(desk, FileForm.CSV, tmp_path / "out")
    plain = Path.rename

    def rename(self: Path, target: Path) -> Path:
        if self.name == "new":
            raise OSError(errno.ENOSPC, "No space left on device")
        return plain(self, target)

    monkeypatch.setattr(Path, "rename", rename)
    with pytest.raises(Refusal, match="cannot_write"):
        export(desk, FileForm.CSV, tmp_path / "out")
    assert len(list(made.path.iterdir())) == len(TABLES) + 1


def test_an_export_is_written_anew_in_one_step(desk: Desk, tmp_path: Path) -> None:
    first = export(desk, FileForm.CSV, tmp_path)
    put_deposit(desk, "2099")
    second = export(desk, FileForm.CSV, tmp_path)
    assert second.path == first.path
    assert second.rows["deposits"] == first.rows["deposits"] + 1
    assert not [one for one in tmp_path.iterdir() if one.name.startswith(".")]


def test_somebody_elses_folder_is_never_written_over(desk: Desk, tmp_path: Path) -> None:
    into = tmp_path / "out"
    theirs = into / f"{desk.store.name}-csv"
    theirs.mkdir(parents=True)
    (theirs / "thesis.txt").write_text("three years of work")
    with pytest.raises(Refusal, match="not_ours"):
        export(desk, FileForm.CSV, into)
    assert (theirs / "thesis.txt").read_text() == "three years of work"


def test_a_folder_that_cannot_be_written_is_refused(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file, no folder")
    for form in FileForm:
        with pytest.raises(Refusal, match="cannot_write"):
            export(desk, form, tmp_path / "out")
    assert (tmp_path / "out").read_text() == "a file, no folder"
    if os.geteuid():
        locked = tmp_path / "locked"
        locked.mkdir(mode=0o500)
        with pytest.raises(Refusal, match="cannot_write"):
            export(desk, FileForm.CSV, locked)


def test_a_photograph_whose_file_is_gone_is_named(tmp_path: Path) -> None:
    desk = whole_yard(tmp_path)
    for file in (tmp_path / "whole.photos").rglob("*.jpg"):
        file.unlink()
    made = export(desk, FileForm.PHOTOS, tmp_path / "out")
    desk.let_go()
    assert (made.rows, made.missing) == ({"photographs": 0}, ("rim.jpg",))
    assert read_csv(made.path / "list.csv")[0]["state"] == "gone"


def test_a_grid_that_cannot_be_is_refused(desk: Desk, tmp_path: Path) -> None:
    for grid in (GridPlace(0.0), GridPlace(float("nan")), GridPlace(5.0, epsg=0)):
        with pytest.raises(Refusal, match="grid_impossible"):
            export(desk, FileForm.GEOPACKAGE, tmp_path, how=How(grid=grid))
    assert list(tmp_path.glob("*.gpkg")) == []


def test_a_long_table_goes_on_in_a_second_sheet(tmp_path: Path, monkeypatch) -> None:
    desk = new_yard(tmp_path / "yard")
    monkeypatch.setattr("findsdesk.desk.exporting.MOST_ROWS", 8)
    made = export(desk, FileForm.XLSX, tmp_path)
    desk.let_go()
    book = openpyxl.load_workbook(made.path)
    names = [name for name in book.sheetnames if name.startswith("Journal")]
    rows = [row[7].value for name in names for row in list(book[name].rows)[1:]]
    assert len(names) == -(-made.rows["journal"] // 7) > 1
    assert len(rows) == made.rows["journal"]
