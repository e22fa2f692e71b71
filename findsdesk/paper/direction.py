"""Which way each part of a text runs, after the Unicode bidirectional algorithm (UAX #9), for one line.

All its rules but the embeddings and overrides of old (LRE, RLE, LRO, RLO, PDF), which are passed over: isolates do
their work. Letters of level 0, 2, … run to the right, of level 1, 3, … to the left.
"""

from __future__ import annotations

import re
import unicodedata
from itertools import pairwise
from typing import NamedTuple

RIGHT_TO_LEFT_MARK, LEFT_TO_RIGHT_MARK = "\u200f", "\u200e"
_FIRST_STRONG_ISOLATE, _END_OF_ISOLATE = "\u2068", "\u2069"
_RUNNING_LEFT = re.compile("[\u0590-\u08ff\u200f\ufb1d-\ufdff\ufe70-\ufefc\U00010800-\U00010fff]")

_STARTS = ("LRI", "RLI", "FSI")
_PASSED_OVER = ("BN", "LRE", "RLE", "LRO", "RLO", "PDF")
_NEUTRAL = ("B", "S", "WS", "ON", "LRI", "RLI", "FSI", "PDI")
_NUMBERS = ("EN", "AN")
_PAIRS = "()[]{}\u2045\u2046\u207d\u207e\u208d\u208e" + "".join(
    map(chr, [*range(0x2768, 0x2776), *range(0x27E6, 0x27F0)])
)
_PAIRS += "\u2308\u2309\u230a\u230b\u3008\u3009\u300a\u300b\u300c\u300d\u300e\u300f\u3010\u3011"
_SAME = str.maketrans("\u2329\u232a", "\u3008\u3009")  # canonical equivalents count as one bracket
_CLOSES = dict(zip(_PAIRS[::2], _PAIRS[1::2], strict=True))
_MOST_OPEN = 63


class Stretch(NamedTuple):
    """Characters of one level that stand together, from ``start`` up to but not including ``end``."""

    start: int
    end: int
    level: int


def levels_of(text: str, base: int | None = None, otherwise: int = 0) -> list[int]:
    """Return the level of each character of a line.

    ``base`` is the line's own level, else that of its first strong letter; ``otherwise`` is it where there is none.
    """
    types = [unicodedata.bidirectional(letter) or "L" for letter in text]
    if base is None:
        base = _first_strong(types, range(len(types)), otherwise)
    levels = [base] * len(text)
    _resolve(text.translate(_SAME), types, list(range(len(text))), base, levels)
    for place in reversed(range(len(text))):  # L1: blanks at the end of the line
        if types[place] not in ("WS", "S", "B", "LRI", "RLI", "FSI", "PDI", *_PASSED_OVER):
            break
        levels[place] = base
    return [base if kind in "SB" else level for kind, level in zip(types, levels, strict=True)]


def visual_stretches(text: str, otherwise: int = 0) -> list[Stretch]:
    """Return the stretches of a line as they stand from left to right (rule L2)."""
    levels = levels_of(text, None, otherwise)
    edges = [0, *(place for place, (one, two) in enumerate(pairwise(levels), 1) if one != two), len(text)]
    stretches = [Stretch(start, end, levels[start]) for start, end in pairwise(edges) if start < end]
    for level in range(max(levels, default=0), 0, -1):
        stretches = _turned(stretches, level)
    return stretches


def runs_left(text: str) -> bool:
    """Tell whether the first strong letter of a text is of a script written from right to left."""
    return direction_mark(text) == RIGHT_TO_LEFT_MARK


def direction_mark(text: str) -> str:
    """Return the invisible mark that keeps a part of a text in the whole text's direction; "" where all runs right."""
    if text.isascii() or not _RUNNING_LEFT.search(text):
        return ""
    types = [unicodedata.bidirectional(letter) or "L" for letter in text]
    return RIGHT_TO_LEFT_MARK if _first_strong(types, range(len(types)), 0) else LEFT_TO_RIGHT_MARK


def isolated(text: str) -> str:
    """Return a text that runs as it does alone, whatever stands beside it."""
    return f"{_FIRST_STRONG_ISOLATE}{text}{_END_OF_ISOLATE}"


def _turned(stretches: list[Stretch], level: int) -> list[Stretch]:
    out: list[Stretch] = []
    held: list[Stretch] = []
    for stretch in stretches:
        if stretch.level >= level:
            held.append(stretch)
            continue
        out += [*reversed(held), stretch]
        held = []
    return out + held[::-1]


def _first_strong(types: list[str], places: range, otherwise: int) -> int:
    depth = 0
    for place in places:
        kind = types[place]
        if kind in _STARTS:
            depth += 1
        elif kind == "PDI":
            depth = max(0, depth - 1)
        elif not depth and kind in ("L", "R", "AL"):
            return int(kind != "L")
    return otherwise


def _resolve(text: str, types: list[str], places: list[int], level: int, levels: list[int]) -> None:
    """Give levels to the characters at ``places``, which lie at one depth of isolation with those inside them."""
    outer: list[int] = []
    at = 0
    while at < len(places):
        place = places[at]
        outer.append(place)
        at += 1
        if types[place] in _STARTS:
            end = _end_of_isolate(types, places, at)
            inside = places[at:end]
            _resolve(text, types, inside, _inner_level(types, place, inside, level), levels)
            at = end
    counted = [place for place in outer if types[place] not in _PASSED_OVER]
    kinds = [types[place] for place in counted]
    side = "R" if level % 2 else "L"
    _weak(kinds, side)
    _brackets([text[place] for place in counted], [types[place] for place in counted], kinds, side)
    _neutral(kinds, side)
    for place, kind in zip(counted, kinds, strict=True):
        levels[place] = _implicit(level, kind)
    for before, place in pairwise(outer):
        if types[place] in _PASSED_OVER:
            levels[place] = levels[before]


def _end_of_isolate(types: list[str], places: list[int], at: int) -> int:
    depth = 1
    for end in range(at, len(places)):
        depth += (types[places[end]] in _STARTS) - (types[places[end]] == "PDI")
        if not depth:
            return end
    return len(places)


def _inner_level(types: list[str], start: int, inside: list[int], level: int) -> int:
    kind = types[start]
    odd = kind == "RLI"
    if kind == "FSI":
        odd = bool(inside) and _first_strong(types, range(inside[0], inside[-1] + 1), 0) == 1
    return level + 1 if level % 2 != odd else level + 2


def _weak(kinds: list[str], side: str) -> None:
    """Apply W1 to W7 in place."""
    before = side
    for place, kind in enumerate(kinds):  # W1
        if kind == "NSM":
            kinds[place] = "ON" if before in (*_STARTS, "PDI") else before
        before = kinds[place]
    strong = side
    for place, kind in enumerate(kinds):  # W2, W3
        if kind in ("L", "R", "AL"):
            strong = kind
            kinds[place] = "R" if kind == "AL" else kind
        elif kind == "EN" and strong == "AL":
            kinds[place] = "AN"
    for place in range(1, len(kinds) - 1):  # W4
        before, kind, after = kinds[place - 1 : place + 2]
        if before == after and kind in {"EN": ("ES", "CS"), "AN": ("CS",)}.get(before, ()):
            kinds[place] = before
    _terminators(kinds)
    strong = side
    for place, kind in enumerate(kinds):  # W7
        if kind in ("L", "R"):
            strong = kind
        elif kind == "EN" and strong == "L":
            kinds[place] = "L"


def _terminators(kinds: list[str]) -> None:
    """Apply W5 and W6: signs beside figures go with them, all other separators are neutral."""
    place = 0
    while place < len(kinds):
        end = place
        while end < len(kinds) and kinds[end] == "ET":
            end += 1
        beside = "EN" in (*kinds[max(0, place - 1) : place], *kinds[end : end + 1])
        kinds[place:end] = ["EN" if beside else "ON"] * (end - place)
        place = max(end, place + 1)
    kinds[:] = ["ON" if kind in ("ES", "CS") else kind for kind in kinds]


def _brackets(letters: list[str], given: list[str], kinds: list[str], side: str) -> None:
    """Apply N0: a pair of brackets runs as what it encloses or follows."""
    for opening, closing in _pairs(letters, kinds):
        inside = {_strong(kind) for kind in kinds[opening + 1 : closing]} - {""}
        if not inside:
            continue
        way = side
        if side not in inside:
            before = next((_strong(kind) for kind in reversed(kinds[:opening]) if _strong(kind)), side)
            way = before if before in inside else side
        for place in (opening, closing):
            kinds[place] = way
            after = place + 1
            while after < len(kinds) and given[after] == "NSM":
                kinds[after] = way
                after += 1


def _pairs(letters: list[str], kinds: list[str]) -> list[tuple[int, int]]:
    waiting: list[tuple[str, int]] = []
    found = []
    for place, (letter, kind) in enumerate(zip(letters, kinds, strict=True)):
        if kind != "ON":
            continue
        if letter in _CLOSES:
            if len(waiting) == _MOST_OPEN:
                return []
            waiting.append((_CLOSES[letter], place))
        depth = next((depth for depth in reversed(range(len(waiting))) if waiting[depth][0] == letter), None)
        if depth is not None:
            found.append((waiting[depth][1], place))
            del waiting[depth:]
    return sorted(found)


def _strong(kind: str) -> str:
    if kind in ("R", *_NUMBERS):
        return "R"
    return "L" if kind == "L" else ""


def _neutral(kinds: list[str], side: str) -> None:
    """Apply N1 and N2: what lies between two of one way runs that way, else as the line does."""
    place = 0
    while place < len(kinds):
        end = place
        while end < len(kinds) and kinds[end] in _NEUTRAL:
            end += 1
        before = _strong(kinds[place - 1]) if place else side
        after = _strong(kinds[end]) if end < len(kinds) else side
        kinds[place:end] = [before if before == after else side] * (end - place)
        place = max(end, place + 1)


def _implicit(level: int, kind: str) -> int:
    """Apply I1 and I2."""
    if level % 2:
        return level + (kind != "R")
    return level + {"L": 0, "R": 1}.get(kind, 2)
