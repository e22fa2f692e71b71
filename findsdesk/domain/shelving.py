"""Places as a tree, and what a stock-take can meet there."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_


class PlaceKind(StrEnum):
    """What a place is."""

    BUILDING = "building"
    ROOM = "room"
    SHELF = "shelf"
    TABLE = "table"
    PERSON = "person"


PLACE_IN_WORDS: dict[str, str] = {
    PlaceKind.BUILDING: N_("building"),
    PlaceKind.ROOM: N_("room"),
    PlaceKind.SHELF: N_("shelf"),
    PlaceKind.TABLE: N_("table"),
    PlaceKind.PERSON: N_("person"),
}

FIRST_PLACE = 101
"""The first serial of a place's code; those below it stand for tubs on the command card."""

FOR_A_WHILE = frozenset({PlaceKind.TABLE, PlaceKind.PERSON})
"""Where things go for a while and come back from; they belong to the others."""

_WITHIN: dict[PlaceKind, frozenset[PlaceKind]] = {
    PlaceKind.BUILDING: frozenset(),
    PlaceKind.ROOM: frozenset({PlaceKind.BUILDING, PlaceKind.ROOM}),
    PlaceKind.SHELF: frozenset({PlaceKind.BUILDING, PlaceKind.ROOM, PlaceKind.SHELF}),
    PlaceKind.TABLE: frozenset({PlaceKind.BUILDING, PlaceKind.ROOM}),
    PlaceKind.PERSON: frozenset(),
}


class Met(StrEnum):
    """How a stock-take met a thing."""

    FOUND = "found"
    ELSEWHERE = "elsewhere"
    """It belongs in another place or box."""
    OUT = "out"
    """It is written as taken out or lent, and stands here all the same."""
    MISSING = "missing"


MET_IN_WORDS: dict[str, str] = {
    Met.FOUND: N_("found"),
    Met.ELSEWHERE: N_("in the wrong place"),
    Met.OUT: N_("written as out"),
    Met.MISSING: N_("missing"),
}


def check_within(kind: PlaceKind, outer: PlaceKind | None) -> None:
    """Refuse a place within one that cannot hold it: a room in a shelf, anything in a person (``place_within``)."""
    if outer is not None and outer not in _WITHIN[kind]:
        raise Refusal(
            "place_within",
            N_("A {kind} cannot lie within a {outer}. Choose another place for it."),
            kind=PLACE_IN_WORDS[kind],
            outer=PLACE_IN_WORDS[outer],
        )


def check_no_circle(place_id: int, outer_id: int | None, parents: Mapping[int, int | None]) -> None:
    """Refuse a place within itself or within what lies in it (``place_circle``); ``parents`` are as they stand."""
    if outer_id is not None and place_id in (outer_id, *way_out(outer_id, parents)):
        raise Refusal("place_circle", N_("A place cannot lie within itself. Choose one outside of it."))


def way_out(place_id: int, parents: Mapping[int, int | None]) -> tuple[int, ...]:
    """Return the places around a place, the nearest first; stops where the tree bites its own tail."""
    way: list[int] = []
    outer = parents.get(place_id)
    while outer is not None and outer not in way:
        way.append(outer)
        outer = parents.get(outer)
    return tuple(way)


def all_within(place_id: int, parents: Mapping[int, int | None]) -> frozenset[int]:
    """Return a place and every place that lies within it."""
    return frozenset(one for one in parents if one == place_id or place_id in way_out(one, parents)) | {place_id}


def circles(parents: Mapping[int, int | None]) -> frozenset[int]:
    """Return the places that lie within themselves: none, in a sound store."""
    return frozenset(one for one in parents if _comes_back(one, parents))


def _comes_back(place_id: int, parents: Mapping[int, int | None]) -> bool:
    outer, seen = parents.get(place_id), set[int]()
    while outer is not None and outer not in seen:
        if outer == place_id:
            return True
        seen.add(outer)
        outer = parents.get(outer)
    return False
