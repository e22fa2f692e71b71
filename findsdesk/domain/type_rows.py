"""A row of a type series as it is written in a file: a ware or a form with its code, years and source."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from findsdesk.domain.date_ranges import DateRange
from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.years import read_year, year_in_words
from findsdesk.words import N_

COLUMNS = ("kind", "code", "name", "ware", "from", "to", "source", "note")
"""The headers of the file, in their order."""
TABLE_NAME = "type-series"
"""What the file is called, without its ending, where it lies with its pictures."""


class TypeKind(StrEnum):
    """What a row of a type series is."""

    WARE = "ware"
    FORM = "form"


TypeCode = tuple[TypeKind, str]
"""A kind of row of a type series and its code: what a row is known by."""


def said_once(ware: str, form: str) -> str:
    """Return the codes of ware and form ('' for none) as they are said: CSJ1, not CSJ CSJ1, but CSJ B2."""
    rest = form.removeprefix(ware)
    if rest != form and not rest[:1].isalpha():
        return form
    return " ".join(code for code in (ware, form) if code)


@dataclass(frozen=True, slots=True)
class TypeRow:
    """A ware, or a form of one ware or of any ('' then); years are astronomical, None where open."""

    kind: TypeKind
    code: str
    name: str
    ware: str = ""
    earliest: int | None = None
    latest: int | None = None
    source: str = ""
    note: str = ""
    line: int = field(default=0, compare=False)
    """Where it stands in its file; 0 where it comes from none."""

    def as_cells(self) -> tuple[str, ...]:
        """Return the row as it is written, in the order of ``COLUMNS``."""
        years = ("" if year is None else year_in_words(year) for year in (self.earliest, self.latest))
        return (self.kind, self.code, self.name, self.ware, *years, self.source, self.note)


def read_type_row(cells: Mapping[str, str], line: int) -> TypeRow:
    """Read a row by its headers. Every refusal names the line and says what is wrong: ``type_row_unreadable``."""
    said = {name: cells.get(name, "").strip() for name in COLUMNS}
    if not said["code"]:
        raise _unreadable(line, N_("the code is missing"))
    try:
        kind = TypeKind(folded(said["kind"]) or TypeKind.WARE)
        years = [read_year(said[name]) if said[name] else None for name in ("from", "to")]
        if years[0] is not None and years[1] is not None:
            DateRange(years[0], years[1])
    except ValueError:
        raise _unreadable(line, N_("the kind is neither ware nor form")) from None
    except Refusal as refusal:
        raise _unreadable(line, refusal.in_words()) from refusal
    return TypeRow(
        kind,
        said["code"].upper(),
        said["name"],
        said["ware"].upper() if kind is TypeKind.FORM else "",
        years[0],
        years[1],
        said["source"],
        said["note"],
        line,
    )


def _unreadable(line: int, why: str) -> Refusal:
    return Refusal(
        "type_row_unreadable",
        N_("Line {line} cannot be taken in: {why} Mend the file; nothing was written."),
        line=line,
        why=why if why.endswith(".") else f"{why}.",
    )
