"""The day page as lines of text: containers by standing, what needs a person, every piece of the season."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from findsdesk.domain.routes import STANDING_IN_WORDS, Standing
from findsdesk.words import N_, Terms, how_many, put

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.the_day import Day


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
    from findsdesk.desk.needs_in_words import needs_in_words
    from findsdesk.desk.register_columns import wording

    for line, since in needs_in_words(day.needs, wording(desk), desk.facts.zone):
        yield f"{line} ({since})" if since else line


def balance(desk: Desk, day: Day) -> list[tuple[str, int]]:
    """Return what came in and where every piece of it is, as figures with what they are."""
    from findsdesk.desk.balances import CAME_IN, where_it_is

    always = {"counted", "kept", "on_hold", "to_discard", "unsorted"}
    figures = [(name, text, getattr(day.balance, name)) for name, text in CAME_IN]
    ends = where_it_is(day.balance, day.signed, day.too_many)
    figures += [(name, text, pieces) for name, text, pieces in ends if name != "over"]
    figures.append(("over", N_("over"), day.too_many))
    return [(put(text, desk.terms), number) for name, text, number in figures if number or name in always]


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
