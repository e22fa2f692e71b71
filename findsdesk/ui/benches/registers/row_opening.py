"""What opening a row of a list does: a page of this bench, a dossier, another list, another bench."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from findsdesk.desk.searching import Opens
from findsdesk.ui.benches.registers.list_kinds import BY_DEPOSIT, BY_PERSON, FilterKind
from findsdesk.ui.benches.registers.lists import (
    ASIDE,
    BETWEEN,
    CONCORDANCE,
    DEPOSITS,
    DISCARDS,
    EVERYWHERE,
    JOURNAL,
    LEFT,
    LISTS,
    PEOPLE,
    READINGS,
    REDO,
)
from findsdesk.ui.benches.registers.piece_lists import JOINS, OBJECTS, PHOTOS, PIECES, SAMPLES, VESSELS
from findsdesk.ui.benches.registers.print_lists import PRINTS
from findsdesk.ui.benches.registers.state import Chip, ListState
from findsdesk.words import N_

if TYPE_CHECKING:
    from findsdesk.ui.benches.registers.page import RegistersBench

_OF_VESSEL = FilterKind("vessel", "", N_("vessel {value}"))


def open_row(bench: RegistersBench, row_id: object) -> None:
    """Open a row of the list that is shown, by its id."""
    kind, around = bench.lists.kind, bench.surroundings
    if kind is JOURNAL:
        bench.show_act(str(row_id))
    elif kind is DEPOSITS:
        around.open_thing.emit("deposit", row_id)
    elif kind is ASIDE:
        around.open_bench.emit("check_in")
    elif isinstance(row_id, str):
        around.take_in_hand.emit(row_id)
    elif not isinstance(row_id, tuple):
        around.open_thing.emit("container", row_id)
    elif kind in (SAMPLES, LEFT, OBJECTS, BETWEEN):
        _open_further(bench, *row_id)
    elif kind is PHOTOS:
        _open_pictured(bench, *row_id[1:])
    elif kind is DISCARDS:
        bench.show_discard_list(*row_id)
    elif kind is READINGS:
        around.open_thing.emit(*row_id)
    elif kind is PRINTS:
        around.take_in_hand.emit(row_id[2])
    elif kind is CONCORDANCE:
        around.open_thing.emit("deposit", row_id[1])
    elif kind is REDO:
        around.open_thing.emit("container", row_id[1])
    else:
        _open_list(bench, *row_id)


def _open_list(bench: RegistersBench, _kind: str, which: Any) -> None:
    """Show another list: the pieces of a vessel, what somebody did; or what a search found."""
    kind = bench.lists.kind
    if kind is VESSELS:
        bench.show_list(PIECES.key, ListState(PIECES, "", (Chip(_OF_VESSEL, str(which), str(which)),)))
    elif kind is PEOPLE:
        bench.show_list(JOURNAL.key, ListState(JOURNAL, "", (Chip(BY_PERSON, which, which),)))
    elif kind is EVERYWHERE and isinstance(which, Opens):
        _open_found(bench, which)


def _open_found(bench: RegistersBench, opens: Opens) -> None:
    """Go to what a search found: a thing with a dossier, or the register in which it stands."""
    if opens.register is not None:
        kind = next(one for one in LISTS if one.register is opens.register)
        bench.show_list(kind.key, ListState(kind, str(opens.which)))
    elif opens.kind == "code":
        bench.surroundings.take_in_hand.emit(str(opens.which))
    else:
        bench.surroundings.open_thing.emit(opens.kind, opens.which)


def _open_further(bench: RegistersBench, kind: str, *which: Any) -> None:
    """Show a sample, an object or what was left, each with what can be said of it; or the joins of a deposit."""
    if kind in ("sample", "object", "left"):
        bench.show_further(kind, *which)
    else:
        bench.show_list(JOINS.key, ListState(JOINS, "", (Chip(BY_DEPOSIT, which[0], which[0]),)))


def _open_pictured(bench: RegistersBench, kind: str, thing_id: int, container_id: int | None) -> None:
    """Go to what a photograph shows, where that has a dossier."""
    if kind == "deposit":
        bench.surroundings.open_thing.emit("deposit", thing_id)
    elif container_id is not None:
        bench.surroundings.open_thing.emit("container", container_id)
