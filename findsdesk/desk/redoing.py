"""What says something no longer true: tags, labels of bags and pieces, inked marks; to write again once corrected."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from sqlalchemy import Row, case, select
from sqlalchemy.orm import Session

from findsdesk.desk.box_label_words import WHY, BoxSaidWrong, boxes_said_wrong, label_boxes_by_hand
from findsdesk.desk.desk import Deed, Desk, ExcavationFacts
from findsdesk.desk.editing import ask
from findsdesk.desk.inking_again import ink_again
from findsdesk.desk.label_contents import PrintKind
from findsdesk.desk.marks_again import ask_marks_again
from findsdesk.desk.marks_meant import acting_person
from findsdesk.desk.written_things import WRITTEN_IN_WORDS, Asked, Paper, Says, ThingToRedo, Written
from findsdesk.domain.marks import make_mark
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.routes import Standing
from findsdesk.store.models import Bag, Container, Deposit, Person, Piece, PrintedLabel, Printing, Redo, Season, Square
from findsdesk.words import N_

__all__ = [
    "WRITTEN_IN_WORDS",
    "Asked",
    "Paper",
    "Says",
    "ThingToRedo",
    "Written",
    "ask_to_redo",
    "papers_of",
    "redo_done",
    "things_to_redo",
    "written_on",
]

NO_TAG = (Standing.VOID, Standing.UNUSED, Standing.JOINED)
AT_ONCE = 5000
SEEN_AT_ONCE = 5
"""Marks that are seen to be right at a glance on the table; more of them are counted (our own limit)."""
_ANY_BAG = 0
"""Stands for whatever bag: all labels of a container say the same of it."""


def papers_of(session: Session, facts: ExcavationFacts, container_ids: Sequence[int]) -> dict[Paper, Says]:
    """Return what is written on the tags, labelled bags and labelled pieces of containers, by the facts as they stand.

    What is inked is kept as it was written (``desk.marks_again``) and asked for with these.
    """
    papers: dict[Paper, Says] = {}
    for first in range(0, len(container_ids), AT_ONCE):
        some = container_ids[first : first + AT_ONCE]
        labelled, pieces = _labelled_bags(session, some), _labelled_pieces(session, some)
        inside = _bags_with_slip(session, some)
        for row in _container_rows(session, some):
            papers.update(_papers_of_one(row, labelled.get(row.id, ()), facts.code))
            papers.update(_slips_of(row, inside.get(row.id, ())))
            papers.update(_piece_papers(row, pieces.get(row.id, ()), facts.code))
    return papers


def written_on(
    session: Session, facts: ExcavationFacts, container_ids: Sequence[int], what: Written
) -> dict[int, Says]:
    """Return what stands on the tag (or on each bag label) of containers by the facts as they stand, by their ids."""
    found: dict[int, Says] = {}
    for first in range(0, len(container_ids), AT_ONCE):
        for row in _container_rows(session, container_ids[first : first + AT_ONCE]):
            papers = dict(_papers_of_one(row, (_ANY_BAG,), facts.code))
            says = papers.get((what, row.id, _ANY_BAG if what is Written.LABEL else None))
            if says is not None:
                found[row.id] = says
    return found


def _container_rows(session: Session, ids: Sequence[int]) -> Iterable[Row[Any]]:
    return session.execute(
        select(
            Container.id,
            Container.number,
            Container.standing,
            Container.collected_on,
            Container.material,
            Deposit.number.label("deposit"),
            Square.name.label("square"),
            Person.name.label("supervisor"),
            Season.name.label("season"),
            Season.permit,
            Season.mark_pattern,
        )
        .join(Season, Container.season_id == Season.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .outerjoin(Person, Container.supervisor_id == Person.id)
        .where(Container.id.in_(ids))
    )


def _labelled_bags(session: Session, ids: Sequence[int]) -> Mapping[int, tuple[int, ...]]:
    return _bags(session, Bag.container_id.in_(ids), Bag.label_copy > 0)


def _bags_with_slip(session: Session, ids: Sequence[int]) -> Mapping[int, tuple[int, ...]]:
    """Return the bags in which a printed slip lies, by their containers' ids."""
    out = select(PrintedLabel.bag_id).join(Printing, PrintedLabel.printing_id == Printing.id)
    with_slip = out.where(PrintedLabel.container_id.in_(ids), Printing.kind == PrintKind.SLIP, Printing.spoiled == "")
    return _bags(session, Bag.container_id.in_(ids), Bag.id.in_(with_slip))


def _bags(session: Session, *conditions: Any) -> Mapping[int, tuple[int, ...]]:
    rows = session.execute(select(Bag.container_id, Bag.id).where(*conditions, Bag.pieces > 0).order_by(Bag.id)).all()
    bags: dict[int, tuple[int, ...]] = {}
    for container_id, bag_id in rows:
        bags[container_id] = (*bags.get(container_id, ()), bag_id)
    return bags


def _labelled_pieces(session: Session, ids: Sequence[int]) -> Mapping[int, tuple[tuple[int, int], ...]]:
    """Return (id, number) of the pieces that are there and bear a label, by their containers' ids."""
    out = select(PrintedLabel.code).join(Printing, PrintedLabel.printing_id == Printing.id)
    labelled = out.where(PrintedLabel.container_id.in_(ids), Printing.kind == PrintKind.PIECE, Printing.spoiled == "")
    rows = session.execute(
        select(Piece.container_id, Piece.id, Piece.number)
        .where(Piece.container_id.in_(ids), Piece.pieces > 0, Piece.discarded.is_(False), Piece.code.in_(labelled))
        .order_by(Piece.number)
    ).all()
    pieces: dict[int, tuple[tuple[int, int], ...]] = {}
    for container_id, piece_id, number in rows:
        pieces[container_id] = (*pieces.get(container_id, ()), (piece_id, number))
    return pieces


def _piece_papers(row: Row[Any], pieces: Sequence[tuple[int, int]], site: str) -> Iterator[tuple[Paper, Says]]:
    for piece_id, number in pieces:
        mark = " / ".join(_mark_of(row, site, str(number)))
        says = Says((row.deposit or "", row.number, str(number), row.square or "", mark))
        yield (Written.PIECE, row.id, piece_id), says


def _slips_of(row: Row[Any], bags: Sequence[int]) -> Iterator[tuple[Paper, Says]]:
    day = row.collected_on.isoformat() if row.collected_on else ""
    for bag_id in bags:
        says = Says((row.deposit or "", row.number, row.square or "", day, row.material))
        yield (Written.INSIDE, row.id, bag_id), says


def _mark_of(row: Row[Any], site: str, piece: str = "") -> tuple[str, ...]:
    return make_mark(
        row.mark_pattern,
        {
            "permit": row.permit,
            "site": site,
            "season": row.season,
            "square": row.square or "",
            "deposit": row.deposit or "",
            "container": row.number,
            "piece": piece,
        },
    )


def _papers_of_one(row: Row[Any], bags: Sequence[int], site: str) -> Iterator[tuple[Paper, Says]]:
    day = row.collected_on.isoformat() if row.collected_on else ""
    deposit, square = row.deposit or "", row.square or ""
    mark = _mark_of(row, site)
    standing = Standing(row.standing)
    if standing not in NO_TAG:
        yield (Written.TAG, row.id, None), Says((deposit, row.number, square, day, row.supervisor or "", row.material))
    for bag_id in bags:
        yield (Written.LABEL, row.id, bag_id), Says((deposit, row.number, square, day, row.material, " / ".join(mark)))


def ask_to_redo(deed: Deed, before: Mapping[Paper, Says], why: str) -> Asked:
    """Compare what was written before a correction with what is true now, and ask for what differs.

    What already waits to be redone keeps what it truly says; it falls away when that has become true again.
    """
    container_ids = sorted({container_id for _what, container_id, _bag in before})
    now = papers_of(deed.session, deed.desk.facts, container_ids)
    waiting = _waiting(deed.session, container_ids)
    asked = dict.fromkeys(Written, 0)
    for paper, was in before.items():
        says = now.get(paper)
        if says is None or not was.is_wrong_beside(says):
            continue
        row = waiting.get(paper)
        if row is None:
            _new_row(deed, paper, was, says, why)
        else:
            row.says_now, row.why = says.in_words(), f"{row.why}; {why}"
        if row is not None and row.says_now == row.said:
            row.done_at = deed.happened_at
        else:
            asked[paper[0]] += 1
    marks, slips = ask_marks_again(deed, container_ids, why)
    return Asked(
        tags=asked[Written.TAG],
        labels=asked[Written.LABEL],
        marks=marks,
        piece_labels=asked[Written.PIECE],
        slips=slips,
        inside=asked[Written.INSIDE],
        boxes=len(boxes_said_wrong(deed.session, with_containers=container_ids)),
    )


def _new_row(deed: Deed, paper: Paper, was: Says, says: Says, why: str) -> None:
    what, container_id, id_of_its_own = paper
    deed.add(
        Redo(
            what=what,
            container_id=container_id,
            bag_id=None if what is Written.PIECE else id_of_its_own,
            piece_id=id_of_its_own if what is Written.PIECE else None,
            pieces=1,
            said=was.in_words(),
            says_now=says.in_words(),
            why=why,
            asked_at=deed.happened_at,
            done_at=None,
        )
    )


def _waiting(session: Session, container_ids: Sequence[int]) -> dict[Paper, Redo]:
    waiting: dict[Paper, Redo] = {}
    for first in range(0, len(container_ids), AT_ONCE):
        some = container_ids[first : first + AT_ONCE]
        papers = Redo.what.in_((Written.TAG, Written.LABEL, Written.INSIDE, Written.PIECE))
        rows = session.execute(
            select(Redo).where(papers, Redo.container_id.in_(some), Redo.done_at.is_(None))
        ).scalars()
        waiting.update({(Written(row.what), row.container_id, row.bag_id or row.piece_id): row for row in rows})
    return waiting


def things_to_redo(desk: Desk) -> tuple[ThingToRedo, ...]:
    """Return all that waits to be written again: by deposit, then tags, labels and marks; last the labels of boxes."""
    in_turn = case({what.value: place for place, what in enumerate(Written)}, value=Redo.what)
    with desk.reading() as reading:
        rows = reading.session.execute(
            select(Redo, Container.code, Container.number, Deposit.number, Bag.code, Bag.what, Piece.code)
            .join(Container, Redo.container_id == Container.id)
            .outerjoin(Deposit, Container.deposit_id == Deposit.id)
            .outerjoin(Bag, Redo.bag_id == Bag.id)
            .outerjoin(Piece, Redo.piece_id == Piece.id)
            .where(Redo.done_at.is_(None))
            .order_by(Deposit.number_key, in_turn, Container.number_key, Bag.code, Piece.number, Redo.id)
        ).all()
        boxes = boxes_said_wrong(reading.session)
    asked = (
        ThingToRedo(
            id=row.id,
            what=Written(row.what),
            container_id=row.container_id,
            code=code,
            number=number,
            deposit=deposit or "",
            bag_code=bag or "",
            piece_code=piece or "",
            pieces=row.pieces,
            said=row.said,
            says_now=row.says_now,
            why=row.why,
            asked_at=row.asked_at,
            bag_what=what or "",
        )
        for row, code, number, deposit, bag, what, piece in rows
    )
    return (*asked, *(_of_a_box(desk, one) for one in boxes))


def _of_a_box(desk: Desk, one: BoxSaidWrong) -> ThingToRedo:
    said, says_now = one.in_words(desk)
    return ThingToRedo(
        id=-one.id,
        what=Written.BOX,
        container_id=-one.id,
        code=one.code,
        number=str(one.number),
        deposit="",
        bag_code="",
        piece_code="",
        pieces=1,
        said=said,
        says_now=says_now,
        why=WHY,
        asked_at=one.labelled_at,
    )


def redo_done(desk: Desk, ids: Iterable[int], *, who: str | None = None, sure: bool = False) -> int:
    """Write that things were written again; those done already are passed over. Returns how many were done now.

    Inked marks and slips bear their new text from then on, and marks are to be checked again; ``who`` wrote them, where
    that is not who sits here. Opposite: none; what is wrong again is asked for again, and a container's marks are taken
    back by their own deed. Refusals: ``nothing_to_redo``, ``unknown_person``.
    Question: ``many_marks_again`` (by hand, of more than one container or more than ``SEEN_AT_ONCE``).
    """
    wanted = list(dict.fromkeys(ids))
    with desk.deed("redo_done") as deed:
        rows = [deed.session.get(Redo, row_id) for row_id in wanted if row_id > 0]
        if None in rows:
            raise Refusal("nothing_to_redo", N_("That does not wait to be written again. Look at the list again."))
        done = [row for row in rows if row is not None and row.done_at is None]
        boxes = label_boxes_by_hand(deed, [-row_id for row_id in wanted if row_id < 0])
        deed.said = ", ".join(dict.fromkeys([*(row.says_now for row in done), *(box.says_now for box in boxes)]))
        by_hand = [row for row in done if row.what in (Written.MARK, Written.SLIP)]
        by = acting_person(deed, who)
        ask(deed, _doubt_of_many(deed, by.name, by_hand), sure)
        for row in by_hand:
            ink_again(deed, row, by.id)
        for row in done:
            row.done_at = deed.happened_at
    return len(done) + len(boxes)


def _doubt_of_many(deed: Deed, who: str, by_hand: Sequence[Redo]) -> Question | None:
    """Ask before much ink counts as written: one key writes it, and nobody sees from a sum which sherds are meant."""
    containers, n = {row.container_id for row in by_hand}, sum(row.pieces for row in by_hand)
    if len(containers) < 2:
        return _doubt_of_one(deed, who, by_hand[0], n) if n > SEEN_AT_ONCE else None
    return Question(
        "many_marks_again",
        N_(
            "Did {who} write all {n} marks and slips of {many} {containers} again? "
            "Each {container} can be taken back in the marking list."
        ),
        who=who,
        n=n,
        many=len(containers),
    )


def _doubt_of_one(deed: Deed, who: str, row: Redo, n: int) -> Question:
    return Question(
        "many_marks_again",
        N_(
            "Did {who} write all {n} marks and slips of {container} {number} again? "
            "It can be taken back in the marking list."
        ),
        who=who,
        n=n,
        number=deed.session.get_one(Container, row.container_id).number,
    )
