"""Sheets kept as a PDF until somebody says that they came out well."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from findsdesk.desk.desk import Desk
from findsdesk.desk.kept_sheets import keep_sheets, kept_sheets, note_of
from findsdesk.desk.laying_out import lay_out_field_tags
from findsdesk.desk.printing import came_out_well
from findsdesk.desk.tags import issue_tags
from findsdesk.domain.refusals import Refusal


def test_what_is_kept_comes_back_as_it_was_and_is_confirmed(desk: Desk, tmp_path: Path) -> None:
    issue_tags(desk, how_many=3, supervisor="Bryn")
    sheets = lay_out_field_tags(desk, stock="a4-2x4-97x67")
    path = keep_sheets(sheets, tmp_path / "tags.pdf")
    assert kept_sheets(path) == sheets
    issue_tags(desk, how_many=2, supervisor="Bryn")
    printed = came_out_well(desk, kept_sheets(path))
    assert printed.codes == sheets.codes
    with pytest.raises(Refusal) as caught:
        came_out_well(desk, kept_sheets(path))
    assert caught.value.code == "printed_meanwhile"


def test_a_pdf_without_its_note_or_another_one_is_refused(desk: Desk, tmp_path: Path) -> None:
    issue_tags(desk, how_many=3, supervisor="Bryn")
    path = keep_sheets(lay_out_field_tags(desk, stock="a4-2x4-97x67"), tmp_path / "tags.pdf")
    path.write_bytes(path.read_bytes() + b"\n")
    with pytest.raises(Refusal) as caught:
        kept_sheets(path)
    assert caught.value.code == "other_sheets"
    note_of(path).unlink()
    with pytest.raises(Refusal) as caught:
        kept_sheets(path)
    assert caught.value.code == "no_kept_sheets"


def test_a_full_disk_leaves_the_old_pair_whole(desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    issue_tags(desk, how_many=3, supervisor="Bryn")
    before = lay_out_field_tags(desk, stock="a4-2x4-97x67")
    path = keep_sheets(before, tmp_path / "tags.pdf")
    issue_tags(desk, how_many=2, supervisor="Bryn")

    def full(_file: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Refusal) as caught:
        keep_sheets(lay_out_field_tags(desk, stock="a4-2x4-97x67"), path)
    assert caught.value.code == "cannot_write"
    assert "No space left" in caught.value.in_words()
    assert kept_sheets(path) == before
    assert sorted(one.name for one in tmp_path.iterdir() if "tags" in one.name) == ["tags.pdf", "tags.pdf.labels"]


def test_a_folder_that_is_not_there_is_said_of_the_file_that_was_named(desk: Desk, tmp_path: Path) -> None:
    issue_tags(desk, how_many=3, supervisor="Bryn")
    with pytest.raises(Refusal) as caught:
        keep_sheets(lay_out_field_tags(desk, stock="a4-2x4-97x67"), tmp_path / "none" / "tags.pdf")
    assert caught.value.in_words().startswith(f"tags.pdf cannot be written: there is no folder {tmp_path / 'none'}.")
