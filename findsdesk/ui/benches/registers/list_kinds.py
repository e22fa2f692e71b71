"""What a list of the bench is: what it is called, how it is narrowed, what stands where it is empty."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from findsdesk.desk.registers import Register
from findsdesk.words import N_


class Asked(Enum):
    """How the value of a filter is given."""

    CHOICE = "choice"
    TEXT = "text"
    DAY = "day"


@dataclass(frozen=True, slots=True)
class FilterKind:
    """One filter: the desk's name for it, what it is called, what a chip says of it, how its value is given."""

    name: str
    title: str
    chip: str
    asked: Asked = Asked.CHOICE


@dataclass(frozen=True, slots=True)
class ListKind:
    """One list; texts are marked. ``fixed`` narrows it always; ``spare`` columns fall away where room is short.

    ``nothing`` stands where nothing is there yet, with ``first_act`` on the button that leads there: to ``act_bench``,
    or to the form for a new deposit where that is empty. ``one`` and ``many`` count its rows, with ``{n}``.
    """

    key: str
    title: str
    one: str
    many: str
    nothing: str
    register: Register | None = None
    filters: tuple[FilterKind, ...] = ()
    fixed: tuple[tuple[str, str], ...] = ()
    spare: tuple[str, ...] = ()
    first_act: str = ""
    act_bench: str = ""
    everywhere: bool = False
    """Whether it shows what a search finds in everything, and nothing without one."""


BY_SQUARE = FilterKind("square", N_("{square}"), N_("{square} {value}"))
BY_SEASON = FilterKind("season", N_("season"), N_("season {value}"))
BY_SUPERVISOR = FilterKind("supervisor", N_("supervisor"), N_("supervisor {value}"))
BY_PERSON = FilterKind("person", N_("who"), N_("by {value}"))
BY_DEPOSIT = FilterKind("deposit", N_("{deposit}"), N_("{deposit} {value}"), Asked.TEXT)
BY_FROM = FilterKind("from", N_("from a day on"), N_("from {value} on"), Asked.DAY)
BY_UNTIL = FilterKind("until", N_("until a day"), N_("until {value}"), Asked.DAY)
