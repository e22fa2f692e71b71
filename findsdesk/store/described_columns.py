"""What a table and its columns mean, for people who have the store's contents without the program."""

from __future__ import annotations

import ast
import inspect
import sys
from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from typing import Any

from sqlalchemy import Column, Date

from findsdesk.store.every_table import model_of
from findsdesk.store.models import Moment
from findsdesk.words import N_, put

_OF_EVERY_TABLE: dict[str, str] = {
    "id": N_("The row's own number; never used again."),
    "version": N_("How many times the row was written."),
    "search_text": N_("What people search for in the row, in small letters without accents; follows from the others."),
    "number_key": N_("The number in the form in which it is sorted; follows from the number."),
    "number_folded": N_("The number in the form in which it is looked for; follows from the number."),
    "name_key": N_("The name in the form in which it is sorted; follows from the name."),
    "name_folded": N_("The name in the form in which it is looked for; follows from the name."),
    "ordinal": N_("The place within what the row belongs to, from 1."),
    "position": N_("The place in its list, from 1."),
    "happened_at": N_("When it truly happened."),
    "entered_at": N_("When it was written into the store."),
    "written_at": N_("When it was written into the store."),
    "made_at": N_("When it was made."),
    "label_copy": N_("How many labels came out well; 0: not yet labelled."),
    "labelled_at": N_("When its last label came out well."),
    "sha256": N_("The SHA-256 of the file's bytes, in hexadecimal."),
    "file_name": N_("The name the file came with."),
    "code": N_("The code by which it is scanned or named."),
    "note": N_("A note in people's own words."),
    "name": N_("What it is called."),
    "number": N_("Its number, as people write it."),
    "description": N_("A description in people's own words."),
    "kind": N_("Of which kind it is."),
    "material": N_("The material, by its key."),
    "part": N_("The part of the vessel, by its key."),
    "surface": N_("The treatment of the surface, by its key."),
    "decoration": N_("The decoration, by its key."),
    "decision": N_("What becomes of it."),
    "reason": N_("Why, in a word of the list or people's own."),
    "why": N_("Why, in people's own words."),
    "said": N_("What it said then."),
    "source": N_("The publication it is known from."),
    "held_for": N_("Why it is held back from water; nothing where it is not."),
    "row_id": N_("The number of the row that was changed, in the table named by kind."),
    "row_version": N_("The version the row had after the change; nothing for rows that are never changed."),
    "before": N_("What the changed columns held before; nothing for a new row."),
    "after": N_("What the changed columns held afterwards; nothing for a row that was taken away."),
    "deed": N_("The name of what was done."),
    "running": N_("The running number of the act at its station; of a station, that of its newest act."),
    "head": N_("The hash of the newest act."),
    "hash": N_("The act's SHA-256, over the hash before it, its own facts and its lines."),
    "hash_before": N_("The hash of the act before it at its station."),
    "zone": N_("The time zone of the place."),
    "person_name": N_("What the person was called then."),
    "next": N_("The next number to be given."),
    "next_row": N_("The next row number of the station."),
    "settings": N_("The settings of the excavation, by name."),
    "terms": N_("What the excavation calls its things."),
    "permit": N_("The number of the permit."),
    "digest": N_("The SHA-256 of the file."),
    "diagnostic": N_("Whether it tells the vessel."),
}
_UNITS: tuple[tuple[str, str], ...] = (
    ("tenths_mm", N_("tenths of a millimetre")),
    ("tenths", N_("tenths of a gram")),
    ("_mm", N_("millimetres")),
    ("_ml", N_("millilitres")),
    ("_permille", N_("thousandths of a whole one")),
    ("size_bytes", N_("bytes")),
    ("earliest", N_("years, astronomical: 0 is 1 BCE")),
    ("latest", N_("years, astronomical: 0 is 1 BCE")),
)
_UNIT_OF: dict[str, str] = {
    "pieces": N_("pieces"),
    "kept": N_("pieces"),
    "counted": N_("pieces"),
    "width": N_("pixels"),
    "height": N_("pixels"),
}


def table_described(name: str) -> str:
    """Return what a table's rows are, as its model says it."""
    said = inspect.getdoc(model_of(name)) or name
    return " ".join(said.replace("``", "").split())


def column_described(column: Column[Any]) -> str:
    """Return what a column means, with its unit; never empty."""
    parts = [_said(column), *_unit(column)]
    parts += (f"Row of {key.column.table.name}." for key in column.foreign_keys)
    return " ".join(part for part in parts if part) or f"{column.name.replace('_', ' ').capitalize()}."


def _said(column: Column[Any]) -> str:
    own = _told_in_source(column.table.name).get(column.name)
    return own or put(_OF_EVERY_TABLE.get(column.name, ""))


def _unit(column: Column[Any]) -> Iterator[str]:
    if isinstance(column.type, Moment):
        yield "Moment in UTC, to the millisecond."
    elif isinstance(column.type, Date):
        yield "Day at the excavation."
    elif column.type.python_type is int:
        unit = _UNIT_OF.get(column.name) or next((said for end, said in _UNITS if column.name.endswith(end)), None)
        if unit is not None:
            yield f"Unit: {put(unit)}."


@cache
def _told_in_source(name: str) -> dict[str, str]:
    """Return the sentence below each column in its model's source; none where the source is not at hand."""
    model = model_of(name)
    try:
        tree = ast.parse(inspect.getsource(sys.modules[model.__module__]))
    except (OSError, TypeError):
        return {}
    body = next((one.body for one in tree.body if isinstance(one, ast.ClassDef) and one.name == model.__name__), [])
    told: dict[str, str] = {}
    for column, below in pairwise(body):
        if isinstance(column, ast.AnnAssign) and isinstance(column.target, ast.Name) and isinstance(below, ast.Expr):
            said = below.value.value if isinstance(below.value, ast.Constant) else ""
            told[column.target.id] = " ".join(str(said).replace("``", "").split())
    return told
