"""Sheets kept as a PDF until somebody says that they came out well."""

from __future__ import annotations

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
