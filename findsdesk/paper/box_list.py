"""The list of boxes on paper: each with its weight, its place and what lies in it. Plain values in."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from findsdesk.paper.list_kinds import CautionSlip, Column, ListRow, Section, Signature
from findsdesk.paper.page_frame import PageHead
from findsdesk.paper.report_kinds import Part, Report, Table
from findsdesk.words import N_, grouped, plural


@dataclass(frozen=True, slots=True)
class BagInBox:
    """A bag as it lies in a box; tenths of a gram, None where nobody weighed; texts in words."""

    code: str
    deposit: str
    container: str
    material: str
    what: str
    pieces: int
    tenths: int | None


@dataclass(frozen=True, slots=True)
class BoxOnList:
    """A box: number, code, where it stands, its weight and limit in tenths of a gram, and its bags."""

    number: str
    code: str
    place: str
    tenths: int | None
    limit_tenths: int | None
    bags: tuple[BagInBox, ...]


def box_list(
    head: PageHead,
    boxes: Callable[[], Iterable[BoxOnList]],
    caution: CautionSlip | None = None,
    *,
    signed: bool = False,
) -> Report:
    """Return a list of boxes with their bags; ``signed`` adds lines for who hands over and who receives.

    ``boxes`` is called twice, so that a list may be of any length.
    """

    def parts() -> Iterator[Part]:
        if caution is not None:
            yield caution
        columns = (
            Column(head.say(N_("Bag")), 1.3),
            Column(head.say(N_("{Deposit}")), 0.8),
            Column(head.say(N_("{Container}")), 0.8),
            Column(head.say(N_("Material")), 1.2),
            Column(head.say(N_("What")), 1.8),
            Column(head.say(N_("Count")), 0.7, "right"),
            Column(head.say(N_("Grams")), 0.9, "right"),
        )
        yield Table(columns, lambda: _rows(head, boxes()), when_empty=head.say(N_("No box is packed.")))
        if signed:
            yield Signature(head.say(N_("Handed over by")))
            yield Signature(head.say(N_("Received by")))

    return Report(head, parts)


def _rows(head: PageHead, boxes: Iterable[BoxOnList]) -> Iterator[ListRow]:
    for box in boxes:
        title = head.say(N_("Box {number} · {place}"), number=box.number, place=box.place or "–")
        yield Section(f"{title} · {box.code}" if box.code else title, _weight(head, box))
        for bag in box.bags:
            weight = "–" if bag.tenths is None else f"{bag.tenths / 10:,.1f}"
            yield (bag.code, bag.deposit, bag.container, bag.material, bag.what, grouped(bag.pieces), weight)
        if not box.bags:
            yield (head.say(N_("empty")), "", "", "", "", "", "")


def _weight(head: PageHead, box: BoxOnList) -> str:
    pieces = plural("{n} piece", "{n} pieces", sum(bag.pieces for bag in box.bags), head.language)
    if box.tenths is None:
        return pieces
    kilos = f"{box.tenths / 10_000:.1f}"
    if box.limit_tenths is None:
        return f"{pieces} · {kilos} kg"
    weight = head.say(N_("{kilos} of {limit} kg"), kilos=kilos, limit=f"{box.limit_tenths / 10_000:g}")
    return f"{pieces} · {weight}"
