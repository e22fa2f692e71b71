"""Packing bags into few boxes within weight and room, the bags of a deposit together as far as that goes.

The heuristic, deposit by deposit in the order given:

1. First-fit decreasing within the deposit: its bags, the largest first, each into the first box of the deposit that
   still has room. All boxes but the emptiest are done.
2. What lies in those emptiest boxes is packed again, rest by rest, whole where a box has room for it (best fit), so
   that small deposits share a box; what fits nowhere whole opens a box.
3. The emptiest boxes are given up one after the other as long as each of their bags finds room in another box,
   first in one where its deposit lies already.
4. Where that needs more boxes than the bound allows for, all bags are packed first-fit decreasing without regard to
   deposits, and the better of the two is kept.

The lower bound is that of Martello and Toth (1990, "L2"; FROM MEMORY) for weight and for room, the greater of the two.
First-fit decreasing needs at most 11/9 of the fewest boxes and 6/9 of a box (Dósa 2007; FROM MEMORY).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import groupby

ALLOWED_PERMILLE = 30
"""How many boxes over the lower bound are borne for keeping deposits together."""


@dataclass(frozen=True, slots=True)
class ToPack:
    """A bag to be packed: its key, its deposit, its weight in tenths of a gram, its room in millilitres."""

    key: int
    deposit: str
    tenths: int
    volume_ml: int


@dataclass(frozen=True, slots=True)
class BoxSize:
    """What a box holds: tenths of a gram without its own weight, millilitres of bags."""

    tenths: int
    volume_ml: int


@dataclass(frozen=True, slots=True)
class PackedBox:
    """One proposed box."""

    bags: tuple[ToPack, ...]

    @property
    def tenths(self) -> int:
        """Return what its bags weigh together."""
        return sum(bag.tenths for bag in self.bags)

    @property
    def volume_ml(self) -> int:
        """Return the room its bags take together."""
        return sum(bag.volume_ml for bag in self.bags)

    @property
    def deposits(self) -> tuple[str, ...]:
        """Return the deposits in it, as they come."""
        return tuple(dict.fromkeys(bag.deposit for bag in self.bags))


@dataclass(frozen=True, slots=True)
class Packed:
    """A proposal: its boxes, the bags too large for any box, and the fewest boxes that could do."""

    boxes: tuple[PackedBox, ...]
    too_large: tuple[ToPack, ...]
    fewest: int


@dataclass(slots=True)
class _Box:
    tenths: int
    """How much weight is left."""
    volume_ml: int
    bags: list[ToPack] = field(default_factory=list)

    def has_room(self, tenths: int, volume_ml: int) -> bool:
        return tenths <= self.tenths and volume_ml <= self.volume_ml

    def take(self, bags: Iterable[ToPack]) -> None:
        for bag in bags:
            self.bags.append(bag)
            self.tenths -= bag.tenths
            self.volume_ml -= bag.volume_ml


def pack(bags: Sequence[ToPack], size: BoxSize) -> Packed:
    """Return a proposal of few boxes for bags that may lie together; ``bags`` come in the order of their deposits."""
    small = [bag for bag in bags if bag.tenths <= size.tenths and bag.volume_ml <= size.volume_ml]
    too_large = tuple(bag for bag in bags if bag.tenths > size.tenths or bag.volume_ml > size.volume_ml)
    fewest = fewest_boxes(small, size)
    boxes = _by_deposit(small, size)
    if len(boxes) * 1000 > fewest * (1000 + ALLOWED_PERMILLE):
        mixed = _given_up(_first_fit(small, size), size)
        boxes = min(boxes, mixed, key=len)
    order = {bag.key: place for place, bag in enumerate(small)}
    packed = [PackedBox(tuple(sorted(box.bags, key=lambda bag: order[bag.key]))) for box in boxes]
    return Packed(tuple(sorted(packed, key=lambda box: order[box.bags[0].key])), too_large, fewest)


def fewest_boxes(bags: Sequence[ToPack], size: BoxSize) -> int:
    """Return how many boxes are needed at the least, by weight and by room; 0 for no bags."""
    by_weight = lower_bound([bag.tenths for bag in bags], size.tenths)
    by_room = lower_bound([bag.volume_ml for bag in bags], size.volume_ml)
    return max(by_weight, by_room, 1 if bags else 0)


def lower_bound(sizes: Sequence[int], capacity: int) -> int:
    """Return the bound L2 of Martello and Toth on the number of bins for sizes up to the capacity (FROM MEMORY).

    For a threshold ``a``: those above ``capacity - a`` need a bin each, those above half a bin of their own too, and
    what is at least ``a`` large fills up the latter before it needs more; the best threshold counts, and 0 is among
    them, which is the plain bound of the sum.
    """
    ordered = sorted(size for size in sizes if size > 0)
    sums = [0]
    for size in ordered:
        sums.append(sums[-1] + size)
    half = _first_above(ordered, capacity // 2)
    return max((_bound_at(ordered, sums, half, a, capacity) for a in {0, *ordered[:half]}), default=0)


def _bound_at(ordered: Sequence[int], sums: Sequence[int], half: int, threshold: int, capacity: int) -> int:
    alone = _first_above(ordered, capacity - threshold)
    alone = max(alone, half)
    least = _first_above(ordered, threshold - 1)
    large = alone - half
    left = large * capacity - (sums[alone] - sums[half])
    small = sums[half] - sums[min(least, half)]
    more = max(0, -(-(small - left) // capacity))
    return (len(ordered) - alone) + large + more


def _first_above(ordered: Sequence[int], value: int) -> int:
    low, high = 0, len(ordered)
    while low < high:
        middle = (low + high) // 2
        if ordered[middle] <= value:
            low = middle + 1
        else:
            high = middle
    return low


def _share(bag: ToPack, size: BoxSize) -> float:
    """Return how much of a box a bag takes, by weight or room, whichever is more."""
    return max(bag.tenths / size.tenths, bag.volume_ml / size.volume_ml)


def _first_fit(bags: Iterable[ToPack], size: BoxSize) -> list[_Box]:
    boxes: list[_Box] = []
    for bag in sorted(bags, key=lambda one: _share(one, size), reverse=True):
        box = next((one for one in boxes if one.has_room(bag.tenths, bag.volume_ml)), None)
        if box is None:
            box = _Box(size.tenths, size.volume_ml)
            boxes.append(box)
        box.take([bag])
    return boxes


def _by_deposit(bags: Sequence[ToPack], size: BoxSize) -> list[_Box]:
    done: list[_Box] = []
    rests: list[_Box] = []
    for _deposit, its in groupby(bags, key=lambda bag: bag.deposit):
        boxes = sorted(_first_fit(its, size), key=lambda box: _filled(box, size))
        rests.append(boxes[0])
        done.extend(boxes[1:])
    return _given_up(_shared(rests, size) + done, size)


def _filled(box: _Box, size: BoxSize) -> float:
    return max(1 - box.tenths / size.tenths, 1 - box.volume_ml / size.volume_ml)


def _shared(rests: Sequence[_Box], size: BoxSize) -> list[_Box]:
    """Lay rests of deposits together, the largest first, each whole into the fullest box that has room for it."""
    boxes: list[_Box] = []
    for rest in sorted(rests, key=lambda box: _filled(box, size), reverse=True):
        tenths, volume = size.tenths - rest.tenths, size.volume_ml - rest.volume_ml
        fitting = [box for box in boxes if box.has_room(tenths, volume)]
        if fitting:
            max(fitting, key=lambda box: _filled(box, size)).take(rest.bags)
        else:
            boxes.append(rest)
    return boxes


def _given_up(boxes: list[_Box], size: BoxSize) -> list[_Box]:
    """Give up the emptiest boxes as long as each of their bags finds room elsewhere."""
    left = sorted(boxes, key=lambda box: _filled(box, size))
    tried = 0
    while tried < len(left):
        emptied = left.pop(tried)
        if not _moved(emptied, left, size):
            left.insert(tried, emptied)
            tried += 1
    return left


def _moved(emptied: _Box, others: Sequence[_Box], size: BoxSize) -> bool:
    moved: list[tuple[ToPack, _Box]] = []
    for bag in sorted(emptied.bags, key=lambda one: _share(one, size), reverse=True):
        box = _best(bag, others, size)
        if box is None:
            for one, where in moved:
                where.bags.remove(one)
                where.tenths += one.tenths
                where.volume_ml += one.volume_ml
            return False
        box.take([bag])
        moved.append((bag, box))
    return True


def _best(bag: ToPack, boxes: Sequence[_Box], size: BoxSize) -> _Box | None:
    """Return the box a bag fits best: one where its deposit lies, then the fullest."""
    fitting = [box for box in boxes if box.has_room(bag.tenths, bag.volume_ml)]
    if not fitting:
        return None
    return max(fitting, key=lambda box: (any(one.deposit == bag.deposit for one in box.bags), _filled(box, size)))
