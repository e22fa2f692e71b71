"""The lists of the set-up in the order in which they stand: seasons, squares, people, wares, periods and words."""

from __future__ import annotations

from typing import Any

from findsdesk.desk.changing_set_up import (
    ChangedPerson,
    ChangedSeason,
    ChangedSquare,
    change_period,
    change_person,
    change_season,
    change_square,
)
from findsdesk.desk.desk import Desk
from findsdesk.desk.setting_up import (
    DEFAULT_MARK,
    PeriodFacts,
    add_period,
    add_person,
    open_season,
    people,
    periods,
    seasons,
)
from findsdesk.desk.squares import add_squares, square_list
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.set_up_numbers import year_in_words
from findsdesk.domain.settings import NumberScope, Role
from findsdesk.ui.benches.set_up.subject import Entry, Subject, Values, columns, row
from findsdesk.ui.benches.set_up.tag_subjects import stations_subject, tags_subject
from findsdesk.ui.benches.set_up.type_subjects import changed, dated_fields, forms_subject, wares_subject
from findsdesk.ui.benches.set_up.word_subjects import words_subject
from findsdesk.ui.widgets.field_form import Field, FieldKind
from findsdesk.words import N_, Terms, plural, put

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


def list_subjects(terms: Terms) -> tuple[Subject, ...]:
    """Return the lists of the set-up in their order, in the excavation's own words."""
    return (
        _seasons(terms),
        _squares(terms),
        _people(),
        wares_subject(),
        forms_subject(),
        _periods(),
        words_subject(),
        tags_subject(terms),
        stations_subject(terms),
    )


_MARK_HELP = N_("Fields in braces: permit, site, season, square, deposit, container, piece; one to three lines.")


def _seasons(terms: Terms) -> Subject:
    scopes = tuple((scope, put(words, terms)) for scope, words in SCOPE_IN_WORDS.items())
    fields = (
        Field("name", put(N_("Season")), width=150),
        Field("permit", put(N_("Permit")), width=150, beside=True),
        Field("starts", put(N_("From")), FieldKind.DAY, width=150),
        Field("ends", put(N_("to")), FieldKind.DAY, width=150, beside=True),
        Field("number_scope", put(N_("{Containers} are numbered"), terms), FieldKind.CHOICE, 260, choices=scopes),
        Field("mark_pattern", put(N_("Mark to be inked")), FieldKind.LINES, help=put(_MARK_HELP)),
    )
    return Subject(
        "seasons",
        put(N_("Seasons")),
        put(N_("A new season")),
        put(N_("Open the season")),
        put(N_("No season yet. Its permit, its days and its mark stand on every label.")),
        columns(put(N_("Season")), put(N_("Permit")), put(N_("From")), put(N_("To")), put(N_("Mark"))),
        fields,
        _season_entries,
        lambda desk, values: open_season(desk, **values),
        {"mark_pattern": DEFAULT_MARK, "number_scope": NumberScope.SEASON},
        _change_season,
        N_("Change season {name}"),
        said=_to_redo,
    )


def _season_entries(desk: Desk) -> list[Entry]:
    names = ("name", "permit", "starts", "ends", "number_scope", "mark_pattern")
    return [
        Entry(
            row(one.id, one.name, one.permit, one.starts, one.ends, one.mark_pattern.replace("\n", " / ")),
            {name: getattr(one, name) for name in names},
            one.name,
            one.version,
        )
        for one in seasons(desk)
    ]


def _change_season(desk: Desk, entry: Entry, values: Values) -> object:
    rest = {key: value for key, value in values.items() if key != "name"}
    return change_season(desk, entry.name, seen=entry.version, to=values["name"], **rest)


def _to_redo(done: object) -> str:
    if not isinstance(done, ChangedSeason | ChangedSquare | ChangedPerson):
        return ""
    n = done.asked.together
    return plural("{n} thing to write again", "{n} things to write again", n) if n else ""


def _squares(terms: Terms) -> Subject:
    return Subject(
        "squares",
        put(N_("{Squares}"), terms),
        put(N_("New {squares}"), terms),
        put(N_("Add them")),
        put(N_("No {square} yet. {Deposits} are opened in one."), terms),
        columns(put(N_("{Square}"), terms)),
        (Field("names", put(N_("Names")), help=put(N_("Several at once, with blanks or commas between them."))),),
        lambda desk: [
            Entry(row(one.id, one.name), {"names": one.name}, one.name, one.version) for one in square_list(desk)
        ],
        lambda desk, values: add_squares(desk, values["names"].replace(",", " ").split()),
        change=lambda desk, entry, values: change_square(desk, entry.name, seen=entry.version, to=values["names"]),
        changing=N_("Rename {name}"),
        said=_to_redo,
    )


def _people() -> Subject:
    roles = tuple((role, put(words)) for role, words in ROLE_IN_WORDS.items())
    fields = (
        Field("name", put(N_("Name")), width=240),
        Field("role", put(N_("Role")), FieldKind.CHOICE, 150, choices=roles, beside=True),
        Field("active", put(N_("In the team now")), FieldKind.YES),
    )
    return Subject(
        "people",
        put(N_("People")),
        put(N_("Somebody new")),
        put(N_("Take into the team")),
        put(N_("Nobody yet.")),
        columns(put(N_("Name")), put(N_("Role")), put(N_("In the team"))),
        fields,
        lambda desk: [
            Entry(
                row(one.id, one.name, put(ROLE_IN_WORDS[one.role]), put(N_("yes")) if one.active else put(N_("left"))),
                {"name": one.name, "role": one.role, "active": one.active},
                one.name,
                one.version,
            )
            for one in people(desk)
        ],
        lambda desk, values: add_person(desk, name=values["name"], role=values["role"]),
        {"role": Role.VOLUNTEER, "active": True},
        lambda desk, entry, values: change_person(
            desk, entry.name, seen=entry.version, to=values["name"], role=values["role"], active=values["active"]
        ),
        N_("Change {name}"),
        frozenset({"active"}),
        _to_redo,
    )


def _dated_entry(one: PeriodFacts) -> Entry:
    years = (year_in_words(year) for year in (one.earliest, one.latest))
    values: dict[str, Any] = {name: getattr(one, name) for name in ("code", "name", "earliest", "latest")}
    return Entry(row(one.id, one.code, one.name, *years), values, one.code, one.version)


def _periods() -> Subject:
    return Subject(
        "periods",
        put(N_("Periods")),
        put(N_("A new period")),
        put(N_("Add the period")),
        put(N_("No period yet. Readings are given in the periods that stand here.")),
        columns(put(N_("Code")), put(N_("Period")), put(N_("From")), put(N_("To"))),
        dated_fields(put(N_("Period"))),
        lambda desk: [_dated_entry(one) for one in periods(desk)],
        lambda desk, values: add_period(desk, **_dated(values)),
        change=lambda desk, entry, values: change_period(desk, entry.name, seen=entry.version, **changed(values)),
        changing=N_("Change period {name}"),
    )


def _dated(values: Values) -> Values:
    """Refuse a period without both years: its order in time would not be known."""
    for key, what in (("earliest", N_("year in which it begins")), ("latest", N_("year in which it ends"))):
        if values[key] is None:
            raise Refusal("empty", N_("Write the {what} first."), what=put(what))
    return values
