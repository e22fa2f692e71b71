"""Loans and what is on them, as rows of tables; no window needed."""

from __future__ import annotations

from collections.abc import Mapping

from findsdesk.desk.lendable import ToLend
from findsdesk.desk.loan_rows import LoanFacts, LoanLineFacts, ResultFacts
from findsdesk.desk.register_columns import Say
from findsdesk.desk.shipped import route_of
from findsdesk.domain.lending import LOAN_IN_WORDS
from findsdesk.ui import moments_in_words as times
from findsdesk.ui.models.cells import Cell, Column, TableRow
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, grouped, plural


def loan_columns(say: Say) -> tuple[Column, ...]:
    """Return the columns of the loans."""
    return (
        Column(say(N_("Loan")), figures=True),
        Column(say(N_("With"))),
        Column(say(N_("For what")), grows=True),
        Column(say(N_("Due"))),
        Column(say(N_("Still out")), figures=True),
        Column(say(N_("How it stands"))),
    )


def loan_row(loan: LoanFacts, around: WordsAround) -> TableRow:
    """Return a loan as a row; what is overdue wears the edge and says by how much."""
    late = bool(loan.days_overdue)
    stands = around.say(LOAN_IN_WORDS[loan.standing])
    if late:
        stands = plural("{n} day overdue", "{n} days overdue", loan.days_overdue)
    return TableRow(
        loan.code,
        (
            Cell(str(loan.number), strong=True),
            Cell(loan.borrower),
            Cell(loan.purpose),
            Cell(times.day_in_words(loan.due_on, around.today())),
            Cell(f"{loan.still_out} / {loan.pieces}" if loan.still_out else ""),
            Cell(stands, "madder" if late else "green" if loan.back_on else ""),
        ),
        late=late,
    )


def line_columns(say: Say) -> tuple[Column, ...]:
    """Return the columns of what is on a loan."""
    return (
        Column(say(N_("What"))),
        Column(say(N_("{Deposit}"))),
        Column(say(N_("Left")), figures=True),
        Column(say(N_("Still out")), figures=True),
        Column(say(N_("Condition on leaving")), grows=True),
        Column(say(N_("Back"))),
    )


def line_key(line: LoanLineFacts) -> str:
    """Return what a thing of a loan is named by: its code, or of a sample its name."""
    return line.code or line.name


def line_row(line: LoanLineFacts, around: WordsAround, back_now: bool = False) -> TableRow:
    """Return a thing of a loan as a row; ``back_now`` says that it was scanned as back."""
    back = times.day_in_words(line.back_on, around.today()) if line.back_on else ""
    if back_now:
        back = around.say(N_("is back now"))
    parts = (line.back_on is not None and line.condition_back) or ""
    return TableRow(
        line_key(line),
        (
            Cell(line.name, strong=True),
            Cell(line.deposit),
            Cell(grouped(line.pieces)),
            Cell(grouped(line.still_out) if line.still_out else ""),
            Cell(line.condition_out),
            Cell(", ".join(part for part in (back, parts) if part), "clay" if back_now else "green"),
        ),
    )


def lend_columns(say: Say) -> tuple[Column, ...]:
    """Return the columns of what is to leave."""
    return (
        Column(say(N_("What"))),
        Column(say(N_("Material"))),
        Column(say(N_("Count")), figures=True),
        Column(say(N_("Grams")), figures=True),
        Column(say(N_("Condition, if another")), grows=True),
    )


def lend_row(thing: ToLend, conditions: Mapping[str, str], say: Say) -> TableRow:
    """Return a thing that is to leave as a row."""
    return TableRow(
        thing.which,
        (
            Cell(thing.name, strong=True),
            Cell(say(route_of(thing.material).name) if thing.material else ""),
            Cell(grouped(thing.pieces)),
            Cell("" if thing.tenths is None else f"{thing.tenths / 10:.1f}"),
            Cell(conditions.get(thing.which, "")),
        ),
    )


def result_columns(say: Say) -> tuple[Column, ...]:
    """Return the columns of the files that came back with a loan."""
    return (
        Column(say(N_("File"))),
        Column(say(N_("Size")), figures=True),
        Column(say(N_("Taken in"))),
        Column(say(N_("What it is")), grows=True),
    )


def result_row(file: ResultFacts, around: WordsAround) -> TableRow:
    """Return a file that came back as a row; its size in kilobytes of a thousand bytes."""
    kilobytes = grouped(max(1, round(file.size_bytes / 1000)))
    return TableRow(
        file.id,
        (
            Cell(file.file_name, strong=True),
            Cell(around.say(N_("{n} kB"), n=kilobytes)),
            Cell(times.day_in_words(file.taken_in_at.astimezone(around.zone).date(), around.today())),
            Cell(file.note),
        ),
    )
