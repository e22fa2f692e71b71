"""What the bench shows and says, without a window: which list, how it is narrowed and sorted, and the words for it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from findsdesk.desk.register_columns import fields_of
from findsdesk.desk.registers import RegisterQuery
from findsdesk.ui.benches.registers.list_kinds import FilterKind, ListKind
from findsdesk.ui.benches.registers.lists import DEPOSITS
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, grouped


@dataclass(frozen=True, slots=True)
class Chip:
    """A filter that is on: its kind, the value for the desk, and the value in words."""

    kind: FilterKind
    value: str
    words: str


@dataclass(frozen=True, slots=True)
class Sorting:
    """An order that is offered: the desk's name for it, which way, and what it is called."""

    name: str
    falling: bool
    words: str


@dataclass(frozen=True, slots=True)
class ListState:
    """One list as it is narrowed now."""

    kind: ListKind = DEPOSITS
    text: str = ""
    chips: tuple[Chip, ...] = ()
    columns: tuple[str, ...] = ()
    """The columns somebody chose, in their order; none for those of the list."""

    def searched(self, text: str) -> ListState:
        """Return the list searched for a text."""
        return replace(self, text=" ".join(text.split()))

    def narrowed(self, chip: Chip) -> ListState:
        """Return the list with one more filter; the same twice changes nothing."""
        return self if chip in self.chips else replace(self, chips=(*self.chips, chip))

    def widened(self, chip: Chip) -> ListState:
        """Return the list without a filter."""
        return replace(self, chips=tuple(one for one in self.chips if one != chip))

    def with_columns(self, columns: tuple[str, ...]) -> ListState:
        """Return the list with the columns somebody chose; none for its own."""
        return replace(self, columns=columns)

    def unsearched(self) -> ListState:
        """Return the list without its search."""
        return replace(self, text="")

    def unfiltered(self) -> ListState:
        """Return the whole list."""
        return replace(self, text="", chips=())

    @property
    def is_narrowed(self) -> bool:
        """Tell whether less than the whole list is asked for."""
        return bool(self.text or self.chips)

    def query(self, sort: str = "", *, falling: bool = False) -> RegisterQuery:
        """Return what the desk is asked; a chosen value takes the place of what narrows the list always."""
        chosen = tuple((chip.kind.name, chip.value) for chip in self.chips)
        names = {name for name, _value in chosen}
        fixed = tuple(pair for pair in self.kind.fixed if pair[0] not in names)
        return RegisterQuery(self.text, (*fixed, *chosen), sort, falling)


def chip_words(chip: Chip, around: WordsAround) -> str:
    """Return what a chip says: "square A1", "until 2026-07-14", "drying"."""
    return around.say(chip.kind.chip, value=chip.words) if "{" in chip.kind.chip else chip.words


def narrowing_words(state: ListState, around: WordsAround) -> str:
    """Return how a list is narrowed, for a printed list: "square A1; “kiln”"; nothing where it is whole."""
    said = [chip_words(chip, around) for chip in state.chips]
    return "; ".join([*said, f"“{state.text}”"] if state.text else said)


def counted_words(state: ListState, shown: int, whole: int, around: WordsAround) -> str:
    """Return how many rows are shown: "1,240 buckets", or "38 of 1,240 buckets" where the list is narrowed."""
    kind = state.kind
    if kind.everywhere:
        return around.say(kind.many, n=grouped(whole))
    if not state.is_narrowed:
        return around.say(kind.one if shown == 1 else kind.many, n=grouped(shown))
    return around.say(N_("{shown} of {all}"), shown=grouped(shown), all=whole_words(kind, whole, around))


def whole_words(kind: ListKind, whole: int, around: WordsAround) -> str:
    """Return how many rows the whole list has: "1,240 buckets"."""
    return around.say(kind.one if whole == 1 else kind.many, n=grouped(whole))


@dataclass(frozen=True, slots=True)
class Emptiness:
    """What stands in place of rows, and what its button says and does."""

    text: str
    act: str = ""
    does: str = ""
    """"first" begins the list, "search" takes the search away, "filters" takes all away."""


def emptiness(state: ListState, whole: int, around: WordsAround) -> Emptiness:
    """Return why no row is shown: nothing there yet, nothing found, or all filtered away."""
    kind = state.kind
    if kind.everywhere and state.text:
        text = around.say(N_("“{said}” stands nowhere. Try fewer or shorter words."), said=state.text)
        return Emptiness(text, around.say(N_("Clear the search")), "search")
    if not whole:
        act = around.say(kind.first_act) if kind.first_act else ""
        return Emptiness(around.say(kind.nothing), act, "first" if act else "")
    everything = whole_words(kind, whole, around)
    if state.text:
        among = (
            N_("“{said}” is in none of {all} left by the filters.")
            if state.chips
            else N_("“{said}” is in none of {all}.")
        )
        return Emptiness(
            around.say(among, said=state.text, all=everything), around.say(N_("Clear the search")), "search"
        )
    said = narrowing_words(state, around)
    text = around.say(N_("None of {all} passes: {filters}."), all=everything, filters=said)
    return Emptiness(text, around.say(N_("Take the filters off")), "filters")


_RISES: Mapping[str, tuple[str, str]] = {
    "number": (N_("by number"), N_("by number, last first")),
    "opened": (N_("by day opened"), N_("by day opened, latest first")),
    "code": (N_("by code"), N_("by code, last first")),
    "day": (N_("by day"), N_("by day, latest first")),
    "standing": (N_("by where it stands"), N_("by where it stands, reversed")),
    "material": (N_("by material"), N_("by material, reversed")),
    "arrived": (N_("by arrival"), N_("by arrival, latest first")),
    "packed": (N_("by day packed"), N_("by day packed, latest first")),
    "labelled": (N_("by label"), N_("by label, latest first")),
    "written": (N_("oldest first"), N_("newest first")),
    "list": (N_("by list"), N_("by list, last first")),
    "seen": (N_("by day seen"), N_("by day seen, latest first")),
    "lifted": (N_("by day lifted"), N_("by day lifted, latest first")),
    "found": (N_("oldest first"), N_("newest first")),
    "name": (N_("by name"), N_("by name, last first")),
    "made": (N_("by day made"), N_("by day made, latest first")),
    "lent": (N_("by day lent"), N_("by day lent, latest first")),
    "due": (N_("by day due"), N_("by day due, latest first")),
    "taken_in": (N_("oldest first"), N_("newest first")),
    "ticked": (N_("oldest first"), N_("newest first")),
    "container": (N_("by {container}, oldest first"), N_("by {container}, newest first")),
    "drawing": (N_("by drawing"), N_("by drawing, last first")),
    "read": (N_("by day read"), N_("by day read, latest first")),
}


_NEWEST_FIRST = frozenset({"journal", "marks", "readings", "discards", "left", "joins", "photos", "prints"})
"""Registers that begin with their newest rows."""


def sortings(kind: ListKind, around: WordsAround) -> tuple[Sorting, ...]:
    """Return the orders a list offers, its own first; none where it has only its own."""
    if kind.register is None:
        return ()
    names = [field.sort for field in fields_of(kind.register) if field.sort]
    offered = [Sorting(name, falling, around.say(_RISES[name][falling])) for name in names for falling in (False, True)]
    return tuple(reversed(offered)) if kind.register in _NEWEST_FIRST else tuple(offered)
