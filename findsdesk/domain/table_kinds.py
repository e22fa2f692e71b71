"""What a table that somebody brings may hold: its kind, the columns of each kind, and how its headers are matched."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from findsdesk.domain.list_columns import NUMBER_WORDS, SPELLINGS, ColumnMatch, header_key
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, Terms, _, put


class TableKind(StrEnum):
    """What the rows of a table are."""

    DEPOSITS = "deposits"
    CONTAINERS = "containers"
    WARES = "wares"
    PEOPLE = "people"
    PLACES = "places"
    SEASON = "season"


KIND_IN_WORDS: Mapping[TableKind, str] = {
    TableKind.DEPOSITS: N_("{deposits}"),
    TableKind.CONTAINERS: N_("{containers}"),
    TableKind.WARES: N_("wares and forms"),
    TableKind.PEOPLE: N_("people"),
    TableKind.PLACES: N_("places"),
    TableKind.SEASON: N_("an old season"),
}


class Reads(StrEnum):
    """How a cell is read."""

    TEXT = "text"
    NUMBER = "number"
    """A number or code by which something is called: kept as it is written."""
    DAY = "day"
    PIECES = "pieces"
    GRAMS = "grams"
    METRES = "metres"
    PERCENT = "percent"
    YEAR = "year"
    YES = "yes"


@dataclass(frozen=True, slots=True)
class TableColumn:
    """A column: what it is called, how its cells are read, and the spellings by which its header is known."""

    name: str
    reads: Reads = Reads.TEXT
    spellings: tuple[str, ...] = ()
    needed: bool = False


_DESCRIPTION = TableColumn(N_("description"), spellings=SPELLINGS["description"])
_SUPERVISOR = TableColumn(N_("supervisor"), spellings=SPELLINGS["supervisor"])
_NOTE = TableColumn(N_("note"), spellings=("note", "notes", "remark", "remarks", "comment", "comments"))
_CONTAINER = TableColumn(N_("{container} number"), Reads.NUMBER, SPELLINGS["number"], needed=True)
_ITS_DEPOSIT = TableColumn(N_("{deposit}"), Reads.NUMBER, SPELLINGS["deposit"], needed=True)
_SQUARE = TableColumn(N_("{square}"), Reads.NUMBER, SPELLINGS["square"])
_COLLECTED = TableColumn(N_("date"), Reads.DAY, SPELLINGS["collected_on"])
_MATERIAL = TableColumn(N_("material"), spellings=SPELLINGS["material"])

# Spellings seen in tables of excavations (common practice, no source), the surest first.
COLUMNS: Mapping[TableKind, Mapping[str, TableColumn]] = {
    TableKind.DEPOSITS: {
        "number": TableColumn(N_("{deposit} number"), Reads.NUMBER, SPELLINGS["deposit"], needed=True),
        "square": TableColumn(N_("{square}"), Reads.NUMBER, SPELLINGS["square"], needed=True),
        "kind": TableColumn(N_("kind"), spellings=("kind", "type", "category", "class")),
        "opened": TableColumn(
            N_("opened on"), Reads.DAY, ("opened on", "opened", "open", "start", "begun", "from", "date"), needed=True
        ),
        "closed": TableColumn(N_("closed on"), Reads.DAY, ("closed on", "closed", "end", "finished", "to", "until")),
        "supervisor": _SUPERVISOR,
        "description": _DESCRIPTION,
        "opening": TableColumn(
            N_("opening elevation"),
            Reads.METRES,
            ("opening elevation", "opening level", "top", "upper level", *SPELLINGS["elevation"]),
        ),
        "closing": TableColumn(
            N_("closing elevation"), Reads.METRES, ("closing elevation", "closing level", "bottom", "lower level")
        ),
        "security": TableColumn(N_("how far its finds belong together"), spellings=("security", "secure", "integrity")),
        "soil": TableColumn(N_("soil dug"), spellings=("soil dug", "soil", "soil volume", "litres dug", "buckets dug")),
        "into": TableColumn(
            N_("merged into"), Reads.NUMBER, ("merged into", "merged with", "now", "now part of", "same as", "equals")
        ),
    },
    TableKind.CONTAINERS: {
        "number": _CONTAINER,
        "deposit": _ITS_DEPOSIT,
        "square": _SQUARE,
        "collected_on": TableColumn(N_("date"), Reads.DAY, SPELLINGS["collected_on"], needed=True),
        "supervisor": _SUPERVISOR,
        "material": TableColumn(N_("material"), spellings=SPELLINGS["material"], needed=True),
        "description": _DESCRIPTION,
    },
    TableKind.WARES: {
        "kind": TableColumn(N_("ware or form"), spellings=("kind", "ware or form", "type", "what")),
        "code": TableColumn(
            N_("code"), Reads.NUMBER, ("code", "abbreviation", "abbr", "short", "fabric code", "ware code"), needed=True
        ),
        "name": TableColumn(N_("name"), spellings=("name", "title", "full name", "fabric", "common name")),
        "ware": TableColumn(N_("ware of a form"), Reads.NUMBER, ("ware", "ware of a form", "of ware", "fabric of")),
        "earliest": TableColumn(N_("from year"), Reads.YEAR, ("from year", "from", "earliest", "begin", "start")),
        "latest": TableColumn(N_("to year"), Reads.YEAR, ("to year", "to", "latest", "end", "until")),
        "source": TableColumn(
            N_("publication"), spellings=("publication", "source", "reference", "references", "literature", "after")
        ),
        "note": _NOTE,
    },
    TableKind.PEOPLE: {
        "name": TableColumn(N_("name"), spellings=("name", "full name", "person", "who", "member"), needed=True),
        "role": TableColumn(N_("role"), spellings=("role", "job", "position", "function", "task"), needed=True),
        "active": TableColumn(N_("in the team now"), Reads.YES, ("in the team now", "active", "in the team")),
    },
    TableKind.PLACES: {
        "name": TableColumn(N_("name"), spellings=("name", "place", "location", "shelf", "room"), needed=True),
        "kind": TableColumn(N_("kind"), spellings=("kind", "type", "what"), needed=True),
        "within": TableColumn(
            N_("lies within"), spellings=("lies within", "within", "in", "inside", "part of", "parent", "belongs to")
        ),
        "holds": TableColumn(N_("boxes it holds"), Reads.PIECES, ("boxes it holds", "boxes", "holds", "capacity")),
        "note": _NOTE,
    },
    TableKind.SEASON: {
        "number": _CONTAINER,
        "deposit": _ITS_DEPOSIT,
        "square": _SQUARE,
        "collected_on": _COLLECTED,
        "supervisor": _SUPERVISOR,
        "material": _MATERIAL,
        "description": TableColumn(
            N_("description of the {container}"), spellings=("description", "descr", "desc", "contents", "details")
        ),
        "counted": TableColumn(
            N_("pieces counted in the {container}"),
            Reads.PIECES,
            ("counted", "total", "total count", "all pieces", "all sherds"),
        ),
        "ware": TableColumn(N_("ware"), Reads.NUMBER, ("ware", "fabric", "ware code", "fabric code")),
        "form": TableColumn(N_("form"), Reads.NUMBER, ("form", "vessel form", "shape", "vessel type")),
        "part": TableColumn(N_("part of the vessel"), spellings=("part", "vessel part", "element", "sherd type")),
        "surface": TableColumn(N_("surface"), spellings=("surface", "surface treatment", "finish")),
        "decoration": TableColumn(N_("decoration"), spellings=("decoration", "decor", "dec")),
        "condition": TableColumn(N_("condition"), spellings=("condition", "state", "preservation")),
        "pieces": TableColumn(
            N_("count"), Reads.PIECES, ("pieces", "sherds", "count", "quantity", "qty", "pcs", "sherd count", "nosh")
        ),
        "grams": TableColumn(N_("grams"), Reads.GRAMS, ("grams", "weight", "wt", "g", "mass", "gr")),
        "rim": TableColumn(N_("rim, percent"), Reads.PERCENT, ("rim percent", "rim", "eve", "rim eve")),
        "base": TableColumn(N_("base, percent"), Reads.PERCENT, ("base percent", "base eve", "percent of base")),
        "note": _NOTE,
        "box": TableColumn(N_("box"), Reads.NUMBER, ("box", "carton", "old box")),
        "place": TableColumn(N_("place"), spellings=("place", "shelf", "location", "stored", "storage", "room")),
        "mark": TableColumn(N_("old mark"), spellings=("mark", "old mark", "marked", "inked", "inscribed")),
    },
}  # fmt: skip
_MEANS: Mapping[TableKind, str] = {TableKind.WARES: "code", TableKind.PEOPLE: "name", TableKind.PLACES: "name"}
"""What a header means that only says "number", "code" or "id", where it is not the number."""


def columns_of(kind: TableKind) -> Mapping[str, TableColumn]:
    """Return the columns of a kind of table by their keys, in their order."""
    return COLUMNS[kind]


def column_name(kind: TableKind, column: str, terms: Terms | None = None, language: str | None = None) -> str:
    """Return what a column is called, in the excavation's own words."""
    return put(COLUMNS[kind][column].name, terms, None, language)


@cache
def _spellings(kind: TableKind, terms: Terms) -> Mapping[str, tuple[str, int]]:
    """Return every spelling of a header with its column and how sure it is; 1 is surest."""
    ranks: dict[str, tuple[str, int]] = {}
    for column, said in COLUMNS[kind].items():
        for place, spelling in enumerate(said.spellings):
            ranks.setdefault(spelling, (column, 2 + place))
    for column, said in COLUMNS[kind].items():
        ranks[header_key(put(said.name, terms))] = (column, 1)
        ranks[header_key(column)] = (column, 1)
    own = {terms.deposit: "number" if kind is TableKind.DEPOSITS else "deposit", terms.square: "square"}
    if kind in (TableKind.CONTAINERS, TableKind.SEASON):
        own[terms.container] = "number"
    ranks |= {header_key(word): (column, 1) for word, column in own.items() if column in COLUMNS[kind]}
    return ranks


def column_meant(kind: TableKind, header: str, terms: Terms | None = None) -> str | None:
    """Return the column that a header names, by any of its spellings, or None."""
    found = _meant(kind, header, _spellings(kind, terms or Terms()))
    return found[0] if found else None


def _meant(kind: TableKind, header: str, ranks: Mapping[str, tuple[str, int]]) -> tuple[str, int] | None:
    key = header_key(header)
    words = key.split()
    bare = " ".join(word for word in words if word not in NUMBER_WORDS)
    if words and not bare:
        return (_MEANS.get(kind, "number"), 100)
    return ranks.get(key) or ranks.get(bare)


def match_headers(
    kind: TableKind,
    headers: Sequence[str],
    terms: Terms | None = None,
    remembered: Mapping[str, str] | None = None,
    given: Mapping[str, str] | None = None,
) -> ColumnMatch:
    """Match the headers of a table with the columns of its kind.

    ``remembered`` maps a header to a column, or to '' for one to leave out, and goes before all spellings; ``given``
    holds columns that are told once for all rows. Of two headers for one column the surer one wins.
    """
    ranks = _spellings(kind, terms or Terms())
    known = {header_key(name): column for name, column in (remembered or {}).items()}
    best: dict[str, tuple[int, int]] = {}
    for place, header in enumerate(headers):
        key = header_key(header)
        ranked = (known[key], 0) if key in known else _meant(kind, header, ranks)
        if ranked is not None and ranked[0] in COLUMNS[kind]:
            best[ranked[0]] = min(best.get(ranked[0], (ranked[1], place)), (ranked[1], place))
    mapping = {column: best[column][1] for column in COLUMNS[kind] if column in best}
    used = set(mapping.values())
    missing = tuple(
        column for column in needed_columns(kind, mapping) if column not in mapping and not (given or {}).get(column)
    )
    unused = tuple(header for place, header in enumerate(headers) if place not in used and header.strip())
    return ColumnMatch(mapping, missing, unused)


def needed_columns(kind: TableKind, mapping: Mapping[str, int]) -> tuple[str, ...]:
    """Return the columns a table must have: sherds by ware are said with their part and their pieces."""
    needed = [column for column, said in COLUMNS[kind].items() if said.needed]
    if kind is TableKind.SEASON and ("ware" in mapping or "form" in mapping):
        needed += ["part", "pieces"]
    return tuple(needed)


def refuse_missing_columns(
    kind: TableKind, match: ColumnMatch, headers: Sequence[str], terms: Terms | None = None
) -> None:
    """Refuse a table that lacks a column it must have (``missing_columns``), naming those and the headers seen."""
    if not match.missing:
        return
    seen = ", ".join(header for header in headers if header.strip()) or _("none")
    raise Refusal(
        "missing_columns",
        N_("No column for {missing}. The headers are: {seen}. Match one by hand, or state the value for all rows."),
        missing=", ".join(column_name(kind, column, terms) for column in match.missing),
        seen=seen if len(seen) < 400 else f"{seen[:399]}…",
        columns=match.missing,
    )
