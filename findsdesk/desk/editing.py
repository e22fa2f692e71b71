"""Editing what somebody may have changed meanwhile, and asking what the same call passes when it is sure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.store.journal import plain
from findsdesk.store.models import Act, Editable, Form, Line, Person, Square, Ware
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class Differing:
    """One field that two people changed: what I want, what stands now, what it was when I looked."""

    field: str
    mine: Any
    theirs: Any
    before: Any


NAMED: dict[str, tuple[str, type[Square | Person | Ware | Form]]] = {
    "ware_id": ("ware", Ware),
    "form_id": ("form", Form),
    "square_id": ("square", Square),
    "supervisor_id": ("supervisor", Person),
}
"""Columns that point at something people know by its name or code."""


def refuse_if_moved(session: Session, row: Editable, seen: int, mine: Mapping[str, Any]) -> None:
    """Refuse an edit begun on an older version of a row: ``changed_meanwhile``.

    Its facts hold ``who`` changed it last and ``differences``, a tuple of ``Differing``: one for each field that I
    want to change or that was changed meanwhile.
    """
    if row.version == seen:
        return
    kind = row.__tablename__  # type: ignore[attr-defined]
    later = session.execute(
        select(Line.before, Act.person_name)
        .join(Act, Line.act_id == Act.id)
        .where(Line.kind == kind, Line.row_id == row.id, Line.row_version > seen)
        .order_by(Line.row_version.desc())
    ).all()
    moved: dict[str, Any] = {}
    for before, _who in later:
        moved |= before or {}
    differences = tuple(_differing(session, row, name, mine, moved) for name in {**moved, **mine})
    raise Refusal(
        "changed_meanwhile",
        N_("{who} changed this meanwhile. Look at the new values and do it again."),
        who=later[0][1] if later else "?",
        differences=differences,
    )


def _differing(
    session: Session, row: Editable, column: str, mine: Mapping[str, Any], moved: Mapping[str, Any]
) -> Differing:
    theirs = plain(getattr(row, column))
    before = moved.get(column, theirs)
    values = (plain(mine.get(column, before)), theirs, before)
    if column not in NAMED:
        return Differing(column, *values)
    field, model = NAMED[column]
    mine_named, theirs_named, before_named = (_name(session, model, value) for value in values)
    return Differing(field, mine_named, theirs_named, before_named)


def _name(session: Session, model: Any, row_id: int | None) -> str:
    if row_id is None:
        return ""
    row = session.get_one(model, row_id)
    return str(row.name if model in (Square, Person) else row.code)


def ask(deed: Deed, question: Question | None, sure: bool) -> None:
    """Raise a question, or, when the person is sure, write into the act that it was asked and answered yes."""
    if question is None:
        return
    if not sure:
        raise question
    asked = question.in_words(deed.desk.terms)
    deed.said = f"{deed.said} · {asked} ✓".lstrip(" ·")
