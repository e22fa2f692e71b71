"""The day page as lines of text: containers by standing, what needs a person, every piece of the season."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from findsdesk.domain.discards import Stage
from findsdesk.domain.routes import STANDING_IN_WORDS, Hold, Standing
from findsdesk.words import N_, Terms, grouped, how_many, put

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.needs import Need
    from findsdesk.desk.the_day import Day

_HOLDS: dict[str, str] = {
    Hold.PAINTED: N_("painted"),
    Hold.INSCRIBED: N_("perhaps ink"),
    Hold.FLAKING: N_("flaking"),
    Hold.RESIDUE: N_("residue"),
    Hold.OTHER: N_("another reason"),
}


def heading(desk: Desk, day: Day) -> str:
    """Return whose day it is."""
    facts = {"site": desk.facts.name, "permit": day.permit, "day": f"{day.day:%Y-%m-%d}", "season": day.season}
    if day.day_of_season is None:
        return put(N_("{site}, season {season} ({permit}), {day}"), desk.terms, facts)
    facts |= {"n": str(day.day_of_season), "of": str(day.days_of_season)}
    return put(N_("{site}, season {season} ({permit}), {day}, day {n} of {of}"), desk.terms, facts)


def by_standing(day: Day, terms: Terms) -> list[tuple[str, int]]:
    """Return how many containers of the season stand where, in the order of the yard's way."""
    return [
        (put(STANDING_IN_WORDS[standing], terms), day.by_standing[standing])
        for standing in Standing
        if day.by_standing.get(standing)
    ]


def needs(desk: Desk, day: Day) -> Iterator[str]:
    """Yield what needs a person, a line each, with since when."""
    for need in day.needs:
        text, facts = _NEEDS[need.kind](need)
        since = f" ({need.since.astimezone(desk.facts.zone):%Y-%m-%d %H:%M})" if need.since else ""
        yield put(text, desk.terms, facts | {"numbers": ", ".join(need.numbers)}) + since


def _held(need: Need) -> tuple[str, dict[str, str]]:
    why = ", ".join(put(_HOLDS.get(one, one)) for one in need.facts["why"])
    return N_("{numbers}: held for the ceramicist ({why})"), {"why": why}


def _differs(need: Need) -> tuple[str, dict[str, str]]:
    return N_("{numbers}: the tag says {tag}, the list {list}"), dict(need.facts)


def _rows(need: Need) -> tuple[str, dict[str, str]]:
    facts = {"file": need.facts["file"], "n": grouped(need.facts["n"])}
    return N_("{file}: rows of the list that wait with a question: {n}"), facts


def _redo(need: Need) -> tuple[str, dict[str, str]]:
    facts = {"why": need.facts["why"], "n": grouped(need.facts["n"])}
    return N_("{why}: tags, labels and marks to write again: {n}"), facts


def _discards(need: Need) -> tuple[str, dict[str, str]]:
    facts = {"number": str(need.facts["number"]), "n": grouped(need.facts["n"])}
    stage = N_("proposed") if need.facts["stage"] == Stage.PROPOSED else N_("signed")
    return N_("discard list {number}: {n} pieces, {stage}, not carried away"), facts | {"stage": put(stage)}


_NEEDS: dict[str, Callable[[Need], tuple[str, dict[str, str]]]] = {
    "not_on_pallet": lambda _need: (N_("{numbers}: on the field list, not on the pallet"), {}),
    "soaking_too_long": lambda _need: (N_("{numbers}: soaking too long"), {}),
    "held": _held,
    "other_deposit": _differs,
    "rows_set_aside": _rows,
    "over": lambda _need: (N_("{numbers}: more sorted than came in, count again"), {}),
    "untagged": lambda _need: (N_("{numbers}: without a readable tag"), {}),
    "look_again": lambda need: (N_("{numbers}: look again ({why}), says {who}"), dict(need.facts)),
    "to_redo": _redo,
    "new_object": lambda need: (
        N_("object {number}, {what} ({container} {numbers}): new, for the director"),
        {name: str(value) for name, value in need.facts.items()},
    ),
    "discard_list": _discards,
}


def balance(desk: Desk, day: Day) -> list[tuple[str, int]]:
    """Return what came in and where every piece of it is, as figures with what they are."""
    ledger = day.balance
    figures = [
        (N_("counted"), ledger.counted),
        (N_("found more"), ledger.found_more),
        (N_("arrived from other {containers}"), ledger.arrived),
        (N_("kept"), ledger.kept),
        (N_("on hold"), ledger.on_hold),
        (N_("to discard, unsigned"), ledger.to_discard),
        (N_("discarded"), ledger.discarded),
        (N_("used up as samples"), ledger.used_up),
        (N_("moved out"), ledger.moved_out),
        (N_("not a sherd"), ledger.not_a_sherd),
        (N_("not found"), ledger.not_found),
        (N_("not yet sorted"), max(0, ledger.unsorted)),
        (N_("over"), ledger.over),
    ]
    always = {N_("counted"), N_("kept"), N_("on hold"), N_("to discard, unsigned"), N_("not yet sorted")}
    return [(put(text, desk.terms), number) for text, number in figures if number or text in always]


def verdict(desk: Desk, day: Day) -> str:
    """Return whether the season balances, and but for what it does not."""
    from findsdesk.desk.shipped import route_of

    route = route_of(day.material)
    pieces = how_many(route.pieces_one, route.pieces_many, day.balance.expected)
    if not day.balance.expected:
        return put(N_("Nothing is counted yet."))
    if day.over:
        numbers = ", ".join(day.over)
        text = N_("Together {pieces}. Balances but for {container} {numbers}.")
        return put(text, desk.terms, {"pieces": pieces, "numbers": numbers})
    return put(N_("Together {pieces}. Balances: each can be pointed at."), desk.terms, {"pieces": pieces})
