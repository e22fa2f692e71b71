"""The end of a season: what must be done, by when, and who may sign for what stays open."""

from __future__ import annotations

import calendar
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from findsdesk.domain.refusals import Refusal
from findsdesk.domain.settings import Role
from findsdesk.words import N_


class CountsFrom(StrEnum):
    """What a deadline is counted from."""

    SEASON_END = "season end"
    FIELDWORK_END = "fieldwork end"
    CATALOGUE_END = "catalogue end"
    CALENDAR_YEAR = "calendar year"


class Unit(StrEnum):
    """What a deadline is counted in."""

    DAYS = "days"
    WEEKS = "weeks"
    MONTHS = "months"


class StaysAs(StrEnum):
    """How a container is carried over that did not come to its end."""

    UNWASHED = "boxed unwashed"
    UNREAD = "boxed unread"


COUNTS_FROM_IN_WORDS: dict[CountsFrom, str] = {
    CountsFrom.SEASON_END: N_("end of the season"),
    CountsFrom.FIELDWORK_END: N_("end of the fieldwork"),
    CountsFrom.CATALOGUE_END: N_("end of the catalogue"),
    CountsFrom.CALENDAR_YEAR: N_("end of the calendar year"),
}
UNIT_IN_WORDS: dict[Unit, str] = {Unit.DAYS: N_("days"), Unit.WEEKS: N_("weeks"), Unit.MONTHS: N_("months")}
STAYS_AS_IN_WORDS: dict[str, str] = {
    StaysAs.UNWASHED: N_("boxed unwashed"),
    StaysAs.UNREAD: N_("boxed unread"),
    "": "",
}

MOST_OFFSET = 1200
"""So many days, weeks or months at most: a longer one is a slip of the pen."""
SIGNERS = frozenset({Role.DIRECTOR, Role.SUPERVISOR, Role.CERAMICIST, Role.REGISTRAR, Role.WASH_LEAD})
"""Roles whose word a list of what stays open is signed with; one of the two is the director or the registrar (common
practice, no source)."""
ANSWERS_FOR_IT = frozenset({Role.DIRECTOR, Role.REGISTRAR})


@dataclass(frozen=True, slots=True)
class Requirement:
    """What must be done at the end of a season; ``question`` names how the store is asked, ``bench`` where it is done.

    ``name`` is a marked text; ``stays_as`` says how a container is carried over that did not come so far.
    """

    key: str
    question: str
    name: str
    bench: str
    source: str
    stays_as: str = ""


@dataclass(frozen=True, slots=True)
class DeadlineRule:
    """A deadline as a rule: so many of a unit after a day (below 0: before it), what is due, where that is said."""

    deliverable: str
    counts_from: CountsFrom
    offset: int
    unit: Unit
    source: str


def check_offset(offset: int) -> None:
    """Refuse an offset nobody means (``offset_too_long``)."""
    if abs(offset) > MOST_OFFSET:
        raise Refusal(
            "offset_too_long",
            N_("{offset} is too much for a deadline. At most {most} days, weeks or months are counted."),
            offset=offset,
            most=MOST_OFFSET,
        )


def due_on(day: date, offset: int, unit: Unit) -> date:
    """Return the day so many days, weeks or months after a day; below 0 before it. Refusal: ``offset_too_long``.

    A month later is the same day of the month, or its last day where there is none: 31 January and one month is the
    last of February, as SQL reckons intervals.
    """
    check_offset(offset)
    if unit is not Unit.MONTHS:
        return day + timedelta(days=offset * (7 if unit is Unit.WEEKS else 1))
    years, month = divmod(day.year * 12 + day.month - 1 + offset, 12)
    last = calendar.monthrange(years, month + 1)[1]
    return date(years, month + 1, min(day.day, last))


def counted_from(kind: CountsFrom, season_ends: date, said: date | None) -> date | None:
    """Return the day a deadline is counted from: the one said, else the season's; None where nobody knows it yet."""
    if said is not None:
        return said
    if kind is CountsFrom.SEASON_END:
        return season_ends
    return date(season_ends.year, 12, 31) if kind is CountsFrom.CALENDAR_YEAR else None


def may_sign_open(people: Mapping[int | None, tuple[str, Role | None]]) -> None:
    """Refuse two signatures that do not count; ``people`` are names and roles by id, one entry where both are one.

    Refusals: ``two_sign``, ``may_not_sign_open``, ``nobody_answers``.
    """
    if len(people) < 2 or None in people:
        raise Refusal("two_sign", N_("Two people sign for what stays open. Name the second one."))
    for name, role in people.values():
        if role not in SIGNERS:
            raise Refusal(
                "may_not_sign_open",
                N_("{person} does not sign for what stays open. Somebody who leads a part of the work does."),
                person=name,
            )
    if not any(role in ANSWERS_FOR_IT for _name, role in people.values()):
        raise Refusal("nobody_answers", N_("One of the two is the director or the registrar. Let one of them sign."))
