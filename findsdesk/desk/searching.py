"""One search over everything that is written down: numbers, codes, notes and descriptions, the results by kind."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.registers import Register
from findsdesk.desk.rows_by_name import Thing, names_of
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.searched_words import words_looked_for
from findsdesk.store.every_table import table_named
from findsdesk.store.search_index import SAYS, found, make_index_anew
from findsdesk.words import N_, Terms, put

SHORTEST = 3
"""Letters of a word that is looked for everywhere where nothing has such a number."""

KIND_FOUND: Mapping[str, str] = {
    "deposit": N_("{Deposit}"),
    "former_number": N_("Former number"),
    "container": N_("{Container}"),
    "piece": N_("Piece"),
    "found_object": N_("Object"),
    "vessel": N_("Vessel"),
    "sherd_group": N_("Group of sherds"),
    "sherd_join": N_("Join"),
    "bag": N_("Bag"),
    "box": N_("Box"),
    "place": N_("Place"),
    "loan": N_("Loan"),
    "lab_sample": N_("Sample"),
    "photo": N_("Photograph"),
    "pottery_reading": N_("Reading"),
    "step": N_("Step"),
    "ledger_entry": N_("Ledger entry"),
    "mark_entry": N_("Mark"),
    "left_in_trench": N_("Left in the trench"),
    "discard_list": N_("Discard list"),
    "discard_note": N_("Note on a discard list"),
    "ware": N_("Ware"),
    "form": N_("Form"),
    "person": N_("Person"),
}
"""What is found, in the order in which it is shown."""


@dataclass(frozen=True, slots=True)
class Opens:
    """What a row leads to: a "container" or "deposit" by its id, a "code", or a "register" by what to search in it."""

    kind: str
    which: int | str
    register: Register | None = None


@dataclass(frozen=True, slots=True)
class Hit:
    """A row that was found: its kind and id, what it is called, whose it is, what it says, and what it leads to.

    ``of`` is the {container} or {deposit} it hangs on, as kind and number; ``name`` is empty where only that names it.
    """

    kind: str
    row_id: int
    name: str
    of: tuple[str, str] | None
    says: str
    opens: Opens


@dataclass(frozen=True, slots=True)
class HitsOfKind:
    """What was found of one kind: the newest of them, and how many there are (``more``: at least so many)."""

    kind: str
    count: int
    more: bool
    hits: tuple[Hit, ...]


@dataclass(frozen=True, slots=True)
class Findings:
    """What a search found, by kind."""

    text: str
    kinds: tuple[HitsOfKind, ...]

    @property
    def count(self) -> int:
        """Return how many rows were found."""
        return sum(one.count for one in self.kinds)

    @property
    def more(self) -> bool:
        """Tell whether there are more than were counted."""
        return any(one.more for one in self.kinds)


def search(desk: Desk, text: str, *, of_each: int = 5) -> Findings:
    """Return the rows that hold all words of a text, or words that begin so, in any case and accent.

    Refusal: ``nothing_to_search`` for a text without a letter or digit.
    """
    words = words_looked_for(text)
    if not words:
        raise Refusal("nothing_to_search", N_("Type a word, a number or a code to look for."))
    with desk.reading() as reading:
        session = reading.session
        answers = {one.kind: one for one in found(session, words, of_each)}
        hits = _hits(session, {kind: one.newest for kind, one in answers.items()})
    kinds = (
        HitsOfKind(kind, answers[kind].count, answers[kind].more, hits[kind]) for kind in KIND_FOUND if kind in answers
    )
    return Findings(" ".join(text.split()), tuple(kinds))


def found_by_words(desk: Desk, text: str, refusal: Refusal) -> Findings | None:
    """Return what a search finds where a text was refused as the number of nothing; None where that is all there is.

    A mistyped number or code is none: only a word of letters is looked for. Refusal: ``nothing_found`` for words
    without a digit that stand nowhere; who types those means no number.
    """
    if refusal.code not in ("unknown_number", "unknown_piece") or not _holds_a_word(text):
        return None
    found_words = search(desk, text)
    if not found_words.count and not any(map(str.isdigit, text)):
        raise nothing_found(found_words.text)
    return found_words if found_words.count else None


def nothing_found(text: str) -> Refusal:
    """Return what is said where the words of a text stand nowhere."""
    return Refusal("nothing_found", N_("“{text}” stands nowhere. Try fewer or shorter words."), text=text)


def _holds_a_word(text: str) -> bool:
    return any(sum(map(str.isalpha, word)) >= SHORTEST or not word.isascii() for word in words_looked_for(text))


def make_search_anew(desk: Desk) -> int:
    """Make the full-text index again from all rows; returns how many are found by it. No act: it follows from them."""
    with desk.store.writing() as session:
        return make_index_anew(session)


# What a row is called and leads to

_LINKS = ("container_id", "deposit_id", "piece_id", "object_id", "left_id", "list_id", "vessel_id", "code", "number")
_BY_CODE = frozenset({"container", "piece", "bag", "box", "place", "loan"})
_NAMED_BY = ("number", "name", "code", "file_name")
_CALLED_OTHERWISE = {"piece": "code", "bag": "code", "ware": "code", "form": "code"}
_STANDS_IN: Mapping[str, Register] = {
    "vessel": Register.VESSELS,
    "photo": Register.PHOTOS,
    "ware": Register.GROUPS,
    "form": Register.GROUPS,
    "person": Register.PEOPLE,
    "discard_list": Register.DISCARDS,
    "discard_note": Register.DISCARDS,
}


def _hits(session: Session, shown: Mapping[str, Sequence[int]]) -> dict[str, tuple[Hit, ...]]:
    rows = {kind: _rows(session, kind, ids) for kind, ids in shown.items()}
    names = names_of(session, {thing for kind in rows for row in rows[kind].values() for thing in _hangs_on(row)})
    return {
        kind: tuple(_hit(kind, rows[kind][row_id], names) for row_id in ids if row_id in rows[kind])
        for kind, ids in shown.items()
    }


def _rows(session: Session, kind: str, ids: Sequence[int]) -> dict[int, dict[str, Any]]:
    table = table_named(kind)
    wanted = {"id", *SAYS[kind][1], *(name for name in _LINKS if name in table.c)}
    found_rows = session.execute(select(*(table.c[name] for name in sorted(wanted))).where(table.c.id.in_(ids)))
    return {row.id: dict(row._mapping) for row in found_rows}


def _hangs_on(row: Mapping[str, Any]) -> list[Thing]:
    links = (("container", "container_id"), ("deposit", "deposit_id"), ("piece", "piece_id"), ("piece", "left_id"))
    return [(kind, row[column]) for kind, column in links if row.get(column) is not None]


def _hit(kind: str, row: Mapping[str, Any], names: Mapping[Thing, str]) -> Hit:
    own = _CALLED_OTHERWISE.get(kind) or next((one for one in _NAMED_BY if one in row), "")
    hangs = next((thing for thing in _hangs_on(row) if thing in names), None)
    says = " · ".join(str(row[one]) for one in SAYS[kind][1] if one != own and row[one])
    return Hit(
        kind=kind,
        row_id=row["id"],
        name=str(row[own]) if own else "",
        of=(hangs[0], names[hangs]) if hangs and kind != "container" else None,
        says=says,
        opens=_opens(kind, row, hangs, names),
    )


def _opens(kind: str, row: Mapping[str, Any], hangs: Thing | None, names: Mapping[Thing, str]) -> Opens:
    if kind in _BY_CODE:
        return Opens("code", str(row["code"]))
    if kind == "deposit":
        return Opens("deposit", row["id"])
    if hangs is not None and kind not in _STANDS_IN:
        return Opens("code", names[hangs]) if hangs[0] == "piece" else Opens(*hangs)
    register = _STANDS_IN[kind]
    searched = {"ware": "code", "form": "code", "person": "name", "photo": "file_name"}.get(kind)
    if kind in ("discard_list", "discard_note"):
        return Opens("register", "", register)
    return Opens("register", str(row[searched]) if searched else str(row.get("number", "")), register)


def called(hit: Hit, terms: Terms) -> str:
    """Return what a row that was found is called: its own name, and what it hangs on."""
    if hit.of is None:
        return hit.name
    kind, number = hit.of
    of = put(_OF[kind], terms, {"number": number})
    return f"{hit.name} · {of}" if hit.name else of


_OF = {"container": N_("{container} {number}"), "deposit": N_("{deposit} {number}"), "piece": N_("piece {number}")}
