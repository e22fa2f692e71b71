"""What a search in everything found, as rows: by kind, each leading to what it is."""

from __future__ import annotations

from findsdesk.desk.desk import Desk
from findsdesk.desk.register_columns import wording
from findsdesk.desk.searching import KIND_FOUND, HitsOfKind, called, search
from findsdesk.domain.searched_words import words_looked_for
from findsdesk.ui.models.cells import Cell, TableRow
from findsdesk.words import N_, grouped

OF_EACH = 20
"""So many of each kind are shown."""
FOUND_COLUMNS = (("kind", N_("What it is")), ("what", N_("Which")), ("says", N_("What it says")))


def found_rows(desk: Desk, text: str) -> tuple[list[TableRow], int]:
    """Return a row for each thing that was found, the newest of its kind first, and how many there are."""
    if not words_looked_for(text):
        return [], 0
    found = search(desk, text, of_each=OF_EACH)
    return [row for kind in found.kinds for row in _rows(desk, kind)], found.count


def _rows(desk: Desk, found: HitsOfKind) -> list[TableRow]:
    say = wording(desk)
    kind, many = say(KIND_FOUND[found.kind]), f"{grouped(found.count)}{'+' if found.more else ''}"
    rows = [
        TableRow(
            ("found", hit.opens),
            (Cell(f"{kind} ({many})" if place == 0 else kind), Cell(called(hit, desk.terms), "", True), Cell(hit.says)),
        )
        for place, hit in enumerate(found.hits)
    ]
    if found.more or found.count > len(found.hits):
        left = say(N_("and more: type another word"))
        rows.append(TableRow(("found", None), (Cell(kind, "muted"), Cell(left, "muted"), Cell(""))))
    return rows
