"""How many finds a row holds is headed alike everywhere; pieces are the sherds with a number of their own."""

from __future__ import annotations

import re
from pathlib import Path

import findsdesk
from findsdesk.desk import export_tables
from findsdesk.desk.register_columns import _FIELDS
from findsdesk.domain.sorting_columns import COLUMN_IN_WORDS
from findsdesk.domain.table_kinds import COLUMNS, TableKind

NUMBERED = {
    "ui/all_benches.py", "ui/benches/pieces/page.py", "ui/benches/pieces/piece_list.py",
    "ui/benches/registers/piece_lists.py", "cli/pieces.py", "desk/joins_sheet.py", "desk/register_columns.py",
    "desk/deposit_sheet.py", "desk/season_chapters.py",
}  # fmt: skip
"""Where "Pieces" heads the numbered ones."""


def test_registers_files_and_the_sorting_table_head_it_alike() -> None:
    titles = {field.title for fields in _FIELDS.values() for field in fields if field.key == "pieces"}
    assert titles == {COLUMN_IN_WORDS["pieces"]} == {"Count"}
    written = re.findall(r'ExportColumn\("pieces", N_\("(\w+)"\)', Path(export_tables.__file__).read_text("utf-8"))
    assert set(written) == titles
    # What went out under this heading comes in again.
    assert "count" in COLUMNS[TableKind.SEASON]["pieces"].spellings


def test_nothing_else_is_headed_as_the_numbered_pieces_are() -> None:
    root = Path(findsdesk.__file__).parent
    found = {str(one.relative_to(root)) for one in root.rglob("*.py") if '_("Pieces")' in one.read_text("utf-8")}
    assert found == NUMBERED
