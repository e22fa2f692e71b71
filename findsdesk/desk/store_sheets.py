"""Papers of the store: the box list, the forms of a loan, the list of a transport, the list of what is missing."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.boxes import BoxFacts, every_box
from findsdesk.desk.boxing import BagInBox, all_with_bags, bags_in_box
from findsdesk.desk.desk import Desk
from findsdesk.desk.finding_shelves import box_of
from findsdesk.desk.loan_rows import LoanFacts, LoanLineFacts
from findsdesk.desk.loans import loan_named
from findsdesk.desk.missing_things import missing_things
from findsdesk.desk.sheets import A4, PrintedList, Wording, printed
from findsdesk.desk.transport_rows import Carried, TransportList
from findsdesk.desk.transports import transport_list
from findsdesk.desk.whole_papers import Asked, caution_slip, material_in_words, page_head, print_parts
from findsdesk.domain.bags import BAG_IN_WORDS
from findsdesk.domain.cautions import At
from findsdesk.domain.lending import BORROWER_IN_WORDS
from findsdesk.paper import box_list as box_paper
from findsdesk.paper.list_kinds import Column, Signature
from findsdesk.paper.loan_form import LoanOnPaper, ThingOnLoan, loan_form, return_form
from findsdesk.store.models import Bag
from findsdesk.words import N_, grouped


def box_sheet(desk: Desk, asked: Asked, *, boxes: Sequence[str] = (), signed: bool = False) -> PrintedList:
    """Return the list of boxes with their bags as PDF, of all in use or of those named; ``signed`` to be handed over.

    Refusals: ``unknown_paper``, those of finding a box.
    """
    say = Wording(desk)
    rows = _named(desk, say, boxes) if boxes else _all(desk, say)
    head = page_head(say, title=say(N_("Box list")))
    report = box_paper.box_list(head, lambda: rows, caution_slip(say, At.CARRY), signed=signed)
    return print_parts(report, rows=len(rows), asked=asked)


def _named(desk: Desk, say: Wording, boxes: Sequence[str]) -> list[box_paper.BoxOnList]:
    """Return the boxes named with their bags, as they stand at one moment."""
    with desk.reading() as reading:
        ids = list(dict.fromkeys(box_of(reading.session, desk, one).id for one in boxes))
        return [_box(say, one.box, one.bags) for one in all_with_bags(reading.session, ids)]


def _all(desk: Desk, say: Wording) -> list[box_paper.BoxOnList]:
    """Return all boxes in use with their bags, as they stand at one moment."""
    with desk.reading() as reading:
        bags = _bags_by_box(reading.session)
        return [_box(say, one, bags.get(one.id, ())) for one in every_box(reading.session)]


def _bags_by_box(session: Session) -> dict[int, list[BagInBox]]:
    boxes: dict[int, int | None] = dict(
        session.execute(select(Bag.id, Bag.box_id).where(Bag.box_id.is_not(None), Bag.pieces > 0)).all()
    )
    lying: dict[int, list[BagInBox]] = {}
    for one in bags_in_box(session, list(boxes)):
        box = boxes[one.bag.id]
        if box is not None:
            lying.setdefault(box, []).append(one)
    return lying


def _box(say: Wording, box: BoxFacts, bags: Sequence[BagInBox]) -> box_paper.BoxOnList:
    return box_paper.BoxOnList(
        number=str(box.number),
        code=box.code,
        place=box.place,
        tenths=None if box.unweighed else box.tenths,
        limit_tenths=box.limit_tenths,
        bags=tuple(_bag(say, one) for one in bags),
    )


def _bag(say: Wording, one: BagInBox) -> box_paper.BagInBox:
    what = BAG_IN_WORDS.get(one.bag.what, one.bag.what)
    return box_paper.BagInBox(
        code=one.bag.code,
        deposit=one.bag.deposit,
        container=one.bag.number,
        material=material_in_words(one.bag.material, say),
        what=say(what) if what else "",
        pieces=one.bag.pieces,
        tenths=one.tenths,
    )


def loan_sheet(desk: Desk, loan: str, *, coming_back: bool = False, paper: str = A4) -> PrintedList:
    """Return the form that goes with a loan, or the one on which it comes back, as PDF with lines to sign.

    Refusals: ``unknown_loan``, ``unknown_paper``.
    """
    say, facts = Wording(desk), loan_named(desk, loan)
    title = N_("Return of loan {number}") if coming_back else N_("Loan {number}")
    head = page_head(say, title=say(title, number=facts.number), permit=facts.permit or None)
    on_paper = _loan(say, facts)
    make = return_form if coming_back else loan_form
    report = make(head, on_paper, caution_slip(say, At.CARRY))
    return print_parts(report, rows=len(on_paper.things), asked=Asked(paper=paper))


def _loan(say: Wording, facts: LoanFacts) -> LoanOnPaper:
    return LoanOnPaper(
        number=f"{facts.number} · {facts.code}",
        to=f"{facts.borrower} ({say(BORROWER_IN_WORDS[facts.kind])})",
        address=facts.address,
        purpose=facts.purpose,
        since=facts.lent_on,
        due=facts.due_on,
        permit=facts.permit,
        things=tuple(_thing(say, one) for one in facts.lines),
    )


def _thing(say: Wording, line: LoanLineFacts) -> ThingOnLoan:
    material = material_in_words(line.material, say) if line.material else ""
    named = "" if line.name == line.code else line.name
    return ThingOnLoan(
        code=line.code,
        deposit=line.deposit,
        container=line.container,
        what=" · ".join(part for part in (named, material) if part),
        pieces=line.pieces,
        tenths=line.tenths,
        condition=line.condition_out,
        back=line.pieces_back + line.pieces_used,
    )


def transport_sheet(desk: Desk, transport: int, *, paper: str = A4) -> PrintedList:
    """Return the list that goes with a transport as PDF: each box to be ticked where it leaves and where it arrives.

    Refusals: ``unknown_transport``, ``unknown_paper``.
    """
    say, whole = Wording(desk), transport_list(desk, transport)
    return printed(
        say,
        paper,
        title=say(N_("Transport {number}"), number=whole.number),
        filter_words=say(N_("To {place}"), place=whole.to),
        columns=(
            Column(say(N_("Box")), 0.6),
            Column(say(N_("Code")), 1.4),
            Column(say(N_("Stood at")), 2.6),
            Column(say(N_("Bags")), 0.6, "right"),
            Column(say(N_("Count")), 0.8, "right"),
            Column(say(N_("Kilograms")), 0.9, "right"),
            Column(say(N_("Left")), 0.9),
            Column(say(N_("Arrived")), 1.3),
        ),
        rows=tuple(_carried(say, one) for one in whole.things),
        totals=_sums(say, whole),
        when_empty=say(N_("Nothing moves.")),
        intro=tuple(_intro(say, whole)),
        caution=caution_slip(say, At.CARRY),
        signatures=(Signature(say(N_("Sent by")), whole.person), Signature(say(N_("Received by")))),
    )


def _carried(say: Wording, one: Carried) -> tuple[str, ...]:
    return (
        "" if one.number is None else str(one.number),
        one.code,
        one.stood,
        grouped(one.bags),
        grouped(one.pieces),
        f"{one.tenths / 10_000:.1f}",
        say(N_("scanned")) if one.checked_out else "",
        say.moment(one.arrived_at) if one.arrived_at is not None else "",
    )


def _sums(say: Wording, whole: TransportList) -> tuple[str, ...]:
    bags, pieces = sum(one.bags for one in whole.things), sum(one.pieces for one in whole.things)
    return (say(N_("Total")), "", "", grouped(bags), grouped(pieces), f"{whole.tenths / 10_000:.1f}", "", "")


def _intro(say: Wording, whole: TransportList) -> list[str]:
    left = say(N_("Left {moment}, sent by {person}."), moment=say.moment(whole.left_at), person=whole.person or "–")
    moved = say(N_("The whole of {place} moves."), place=whole.moved_place) if whole.moved_place else ""
    return [line for line in (left, moved, whole.note) if line]


def missing_things_sheet(desk: Desk, *, paper: str = A4) -> PrintedList:
    """Return the list of what stock-takes missed, to look for it by. Refusal: ``unknown_paper``."""
    say = Wording(desk)
    rows = tuple(
        (
            "" if one.number is None else str(one.number),
            one.code,
            say(N_("box {number}"), number=one.belongs) if one.belongs.isdecimal() else one.belongs,
            grouped(one.pieces) if one.pieces else "",
            str(one.stock_take),
            say.moment(one.since),
            "",
        )
        for one in missing_things(desk)
    )
    columns = (
        Column(say(N_("Box")), 0.5),
        Column(say(N_("Code")), 1.3),
        Column(say(N_("Belongs to")), 2.4),
        Column(say(N_("Count")), 0.7, "right"),
        Column(say(N_("Stock-take")), 0.9),
        Column(say(N_("Since")), 1.3),
        Column(say(N_("Found where")), 1.6),
    )
    return printed(
        say,
        paper,
        title=say(N_("Missing on the shelves")),
        filter_words=say(N_("Missed by a stock-take, and met by nobody since")),
        columns=columns,
        rows=rows,
        when_empty=say(N_("Nothing is missing.")),
    )
