"""Rows that are in no store yet, kept in a file of this station: half typed ones and those that wait with a doubt.

They outlast the window, and a process that was ended: the file is written anew a moment after every change of them.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, fields
from typing import Any

from findsdesk.domain.balance import Decision
from findsdesk.ui.benches.sorting.lines import Saved, TableLine, TableLines
from findsdesk.ui.benches.sorting.typed_row import TypedRow
from findsdesk.ui.kept_file import KeptFile
from findsdesk.words import _

_FORMAT = 1


class KeptRows(KeptFile):
    """The file of a sorting table."""

    def read(self) -> dict[int, TableLines]:
        """Return the rows kept, by container; a file that cannot be read is put aside, never written over."""
        try:
            text = self.text()
            tables = dict(json.loads(text)["tables"]) if text is not None else {}
            return {int(key): _table(table) for key, table in tables.items()}
        except (OSError, ValueError, KeyError, TypeError, AttributeError):
            self.put_aside()
            return {}


def text_of(tables: Mapping[int, TableLines]) -> str:
    """Return these rows as they stand in the file, '' where there are none."""
    said = {str(key): _said(table) for key, table in tables.items() if table.unwritten()}
    return json.dumps({"format": _FORMAT, "tables": said}, indent=1, ensure_ascii=False) if said else ""


def _said(table: TableLines) -> dict[str, Any]:
    return {
        "number": table.number,
        "half typed": asdict(table.half_typed) if table.half_typed is not None else None,
        "rows": [_row(place, line) for place, line in enumerate(table.lines) if _is_typed(line)],
    }


def _is_typed(line: TableLine) -> bool:
    """Tell whether a row was typed and is not known to be written; one being removed is none."""
    if line.typed is None or line.saved is Saved.WRITTEN:
        return False
    return line.saved is Saved.WAITS or line.said is not None


def _row(place: int, line: TableLine) -> dict[str, Any]:
    assert line.typed is not None
    return {
        "act": line.act_id,
        "place": max(place, line.place),
        "row": line.row.id if line.row is not None else line.of_row,
        "typed": asdict(line.typed),
        "on its way": line.saved is Saved.PENDING,
        "doubt": [line.doubt_code, line.doubt, line.doubt_column],
    }


def _table(said: Mapping[str, Any]) -> TableLines:
    half = said["half typed"]
    return TableLines(
        lines=[_line(row) for row in said["rows"]],
        half_typed=_typed(half) if half is not None else None,
        number=str(said["number"]),
        found_again=True,
        half_found=half is not None,
    )


def _line(said: Mapping[str, Any]) -> TableLine:
    line = TableLine(
        typed=_typed(said["typed"]), act_id=str(said["act"]), of_row=int(said["row"]), place=int(said["place"])
    )
    code, words, column = (str(one) for one in said["doubt"])
    if said["on its way"]:
        # Its act has an id: written before the window went, it is not written twice.
        line.waits_because("not_known", _("Not known whether it was written. F2, then Page down writes it once."))
    else:
        line.waits_because(code, words, column)
    return line


def _typed(said: Mapping[str, Any]) -> TypedRow:
    known = {one.name for one in fields(TypedRow)}
    values = {name: value for name, value in said.items() if name in known}
    return TypedRow(**{**values, "decision": Decision(said["decision"])})
