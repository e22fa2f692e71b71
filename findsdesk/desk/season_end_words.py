"""What is open at the end of a season, in words: how a thing is called, what a deadline says."""

from __future__ import annotations

from findsdesk.desk.deadlines import DeadlineFacts
from findsdesk.desk.register_fields import Say
from findsdesk.desk.season_end import OpenRow
from findsdesk.domain.season_end import COUNTS_FROM_IN_WORDS, UNIT_IN_WORDS
from findsdesk.words import N_

_NAMES: dict[str, str] = {
    "container": N_("{container} {number}"),
    "note": N_("{container} {number}"),
    "reading": N_("{container} {number}"),
    "redo": N_("{container} {number}"),
    "deposit": N_("{deposit} {number}"),
    "reading_of_deposit": N_("{deposit} {number}"),
    "piece": N_("piece {number}.{part}"),
    "found_object": N_("object {number}"),
    "bag": N_("bag {number}"),
    "taken_out": "{number}",
    "stock_scan": "{number}",
    "transport_line": "{number}",
    "loan_line": N_("loan {number}, line {part}"),
    "discard_list": N_("discard list {number}"),
    "row_set_aside": N_("{number}, line {part}"),
    "clash": N_("clash {number}"),
}
"""How a row of each subject is called."""


def name_of_row(row: OpenRow, say: Say) -> str:
    """Return how a thing is called; what an earlier season handed on says of which it is."""
    name = say(_NAMES[row.subject], number=row.number, part=row.part)
    return say(N_("{name} of {season}"), name=name, season=row.season) if row.carried else name


def in_hand_of_row(row: OpenRow) -> str:
    """Return what to scan in place of a row: its own code where it has one, else the tag it is of; '' for none."""
    if row.subject in ("bag", "taken_out", "stock_scan", "transport_line"):
        return row.number
    return row.code


def rule_of(one: DeadlineFacts, say: Say) -> str:
    """Return the rule of a deadline: 4 weeks after the end of the season; the permit's own words where it has some."""
    if one.permit_on is not None:
        return say(N_("the permit says: {words}"), words=one.permit_says)
    since = say(COUNTS_FROM_IN_WORDS[one.counts_from])
    if not one.offset:
        return since
    facts = {"n": abs(one.offset), "unit": say(UNIT_IN_WORDS[one.unit]), "since": since}
    return say(N_("{n} {unit} after: {since}") if one.offset > 0 else N_("{n} {unit} before: {since}"), **facts)


def days_in_words(one: DeadlineFacts, say: Say) -> str:
    """Return how long it is until a deadline, or that it is past, done, or of no day yet."""
    if one.done_on is not None:
        return say(N_("done on {day}"), day=one.done_on.isoformat())
    if one.days_left is None:
        return say(N_("no day yet: say from when it counts"))
    if one.days_left < 0:
        return say(N_("late by days: {n}"), n=-one.days_left)
    return say(N_("today") if one.days_left == 0 else N_("days left: {n}"), n=one.days_left)
