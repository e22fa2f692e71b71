"""The columns of the registers of boxes, places and loans."""

from __future__ import annotations

from findsdesk.desk.boxes import BoxFacts
from findsdesk.desk.loan_rows import LoanFacts
from findsdesk.desk.not_met import not_met_in_words
from findsdesk.desk.register_fields import RegisterField, Say
from findsdesk.desk.shelves import PlaceInTree
from findsdesk.domain.lending import BORROWER_IN_WORDS, LOAN_IN_WORDS
from findsdesk.domain.shelving import PLACE_IN_WORDS
from findsdesk.words import N_


def _kilograms(tenths: int) -> float | None:
    return tenths / 10_000 if tenths else None


def _share(permille: int | None) -> float | None:
    return None if permille is None else permille / 10


def _away(row: BoxFacts, say: Say) -> str:
    if row.gone:
        return say(N_("given up"))
    if row.away is None:
        return not_met_in_words(row.not_met, say)
    return say(N_("loan {number}, {who}"), number=row.away.loan, who=row.away.to) if row.away.loan else row.away.to


def _things(row: LoanFacts, _say: Say) -> str:
    return ", ".join(line.name for line in row.lines)


BOXES = (
    RegisterField("number", N_("Box"), lambda row, say: row.number, "number"),
    RegisterField("kind", N_("Kind"), lambda row, say: say(row.kind_name)),
    RegisterField("place", N_("Place"), lambda row, say: row.place, grows=True),
    RegisterField("away", N_("Away"), _away),
    RegisterField("deposits", N_("{Deposits}"), lambda row, say: ", ".join(row.deposits), grows=True),
    RegisterField("bags", N_("Bags"), lambda row, say: row.bags, figures=True),
    RegisterField("pieces", N_("Count"), lambda row, say: row.pieces, figures=True),
    RegisterField("kilograms", N_("Kilograms"), lambda row, say: _kilograms(row.tenths), figures=True),
    RegisterField("limit", N_("Limit, kg"), lambda row, say: _kilograms(row.limit_tenths), figures=True),
    RegisterField("full", N_("Full, %"), lambda row, say: _share(row.full_permille), figures=True),
    RegisterField("code", N_("Code"), lambda row, say: row.code, "code"),
    RegisterField("made", N_("Made"), lambda row, say: row.made_at, "made"),
    RegisterField("desiccant", N_("Desiccant"), lambda row, say: row.desiccant_on),
    RegisterField("note", N_("Note"), lambda row, say: row.note, grows=True),
    RegisterField("unweighed", N_("Bags not weighed"), lambda row, say: row.unweighed or None, in_file=True),
    RegisterField("litres", N_("Litres"), lambda row, say: row.volume_ml / 1000, in_file=True),
    RegisterField("length_mm", N_("Inside length, mm"), lambda row, say: row.size_mm[0], in_file=True),
    RegisterField("width_mm", N_("Inside width, mm"), lambda row, say: row.size_mm[1], in_file=True),
    RegisterField("height_mm", N_("Inside height, mm"), lambda row, say: row.size_mm[2], in_file=True),
)


def _place_kind(row: PlaceInTree, say: Say) -> str:
    return say(PLACE_IN_WORDS[row.kind])


PLACES = (
    RegisterField("name", N_("Place"), lambda row, say: row.name, "name"),
    RegisterField("kind", N_("Kind"), _place_kind),
    RegisterField("path", N_("Where"), lambda row, say: row.path, grows=True),
    RegisterField("boxes", N_("Boxes"), lambda row, say: row.boxes, figures=True),
    RegisterField("holds", N_("Room for"), lambda row, say: row.holds_boxes, figures=True),
    RegisterField("full", N_("Full, %"), lambda row, say: _share(row.full_permille), figures=True),
    RegisterField("away", N_("Boxes away"), lambda row, say: row.boxes_away or None, figures=True),
    RegisterField("bags", N_("Bags"), lambda row, say: row.bags, figures=True),
    RegisterField("pieces", N_("Count"), lambda row, say: row.pieces, figures=True),
    RegisterField("kilograms", N_("Kilograms"), lambda row, say: _kilograms(row.tenths), figures=True),
    RegisterField("taken_here", N_("Taken here"), lambda row, say: row.taken_here or None, figures=True),
    RegisterField("code", N_("Code"), lambda row, say: row.code, "code"),
    RegisterField("note", N_("Note"), lambda row, say: row.note, grows=True),
)


def _days_late(row: LoanFacts) -> int | None:
    return row.days_overdue or None


LOANS = (
    RegisterField("number", N_("Loan"), lambda row, say: row.number, "number"),
    RegisterField("standing", N_("Stands"), lambda row, say: say(LOAN_IN_WORDS[row.standing])),
    RegisterField("borrower", N_("Who has it"), lambda row, say: row.borrower, grows=True),
    RegisterField("kind", N_("Kind"), lambda row, say: say(BORROWER_IN_WORDS[row.kind])),
    RegisterField("purpose", N_("What for"), lambda row, say: row.purpose, grows=True),
    RegisterField("things", N_("What left"), _things, grows=True),
    RegisterField("pieces", N_("Count"), lambda row, say: row.pieces, figures=True),
    RegisterField("still_out", N_("Still out"), lambda row, say: row.still_out or None, figures=True),
    RegisterField("lent", N_("Lent"), lambda row, say: row.lent_on, "lent"),
    RegisterField("due", N_("Due"), lambda row, say: row.due_on, "due"),
    RegisterField("back", N_("Back"), lambda row, say: row.back_on),
    RegisterField("late", N_("Days overdue"), lambda row, say: _days_late(row), figures=True),
    RegisterField("code", N_("Code"), lambda row, say: row.code),
    RegisterField("permit", N_("Permit"), lambda row, say: row.permit, in_file=True),
    RegisterField("address", N_("Address"), lambda row, say: row.address, in_file=True),
    RegisterField("note", N_("Note"), lambda row, say: row.note, in_file=True),
    RegisterField("results", N_("Results"), lambda row, say: ", ".join(one.file_name for one in row.results),
                  in_file=True),
)  # fmt: skip
