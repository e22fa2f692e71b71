"""Wares and forms in the set-up: the type series of the excavation, with the publication each is known from."""

from __future__ import annotations

from typing import Any

from findsdesk.desk.changing_set_up import change_ware
from findsdesk.desk.setting_up import WareFacts, add_ware, wares
from findsdesk.desk.type_series import FormFacts, add_form, change_form, forms
from findsdesk.domain.set_up_numbers import year_in_words
from findsdesk.ui.benches.set_up.subject import Entry, Subject, Values, columns, row
from findsdesk.ui.widgets.field_form import Field, FieldKind
from findsdesk.words import N_, put

WARES, FORMS = "wares", "forms"


def dated_fields(name: str) -> tuple[Field, ...]:
    """Return the fields of what has a code, a name and years."""
    return (
        Field("code", put(N_("Code")), width=90),
        Field("name", name, width=230, beside=True),
        Field("earliest", put(N_("From the year")), FieldKind.YEAR, 110, put(N_("Years as 180 or 50 BCE."))),
        Field("latest", put(N_("to")), FieldKind.YEAR, 110, beside=True),
    )


def changed(values: Values) -> Values:
    """Return what a change names, the code as the new one."""
    return {"to": values["code"], **{key: value for key, value in values.items() if key != "code"}}


def wares_subject() -> Subject:
    """Return the wares: added, changed, with their source."""
    return Subject(
        WARES,
        put(N_("Wares")),
        put(N_("A new ware")),
        put(N_("Add the ware")),
        put(N_("No ware yet. The sorting table offers what stands here.")),
        columns(put(N_("Code")), put(N_("Ware")), put(N_("From")), put(N_("To")), put(N_("Source"))),
        (*dated_fields(put(N_("Ware"))), Field("source", put(N_("Source")))),
        lambda desk: [_ware(one) for one in wares(desk)],
        lambda desk, values: add_ware(desk, **values),
        change=lambda desk, entry, values: change_ware(desk, entry.name, seen=entry.version, **changed(values)),
        changing=N_("Change ware {name}"),
    )


def forms_subject() -> Subject:
    """Return the forms: of one ware or of any, added, changed, with their source."""
    fields = (
        *dated_fields(put(N_("Form"))),
        Field("ware", put(N_("Ware")), width=90, help=put(N_("Empty where every ware has it."))),
        Field("source", put(N_("Source"))),
    )
    return Subject(
        FORMS,
        put(N_("Forms")),
        put(N_("A new form")),
        put(N_("Add the form")),
        put(N_("No form yet. The type series stands here; the sorting table offers it.")),
        columns(put(N_("Code")), put(N_("Form")), put(N_("Ware")), put(N_("From")), put(N_("To")), put(N_("Source"))),
        fields,
        lambda desk: [_form(one) for one in forms(desk)],
        lambda desk, values: add_form(desk, **values),
        change=lambda desk, entry, values: change_form(desk, entry.name, seen=entry.version, **changed(values)),
        changing=N_("Change form {name}"),
    )


def _years(one: WareFacts | FormFacts) -> tuple[str, str]:
    earliest, latest = ("" if year is None else year_in_words(year) for year in (one.earliest, one.latest))
    return earliest, latest


def _ware(one: WareFacts) -> Entry:
    values: dict[str, Any] = {name: getattr(one, name) for name in ("code", "name", "earliest", "latest", "source")}
    return Entry(row(one.id, one.code, one.name, *_years(one), one.source), values, one.code, one.version)


def _form(one: FormFacts) -> Entry:
    names = ("code", "name", "earliest", "latest", "ware", "source")
    values: dict[str, Any] = {name: getattr(one, name) for name in names}
    shown = row(one.id, one.code, one.name, one.ware, *_years(one), one.source)
    return Entry(shown, values, one.code, one.version)
