"""Laying labels out on a stock, looking at the very pages that are printed, and reading them back.

``lay_out``, ``preview_page`` and ``read_back`` ask no store: they may run beside other work.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from findsdesk.desk.desk import Desk
from findsdesk.desk.label_batches import bag_labels, field_tags, wash_tags
from findsdesk.desk.label_contents import KIND_IN_WORDS, LabelBatch, PrintKind
from findsdesk.desk.label_gathering import gather_again
from findsdesk.desk.own_stocks import every_stock, own_stocks
from findsdesk.desk.printers import printer_named
from findsdesk.desk.shipped import vocabulary
from findsdesk.domain.codes import Kind, could_be_code, read_code
from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.paper import labels as label_sheets
from findsdesk.paper import reading_back
from findsdesk.paper import stocks as paper_stocks
from findsdesk.paper.dots import COMMON_DPI
from findsdesk.paper.sheet_marks import proof_sheet
from findsdesk.words import N_, put

MOST_COPIES = 20


@dataclass(frozen=True, slots=True)
class StockPlace:
    """Where one label lies on its page: number from 1, left and top edge in hundredths of a millimetre."""

    number: int
    left: int
    top: int


@dataclass(frozen=True, slots=True)
class StockFacts:
    """A stock of labels, with what a picture of its sheet needs; lengths in hundredths of a millimetre."""

    name: str
    title: str
    kind: str
    page_width: int
    page_height: int
    label_width: int
    label_height: int
    places: tuple[StockPlace, ...]
    own: bool = False
    """Whether it was measured here, and can be taken away."""


@dataclass(frozen=True, slots=True)
class PlacedLabel:
    """A label on its sheet: the code in its symbols, page and place from 1, which copy, what it stands for."""

    code: str
    page: int
    place: int
    copy: int
    container_id: int | None
    bag_id: int | None


@dataclass(frozen=True, slots=True)
class Sheets:
    """Printed sheets before anybody said that they came out well: the very PDF, and where each label is."""

    kind: PrintKind
    stock: str
    pdf: bytes
    pages: int
    placed: tuple[PlacedLabel, ...]
    reason: str
    head: str
    made_at: datetime
    says: Mapping[int, tuple[str, ...]] = field(default_factory=dict)
    """What stands on the papers of each container, by its id; wash tags say nothing that is asked for again."""
    boxes_say: Mapping[str, str] = field(default_factory=dict)
    """What the label of each box says, by its code."""
    dpi: int = COMMON_DPI
    """Dots an inch of the printer they were drawn for."""
    page_mm: tuple[float, float] = (210.0, 297.0)
    """Width and height of a page."""

    @property
    def codes(self) -> tuple[str, ...]:
        """Return the codes in the order in which they stand on the sheets."""
        return tuple(one.code for one in self.placed)


@dataclass(frozen=True, slots=True)
class ReadBack:
    """What a decoder that drew nothing read: 52 of 52; ``missing`` was not read, ``strange`` was not meant."""

    read: int
    of: int
    missing: tuple[str, ...]
    strange: tuple[str, ...]
    dpi: int = COMMON_DPI
    """Dots an inch of the printer whose print was read."""

    @property
    def all_well(self) -> bool:
        """Tell whether every label was read where it stands, and nothing else."""
        return self.read == self.of and not self.strange


def shipped_stocks(language: str | None = None) -> tuple[StockFacts, ...]:
    """Return the stocks that ship, for where one's own cannot be read."""
    return tuple(_stock_facts(stock, language, False) for stock in paper_stocks.stocks().values())


def stocks(language: str | None = None) -> tuple[StockFacts, ...]:
    """Return the stocks there are, with their titles in words: those that ship, then one's own.

    Refuses ``stocks_unreadable``.
    """
    own = {stock.name for stock in own_stocks()}
    return tuple(_stock_facts(stock, language, stock.name in own) for stock in every_stock().values())


def _stock_facts(stock: paper_stocks.LabelStock, language: str | None, own: bool) -> StockFacts:
    words = stock.in_words(language)
    return StockFacts(
        name=stock.name,
        title=f"{stock.name}: {words}" if own else words,
        own=own,
        kind=stock.kind,
        page_width=stock.page_width,
        page_height=stock.page_height,
        label_width=stock.label_width,
        label_height=stock.label_height,
        places=tuple(StockPlace(place.number, place.left, place.top) for place in paper_stocks.places(stock)),
    )


def stock_named(name: str) -> paper_stocks.LabelStock:
    """Return a stock that ships or was measured here; refuses ``unknown_stock``."""
    known = every_stock()
    if name not in known:
        raise Refusal(
            "unknown_stock",
            N_("There is no label stock {stock}. The stocks: {known}."),
            stock=name,
            known=", ".join(known),
        )
    return known[name]


def frames_of(stock: str, *, moment: datetime, language: str = "en") -> bytes:
    """Return the frames of a stock's labels as PDF, to be printed on plain paper and held against the sheet."""
    return proof_sheet(stock_named(stock), moment=moment, language=language)


# --- laying out ---------------------------------------------------------------------------------------------------


def lay_out(
    desk: Desk,
    batch: LabelBatch,
    *,
    stock: str,
    first_place: int = 1,
    used_places: Collection[int] = frozenset(),
    printer: str = "",
    copies: int = 1,
) -> Sheets:
    """Draw gathered labels; on the first sheet ``first_place`` is the first free one, ``used_places`` are gone.

    A ``printer`` that was met is met on every page; without its name it is taken as it is. ``copies`` of each label
    stand side by side, asked for at once and so all the same copy. Writes nothing. Refusals: ``unknown_stock``,
    ``nothing_to_print``, ``no_such_copies``, ``unknown_printer``, and those of the paper.
    """
    if not 1 <= copies <= MOST_COPIES:
        text = N_("Each label is printed 1 to {most} times, not {copies}. Type another number.")
        raise Refusal("no_such_copies", text, most=MOST_COPIES, copies=copies)
    its_stock, its_printer = stock_named(stock), printer_named(printer)
    if not batch.labels:
        raise Refusal("nothing_to_print", N_("There is nothing to print: nothing waits for a label of this kind."))
    facts = desk.facts
    made_at = desk.now().astimezone(facts.zone)
    language = facts.settings.paper_language
    labels = [one for one in batch.labels for _copy in range(copies)]
    drawn = label_sheets.lay_out(
        [one.label for one in labels],
        its_stock,
        moment=made_at,
        title=f"{put(KIND_IN_WORDS[batch.kind], facts.terms, None, language)}, {facts.name}",
        first_place=first_place,
        used_places=used_places,
        calibration=its_printer.calibration,
        language=language,
        terms=facts.terms,
        dpi=its_printer.dpi,
        layout=batch.layout,
    )
    placed = tuple(
        PlacedLabel(at.code, at.page, at.place, one.copy, one.container_id, one.bag_id)
        for at, one in zip(drawn.placed, labels, strict=True)
    )
    return Sheets(
        batch.kind,
        stock,
        drawn.pdf,
        drawn.pages,
        placed,
        batch.reason,
        batch.head,
        made_at,
        batch.says,
        batch.boxes_say,
        its_printer.dpi,
        (its_stock.page_width / 100, its_stock.page_height / 100),
    )


def lay_out_bag_labels(
    desk: Desk,
    codes: Iterable[str] | None = None,
    *,
    stock: str,
    first_place: int = 1,
    used_places: Collection[int] = frozenset(),
    printer: str = "",
) -> Sheets:
    """Gather and draw the labels of bags; None means all without one, by deposit and container."""
    return lay_out(
        desk, bag_labels(desk, codes), stock=stock, first_place=first_place, used_places=used_places, printer=printer
    )


def lay_out_field_tags(
    desk: Desk,
    codes: Iterable[str] | None = None,
    *,
    stock: str,
    first_place: int = 1,
    used_places: Collection[int] = frozenset(),
    printer: str = "",
) -> Sheets:
    """Gather and draw tags for the trench; None means all that were never printed."""
    return lay_out(
        desk, field_tags(desk, codes), stock=stock, first_place=first_place, used_places=used_places, printer=printer
    )


def lay_out_wash_tags(
    desk: Desk,
    codes: Iterable[str] | None = None,
    *,
    stock: str,
    first_place: int = 1,
    used_places: Collection[int] = frozenset(),
    printer: str = "",
) -> Sheets:
    """Gather and draw the tags that lie in the trays; None means all whose newest count has none yet."""
    return lay_out(
        desk, wash_tags(desk, codes), stock=stock, first_place=first_place, used_places=used_places, printer=printer
    )


def reprint(
    desk: Desk,
    codes: Iterable[str],
    *,
    reason: str,
    stock: str,
    kind: PrintKind | None = None,
    first_place: int = 1,
    used_places: Collection[int] = frozenset(),
    printer: str = "",
) -> Sheets:
    """Draw labels again as copy 2 (or more), found from the code on the damaged ones; a reason is written with them.

    What was never written as printed, spoiled or not, comes as copy 1: it is the first.
    Without ``kind`` a bag's code means its label, a container's its tag. Writes nothing until they came out well.
    Refusals: ``unknown_reason``, ``mixed_labels``, those of finding and laying out.
    """
    wanted = tuple(codes)
    its_reason = reprint_reason(reason)
    its_kind = kind or _kind_of(desk, wanted)
    batch = gather_again(desk, its_kind, wanted, its_reason)
    return lay_out(desk, batch, stock=stock, first_place=first_place, used_places=used_places, printer=printer)


def reprint_reason(said: str) -> str:
    """Return the key of a reason for a reprint; refuses ``unknown_reason``."""
    wanted = folded(said)
    reasons = vocabulary("reprint_reasons")
    for term in reasons:
        if wanted in (folded(term.key), folded(term.name)):
            return term.key
    raise Refusal(
        "unknown_reason",
        N_("“{said}” is no reason for a reprint. The reasons: {known}."),
        said=said.strip(),
        known=", ".join(term.key for term in reasons),
    )


_PRINTED_FOR = {
    Kind.BAG: PrintKind.BAG,
    Kind.PIECE: PrintKind.PIECE,
    Kind.BOX: PrintKind.BOX,
    Kind.PLACE: PrintKind.PLACE,
    Kind.LOAN: PrintKind.LOAN,
}


def _kind_of(desk: Desk, codes: Sequence[str]) -> PrintKind:
    kinds = {
        _PRINTED_FOR.get(read_code(code, desk.facts.code).kind, PrintKind.TAG) if could_be_code(code) else PrintKind.TAG
        for code in codes
    }
    if len(kinds) > 1:
        raise Refusal("mixed_labels", N_("Bag labels and tags are printed apart. Choose one kind first."))
    return kinds.pop() if kinds else PrintKind.BAG


# --- looking and reading back -------------------------------------------------------------------------------------


def preview_page(sheets: Sheets, page: int, width: int) -> bytes:
    """Return a page (from 1) of the very PDF that is printed, as a PNG ``width`` pixels wide."""
    return reading_back.page_image(sheets.pdf, page, width)


def dots_of_page(sheets: Sheets, page: int, dpi: int) -> bytes:
    """Return a page (from 1) of the very PDF in black and white dots, as a PNG, for ``dpi`` dots an inch."""
    return reading_back.page_dots(sheets.pdf, page, dpi)


def read_back(sheets: Sheets) -> ReadBack:
    """Read every symbol on the sheets as their printer sets it and compare with what each page should say."""
    found = set(reading_back.read_back(sheets.pdf, sheets.dpi))
    meant = {(one.page, one.code) for one in sheets.placed}
    missing = tuple(one.code for one in sheets.placed if (one.page, one.code) not in found)
    strange = tuple(sorted(code for page, code in found - meant))
    return ReadBack(len(sheets.placed) - len(missing), len(sheets.placed), missing, strange, sheets.dpi)
