"""Joins between sherds as a graph: what hangs together is one vessel."""

from __future__ import annotations

from collections.abc import Iterable

Join = tuple[str, str]


def connected_parts(sherds: Iterable[str], joins: Iterable[Join]) -> tuple[frozenset[str], ...]:
    """Return the sherds parted into those that hang together by joins, in the order of their first sherds.

    A sherd named by a join alone belongs as well. A join with itself changes nothing.
    """
    neighbours: dict[str, set[str]] = {sherd: set() for sherd in sherds}
    for one, other in joins:
        neighbours.setdefault(one, set()).add(other)
        neighbours.setdefault(other, set()).add(one)
    parts: list[frozenset[str]] = []
    seen: set[str] = set()
    for sherd in neighbours:
        if sherd not in seen:
            part = _reached_from(sherd, neighbours)
            seen |= part
            parts.append(part)
    return tuple(parts)


def _reached_from(start: str, neighbours: dict[str, set[str]]) -> frozenset[str]:
    reached, waiting = {start}, [start]
    while waiting:
        new = neighbours[waiting.pop()] - reached
        reached |= new
        waiting.extend(new)
    return frozenset(reached)
