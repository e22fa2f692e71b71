"""Tables as JSON, row by row: one object a row, in the order of the columns."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from findsdesk.exchange.writing import Cell, written_whole


def write_json_table(about: dict[str, Any], keys: Sequence[str], rows: Iterable[Sequence[Cell]], path: Path) -> int:
    """Write ``{…what is said about it, "rows": [{key: value}, …]}`` (RFC 8259, UTF-8) and return how many rows.

    Days and moments are ISO 8601 texts; what is not said is null. Refusal: ``cannot_write``.
    """
    written = 0
    with written_whole(path) as stream:
        head = json.dumps(about, ensure_ascii=False, indent=1)[:-2]
        stream.write(f'{head},\n "rows": ['.encode())
        for row in rows:
            values = {key: _plain(cell) for key, cell in zip(keys, row, strict=True)}
            separator = ",\n  " if written else "\n  "
            stream.write((separator + json.dumps(values, ensure_ascii=False)).encode())
            written += 1
        stream.write(b"\n ]\n}\n")
    return written


def _plain(cell: Cell) -> Any:
    return cell.isoformat() if isinstance(cell, date) else cell
