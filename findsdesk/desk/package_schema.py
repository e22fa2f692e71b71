"""The store's tables as a data package describes them: types, meanings, constraints, the words of the lists."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.shipped import routes
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.balance import Decision, Entry
from findsdesk.domain.counts_as import COUNTS_AS_IN_WORDS, CountsAs
from findsdesk.domain.deposits import SECURITY_IN_WORDS, HowNumbered, Security
from findsdesk.domain.lending import BorrowerKind
from findsdesk.domain.settings import NumberScope, Role
from findsdesk.domain.shelving import Met, PlaceKind
from findsdesk.domain.standings import STANDING_IN_WORDS, Hold, Standing, StepKind
from findsdesk.exchange.data_packages import PackageField, PackageTable
from findsdesk.store.whole_tables import ColumnKind, WholeColumn, WholeTable, kept_apart, values_present
from findsdesk.words import put

TERMS = "terms"
"""The table of the package that says what each controlled term is called; no table of the store."""

_TYPES: dict[ColumnKind, str] = {
    ColumnKind.TEXT: "string",
    ColumnKind.WHOLE_NUMBER: "integer",
    ColumnKind.YES_NO: "boolean",
    ColumnKind.DAY: "date",
    ColumnKind.MOMENT: "datetime",
    ColumnKind.VALUES: "object",
    ColumnKind.LIST: "array",
}
_LIST_OF_COLUMN: dict[str, str] = {
    "part": "parts",
    "surface": "surfaces",
    "decoration": "decorations",
    "firing": "firings",
    "confidence": "confidences",
    "what_for": "sample_purposes",
}
"""Columns of any table that hold one key of a word list."""
_KEYS_OF_COLUMN: dict[str, str] = {"condition": "conditions", "conservation": "conservation_needs"}
"""Columns that hold several keys with blanks between them: they are told among the terms and bound by nothing."""
_CHOICES: dict[tuple[str, str], type[StrEnum]] = {
    ("container", "standing"): Standing,
    ("container", "held_for"): Hold,
    ("step", "kind"): StepKind,
    ("ledger_entry", "kind"): Entry,
    ("sherd_group", "decision"): Decision,
    ("piece", "decision"): Decision,
    ("deposit", "security"): Security,
    ("former_number", "how"): HowNumbered,
    ("person", "role"): Role,
    ("season", "number_scope"): NumberScope,
    ("loan", "borrower_kind"): BorrowerKind,
    ("place", "kind"): PlaceKind,
    ("stock_scan", "verdict"): Met,
    ("word", "counts_as"): CountsAs,
}
_CALLED: dict[str, str] = {
    **{str(one): words for one, words in STANDING_IN_WORDS.items()},
    **{str(one): words for one, words in SECURITY_IN_WORDS.items()},
    **{str(one): words for one, words in COUNTS_AS_IN_WORDS.items()},
}


@dataclass(frozen=True, slots=True)
class ControlledTerm:
    """A term that a field may hold: its key as it stands there, what it is called, the list it is of."""

    table: str
    field: str
    key: str
    name: str
    list: str
    address: str = ""


def terms_table() -> PackageTable:
    """Return the table of the controlled terms."""
    told = (
        ("table", "The table whose field holds the term."),
        ("field", "The field that holds it; a field of several terms has blanks between them."),
        ("key", "The term as it stands in the field."),
        ("name", "What the excavation calls it."),
        ("list", "The word list it is of; nothing for the program's own choices."),
        ("address", "The web address of the same concept in an open thesaurus, where somebody wrote it down."),
    )
    fields = (
        PackageField(name, "string", said, {} if name in ("list", "address") else {"required": True})
        for name, said in told
    )
    return PackageTable(TERMS, "What the controlled terms of the other tables are called.", tuple(fields), _TERM_KEY)


_TERM_KEY = ("table", "field", "key")


def controlled_terms(desk: Desk, session: Session, table: WholeTable) -> tuple[ControlledTerm, ...]:
    """Return the terms that the fields of a table may hold, with those that stand in it although no list has them."""
    return tuple(_terms(desk, session, table))


def _terms(desk: Desk, session: Session, table: WholeTable) -> Iterator[ControlledTerm]:
    for column in table.columns:
        names, of_list = _names(desk, table.name, column)
        addresses = {term.key: term.address for term in words_of(desk)[of_list].every} if of_list else {}
        if names is None:
            continue
        if column.name not in _KEYS_OF_COLUMN:
            names |= {key: key for key in values_present(session, table.name, column.name) if key not in names}
        for key, name in names.items():
            if key:
                yield ControlledTerm(table.name, column.name, key, name, of_list, addresses.get(key, ""))


def _names(desk: Desk, table: str, column: WholeColumn) -> tuple[dict[str, str] | None, str]:
    """Return what the terms of a column are called, by their keys, and their list; None for a free column."""
    if (table, column.name) in _CHOICES:
        return {str(one): put(_CALLED.get(str(one), str(one)), desk.terms) for one in _CHOICES[table, column.name]}, ""
    if column.name == "material":
        return {key: put(route.name, desk.terms) for key, route in routes().items()}, "materials"
    name = _LIST_OF_COLUMN.get(column.name) or _KEYS_OF_COLUMN.get(column.name)
    if name is None:
        return None, ""
    return {term.key: term.name for term in words_of(desk)[name].every}, name


def described(table: WholeTable, terms: tuple[ControlledTerm, ...]) -> PackageTable:
    """Return a table of the store as the package describes it."""
    keys: dict[str, list[str]] = {}
    for term in terms:
        keys.setdefault(term.field, []).append(term.key)
    return PackageTable(
        table.name,
        table.description,
        tuple(_field(column, keys) for column in table.columns),
        table.key,
        tuple((one.column, one.table, one.key) for one in table.points_at),
    )


def _field(column: WholeColumn, keys: Mapping[str, list[str]]) -> PackageField:
    constraints: dict[str, Any] = {}
    # An empty text is a value of its own in a column that is never empty, and nothing in the others.
    if not column.may_be_empty and column.kind is not ColumnKind.TEXT:
        constraints["required"] = True
    if column.unique:
        constraints["unique"] = True
    if column.name in keys and column.name not in _KEYS_OF_COLUMN:
        without_letters = [kept_apart("")] if column.may_be_empty else []
        constraints["enum"] = keys[column.name] + without_letters
    return PackageField(column.name, _TYPES[column.kind], column.description, constraints)
