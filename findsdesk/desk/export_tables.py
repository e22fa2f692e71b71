"""What goes out for people: every register, the groups of sherds, counts, the account, and the lists of the set-up."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Select, select

from findsdesk.desk.desk import Reading
from findsdesk.desk.register_columns import REGISTER_IN_WORDS, RegisterField, SayListed, Value, fields_of
from findsdesk.desk.registers import Register, all_rows
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


@dataclass(frozen=True, slots=True)
class ExportTable:
    """A table for people: its key (also of its file), title, columns, and how its rows are read."""

    key: str
    title: str
    fields: tuple[RegisterField, ...]
    rows: Callable[[Reading], Iterator[Any]]

    def cells(self, reading: Reading, say: SayListed) -> Iterator[list[Value]]:
        """Yield the table's rows in words; moments are in the excavation's zone. A few rows are held at a time."""
        zone, values = reading.desk.facts.zone, [field.value for field in self.fields]
        remembering = _Remembering(say)
        for row in self.rows(reading):
            cells = [value(row, remembering) for value in values]
            yield [cell.astimezone(zone) if isinstance(cell, datetime) else cell for cell in cells]


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
    return ExportTable(
        register.value,
        REGISTER_IN_WORDS[register],
        fields_of(register, for_file=True),
        lambda reading: all_rows(reading, register),
    )


def _streamed(query: Callable[[], Select[Any]]) -> Callable[[Reading], Iterator[Any]]:
    def rows(reading: Reading) -> Iterator[Any]:
        found = reading.session.connection().execute(query().execution_options(yield_per=ROWS_AT_ONCE))
        for part in found.partitions():
            yield from part

    return rows


def _grams(row: Any, _say: SayListed) -> float | None:
    return None if row.tenths is None else row.tenths / 10


def _percent(name: str) -> Callable[[Any, SayListed], float | None]:
    def value(row: Any, _say: SayListed) -> float | None:
        permille = getattr(row, name)
        return None if permille is None else permille / 10

    return value


def _plain(name: str, title: str) -> RegisterField:
    return RegisterField(name, title, lambda row, _say: getattr(row, name))


def _listed(name: str, title: str, word_list: str) -> RegisterField:
    return RegisterField(name, title, lambda row, say: say.listed(word_list, getattr(row, name)))


def _material(row: Any, say: SayListed) -> str:
    route = routes().get(row.material)
    return say(route.name) if route else row.material


def _groups() -> Select[Any]:
    group = SherdGroup.__table__.c
    return (
        select(
            Season.name.label("season"),
            Container.number.label("container"),
            Container.code.label("tag"),
            Deposit.number.label("deposit"),
            Square.name.label("square"),
            Ware.code.label("ware"),
            Ware.name.label("ware_name"),
            Form.code.label("form"),
            Vessel.number.label("vessel"),
            *(group[name] for name in _OF_A_GROUP),
        )
        .select_from(SherdGroup)
        .join(Container, SherdGroup.container_id == Container.id)
        .join(Season, Container.season_id == Season.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .outerjoin(Ware, SherdGroup.ware_id == Ware.id)
        .outerjoin(Form, SherdGroup.form_id == Form.id)
        .outerjoin(Vessel, SherdGroup.vessel_id == Vessel.id)
        .order_by(SherdGroup.id)
    )


_OF_A_GROUP = (
    "part",
    "surface",
    "decoration",
    "condition",
    "pieces",
    "tenths",
    "rim_permille",
    "base_permille",
    "decision",
    "reason",
    "rule",
    "discarded",
    "note",
)
_OF_A_CONTAINER = (
    _plain("container", N_("{Container}")),
    _plain("tag", N_("Tag")),
    _plain("deposit", N_("{Deposit}")),
)
GROUPS = ExportTable(
    "groups",
    N_("Groups of sherds"),
    (
        *_OF_A_CONTAINER,
        _plain("square", N_("{Square}")),
        _plain("ware", N_("Ware")),
        _plain("ware_name", N_("Ware in words")),
        _plain("form", N_("Form")),
        _listed("part", N_("Part"), "parts"),
        _listed("surface", N_("Surface"), "surfaces"),
        _listed("decoration", N_("Decoration"), "decorations"),
        _listed("condition", N_("Condition"), "conditions"),
        _plain("pieces", N_("Pieces")),
        RegisterField("grams", N_("Grams"), _grams),
        RegisterField("rim_percent", N_("Rim, %"), _percent("rim_permille")),
        RegisterField("base_percent", N_("Base, %"), _percent("base_permille")),
        _listed("decision", N_("Decision"), "decisions"),
        _plain("reason", N_("Why")),
        _plain("rule", N_("Rule")),
        RegisterField("discarded", N_("Discarded"), lambda row, _say: bool(row.discarded)),
        _plain("vessel", N_("Vessel")),
        _plain("note", N_("Note")),
        _plain("season", N_("Season")),
    ),
    _streamed(_groups),
)


def _of_containers(kind: Any) -> Select[Any]:
    return (
        select(
            Container.number.label("container"),
            Container.code.label("tag"),
            Deposit.number.label("deposit"),
            Person.name.label("person"),
            *(one for one in kind.__table__.c if one.name not in ("id", "container_id", "person_id")),
        )
        .select_from(kind)
        .join(Container, kind.container_id == Container.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Person, kind.person_id == Person.id)
        .order_by(kind.id)
    )


_COUNTS = ExportTable(
    "counts",
    N_("Counts"),
    (
        *_OF_A_CONTAINER,
        _plain("happened_at", N_("When")),
        _plain("pieces", N_("Pieces")),
        RegisterField("grams", N_("Grams"), _grams),
        RegisterField("wet", N_("Weighed wet"), lambda row, _say: bool(row.wet)),
        RegisterField("purpose", N_("What for"), lambda row, say: say(row.purpose)),
        _plain("person", N_("Who")),
    ),
    _streamed(lambda: _of_containers(Count)),
)
_ACCOUNT = ExportTable(
    "account",
    N_("Entries of the balance"),
    (
        *_OF_A_CONTAINER,
        _plain("happened_at", N_("When")),
        RegisterField("material", N_("Material"), _material),
        RegisterField("kind", N_("What"), lambda row, say: say(row.kind)),
        _plain("pieces", N_("Pieces")),
        RegisterField("grams", N_("Grams"), _grams),
        _plain("why", N_("Why")),
        _plain("person", N_("Who")),
    ),
    _streamed(lambda: _of_containers(LedgerEntry)),
)
_YEARS = (
    _plain("earliest", N_("From, year (0 is 1 BCE)")),
    _plain("latest", N_("To, year (0 is 1 BCE)")),
)
_KNOWN_FROM = (_plain("source", N_("Source")), _plain("note", N_("Note")))


def _set_up(kind: Any) -> Callable[[Reading], Iterator[Any]]:
    return _streamed(lambda: select(*kind.__table__.c).order_by(kind.id))


TABLES: tuple[ExportTable, ...] = (
    *(_register(one) for one in Register),
    GROUPS,
    _COUNTS,
    _ACCOUNT,
    ExportTable(
        "wares",
        N_("Wares"),
        (_plain("code", N_("Code")), _plain("name", N_("Name")), *_YEARS, *_KNOWN_FROM),
        _set_up(Ware),
    ),
    ExportTable(
        "forms",
        N_("Forms"),
        (_plain("code", N_("Code")), _plain("name", N_("Name")), *_YEARS, *_KNOWN_FROM),
        _set_up(Form),
    ),
    ExportTable(
        "periods",
        N_("Periods"),
        (_plain("code", N_("Code")), _plain("name", N_("Name")), *_YEARS),
        _set_up(Period),
    ),
    ExportTable(
        "people",
        N_("People"),
        (_plain("name", N_("Name")), RegisterField("role", N_("Role"), lambda row, say: say(row.role))),
        _set_up(Person),
    ),
    ExportTable(
        "seasons",
        N_("Seasons"),
        (
            _plain("name", N_("Name")),
            _plain("permit", N_("Permit")),
            _plain("starts", N_("Begins")),
            _plain("ends", N_("Ends")),
        ),
        _set_up(Season),
    ),
)
"""In the order in which they are written."""
