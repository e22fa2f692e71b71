"""Where the blocks of a paper stand: page after page, found by their heights alone, one block at a time.

It is run twice, to count the pages and to draw them, and keeps no more than the blocks that must stand together.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from findsdesk.paper.list_blocks import Block


class Item(NamedTuple):
    """A block, the column titles that stand over it on each page, and whether it begins a new page.

    ``fresh`` is the share of a page that may be filled before it; None: it stands wherever there is room.
    ``again`` stands between titles and block where the block is the first of a page: the section it goes on with.
    """

    block: Block
    titles: Block | None = None
    fresh: float | None = None
    again: Block | None = None


class Placed(NamedTuple):
    """A block with its page, the first being 1, and its upper edge in mm under the first line of the page."""

    page: int
    top: float
    block: Block


def lay_out(items: Iterable[Item], room: float) -> Iterator[Placed]:
    """Yield each block, and the column titles it needs, with its place on pages of ``room`` mm.

    Blocks that lead or follow stand on one page with their neighbour, unless together they are taller than a page.
    """
    page, down, continued = 1, 0.0, 1
    standing: Block | None = None
    for group in _groups(items):
        whole = _height(group, standing)
        if down and (_begins_a_page(group[0], down / room) or (down + whole > room and _height(group, None) <= room)):
            page, down, standing = page + 1, 0.0, None
        for item in group:
            titles = _titles_for(item, standing)
            if down and down + item.block.height + (titles.height if titles else 0.0) > room:
                page, down, standing = page + 1, 0.0, None
                titles = _titles_for(item, standing)
            if titles is not None:
                yield Placed(page, down, titles)
                down, standing = down + titles.height, titles
            if page > continued and down == (titles.height if titles else 0.0) and item.again is not None:
                yield Placed(page, down, item.again)
                down += item.again.height
            continued = page
            yield Placed(page, down, item.block)
            down += item.block.height
            if item.titles is None:
                standing = None


def _begins_a_page(item: Item, filled: float) -> bool:
    return item.fresh is not None and filled > item.fresh


def _titles_for(item: Item, standing: Block | None) -> Block | None:
    """Return the column titles to be drawn before a block: those that do not stand over it already."""
    wanted = None if item.block.untitled else item.titles
    return None if wanted is standing else wanted


def _height(group: list[Item], standing: Block | None) -> float:
    height = 0.0
    for item in group:
        titles = _titles_for(item, standing)
        if titles is not None:
            height, standing = height + titles.height, titles
        height += item.block.height
        if item.titles is None:
            standing = None
    return height


def _groups(items: Iterable[Item]) -> Iterator[list[Item]]:
    """Yield the blocks gathered that must stand together."""
    group: list[Item] = []
    for item in items:
        if group and (item.fresh is not None or not (group[-1].block.leads or item.block.follows)):
            yield group
            group = []
        group.append(item)
    if group:
        yield group
