"""What goes out for people: every register, the groups of sherds, counts, the account, and the lists of the set-up."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Select, func, select

from findsdesk.desk.desk import Reading
from findsdesk.desk.register_columns import REGISTER_IN_WORDS, SayListed, Value, fields_of
from findsdesk.desk.register_fields import reason_in_words
from findsdesk.desk.registers import Register, all_rows, count
from findsdesk.desk.shipped import routes
from findsdesk.store.models import (
    Container,
    Count,
    Deposit,
    Form,
    LedgerEntry,
    Period,
    Person,
    Season,
    SherdGroup,
    Square,
    Vessel,
    Ware,
)
from findsdesk.store.whole_tables import ROWS_AT_ONCE
from findsdesk.words import N_

Cells = Iterator[list[Value]]
Said = Callable[[Any, SayListed], Value]
"""Puts a value of the store into words or into a unit that people use."""


@dataclass(frozen=True, slots=True)
class ExportColumn:
    """A column: its key, its heading with its unit, and how its values are said; None: as the store has them."""

    key: str
    title: str
    said: Said | None = None


@dataclass(frozen=True, slots=True)
class ExportTable:
    """A table for people: its key (also of its file), title, columns, how its rows are read and counted."""

    key: str
    title: str
    columns: tuple[ExportColumn, ...]
    read: Callable[[Reading, SayListed], Cells]
    count: Callable[[Reading], int]

    def cells(self, reading: Reading, say: SayListed) -> Cells:
        """Yield the table's rows in words; moments are in the excavation's zone. A few rows are held at a time."""
        return self.read(reading, _Remembering(say))


class _Remembering:
    """Says the keys of word lists in words and remembers them: a million rows hold some dozens of them."""

    def __init__(self, say: SayListed) -> None:
        self._say = say
        self._listed: dict[tuple[str, str], str] = {}

    def __call__(self, text: str, /, **facts: object) -> str:
        return self._say(text, **facts)

    def listed(self, name: str, keys: str) -> str:
        """Return the words for keys of a list."""
        said = self._listed.get((name, keys))
        if said is None:
            said = self._listed[name, keys] = self._say.listed(name, keys)
        return said


def _register(register: Register) -> ExportTable:
    fields = fields_of(register, for_file=True)

    def read(reading: Reading, say: SayListed) -> Cells:
        zone = reading.desk.facts.zone
        for row in all_rows(reading, register):
            cells = [field.value(row, say) for field in fields]
            yield [cell.astimezone(zone) if isinstance(cell, datetime) else cell for cell in cells]

    columns = tuple(ExportColumn(field.key, field.title) for field in fields)
    return ExportTable(
        register.value,
        REGISTER_IN_WORDS[register],
        columns,
        read,
        lambda reading: count(reading.desk, register),
    )


def _streamed(
    key: str, title: str, kind: Any, columns: tuple[tuple[ExportColumn, Any], ...], joined: Callable[[Any], Select[Any]]
) -> ExportTable:
    """Return a table that is read straight from the store, each column beside what is selected for it."""
    said = [(place, column.said) for place, (column, _of) in enumerate(columns) if column.said is not None]

    def read(reading: Reading, say: SayListed) -> Cells:
        zone = reading.desk.facts.zone
        moments = [place for place, (column, _of) in enumerate(columns) if column.key == "happened_at"]
        query = joined(select(*(of for _column, of in columns))).order_by(kind.id)
        found = reading.session.connection().execute(query.execution_options(yield_per=ROWS_AT_ONCE))
        for part in found.partitions():
            for row in part:
                cells = list(row)
                for place, put_into_words in said:
                    cells[place] = put_into_words(cells[place], say)
                for place in moments:
                    cells[place] = cells[place].astimezone(zone)
                yield cells

    def how_many(reading: Reading) -> int:
        return reading.session.execute(select(func.count()).select_from(kind)).scalar_one()

    return ExportTable(key, title, tuple(column for column, _of in columns), read, how_many)


def _tenths(value: int | None, _say: SayListed) -> float | None:
    """Return tenths of a gram as grams, thousandths as per cent."""
    return None if value is None else value / 10


def _why(decided: str, say: SayListed) -> str:
    """Return the reason of a decision, read as decision:reason, in words."""
    decision, _colon, reason = decided.partition(":")
    return reason_in_words(decision, reason, say)


def _listed(word_list: str) -> Said:
    return lambda keys, say: say.listed(word_list, keys)


def _material(key: str, say: SayListed) -> str:
    route = routes().get(key)
    return say(route.name) if route else key


def _in_words(text: str, say: SayListed) -> str:
    return say(text)


_OF_A_CONTAINER = (
    (ExportColumn("container", N_("{Container}")), Container.number),
    (ExportColumn("tag", N_("Tag")), Container.code),
    (ExportColumn("deposit", N_("{Deposit}")), Deposit.number),
)
_GROUP_COLUMNS = (
    *_OF_A_CONTAINER,
    (ExportColumn("square", N_("{Square}")), Square.name),
    (ExportColumn("ware", N_("Ware")), Ware.code),
    (ExportColumn("ware_name", N_("Ware in words")), Ware.name),
    (ExportColumn("form", N_("Form")), Form.code),
    (ExportColumn("part", N_("Part"), _listed("parts")), SherdGroup.part),
    (ExportColumn("surface", N_("Surface"), _listed("surfaces")), SherdGroup.surface),
    (ExportColumn("decoration", N_("Decoration"), _listed("decorations")), SherdGroup.decoration),
    (ExportColumn("condition", N_("Condition"), _listed("conditions")), SherdGroup.condition),
    (ExportColumn("pieces", N_("Count")), SherdGroup.pieces),
    (ExportColumn("grams", N_("Grams"), _tenths), SherdGroup.tenths),
    (ExportColumn("rim_percent", N_("Rim, %"), _tenths), SherdGroup.rim_permille),
    (ExportColumn("base_percent", N_("Base, %"), _tenths), SherdGroup.base_permille),
    (ExportColumn("decision", N_("Decision"), _listed("decisions")), SherdGroup.decision),
    (ExportColumn("reason", N_("Why"), _why), SherdGroup.decision + ":" + SherdGroup.reason),
    (ExportColumn("rule", N_("Rule")), SherdGroup.rule),
    (ExportColumn("rule_said", N_("Rule said"), _listed("decisions")), SherdGroup.proposed),
    (ExportColumn("discarded", N_("Discarded")), SherdGroup.discarded),
    (ExportColumn("vessel", N_("Vessel")), Vessel.number),
    (ExportColumn("note", N_("Note")), SherdGroup.note),
    (ExportColumn("season", N_("Season")), Season.name),
)


def _with_groups(query: Select[Any]) -> Select[Any]:
    return (
        query.select_from(SherdGroup)
        .join(Container, SherdGroup.container_id == Container.id)
        .join(Season, Container.season_id == Season.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .outerjoin(Ware, SherdGroup.ware_id == Ware.id)
        .outerjoin(Form, SherdGroup.form_id == Form.id)
        .outerjoin(Vessel, SherdGroup.vessel_id == Vessel.id)
    )


def _with_containers(kind: Any) -> Callable[[Select[Any]], Select[Any]]:
    return lambda query: (
        query.select_from(kind)
        .join(Container, kind.container_id == Container.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Person, kind.person_id == Person.id)
    )


GROUPS = _streamed("groups", N_("Groups of sherds"), SherdGroup, _GROUP_COLUMNS, _with_groups)
_COUNTS = _streamed(
    "counts",
    N_("Counts"),
    Count,
    (
        *_OF_A_CONTAINER,
        (ExportColumn("happened_at", N_("When")), Count.happened_at),
        (ExportColumn("pieces", N_("Count")), Count.pieces),
        (ExportColumn("grams", N_("Grams"), _tenths), Count.tenths),
        (ExportColumn("wet", N_("Weighed wet")), Count.wet),
        (ExportColumn("purpose", N_("What for"), _in_words), Count.purpose),
        (ExportColumn("person", N_("Who")), Person.name),
    ),
    _with_containers(Count),
)
_ACCOUNT = _streamed(
    "account",
    N_("Entries of the balance"),
    LedgerEntry,
    (
        *_OF_A_CONTAINER,
        (ExportColumn("happened_at", N_("When")), LedgerEntry.happened_at),
        (ExportColumn("material", N_("Material"), _material), LedgerEntry.material),
        (ExportColumn("kind", N_("What"), _in_words), LedgerEntry.kind),
        (ExportColumn("pieces", N_("Count")), LedgerEntry.pieces),
        (ExportColumn("grams", N_("Grams"), _tenths), LedgerEntry.tenths),
        (ExportColumn("why", N_("Why")), LedgerEntry.why),
        (ExportColumn("person", N_("Who")), Person.name),
    ),
    _with_containers(LedgerEntry),
)
_HEADS: dict[str, ExportColumn] = {
    "code": ExportColumn("code", N_("Code")),
    "name": ExportColumn("name", N_("Name")),
    "earliest": ExportColumn("earliest", N_("From, year (0 is 1 BCE)")),
    "latest": ExportColumn("latest", N_("To, year (0 is 1 BCE)")),
    "source": ExportColumn("source", N_("Source")),
    "note": ExportColumn("note", N_("Note")),
    "role": ExportColumn("role", N_("Role"), _in_words),
    "permit": ExportColumn("permit", N_("Permit")),
    "starts": ExportColumn("starts", N_("Begins")),
    "ends": ExportColumn("ends", N_("Ends")),
}


def _set_up(key: str, title: str, kind: Any, *names: str) -> ExportTable:
    columns = tuple((_HEADS[name], getattr(kind, name)) for name in names)
    return _streamed(key, title, kind, columns, lambda query: query.select_from(kind))


_OF_A_TYPE = ("code", "name", "earliest", "latest", "source", "note")
_TABLES_OF_THEIR_OWN = frozenset({Register.GROUPS, Register.PEOPLE, Register.DRAWINGS})
"""Registers whose rows go out as a table of more than is shown, or stand among the pieces."""
TABLES: tuple[ExportTable, ...] = (
    *(_register(one) for one in Register if one not in _TABLES_OF_THEIR_OWN),
    GROUPS,
    _COUNTS,
    _ACCOUNT,
    _set_up("wares", N_("Wares"), Ware, *_OF_A_TYPE),
    _set_up("forms", N_("Forms"), Form, *_OF_A_TYPE),
    _set_up("periods", N_("Periods"), Period, "code", "name", "earliest", "latest"),
    _set_up("people", N_("People"), Person, "name", "role"),
    _set_up("seasons", N_("Seasons"), Season, "name", "permit", "starts", "ends"),
)
"""In the order in which they are written."""
