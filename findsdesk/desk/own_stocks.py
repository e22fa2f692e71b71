"""Label stocks of one's own: measured on a sheet or a roll, kept in the settings folder of this machine, taken away.

The file is small, and nothing of the excavation stands in it; nothing here asks the store.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from findsdesk import places
from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.writing import written_whole
from findsdesk.paper import stocks as shipped
from findsdesk.paper.measured_stocks import MeasuredSheet, faults, measured_roll, measured_sheet, paper_to_cut
from findsdesk.paper.stocks import Kind, LabelStock
from findsdesk.words import N_

__all__ = [
    "AsMeasured",
    "Kind",
    "LabelStock",
    "MeasuredSheet",
    "add_paper_to_cut",
    "add_roll",
    "add_sheet",
    "as_measured",
    "every_stock",
    "own_stocks",
    "pages",
    "take_stock_away",
]


def every_stock() -> dict[str, LabelStock]:
    """Return the stocks that ship and one's own, by name. Refuses ``stocks_unreadable``."""
    return shipped.stocks() | {stock.name: stock for stock in _read().values()}


def own_stocks() -> tuple[LabelStock, ...]:
    """Return the stocks that were measured here, by name. Refuses ``stocks_unreadable``."""
    return tuple(sorted(_read().values(), key=lambda one: folded(one.name)))


def pages() -> dict[str, LabelStock]:
    """Return the sizes of page a sheet of labels comes in, by what they are called."""
    return {paper.page: paper for paper in shipped.plain_paper().values()}


@dataclass(frozen=True, slots=True)
class AsMeasured:
    """A stock as it was measured, to be typed over: lengths in hundredths of a millimetre, by what was asked."""

    name: str
    kind: str
    page: str
    numbers: Mapping[str, int]


def as_measured(name: str) -> AsMeasured:
    """Return what was measured of a stock. Refusals: ``unknown_own_stock``, ``stocks_unreadable``."""
    stock = _own(_read(), name)
    numbers = {
        "columns": stock.columns,
        "rows": stock.rows,
        "width": stock.label_width,
        "height": stock.label_height,
        "left": stock.left,
        "top": stock.top,
        "last_left": stock.left + (stock.columns - 1) * stock.across,
        "last_top": stock.top + (stock.rows - 1) * stock.down,
        "gap": stock.gap,
        "corner": stock.corner,
    }
    return AsMeasured(stock.name, stock.kind, stock.page, numbers)


def add_sheet(name: str, page: str, measured: MeasuredSheet, kind: Kind = "sheet", *, instead: str = "") -> LabelStock:
    """Keep a sheet (or a card to cut) that was measured; lengths in hundredths of a millimetre.

    ``instead`` names the stock that it corrects, which is there no longer.
    Refusals: ``stock_there``, those of what was measured, ``stocks_unreadable``, ``cannot_write``.
    """
    return _keep(measured_sheet(name, page, measured, kind), instead)


def add_roll(name: str, width: int, height: int, gap: int, corner: int = 0, *, instead: str = "") -> LabelStock:
    """Keep a roll of single labels with a gap between them, in hundredths of a millimetre. Refusals: as of a sheet."""
    return _keep(measured_roll(name, width, height, gap, corner), instead)


def add_paper_to_cut(name: str, page: str, width: int, height: int, *, instead: str = "") -> LabelStock:
    """Keep labels of a size, cut out of plain paper at marks, in hundredths of a millimetre.

    Refusals: ``unknown_page``, ``label_larger_than_page`` and those of a sheet.
    """
    known = pages()
    if page not in known:
        text = N_("There is no plain {page}. Choose one of: {known}.")
        raise Refusal("unknown_page", text, page=page, known=", ".join(known))
    return _keep(paper_to_cut(name, known[page], width, height), instead)


def take_stock_away(name: str) -> LabelStock:
    """Forget a stock measured here. Refusals: ``unknown_own_stock``, ``stocks_unreadable``, ``cannot_write``."""
    known = _read()
    gone = _own(known, name)
    _write({key: one for key, one in known.items() if one is not gone})
    return gone


def _own(known: Mapping[str, LabelStock], name: str) -> LabelStock:
    if folded(name) not in known:
        text = N_("No stock {stock} was measured here. Those that were: {known}.")
        raise Refusal(
            "unknown_own_stock", text, stock=name.strip(), known=", ".join(one.name for one in known.values()) or "–"
        )
    return known[folded(name)]


# --- the file -----------------------------------------------------------------------------------------------------


def _file() -> Path:
    return places.settings_folder() / "stocks.json"


def _read() -> dict[str, LabelStock]:
    """Return one's own stocks by folded name; a file that cannot be read is refused, for it would be written over."""
    try:
        said = json.loads(_file().read_text(encoding="utf-8"))
        known = {folded(name): _stock(name, one) for name, one in dict(said).items()}
    except FileNotFoundError:
        return {}
    except (OSError, ValueError, KeyError, TypeError, AttributeError) as fault:
        raise _unreadable() from fault
    if any(faults(stock) for stock in known.values()):
        raise _unreadable()
    return known


def _unreadable() -> Refusal:
    text = N_("The label stocks kept in {file} cannot be read. Move the file away, then measure the stocks again.")
    return Refusal("stocks_unreadable", text, file=str(_file()))


def _stock(name: str, said: Mapping[str, Any]) -> LabelStock:
    lengths = {key: int(value) for key, value in said.items() if key not in ("page", "kind")}
    return LabelStock(name=name, page=str(said["page"]), kind=said["kind"], **lengths)


def _keep(stock: LabelStock, instead: str) -> LabelStock:
    known = _read()
    if instead:
        before = _own(known, instead)
        known = {key: one for key, one in known.items() if one is not before}
    taken = {folded(name) for name in shipped.stocks() | shipped.plain_paper()} | known.keys()
    if folded(stock.name) in taken:
        text = N_("There is a stock {stock} already. Choose another name, or take that one away first.")
        raise Refusal("stock_there", text, stock=stock.name)
    _write(known | {folded(stock.name): stock})
    return stock


def _write(known: Mapping[str, LabelStock]) -> None:
    said = {one.name: {key: value for key, value in asdict(one).items() if key != "name"} for one in known.values()}
    file = _file()
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        text = N_("The folder {folder} cannot be made ({why}). Ask whoever looks after this machine.")
        raise Refusal("cannot_write", text, folder=str(file.parent), why=fault.strerror or "") from fault
    with written_whole(file) as stream:
        stream.write(json.dumps(said, ensure_ascii=False, indent=1).encode())
