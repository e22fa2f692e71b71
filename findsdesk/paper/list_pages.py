"""Where the pages of a list begin, found by the heights of its blocks alone."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import NamedTuple

from findsdesk.paper.list_blocks import Block

Progress = Callable[[int, int], None]


class PageStart(NamedTuple):
    """The number (from 0) of a page's first block, and whether the column titles stand over it."""

    block: int
    titled: bool


class _Group(NamedTuple):
    """Blocks that stand on one page: their number, their height together, whether they need no column titles."""

    blocks: int
    height: float
    untitled: bool


def page_starts(
    blocks: Iterable[Block], before: Sequence[Block], titles: Block, room: float, tell: Progress
) -> list[PageStart]:
    """Return where each page begins; ``room`` is a page's height in mm, ``before`` stands on the first.

    ``tell`` hears of each page that was found, as page 0 of so many.
    """
    starts = [PageStart(0, titled=True)]
    left = room - titles.height - sum(block.height for block in before)
    bare, place = not before, 0
    for group in _groups(blocks):
        if group.height > left and not bare:
            starts.append(PageStart(place, titled=not group.untitled))
            tell(0, len(starts))
            left = room if group.untitled else room - titles.height
        left -= group.height
        place += group.blocks
        bare = False
    return starts


def _groups(blocks: Iterable[Block]) -> Iterator[_Group]:
    """Yield the blocks gathered: one that leads stands with the one after it."""
    number, height, untitled = 0, 0.0, False
    for block in blocks:
        untitled = block.untitled if not number else untitled
        number, height = number + 1, height + block.height
        if not block.leads:
            yield _Group(number, height, untitled)
            number, height = 0, 0.0
    if number:
        yield _Group(number, height, untitled)
