"""Tags that are out, by block, with what becomes of one; and numbers set aside for stations away from the others."""

from __future__ import annotations

from findsdesk.desk.desk import Desk
from findsdesk.desk.stations import numbers_aside, set_numbers_aside
from findsdesk.desk.tags import IssuedBlock, blocks, report_missing, return_unused, void_tag
from findsdesk.ui.benches.set_up.subject import Entry, Subject, Values, columns, row
from findsdesk.ui.models.cells import TableRow
from findsdesk.ui.widgets.field_form import Field, FieldKind
from findsdesk.words import N_, Terms, grouped, put

OF_A_TAG = {"unused": N_("came back unused"), "void": N_("is void"), "missing": N_("is missing")}
_SHOWN = 12
"""Numbers of tags that a row names; more are counted."""


def tags_subject(terms: Terms) -> Subject:
    """Return the blocks of tags issued and not all back; a tag is voided, taken back or reported missing here."""
    whats = tuple((what, put(words)) for what, words in OF_A_TAG.items())
    fields = (
        Field("tag", put(N_("Tag, or its number")), width=160),
        Field("what", put(N_("What of it")), FieldKind.CHOICE, 190, choices=whats, beside=True),
        Field("reason", put(N_("Why")), help=put(N_("A void tag needs a reason; its number is not given again."))),
    )
    return Subject(
        "tags",
        put(N_("Tags")),
        put(N_("A tag that is out")),
        put(N_("Write it down")),
        put(N_("No tags yet. Blocks are issued and printed at Marks & labels.")),
        columns(put(N_("First")), put(N_("Last")), put(N_("For")), put(N_("Out")), put(N_("Which"))),
        fields,
        lambda desk: [Entry(_block(place, one)) for place, one in enumerate(blocks(desk))],
        _of_a_tag,
    )


def _block(place: int, block: IssuedBlock) -> TableRow:
    out = [tag.number for tag in block.tags]
    which = ", ".join(out[:_SHOWN]) + (" …" if len(out) > _SHOWN else "")
    return row(place, block.first_number, block.last_number, block.supervisor, grouped(len(out)), which)


def _of_a_tag(desk: Desk, values: Values) -> object:
    if values["what"] == "void":
        return void_tag(desk, values["tag"], reason=values["reason"])
    if values["what"] == "unused":
        return return_unused(desk, values["tag"])
    return report_missing(desk, values["tag"], note=values["reason"])


def stations_subject(terms: Terms) -> Subject:
    """Return the runs of numbers handed to stations that write away from the others."""
    help_ = put(N_("Empty, unless numbers run within each {square}."), terms)
    fields = (
        Field("station", put(N_("Station")), width=200),
        Field("how_many", put(N_("Numbers")), FieldKind.WHOLE, 90, beside=True),
        Field("square", put(N_("{Square}"), terms), width=100, help=help_),
    )
    return Subject(
        "stations",
        put(N_("Stations")),
        put(N_("Numbers for a station that writes away from here")),
        put(N_("Set numbers aside")),
        put(N_("No numbers are set aside. A station without a network needs its own, so that none is given twice.")),
        columns(put(N_("Station")), put(N_("First")), put(N_("Last")), put(N_("Next"))),
        fields,
        lambda desk: [
            Entry(row(place, one.station, one.first, one.last, one.next or put(N_("used up"))))
            for place, one in enumerate(numbers_aside(desk))
        ],
        lambda desk, values: set_numbers_aside(
            desk,
            station=values["station"],
            how_many=values["how_many"] or 0,
            square=values["square"] or None,
        ),
        {"how_many": 200},
    )
