"""The fields that can stand on each kind of label: what each says, what it is called, whether it may be cut.

No formulas: a field is one of these, and what it says is fixed.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any

from findsdesk.paper.label_kinds import LabelKind
from findsdesk.paper.label_words import BETWEEN, Wording, days, grams
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class LabelField:
    """One field of a kind of label.

    ``title`` is its message key, also the caption over a number or a box; ``typical`` is how many characters it
    usually has; ``words`` may be cut where there is no room, numbers and dates never. Lines of what it ``says`` are
    parted by line breaks. A ``unit`` stands after the value in a line of words, and in the caption over a number.
    ``left_out`` says of one line, and of several, that they find no room; ``heads`` of its lines are no such lines.
    """

    name: str
    title: str
    says: Callable[[Any, Wording], str]
    typical: int
    words: bool = False
    unit: str = ""
    left_out: tuple[str, str] = (N_("and {n} more"), N_("and {n} more"))
    heads: int = 0

    def rest(self, n: int, lines: int, wording: Wording) -> str:
        """Return in words that n of so many lines of the field find no room."""
        left = min(n, lines - self.heads)
        return wording.say(self.left_out[left > 1], n=left)

    def in_a_line(self, said: str) -> str:
        """Return what the field says as it stands among words: on one line, with its unit."""
        line = said.replace("\n", BETWEEN)
        return f"{line} {self.unit}" if self.unit and line else line


def _site(label: Any, _wording: Wording) -> str:
    return f"{label.site} {label.season}".strip()


def _finds(label: Any, _wording: Wording) -> str:
    return ", ".join(part for part in (label.material, label.what) if part)


def _pieces(label: Any, wording: Wording) -> str:
    return "" if label.pieces is None else wording.pieces(label.pieces)


def _weight(label: Any, _wording: Wording) -> str:
    return "" if label.tenths is None else grams(label.tenths)


def _kilograms(label: Any, _wording: Wording) -> str:
    return "" if label.tenths is None else f"{label.tenths / 10_000:.1f}"


def _day(label: Any, _wording: Wording) -> str:
    return days(label.collected_on, getattr(label, "collected_until", None))


def _washed(label: Any, wording: Wording) -> str:
    return f"{wording.say(N_('washed'))}\n{label.washed_on.isoformat()}" if label.washed_on else ""


def _plain(name: str) -> Callable[[Any, Wording], str]:
    def says(label: Any, _wording: Wording) -> str:
        value = getattr(label, name)
        return "" if value is None else str(value)

    return says


def _lines(name: str, between: str = "\n") -> Callable[[Any, Wording], str]:
    def says(label: Any, _wording: Wording) -> str:
        return between.join(getattr(label, name))

    return says


def _contents(label: Any, wording: Wording) -> str:
    """Return what lies in a box, a line for each deposit, with a line before them that says what the numbers are."""
    if not label.contents:
        return ""
    bags = any("(" in line for line in label.contents)
    head = N_("{Deposit}: {containers} (bags)") if bags else N_("{Deposit}: {containers}")
    return "\n".join((wording.say(head), *label.contents))


def _piece_name(label: Any, _wording: Wording) -> str:
    return f"{label.container}.{label.piece}"


def _date(name: str) -> Callable[[Any, Wording], str]:
    def says(label: Any, _wording: Wording) -> str:
        return days(getattr(label, name))

    return says


_DEPOSIT = LabelField("deposit", N_("{deposit}"), _plain("deposit"), 5)
_CONTAINER = LabelField("container", N_("{container}"), _plain("container"), 4)
_SQUARE = LabelField("square", N_("{square}"), _plain("square"), 3, words=True)
_SITE = LabelField("site", N_("site and season"), _site, 17, words=True)
_PERMIT = LabelField("permit", N_("permit"), _plain("permit"), 9)
_MATERIAL = LabelField("material", N_("material"), _plain("material"), 9, words=True)
_DAY = LabelField("day", N_("date"), _day, 10)
_MARK = LabelField("mark", N_("mark"), _lines("mark_lines"), 10)
_WEIGHT = LabelField("weight", N_("weight"), _weight, 8)

_OF_BAG = (
    _DEPOSIT,
    _CONTAINER,
    LabelField("finds", N_("material and kind"), _finds, 22, words=True),
    _MATERIAL,
    LabelField("what", N_("kind"), _plain("what"), 12, words=True),
    LabelField("pieces", N_("pieces"), _pieces, 10),
    _WEIGHT,
    _SQUARE,
    _DAY,
    _SITE,
    _PERMIT,
    _MARK,
)
_OF_TAG = (
    _CONTAINER,
    _DEPOSIT,
    _SQUARE,
    _DAY,
    LabelField("supervisor", N_("supervisor"), _plain("supervisor"), 12, words=True),
    _MATERIAL,
    _SITE,
    _PERMIT,
)
_OF_WASH = (
    _DEPOSIT,
    _CONTAINER,
    LabelField("pieces", N_("pieces washed"), _plain("pieces"), 4),
    LabelField("tray", N_("tray"), _plain("tray"), 3),
    LabelField("washed", N_("washed"), _washed, 10),
    _MATERIAL,
    _SQUARE,
    _SITE,
)
_OF_PIECE = (
    LabelField("piece", N_("piece"), _plain("piece"), 3),
    LabelField("name", N_("name of the piece"), _piece_name, 7),
    _DEPOSIT,
    _CONTAINER,
    LabelField("what", N_("ware, part, form"), _plain("what"), 24, words=True),
    _SQUARE,
    _SITE,
    _PERMIT,
    _MARK,
)
_OF_BOX = (
    LabelField("box", N_("box"), _plain("number"), 3),
    _MATERIAL,
    LabelField(
        "contents",
        N_("contents"),
        _contents,
        60,
        words=True,
        left_out=(N_("{n} {deposit} not named, see its list"), N_("{n} {deposits} not named, see its list")),
        heads=1,
    ),
    LabelField("weight", N_("weight"), _kilograms, 7, unit="kg"),
    LabelField("caution", N_("caution"), _plain("caution"), 30, words=True),
    _SITE,
    _PERMIT,
)
_OF_PLACE = (
    LabelField("place", N_("place"), _plain("name"), 8),
    LabelField("path", N_("where it is"), _lines("path", " › "), 24, words=True),
)
_OF_LOAN = (
    LabelField("to", N_("lent to"), _plain("to_whom"), 24, words=True),
    LabelField("purpose", N_("purpose"), _plain("purpose"), 20, words=True),
    LabelField("since", N_("since"), _date("since"), 10),
    LabelField("due", N_("due back"), _date("due"), 10),
    LabelField("pieces", N_("pieces"), _pieces, 10),
)

_FIELDS: dict[LabelKind, dict[str, LabelField]] = {
    kind: {field.name: field for field in fields}
    for kind, fields in (
        (LabelKind.BAG, _OF_BAG),
        (LabelKind.SLIP, _OF_BAG),
        (LabelKind.TAG, _OF_TAG),
        (LabelKind.WASH, _OF_WASH),
        (LabelKind.PIECE, _OF_PIECE),
        (LabelKind.BOX, _OF_BOX),
        (LabelKind.PLACE, _OF_PLACE),
        (LabelKind.LOAN, _OF_LOAN),
    )
}


def fields_of(kind: LabelKind) -> dict[str, LabelField]:
    """Return the fields that a kind of label has, by name."""
    return _FIELDS[kind]


@cache
def caption(wording: Wording, field: LabelField) -> str:
    """Return what a field is called, in words of the paper, with its unit."""
    title = wording.say(field.title)
    return f"{title}, {field.unit}" if field.unit else title
