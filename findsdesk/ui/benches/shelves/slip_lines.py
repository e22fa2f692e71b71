"""Proxy slips as rows of a table; no window needed."""

from __future__ import annotations

from findsdesk.desk.proxy_slips import SlipFacts
from findsdesk.desk.register_columns import Say
from findsdesk.ui import moments_in_words as times
from findsdesk.ui.models.cells import Cell, Column, TableRow
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, grouped


def slip_columns(say: Say) -> tuple[Column, ...]:
    """Return the columns of the slips."""
    return (
        Column(say(N_("Slip")), figures=True),
        Column(say(N_("In bag"))),
        Column(say(N_("{Container}"))),
        Column(say(N_("Taken out"))),
        Column(say(N_("Count")), figures=True),
        Column(say(N_("Why")), grows=True),
        Column(say(N_("Went to"))),
        Column(say(N_("Since"))),
    )


def slip_row(slip: SlipFacts, around: WordsAround) -> TableRow:
    """Return a slip as a row; that of a loan names it."""
    loan = around.say(N_("loan {number}"), number=slip.loan) if slip.loan else ""
    return TableRow(
        slip.number,
        (
            Cell(str(slip.number), strong=True),
            Cell(slip.bag_code),
            Cell(slip.container),
            Cell(slip.what),
            Cell(grouped(slip.pieces)),
            Cell(slip.why),
            Cell(", ".join(part for part in (slip.went_to, loan) if part)),
            Cell(times.day_in_words(slip.made_at.astimezone(around.zone).date(), around.today())),
        ),
    )
