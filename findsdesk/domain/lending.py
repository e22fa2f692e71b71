"""Loans: to whom things go, when they are late, what a return may say."""

from __future__ import annotations

from datetime import date
from enum import StrEnum

from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_


class BorrowerKind(StrEnum):
    """Who takes things for a while, off site."""

    SPECIALIST = "specialist"
    CONSERVATOR = "conservator"
    LABORATORY = "laboratory"


BORROWER_IN_WORDS: dict[str, str] = {
    BorrowerKind.SPECIALIST: N_("specialist"),
    BorrowerKind.CONSERVATOR: N_("conservator"),
    BorrowerKind.LABORATORY: N_("laboratory"),
}


class LoanStanding(StrEnum):
    """How a loan stands on a day."""

    OUT = "out"
    PARTLY_BACK = "partly back"
    OVERDUE = "overdue"
    BACK = "back"


LOAN_IN_WORDS: dict[str, str] = {
    LoanStanding.OUT: N_("out"),
    LoanStanding.PARTLY_BACK: N_("partly back"),
    LoanStanding.OVERDUE: N_("overdue"),
    LoanStanding.BACK: N_("back"),
}


def days_overdue(due_on: date, back_on: date | None, today: date) -> int:
    """Return by how many days a loan that is still out is late; 0 where it is not."""
    return 0 if back_on is not None else max(0, (today - due_on).days)


def standing(due_on: date, back_on: date | None, today: date, pieces_back: int) -> LoanStanding:
    """Return how a loan stands today."""
    if back_on is not None:
        return LoanStanding.BACK
    if days_overdue(due_on, back_on, today):
        return LoanStanding.OVERDUE
    return LoanStanding.PARTLY_BACK if pieces_back else LoanStanding.OUT


def check_days(lent_on: date, due_on: date) -> None:
    """Refuse a loan that is due before it leaves (``due_before_lent``)."""
    if due_on < lent_on:
        raise Refusal(
            "due_before_lent",
            N_("Due back on {due} is before it leaves on {lent}. Write a later day."),
            due=due_on,
            lent=lent_on,
        )


def check_return(pieces: int, used_up: int, still_out: int, *, thing: str) -> None:
    """Refuse a return of nothing or of more than is out (``nothing_back``, ``more_back_than_out``)."""
    if pieces < 0 or used_up < 0 or pieces + used_up == 0:
        raise Refusal("nothing_back", N_("Write how many pieces came back, or how many were used up."))
    if pieces + used_up > still_out:
        raise Refusal(
            "more_back_than_out",
            N_("Of {thing} {out} are still out, not {said}. Count again."),
            thing=thing,
            out=still_out,
            said=pieces + used_up,
        )
