"""Printed sheets kept as a PDF with a note beside it, until somebody says that they came out well.

The note says which label stands where and when it was drawn: what is confirmed later is what was on that very paper.
"""

from __future__ import annotations

import json
from dataclasses import asdict
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from typing import Any

from findsdesk.desk.label_contents import PrintKind
from findsdesk.desk.laying_out import PlacedLabel, Sheets
from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.writing import see_the_folder, written_whole
from findsdesk.words import N_


def write_paper(pdf: bytes, path: Path) -> Path:
    """Write a PDF whole or not at all; raises the refusal ``cannot_write``."""
    with written_whole(path) as stream:
        stream.write(pdf)
    return path


def note_of(path: Path) -> Path:
    """Return the note that belongs to a PDF of labels."""
    return path.with_name(f"{path.name}.labels")


def keep_sheets(sheets: Sheets, path: Path) -> Path:
    """Write the PDF of sheets and the note beside it, both or neither; returns the PDF. Refuses ``cannot_write``."""
    values = {name: value for name, value in asdict(sheets).items() if name != "pdf"}
    values |= {"made_at": sheets.made_at.isoformat(), "digest": sha256(sheets.pdf).hexdigest()}
    see_the_folder(path)  # before the note, whose name nobody gave
    with written_whole(note_of(path)) as note, written_whole(path) as paper:
        note.write(json.dumps(values, ensure_ascii=False, indent=1).encode())
        paper.write(sheets.pdf)
        note.flush()  # both are out before the first takes its place: a full disk leaves the old pair
        paper.flush()
    return path


def kept_sheets(path: Path) -> Sheets:
    """Return the sheets that ``keep_sheets`` wrote.

    Refusals: ``no_kept_sheets`` where PDF or note is missing, ``other_sheets`` where they no longer belong together.
    """
    try:
        pdf, values = path.read_bytes(), json.loads(note_of(path).read_bytes())
    except (OSError, ValueError) as fault:
        text = N_("{file} or the note beside it ({note}) is missing. Print the labels again.")
        raise Refusal("no_kept_sheets", text, file=path.name, note=note_of(path).name) from fault
    if values.pop("digest") != sha256(pdf).hexdigest():
        text = N_("{file} is not the paper that its note speaks of. Print the labels again.")
        raise Refusal("other_sheets", text, file=path.name)
    return _sheets(values, pdf)


def _sheets(values: dict[str, Any], pdf: bytes) -> Sheets:
    placed = tuple(PlacedLabel(**one) for one in values.pop("placed"))
    kind, made_at = PrintKind(values.pop("kind")), datetime.fromisoformat(values.pop("made_at"))
    says = {int(container_id): tuple(parts) for container_id, parts in values.pop("says").items()}
    across, down = values.pop("page_mm", (210.0, 297.0))
    return Sheets(kind=kind, pdf=pdf, placed=placed, made_at=made_at, says=says, page_mm=(across, down), **values)
