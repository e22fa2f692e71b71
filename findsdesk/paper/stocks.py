"""Label stock: the sheets, rolls and cards that labels and lists are printed on, described in resources/stocks/."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import Literal, NamedTuple

from findsdesk import places as data_places
from findsdesk.words import N_, put

Kind = Literal["sheet", "roll", "tags", "cut", "plain"]
"""Labels to peel off a sheet or a roll, a card with tags to cut out, paper with labels to cut out, paper for lists."""

_KINDS: tuple[Kind, ...] = ("sheet", "roll", "tags", "cut", "plain")
_TITLES: dict[Kind, str] = {
    "sheet": N_("{page} sheet, {columns} × {rows} of {width} × {height} mm"),
    "roll": N_("Roll of single labels, {width} × {height} mm"),
    "tags": N_("{page} card to cut, {columns} × {rows} of {width} × {height} mm"),
    "cut": N_("{page} paper to cut, {columns} × {rows} of {width} × {height} mm"),
    "plain": N_("Plain {page}"),
}


class LabelPlace(NamedTuple):
    """Where one label stands on its page: its number from 1, and its left and top edge in hundredths of a mm."""

    number: int
    left: int
    top: int


@dataclass(frozen=True, slots=True)
class LabelStock:
    """One kind of paper; all lengths in hundredths of a millimetre, measured from the page's left and top edge.

    ``left`` and ``top`` are the first label's; ``across`` and ``down`` the steps from one label to the next; ``gap`` is
    the backing between two labels of a roll, ``corner`` the radius of a label's corners.
    """

    name: str
    page: str
    page_width: int
    page_height: int
    columns: int
    rows: int
    label_width: int
    label_height: int
    left: int
    top: int
    across: int
    down: int
    kind: Kind
    gap: int = 0
    corner: int = 0

    @property
    def labels_a_page(self) -> int:
        """Return how many labels one page holds."""
        return self.columns * self.rows

    def in_words(self, language: str | None = None) -> str:
        """Return what a person calls this stock, with its size in millimetres."""
        facts = {
            "page": self.page,
            "columns": self.columns,
            "rows": self.rows,
            "width": millimetres(self.label_width),
            "height": millimetres(self.label_height),
        }
        title = put(_TITLES[self.kind], None, facts, language)
        if not self.gap:
            return title
        return put(N_("{title}, {gap} mm between them"), None, {"title": title, "gap": millimetres(self.gap)}, language)


def millimetres(hundredths: int) -> str:
    """Return a length given in hundredths of a millimetre as millimetres without idle zeros: 6350 is 63.5."""
    return f"{hundredths / 100:.2f}".rstrip("0").rstrip(".")


def places(stock: LabelStock) -> Iterator[LabelPlace]:
    """Yield the places of one page, row by row from the top left, numbered from 1."""
    for row in range(stock.rows):
        for column in range(stock.columns):
            number = row * stock.columns + column + 1
            yield LabelPlace(number, stock.left + column * stock.across, stock.top + row * stock.down)


@cache
def _read_all() -> tuple[LabelStock, ...]:
    folder = data_places.resource("stocks")
    return tuple(_read(path.stem, path.read_text("utf-8")) for path in sorted(folder.glob("*.toml")))


def _read(name: str, text: str) -> LabelStock:
    given = tomllib.loads(text, parse_float=Decimal)
    lengths = ("page_width", "page_height", "label_width", "label_height", "left", "top", "across", "down")
    hundredths = {key: int(given[key] * 100) for key in lengths} | {
        key: int(given.get(key, 0) * 100) for key in ("gap", "corner")
    }
    kind: Kind = next(kind for kind in _KINDS if kind == given["kind"])
    return LabelStock(
        name=name, page=given["page"], columns=given["columns"], rows=given["rows"], kind=kind, **hundredths
    )


def stocks() -> dict[str, LabelStock]:
    """Return the stock that labels and tags are printed on, by name (the file's name without its ending)."""
    return {stock.name: stock for stock in _read_all() if stock.kind != "plain"}


def plain_paper() -> dict[str, LabelStock]:
    """Return the plain paper for lists, by name; its one place is the page inside the margins."""
    return {stock.name: stock for stock in _read_all() if stock.kind == "plain"}
