"""What can be chosen at the left of the labels bench."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from findsdesk.desk.printing import PrintKind


class Row(StrEnum):
    """A thing to do, in the order in which it comes up."""

    PACK = "pack"
    BAG = "bag"
    WASH = "wash"
    TAGS = "tags"
    OTHER = "other"
    AGAIN = "again"
    MARKS = "marks"
    LISTS = "lists"


KIND_OF: Mapping[Row, PrintKind] = {Row.BAG: PrintKind.BAG, Row.WASH: PrintKind.WASH, Row.TAGS: PrintKind.TAG}
ROW_OF: Mapping[PrintKind, Row] = {kind: row for row, kind in KIND_OF.items()}
