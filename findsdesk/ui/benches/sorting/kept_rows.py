"""Rows that are in no store yet, kept in a file of this station: half typed ones and those that wait with a doubt.

They outlast the window, and a process that was ended: the file is written anew a moment after every change of them.
"""

from __future__ import annotations

import hashlib
import json
import logging
import os
import re
import threading
from collections.abc import Mapping
from dataclasses import asdict, fields
from itertools import count
from pathlib import Path
from typing import Any

from findsdesk import places
from findsdesk.domain.balance import Decision
from findsdesk.ui.benches.sorting.lines import Saved, TableLine, TableLines
from findsdesk.ui.benches.sorting.typed_row import TypedRow
from findsdesk.words import _

_log = logging.getLogger(__name__)
_FORMAT = 1


def file_beside(store: Path | None, station: str, address: str) -> Path:
    """Return the file of a station: beside the store, or for a store on a server among what this station keeps."""
    plain = re.sub(r"[^\w-]+", "_", station) or "first"
    if store is not None:
        return store.with_name(f"{store.stem}.unwritten-{plain}.json")
    known_by = hashlib.sha256(address.encode()).hexdigest()[:16]
    return places.kept_folder() / f"{known_by}.unwritten-{plain}.json"


class KeptRows:
    """One file. ``text_of`` is asked on the window's thread, ``write`` may run on any."""

    def __init__(self, file: Path) -> None:
        self.file = file
        self._numbers = count(1)
        self._written = 0
        self._lock = threading.Lock()
        self._last = ""

    def read(self) -> dict[int, TableLines]:
        """Return the rows kept, by container; a file that cannot be read is put aside, never written over."""
        try:
            text = self.file.read_text(encoding="utf-8")
            said = json.loads(text)
            tables = {int(key): _table(table) for key, table in dict(said["tables"]).items()}
        except FileNotFoundError:
            return {}
        except (OSError, ValueError, KeyError, TypeError, AttributeError):
            _log.warning("the rows kept in %s cannot be read; the file is put aside", self.file)
            self._put_aside()
            return {}
        self._last = text_of(tables)
        return tables

    def _put_aside(self) -> None:
        try:
            self.file.replace(self.file.with_suffix(".unread"))
        except OSError:
            _log.warning("%s cannot be put aside", self.file)

    def to_write(self, tables: Mapping[int, TableLines]) -> tuple[int, str] | None:
        """Return what is to be written, with its number; None where nothing changed since the last time."""
        text = text_of(tables)
        if text == self._last:
            return None
        self._last = text
        return next(self._numbers), text

    def write(self, number: int, text: str) -> None:
        """Write the file, unless something newer was written already; without rows there is no file."""
        with self._lock:
            if number < self._written:
                return
            self._written = number
            try:
                if text:
                    self._put(text)
                else:
                    self.file.unlink(missing_ok=True)
            except OSError:
                _log.warning("the rows that are not written cannot be kept in %s", self.file)

    def _put(self, text: str) -> None:
        self.file.parent.mkdir(parents=True, exist_ok=True)
        beside = self.file.with_suffix(".part")
        with beside.open("w", encoding="utf-8") as out:
            out.write(text)
            out.flush()
            os.fsync(out.fileno())
        beside.replace(self.file)


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
