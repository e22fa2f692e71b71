"""Rows and ids in batches: no statement names more of them than every database takes at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import islice
from typing import TypeVar

AT_ONCE = 2_000

One = TypeVar("One")


def batches(many: Iterable[One]) -> Iterator[list[One]]:
    """Yield lists of up to ``AT_ONCE``, in their order."""
    coming = iter(many)
    while some := list(islice(coming, AT_ONCE)):
        yield some
