"""Deposits: how sure they are, how they are numbered, their open days."""

from __future__ import annotations

from datetime import date
from enum import StrEnum

from findsdesk.domain.refusals import Question, Refusal
from findsdesk.words import N_


class Security(StrEnum):
    """How far the finds of a deposit can be trusted to belong together."""

    NOT_SAID = ""
    SEALED = "sealed"
    UNSEALED = "unsealed"
    MIXED = "mixed"


SECURITY_IN_WORDS: dict[Security, str] = {
    Security.NOT_SAID: N_("not said"),
    Security.SEALED: N_("sealed"),
    Security.UNSEALED: N_("unsealed"),
    Security.MIXED: N_("mixed"),
}


class HowNumbered(StrEnum):
    """How a deposit came to a number that another one had, or has no longer."""

    RENUMBERED = "renumbered"
    MERGED = "merged"
    SPLIT = "split"


HOW_NUMBERED_IN_WORDS: dict[HowNumbered, str] = {
    HowNumbered.RENUMBERED: N_("renumbered"),
    HowNumbered.MERGED: N_("merged"),
    HowNumbered.SPLIT: N_("split off"),
}

KINDS = (
    N_("layer"),
    N_("fill"),
    N_("floor"),
    N_("collapse"),
    N_("dump"),
    N_("surface"),
    N_("topsoil"),
    N_("cleaning"),
    N_("baulk trim"),
    N_("unstratified"),
)
"""Kinds that are offered (common practice, no source); an excavation may write others."""


def refuse_future(day: date, today: date) -> None:
    """Refuse a day that has not come yet: ``day_in_future``."""
    if day > today:
        raise Refusal(
            "day_in_future",
            N_("{day} has not come yet: today is {today}. Write the true day."),
            day=day,
            today=today,
        )


def check_days(number: str, opened: date, closed: date | None, today: date) -> None:
    """Refuse days that cannot be: opened or closed after today (``day_in_future``), closed first (``closed_first``)."""
    for day in (opened, closed):
        if day is not None:
            refuse_future(day, today)
    if closed is not None and closed < opened:
        raise Refusal(
            "closed_first",
            N_("{Deposit} {number} cannot close on {closed}, before it opened on {opened}. Write the true days."),
            number=number,
            opened=opened,
            closed=closed,
        )


def day_doubt(number: str, opened: date, closed: date | None, day: date) -> Question | None:
    """Return the question whether something truly comes from a day on which its deposit was not open, or None."""
    if day < opened:
        return Question(
            "before_open_days",
            N_("{Deposit} {number} opened on {opened}, and this is of {day}. Is the day right?"),
            number=number,
            opened=opened,
            day=day,
        )
    if closed is not None and day > closed:
        return Question(
            "after_open_days",
            N_("{Deposit} {number} closed on {closed}, and this is of {day}. Is the day right?"),
            number=number,
            closed=closed,
            day=day,
        )
    return None
