"""Papers that came out of a printer: the highest copy of each, the spoiled ones too, for those lie about as well."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.label_contents import LabelToPrint, PrintKind
from findsdesk.store.models import Count, PrintedLabel, Printing

AT_ONCE = 5000


def came_well() -> Any:
    """Return the condition that a printing came out well: a spoiled label is a paper, but labels nothing."""
    return Printing.spoiled == ""


def copies_on_paper(session: Session, kind: PrintKind, codes: Sequence[str], *conditions: Any) -> dict[str, int]:
    """Return the highest copy of each label that came out of a printer, well or spoiled, by its code."""
    out: dict[str, int] = {}
    for first in range(0, len(codes), AT_ONCE):
        rows = session.execute(
            select(PrintedLabel.code, func.max(PrintedLabel.copy))
            .join(Printing, PrintedLabel.printing_id == Printing.id)
            .where(PrintedLabel.code.in_(codes[first : first + AT_ONCE]), Printing.kind == kind, *conditions)
            .group_by(PrintedLabel.code)
        )
        out |= {row[0]: row[1] for row in rows}
    return out


def after_the_spoiled(session: Session, kind: PrintKind, labels: Sequence[LabelToPrint]) -> list[LabelToPrint]:
    """Return labels that wait, each as the next copy after those that were spoiled: no two papers bear one number.

    Of wash tags only those spoiled since the last count are meant: each count begins with copy 1.
    """
    since = (Printing.printed_at >= _last_count(),) if kind is PrintKind.WASH else ()
    out = copies_on_paper(session, kind, [one.code for one in labels], Printing.spoiled != "", *since)
    return [one.as_copy(max(one.copy, out.get(one.code, 0) + 1)) for one in labels]


def why_spoiled(session: Session, kind: PrintKind, codes: Sequence[str]) -> dict[tuple[str, int], str]:
    """Return why each spoiled paper did not come out well, by (code, copy)."""
    out: dict[tuple[str, int], str] = {}
    for first in range(0, len(codes), AT_ONCE):
        rows = session.execute(
            select(PrintedLabel.code, PrintedLabel.copy, Printing.spoiled)
            .join(Printing, PrintedLabel.printing_id == Printing.id)
            .where(PrintedLabel.code.in_(codes[first : first + AT_ONCE]), Printing.kind == kind, Printing.spoiled != "")
        )
        out |= {(code, copy): why for code, copy, why in rows}
    return out


def _last_count() -> Any:
    newest = select(func.max(Count.happened_at)).where(Count.container_id == PrintedLabel.container_id)
    return newest.correlate(PrintedLabel).scalar_subquery()
