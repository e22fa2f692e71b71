"""The subjects of the set-up that are lists: their columns, their rows, their fields, and the deed that adds one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from findsdesk.desk.desk import Desk
from findsdesk.desk.setting_up import (
    DEFAULT_MARK,
    add_period,
    add_person,
    add_squares,
    add_ware,
    open_season,
    people,
    periods,
    seasons,
    squares,
    wares,
)
from findsdesk.desk.stations import numbers_aside, set_numbers_aside
from findsdesk.desk.tags import blocks, report_missing, return_unused, void_tag
from findsdesk.domain.set_up_numbers import year_in_words
from findsdesk.domain.settings import NumberScope, Role
from findsdesk.ui.models.cells import Column, TableRow, plain_cells
from findsdesk.ui.widgets.field_form import Field, FieldKind
from findsdesk.words import N_, Terms, put

Values = dict[str, Any]

ROLE_IN_WORDS = {
    Role.WASH_LEAD: N_("wash lead"),
    Role.CERAMICIST: N_("ceramicist"),
    Role.REGISTRAR: N_("registrar"),
    Role.DIRECTOR: N_("director"),
    Role.SUPERVISOR: N_("supervisor"),
    Role.VOLUNTEER: N_("volunteer"),
}
SCOPE_IN_WORDS = {
    NumberScope.SEASON: N_("from 1 each season"),
    NumberScope.EXCAVATION: N_("once for the whole excavation"),
    NumberScope.SQUARE: N_("from 1 in each {square} and season"),
}
OF_A_TAG = {"void": N_("is void"), "unused": N_("came back unused"), "missing": N_("is missing")}


@dataclass(frozen=True, slots=True)
class Subject:
    """A list of the set-up: texts are marked; ``rows`` reads on the reading lane, ``add`` is one deed."""

    key: str
    title: str
    button: str
    columns: tuple[Column, ...]
    fields: tuple[Field, ...]
    rows: Callable[[Desk], list[TableRow]]
    add: Callable[[Desk, Values], object]
    start: Values


def list_subjects(terms: Terms) -> tuple[Subject, ...]:
    """Return the lists of the set-up in the order of their tabs, in the excavation's own words."""
    return (_seasons(terms), _squares(terms), _people(), _wares(), _periods(), _tags(), _stations())


def _seasons(terms: Terms) -> Subject:
    scopes = tuple((scope, put(words, terms)) for scope, words in SCOPE_IN_WORDS.items())
    fields = (
        Field("name", put(N_("Season")), width=160),
        Field("permit", put(N_("Permit")), width=160, beside=True),
        Field("starts", put(N_("From")), FieldKind.DAY, width=130),
        Field("ends", put(N_("to")), FieldKind.DAY, width=130, beside=True),
        Field("number_scope", put(N_("{Containers} are numbered"), terms), FieldKind.CHOICE, choices=scopes),
        Field("mark_pattern", put(N_("Mark to be inked")), FieldKind.LINES, help=put(_MARK_HELP)),
    )
    columns = (put(N_("Season")), put(N_("Permit")), put(N_("From")), put(N_("To")), put(N_("Mark")))
    return Subject(
        "seasons",
        put(N_("Seasons")),
        put(N_("Open the season")),
        _columns(*columns),
        fields,
        lambda desk: [
            _row(one.id, one.name, one.permit, one.starts, one.ends, one.mark_pattern.replace("\n", " / "))
            for one in seasons(desk)
        ],
        lambda desk, values: open_season(desk, **values),
        {"mark_pattern": DEFAULT_MARK},
    )


_MARK_HELP = N_("Fields in braces: permit, site, season, square, deposit, container; one to three lines.")


def _squares(terms: Terms) -> Subject:
    return Subject(
        "squares",
        put(N_("{Squares}"), terms),
        put(N_("Add them")),
        _columns(put(N_("{Square}"), terms)),
        (Field("names", put(N_("Names")), help=put(N_("Several at once, with blanks or commas between them."))),),
        lambda desk: [_row(name, name) for name in squares(desk)],
        lambda desk, values: add_squares(desk, values["names"].replace(",", " ").split()),
        {},
    )


def _people() -> Subject:
    roles = tuple((role, put(words)) for role, words in ROLE_IN_WORDS.items())
    fields = (
        Field("name", put(N_("Name")), width=260),
        Field("role", put(N_("does")), FieldKind.CHOICE, choices=roles, beside=True),
    )
    return Subject(
        "people",
        put(N_("People")),
        put(N_("Take into the team")),
        _columns(put(N_("Name")), put(N_("Role"))),
        fields,
        lambda desk: [_row(one.id, one.name, put(ROLE_IN_WORDS[one.role])) for one in people(desk)],
        lambda desk, values: add_person(desk, **values),
        {"role": Role.VOLUNTEER},
    )


def _dated_fields() -> tuple[Field, ...]:
    return (
        Field("code", put(N_("Code")), width=90),
        Field("name", put(N_("Name")), width=220, beside=True),
        Field("earliest", put(N_("From the year")), FieldKind.YEAR, width=110),
        Field("latest", put(N_("to")), FieldKind.YEAR, width=110, beside=True),
    )


def _dated_row(one: Any) -> TableRow:
    years = ("" if year is None else year_in_words(year) for year in (one.earliest, one.latest))
    return _row(one.id, one.code, one.name, *years)


def _wares() -> Subject:
    columns = (put(N_("Code")), put(N_("Ware")), put(N_("From")), put(N_("To")))
    return Subject(
        "wares",
        put(N_("Wares")),
        put(N_("Add the ware")),
        _columns(*columns),
        _dated_fields(),
        lambda desk: [_dated_row(one) for one in wares(desk)],
        lambda desk, values: add_ware(desk, **values),
        {},
    )


def _periods() -> Subject:
    columns = (put(N_("Code")), put(N_("Period")), put(N_("From")), put(N_("To")))
    return Subject(
        "periods",
        put(N_("Periods")),
        put(N_("Add the period")),
        _columns(*columns),
        _dated_fields(),
        lambda desk: [_dated_row(one) for one in periods(desk)],
        lambda desk, values: add_period(desk, **values),
        {},
    )


def _tags() -> Subject:
    whats = tuple((what, put(words)) for what, words in OF_A_TAG.items())
    fields = (
        Field("tag", put(N_("Tag")), width=160),
        Field("what", put(N_("What of it")), FieldKind.CHOICE, choices=whats, beside=True),
        Field("reason", put(N_("Why")), help=put(N_("A void tag needs a reason; its number is not given again."))),
    )
    columns = (put(N_("First")), put(N_("Last")), put(N_("For")), put(N_("Still out")))
    return Subject(
        "tags",
        put(N_("Tags")),
        put(N_("Write it down")),
        _columns(*columns),
        fields,
        lambda desk: [
            _row(place, one.first_number, one.last_number, one.supervisor, ", ".join(tag.number for tag in one.tags))
            for place, one in enumerate(blocks(desk))
        ],
        _of_a_tag,
        {},
    )


def _of_a_tag(desk: Desk, values: Values) -> object:
    if values["what"] == "void":
        return void_tag(desk, values["tag"], reason=values["reason"])
    if values["what"] == "unused":
        return return_unused(desk, values["tag"])
    return report_missing(desk, values["tag"], note=values["reason"])


def _stations() -> Subject:
    fields = (
        Field("station", put(N_("Station")), width=220),
        Field("how_many", put(N_("Numbers")), FieldKind.WHOLE, width=90, beside=True),
    )
    columns = (put(N_("Station")), put(N_("First")), put(N_("Last")), put(N_("Next")))
    return Subject(
        "stations",
        put(N_("Stations")),
        put(N_("Set numbers aside")),
        _columns(*columns),
        fields,
        lambda desk: [
            _row(place, one.station, one.first, one.last, one.next or "–")
            for place, one in enumerate(numbers_aside(desk))
        ],
        lambda desk, values: set_numbers_aside(desk, **values),
        {"how_many": 200},
    )


def _columns(*titles: str) -> tuple[Column, ...]:
    return tuple(Column(title, grows=place == len(titles) - 1) for place, title in enumerate(titles))


def _row(row_id: object, *texts: object) -> TableRow:
    return TableRow(row_id, plain_cells(*(str(text) for text in texts)))
