"""What becomes of the rows of a table beside what the store holds: new, as it is here, or waiting with a question."""

from __future__ import annotations

from collections.abc import Callable, Collection, Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.list_checks import Fate
from findsdesk.domain.doubts import Doubt
from findsdesk.domain.natural_order import folded
from findsdesk.domain.near_codes import near
from findsdesk.domain.passing import OFTEN
from findsdesk.domain.raw_tables import TableNote
from findsdesk.domain.read_tables import SORTING_OUT, ReadTable
from findsdesk.domain.shelving import circles, way_out
from findsdesk.domain.written_numbers import identifier_key, letters_like_digits
from findsdesk.store.models import Person
from findsdesk.words import N_

Said = Mapping[str, Any]
"""What is said of a thing, by the columns of its table, as the table would say it."""
_NEAR_IT = {
    "square": N_("There is no {what} {said}. Near it: {near}. Choose one, or add it in Set-up."),
    "place": N_(
        "There is no {what} {said}. Near it: {near}. Choose one, or add it on the Shelves bench, under Places."
    ),
}
"""What is asked about a name that nothing here has, where what is missing is added by hand."""


@dataclass(slots=True)
class CheckedTable:
    """The fate of each row; what is new is written by what its kind of table keeps in ``rows``."""

    fates: list[Fate]
    rows: dict[int, dict[str, Any]] = field(default_factory=dict)
    """By the place of a new row: the columns of the store."""
    inner: dict[int, int] = field(default_factory=dict)
    """New row to the new row it names: what one lies in, was merged into or is of."""
    notes: tuple[TableNote, ...] = ()
    doubts: Mapping[int, Sequence[Doubt]] = field(default_factory=dict)

    def new_places(self) -> list[int]:
        """Return the places of the rows that go in."""
        return [place for place, fate in enumerate(self.fates) if fate is Fate.NEW]


def sort_out(
    read: ReadTable, keys: Sequence[Hashable | None], said: Sequence[Said], stored: Mapping[Hashable, Said]
) -> list[Fate]:
    """Return the fate of each row by what it is called (its key) and what it says.

    What is here and says the same goes by; what says something else, here or further up in the table, is asked about.
    A key of None was asked about already.
    """
    fates = [Fate.ASIDE if read.doubts.get(place) else Fate.NEW for place in range(len(read))]
    first: dict[Hashable, int] = {}
    for place, key in enumerate(keys):
        if not place % OFTEN:
            read.tell(SORTING_OUT, place)
        if key is None:
            continue
        before = first.setdefault(key, place)
        if before != place:
            fates[place] = _again(read, place, before, said)
        elif key in stored:
            differing = [name for name, value in said[place].items() if stored[key].get(name) != value]
            if differing:
                read.ask(place, _differs(read, said[place], stored[key], differing))
            fates[place] = Fate.ASIDE if read.doubts.get(place) else Fate.SAME
    return fates


def _again(read: ReadTable, place: int, before: int, said: Sequence[Said]) -> Fate:
    if said[place] == said[before] and not read.doubts.get(place):
        return Fate.SAME
    facts = {"line": read.lines[before]}
    read.ask(place, Doubt("stands_twice", N_("Line {line} says something else of the same. Which is right?"), facts))
    return Fate.ASIDE


def _differs(read: ReadTable, said: Said, stored: Said, differing: Sequence[str]) -> Doubt:
    def told(of: Said) -> str:
        return ", ".join(f"{read.called(name)} {_plainly(of.get(name))}" for name in differing)

    text = N_("It is here already with {was}. The table says {says}. Which is right?")
    return Doubt("differs", text, {"was": told(stored), "says": told(said)}, differing[0])


def _plainly(value: Any) -> str:
    return "–" if value is None or value == "" else str(value)


def unknown(column: str, what: str, said: str, known: Sequence[str]) -> Doubt:
    """Return the question what is meant by a name that nothing here has, with names near it."""
    close = near(said, known, 3)
    if close:
        text = _NEAR_IT.get(column, N_("There is no {what} {said}. Near it: {near}. Which one is meant?"))
        return Doubt(f"unknown_{column}", text, {"what": what, "said": said[:60], "near": ", ".join(close)}, column)
    text = N_("There is no {what} {said} here. Is it written right, or does it have to be added first?")
    return Doubt(f"unknown_{column}", text, {"what": what, "said": said[:60]}, column)


def ask_of_letters(read: ReadTable, known: Collection[str]) -> None:
    """Ask about numbers with a letter in place of a digit (51O4); ``known`` are the numbers that are here already."""
    odd = letters_like_digits(set(read.texts("number")), known)
    if not odd:
        return
    here = {identifier_key(number) for number in known}
    text = N_("“{written}” has a letter like a digit. Is {value} meant? If not, enter this one by hand.")
    for place, number in enumerate(read.texts("number")):
        if number in odd and identifier_key(number) not in here:
            facts = {"written": number, "value": odd[number]}
            read.ask(place, Doubt("letter_like_digit", text, facts, "number"))


def ask_of_inner(
    read: ReadTable, checked: CheckedTable, column: str, inner: Mapping[int, int], names: Sequence[str]
) -> None:
    """Keep which new row names which; one that leads back to itself, or to a row that waits, waits too.

    ``inner`` maps the place of a row to the place of the row it names.
    """
    parents: dict[int, int | None] = {place: inner.get(place) for place in range(len(read))}
    for place in sorted(circles(parents) if inner else ()):
        way = [names[place], *(names[one] for one in way_out(place, parents)), names[place]]
        text = N_("It leads back to itself: {way}. Which of these rows is wrong?")
        read.ask(place, Doubt("circle", text, {"way": " › ".join(dict.fromkeys(way[:-1])) + f" › {way[-1]}"}, column))
        checked.fates[place] = Fate.ASIDE
    waits = True
    while waits:
        waits = False
        for place, named in inner.items():
            if checked.fates[place] is Fate.NEW and checked.fates[named] is Fate.ASIDE:
                text = N_("It names {name} of line {line}, which waits itself.")
                facts = {"name": names[named], "line": read.lines[named]}
                read.ask(place, Doubt("waits_along", text, facts, column))
                checked.fates[place], waits = Fate.ASIDE, True
    checked.inner = {place: named for place, named in inner.items() if checked.fates[place] is Fate.NEW}


def in_order(checked: CheckedTable) -> list[int]:
    """Return the places of the new rows, each after the one it names."""
    depth: dict[int, int] = {}
    for place in checked.new_places():
        way, one = 0, checked.inner.get(place)
        while one is not None:
            way, one = way + 1, checked.inner.get(one)
        depth[place] = way
    return sorted(depth, key=lambda place: (depth[place], place))


def full_names(session: Session) -> Callable[[str], str]:
    """Return what tells somebody's full name from a name as it is written; a name not met before stays as it is.

    A beginning is enough where only one person of the team is called so.
    """
    team = [(folded(name), name) for name in session.execute(select(Person.name)).scalars()]

    @cache
    def full_name(said: str) -> str:
        wanted = folded(said)
        same = [name for key, name in team if key == wanted] or [name for key, name in team if key.startswith(wanted)]
        return same[0] if len(same) == 1 else said

    return full_name
