"""The columns of a field list, and how the headers people write are matched with them."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, Terms, _, put

COLUMNS = (
    "number",
    "deposit",
    "square",
    "collected_on",
    "supervisor",
    "material",
    "description",
    "parts",
    "elevation",
)
REQUIRED = ("number", "deposit", "collected_on", "material")

COLUMN_NAMES: Mapping[str, str] = {
    "number": N_("{container} number"),
    "deposit": N_("{deposit}"),
    "square": N_("{square}"),
    "collected_on": N_("date"),
    "supervisor": N_("supervisor"),
    "material": N_("material"),
    "description": N_("description"),
    "parts": N_("parts"),
    "elevation": N_("elevation"),
}

# Spellings seen in field lists (common practice, no source), the surest first. A word that only says "number" is
# taken off before looking, except where the whole header stands in _WHOLE.
SPELLINGS: Mapping[str, tuple[str, ...]] = {
    "number": (
        "container", "bucket", "basket", "pail", "bag", "crate", "tag", "tray", "finds bag", "find", "finds", "label",
    ),
    "deposit": (
        "deposit", "context", "locus", "stratigraphic unit", "strat unit", "unit", "ctx", "cxt", "cntxt", "cont",
        "loc", "su", "us", "layer", "stratum", "feature",
    ),
    "square": (
        "square", "grid square", "sq", "grid", "quadrat", "quadrant", "sector", "trench", "area",
    ),
    "collected_on": (
        "date collected", "collected on", "collected", "collection date", "date excavated", "excavated on",
        "excavated", "excavation date", "date found", "found on", "date dug", "date", "day", "dug",
    ),
    "supervisor": (
        "supervisor", "square supervisor", "site supervisor", "sup", "supv", "recorded by", "recorder",
        "collected by", "excavator", "excavated by", "by", "initials", "digger", "who",
    ),
    "material": (
        "material", "find type", "finds type", "finds category", "category", "type", "class", "kind", "mat",
    ),
    "description": (
        "description", "descr", "desc", "notes", "note", "remarks", "remark", "comments", "comment", "details",
        "contents", "observations",
    ),
    "parts": ("parts", "part", "pieces of container"),
    "elevation": (
        "elevation", "elev", "level", "reduced level", "rl", "height", "altitude", "z", "masl",
    ),
}  # fmt: skip
_WHOLE: Mapping[str, str] = {"find": "material", "finds": "material"}
NUMBER_WORDS = frozenset({"no", "nos", "nr", "num", "number", "numbers", "n", "id", "code", "of", "the"})
_IN_BRACKETS = re.compile(r"\(.*?\)|\[.*?\]")
_NOT_WORD = re.compile(r"[^\w]+|_")

_RANKS = {alias: (column, 2 + place) for column, aliases in SPELLINGS.items() for place, alias in enumerate(aliases)}


@dataclass(frozen=True, slots=True)
class ColumnMatch:
    """Which column of the table holds what: name to position; the required ones missing; the headers left over."""

    mapping: Mapping[str, int]
    missing: tuple[str, ...]
    unused: tuple[str, ...]


@lru_cache(maxsize=4096)
def header_key(header: str) -> str:
    """Return a header as headers are compared: folded, without signs and without a unit in brackets."""
    return " ".join(_NOT_WORD.sub(" ", _IN_BRACKETS.sub(" ", folded(header).replace("#", " no "))).split())


@lru_cache(maxsize=4096)
def _ranked(header: str, terms: Terms) -> tuple[str, int] | None:
    """Return the column a header names and how sure that is (1 is surest), or None."""
    key = header_key(header)
    words = key.split()
    bare = " ".join(word for word in words if word not in NUMBER_WORDS)
    if words and not bare:
        return ("number", 100)
    own = {
        header_key(terms.container): "number",
        header_key(terms.deposit): "deposit",
        header_key(terms.square): "square",
    }
    if key in _WHOLE and key not in own:
        return (_WHOLE[key], 99)
    for name in (key, bare):
        if name in own:
            return (own[name], 1)
        if name in _RANKS:
            return _RANKS[name]
    return None


def column_of(header: str, terms: Terms | None = None, remembered: Mapping[str, str] | None = None) -> str | None:
    """Return the column that a header names, or None; ``remembered`` (header to column) goes before all spellings."""
    if remembered:
        known = {header_key(name): column for name, column in remembered.items()}
        if header_key(header) in known:
            return known[header_key(header)] or None
    ranked = _ranked(header, terms or Terms())
    return ranked[0] if ranked else None


def match_columns(
    headers: Sequence[str],
    terms: Terms | None = None,
    remembered: Mapping[str, str] | None = None,
    given: Mapping[str, str] | None = None,
) -> ColumnMatch:
    """Match the headers of a table with the columns of a field list.

    ``remembered`` maps a header to a column, or to an empty text for a header to leave out; ``given`` holds columns
    whose value is told beside the list (they are then not missing). Of two headers for one column the surer wins.
    """
    known = {header_key(name): column for name, column in (remembered or {}).items()}
    best: dict[str, tuple[int, int]] = {}
    for place, header in enumerate(headers):
        key = header_key(header)
        ranked = (known[key], 0) if key in known else _ranked(header, terms or Terms())
        if ranked is None or ranked[0] not in COLUMNS:
            continue
        column, rank = ranked
        if column not in best or rank < best[column][0]:
            best[column] = (rank, place)
    mapping = {column: best[column][1] for column in COLUMNS if column in best}
    used = set(mapping.values())
    missing = tuple(column for column in REQUIRED if column not in mapping and not (given or {}).get(column))
    unused = tuple(header for place, header in enumerate(headers) if place not in used and header.strip())
    return ColumnMatch(mapping, missing, unused)


def column_in_words(column: str, terms: Terms | None = None, language: str | None = None) -> str:
    """Return what a column is called, in the excavation's own words."""
    return put(COLUMN_NAMES[column], terms, None, language)


def refuse_missing(match: ColumnMatch, headers: Sequence[str], terms: Terms | None = None) -> None:
    """Refuse a list that lacks a column it must have, naming the missing ones and the headers that were seen."""
    if not match.missing:
        return
    missing = ", ".join(column_in_words(column, terms) for column in match.missing)
    seen = ", ".join(header for header in headers if header.strip()) or _("none")
    text = N_(
        "No column for {missing}. The headers are: {seen}. Rename a header, match it by hand, or state the value."
    )
    raise Refusal("missing_columns", text, missing=missing, seen=seen, columns=match.missing)
