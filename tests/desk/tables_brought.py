"""Tables as tests bring them: a short text, looked at and taken in."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from sqlalchemy import func, select

from findsdesk.desk.desk import Desk
from findsdesk.desk.list_checks import Fate
from findsdesk.desk.table_looks import TableLook, look_at_table
from findsdesk.desk.tables_taken import TableTaken, asked, take_in_table
from findsdesk.domain.table_kinds import TableKind
from findsdesk.store.models import Act, Base


def write(folder: Path, text: str, name: str = "table.csv") -> Path:
    """Write a table; a semicolon parts its cells."""
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def look(desk: Desk, folder: Path, kind: TableKind, text: str, **how: Any) -> TableLook:
    """Look at a table."""
    return look_at_table(desk, write(folder, text), of=kind, **how)


def take(desk: Desk, folder: Path, kind: TableKind, text: str, **how: Any) -> TableTaken:
    """Look at a table and take it in."""
    return take_in_table(desk, look(desk, folder, kind, text, **how))


def questions(seen: TableLook) -> Mapping[int, list[str]]:
    """Return the codes of the questions of each line that waits."""
    return {
        seen.read.lines[place]: [doubt.code for doubt in seen.checked.doubts.get(place, ())]
        for place in seen.places(Fate.ASIDE)
    }


def said(seen: TableLook, line: int) -> str:
    """Return what is asked about a line, in words."""
    return " ".join(asked(seen, seen.read.lines.index(line)))


def fates(seen: TableLook) -> list[str]:
    """Return the fate of each row."""
    return [str(fate) for fate in seen.checked.fates]


def how_many(desk: Desk, kind: type[Base] = Act) -> int:
    """Return how many rows of a kind there are."""
    with desk.reading() as reading:
        return reading.session.execute(select(func.count()).select_from(kind)).scalar_one()
