"""Labels of any kind gathered from the store: for the first time, or again for a reason. Never twice silently."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.box_label_words import box_labels_say
from findsdesk.desk.desk import Desk
from findsdesk.desk.label_batches import as_reprint, bag_labels, field_tags, labels_as_they_are, wash_tags
from findsdesk.desk.label_contents import LAYOUT_OF, LabelBatch, LabelToPrint, PrintKind
from findsdesk.desk.label_layouts import layout_in
from findsdesk.desk.labels_of_bags import piece_labels, slips
from findsdesk.desk.labels_of_the_store import box_labels, loan_labels, place_labels
from findsdesk.desk.spoiled_papers import after_the_spoiled, came_well, copies_on_paper
from findsdesk.domain.refusals import Refusal
from findsdesk.store.journal import short_head, store_head
from findsdesk.store.models import Bag, PrintedLabel, Printing
from findsdesk.words import N_

AT_ONCE = 5000

Named = Callable[[Session, Desk, Sequence[str] | None], list[LabelToPrint]]

_WAITING: Mapping[PrintKind, Callable[[Desk, Iterable[str] | None], LabelBatch]] = {
    PrintKind.BAG: bag_labels,
    PrintKind.TAG: field_tags,
    PrintKind.WASH: wash_tags,
}
_NAMED: Mapping[PrintKind, Named] = {
    PrintKind.SLIP: slips,
    PrintKind.PIECE: piece_labels,
    PrintKind.BOX: box_labels,
    PrintKind.PLACE: place_labels,
    PrintKind.LOAN: loan_labels,
}


def gather(desk: Desk, kind: PrintKind, codes: Iterable[str] | None = None) -> LabelBatch:
    """Return labels of a kind by their codes; None means all that have none yet.

    Refusals: ``label_printed`` (or its like of bags and tags), those of finding what is named.
    """
    if kind in _WAITING:
        return _WAITING[kind](desk, codes)
    named = None if codes is None else tuple(codes)
    with desk.reading() as reading:
        session = reading.session
        labels = _NAMED[kind](session, desk, named)
        out = copies_out(session, kind, [one.code for one in labels])
        if kind is PrintKind.SLIP:
            labels, out = _packed_anew(session, labels, out)
        if named is not None:
            _refuse_printed(labels, out)
        waiting = [one for one in labels if one.code not in out]
        return batch_of(session, kind, after_the_spoiled(session, kind, waiting))


def _packed_anew(
    session: Session, labels: Sequence[LabelToPrint], out: Mapping[str, int]
) -> tuple[list[LabelToPrint], dict[str, int]]:
    """Let slips of bags that were packed anew since they were drawn wait again, as their next copy."""
    old: set[str] = set()
    codes = list(out)
    for first in range(0, len(codes), AT_ONCE):
        old.update(
            session.execute(
                select(PrintedLabel.code)
                .join(Printing, PrintedLabel.printing_id == Printing.id)
                .join(Bag, PrintedLabel.bag_id == Bag.id)
                .where(
                    PrintedLabel.code.in_(codes[first : first + AT_ONCE]), Printing.kind == PrintKind.SLIP, came_well()
                )
                .group_by(PrintedLabel.code)
                .having(func.max(Printing.printed_at) < func.max(Bag.packed_at))
            ).scalars()
        )
    again = [one.as_copy(out[one.code] + 1) if one.code in old else one for one in labels]
    return again, {code: copy for code, copy in out.items() if code not in old}


def gather_again(desk: Desk, kind: PrintKind, codes: Sequence[str], reason: str) -> LabelBatch:
    """Return labels as the next copy after those that are about; a reason is written with them."""
    if kind in _WAITING:
        return as_reprint(labels_as_they_are(desk, kind, codes), reason)
    with desk.reading() as reading:
        session = reading.session
        labels = _NAMED[kind](session, desk, codes)
        out = copies_on_paper(session, kind, [one.code for one in labels])
        copies = [one.as_copy(out.get(one.code, 0)) for one in labels]
        return as_reprint(batch_of(session, kind, copies), reason)


def every_label(session: Session, desk: Desk, kind: PrintKind) -> list[LabelToPrint]:
    """Return the labels of a kind that is known by its codes, printed or not: slips, pieces, boxes, places, loans."""
    return _NAMED[kind](session, desk, None)


def batch_of(session: Session, kind: PrintKind, labels: Sequence[LabelToPrint]) -> LabelBatch:
    """Return labels as they are laid out together, with the layout of their kind."""
    layout = layout_in(session, LAYOUT_OF[kind])
    says = box_labels_say(session, [one.code for one in labels]) if kind is PrintKind.BOX else {}
    return LabelBatch(kind, tuple(labels), short_head(store_head(session)), boxes_say=says, layout=layout)


def copies_out(session: Session, kind: PrintKind, codes: Sequence[str]) -> dict[str, int]:
    """Return the highest copy of each label that came out well, by its code."""
    return copies_on_paper(session, kind, codes, came_well())


def _refuse_printed(labels: Sequence[LabelToPrint], out: Mapping[str, int]) -> None:
    for one in labels:
        if one.code in out:
            raise Refusal(
                "label_printed",
                N_("The label {code} was printed. To print it again, choose Reprint and a reason."),
                code=one.code,
            )
