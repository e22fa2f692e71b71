"""What is to be printed: labels of bags, field tags and wash tags, gathered from the store as plain values."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any

from sqlalchemy import Row, func, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.finding import bag_of, container_of
from findsdesk.desk.label_contents import (
    LAYOUT_OF,
    LabelBatch,
    LabelToPrint,
    PrintKind,
    bag_label,
    tag_label,
    wash_label,
)
from findsdesk.desk.label_layouts import layout_in
from findsdesk.desk.ledgers import NOT_COUNTED, count_that_stands
from findsdesk.desk.redoing import Written, written_on
from findsdesk.desk.spoiled_papers import after_the_spoiled, came_well, copies_on_paper
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Standing, StepKind
from findsdesk.paper.label_kinds import TagLabel
from findsdesk.store.journal import short_head, store_head
from findsdesk.store.models import (
    Bag,
    Container,
    Count,
    Deposit,
    FormerNumber,
    Part,
    Person,
    PrintedLabel,
    Printing,
    Season,
    Square,
    Step,
)
from findsdesk.words import N_

AT_ONCE = 5000
WAITS_AS = {
    PrintKind.BAG: Written.LABEL,
    PrintKind.TAG: Written.TAG,
    PrintKind.SLIP: Written.INSIDE,
    PrintKind.PIECE: Written.PIECE,
    PrintKind.BOX: Written.BOX,
}
"""What of the list of things to redo a kind of print does; wash tags wait with those never printed."""
TAG_GOES_OUT = (Standing.ISSUED, Standing.LISTED, Standing.ARRIVED)
LIES_IN_A_TRAY = (Standing.DRYING, Standing.DRY)


def bag_labels(desk: Desk, codes: Iterable[str] | None = None) -> LabelBatch:
    """Return the labels of bags by their codes; None means all that have none yet, by deposit and container.

    Refusals: those of finding a bag, ``already_labelled``, ``empty_bag``.
    """
    with desk.reading() as reading:
        session = reading.session
        if codes is None:
            rows = session.execute(_bag_query().where(*_never_printed(PrintKind.BAG))).all()
        else:
            ids = [_unlabelled(bag_of(session, desk, code)).id for code in codes]
            rows = _in_order(session, _bag_query(), Bag, ids)
        return _waiting(session, desk, PrintKind.BAG, [bag_label(row, desk.facts) for row in rows])


def field_tags(desk: Desk, codes: Iterable[str] | None = None) -> LabelBatch:
    """Return the tags of containers; None means all whose tag was never printed and who have not been washed yet.

    Refusals: those of finding a container, ``tag_printed``.
    """
    with desk.reading() as reading:
        session = reading.session
        if codes is None:
            rows = session.execute(_tag_query().where(*_never_printed(PrintKind.TAG))).all()
        else:
            ids = [_unprinted_tag(session, container_of(session, desk, code)).id for code in codes]
            rows = _in_order(session, _tag_query(), Container, ids)
        return _waiting(session, desk, PrintKind.TAG, [tag_label(row, desk.facts) for row in rows])


def wash_tags(desk: Desk, codes: Iterable[str] | None = None) -> LabelBatch:
    """Return the tags that say how many pieces came out of the wash; None means all in trays whose count has none.

    One of a container that was corrected or whose deposit was renumbered since then waits again.
    Refusals: those of finding a container, ``not_counted_yet``.
    """
    with desk.reading() as reading:
        session = reading.session
        if codes is None:
            rows = session.execute(_wash_query().where(*_never_printed(PrintKind.WASH))).all()
        else:
            ids = [_counted(session, container_of(session, desk, code)).id for code in codes]
            rows = _in_order(session, _wash_query(), Container, ids)
        trays = _trays(session, [row.Container.id for row in rows])
        return _waiting(session, desk, PrintKind.WASH, [wash_label(row, desk.facts, trays) for row in rows])


def as_reprint(batch: LabelBatch, reason: str) -> LabelBatch:
    """Return labels as the next copy after the ones that are about: copy 2 or more, 1 where none was ever printed."""
    copies = tuple(one.as_copy(one.copy + 1) for one in batch.labels)
    return replace(batch, labels=copies, reason=reason)


def labels_as_they_are(desk: Desk, kind: PrintKind, codes: Sequence[str]) -> LabelBatch:
    """Return labels whatever was printed before, each with the copy that is out, 0 where none is; for reprints."""
    with desk.reading() as reading:
        session = reading.session
        if kind is PrintKind.BAG:
            bags = _in_order(session, _bag_query(), Bag, [filled(bag_of(session, desk, code)).id for code in codes])
            return _out(session, desk, kind, [bag_label(row, desk.facts, out=True) for row in bags])
        ids = [container_of(session, desk, code).id for code in codes]
        if kind is PrintKind.TAG:
            tags = _in_order(session, _tag_query(), Container, ids)
            return _out(session, desk, kind, [_tag_out(row, desk) for row in tags])
        for code in codes:
            _counted(session, container_of(session, desk, code))
        washed = _in_order(session, _wash_query(), Container, ids)
        trays = _trays(session, ids)
        out = _wash_tags_out(session, ids)
        labels = (wash_label(row, desk.facts, trays) for row in washed)
        copies = [one.as_copy(out.get(one.container_id or 0, 0)) for one in labels]
        return _batch(session, desk, kind, copies)


def how_many_wait(session: Session, kind: PrintKind) -> int:
    """Return how many labels of a kind were never printed: those that are gathered when nobody names codes."""
    query = {PrintKind.BAG: _bag_query, PrintKind.TAG: _tag_query, PrintKind.WASH: _wash_query}[kind]()
    waiting = query.where(*_never_printed(kind)).order_by(None).with_only_columns(func.count())
    return int(session.execute(waiting).scalar_one())


def tags_never_printed(session: Session) -> list[tuple[str, str, Standing, int | None, str]]:
    """Return (code, number, standing, block, supervisor) of each tag never printed, those of one block together."""
    rows = session.execute(
        select(Container.code, Container.number, Container.standing, Container.block_id, Person.name)
        .outerjoin(Person, Container.supervisor_id == Person.id)
        .where(*_never_printed(PrintKind.TAG))
        .order_by(Container.block_id, Container.number_key, Container.id)
    )
    return [(code, number, Standing(standing), block, who or "") for code, number, standing, block, who in rows]


# --- asking the store ---------------------------------------------------------------------------------------------
# The queries are Any: their columns are read by name, and SQLAlchemy's types cannot follow the joins added to them.


def _waiting(session: Session, desk: Desk, kind: PrintKind, labels: Sequence[LabelToPrint]) -> LabelBatch:
    return _batch(session, desk, kind, after_the_spoiled(session, kind, labels))


def _out(session: Session, desk: Desk, kind: PrintKind, labels: Sequence[LabelToPrint]) -> LabelBatch:
    """Return labels with the highest copy that is on paper, spoiled or not; 0 where none is."""
    out = copies_on_paper(session, kind, [one.code for one in labels])
    return _batch(session, desk, kind, [one.as_copy(max(one.copy, out.get(one.code, 0))) for one in labels])


def _tag_out(row: Any, desk: Desk) -> LabelToPrint:
    """Return a tag as the copy that is out: with finds that came in lies one, whoever wrote it."""
    tag = tag_label(row, desk.facts)
    return tag.as_copy(tag.copy - 1) if row.Container.standing == Standing.ISSUED else tag


def _batch(session: Session, desk: Desk, kind: PrintKind, labels: Sequence[LabelToPrint]) -> LabelBatch:
    what = WAITS_AS.get(kind)
    ids = list(dict.fromkeys(one.container_id for one in labels if one.container_id is not None))
    says = {} if what is None else written_on(session, desk.facts, ids, what)
    # The material is the last part of a tag; on one for the trench it is left open until the finds are known.
    open_left = {one.container_id for one in labels if isinstance(one.label, TagLabel) and not one.label.material}
    parts = {key: (*one.parts[:-1], "") if key in open_left else one.parts for key, one in says.items()}
    layout = layout_in(session, LAYOUT_OF[kind])
    return LabelBatch(kind, tuple(labels), short_head(store_head(session)), says=parts, layout=layout)


def bags_with_place(session: Session, ids: Sequence[int] | None) -> list[Row[Any]]:
    """Return bags with their containers and where those come from; None means all that hold something."""
    if ids is None:
        return list(session.execute(_bag_query().where(Bag.pieces > 0)))
    return _in_order(session, _bag_query(), Bag, ids)


def _bag_query() -> Any:
    wanted = select(Bag, Container, Season, Deposit.number.label("deposit"), Square.name.label("square"))
    return _with_place(wanted.join(Container, Bag.container_id == Container.id), Bag.id)


def _tag_query() -> Any:
    wanted = select(Container, Season, Person.name, Deposit.number.label("deposit"), Square.name.label("square"))
    return _with_place(wanted.outerjoin(Person, Container.supervisor_id == Person.id), Container.id)


def _wash_query() -> Any:
    newest = (
        select(Count.id)
        .where(Count.container_id == Container.id)
        .order_by(Count.happened_at.desc(), Count.id.desc())
        .limit(1)
        .correlate(Container)
        .scalar_subquery()
    )
    wanted = select(Container, Season, Count, Deposit.number.label("deposit"), Square.name.label("square"))
    return _with_place(wanted.join(Count, (Count.id == newest) & (Count.purpose != NOT_COUNTED)), Container.id)


def _with_place(wanted: Any, last: Any) -> Any:
    return (
        wanted.join(Season, Container.season_id == Season.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .order_by(Deposit.number_key, Container.number_key, Container.id, last)
    )


def _never_printed(kind: PrintKind) -> tuple[Any, ...]:
    """Return the conditions under which a label of a kind waits; those of wash tags need the newest count joined."""
    if kind is PrintKind.BAG:
        return (Bag.labelled_at.is_(None), Bag.pieces > 0)
    if kind is PrintKind.TAG:
        return (Container.standing.in_(TAG_GOES_OUT), ~_printed(kind).exists())
    still_true = _printed(kind).where(Printing.came_out_at >= Count.happened_at, *_nothing_corrected_since())
    return (Container.standing.in_(LIES_IN_A_TRAY), ~still_true.exists())


def _nothing_corrected_since() -> tuple[Any, ...]:
    """Return the conditions that since a wash tag was drawn neither its container nor its deposit's number changed."""
    corrected = select(Step.id).where(
        Step.container_id == Container.id,
        Step.kind == StepKind.CORRECTED,
        Step.happened_at > Printing.printed_at,
    )
    renumbered = select(FormerNumber.id).where(
        FormerNumber.deposit_id == Container.deposit_id, FormerNumber.happened_at > Printing.printed_at
    )
    return tuple(~one.correlate(Container, Printing).exists() for one in (corrected, renumbered))


def _printed(kind: PrintKind) -> Any:
    return (
        select(PrintedLabel.id)
        .join(Printing, PrintedLabel.printing_id == Printing.id)
        .where(PrintedLabel.container_id == Container.id, Printing.kind == kind, came_well())
        .correlate(Container, Count)
    )


def _in_order(session: Session, query: Any, model: type[Bag | Container], ids: Sequence[int]) -> list[Row[Any]]:
    """Return the rows of these ids in the order in which they were asked for, each once."""
    found: dict[int, Row[Any]] = {}
    for first in range(0, len(ids), AT_ONCE):
        for row in session.execute(query.where(model.id.in_(ids[first : first + AT_ONCE]))):
            found[row[0].id] = row
    return [found[row_id] for row_id in dict.fromkeys(ids)]


def filled(row: Bag) -> Bag:
    """Return a bag that holds something; refuses ``empty_bag``."""
    if not row.pieces:
        raise Refusal("empty_bag", N_("Bag {code} is empty: its pieces were packed otherwise."), code=row.code)
    return row


def _unlabelled(row: Bag) -> Bag:
    filled(row)
    if row.labelled_at is not None:
        raise Refusal(
            "already_labelled",
            N_("Bag {code} has its label. To print it again, choose Reprint and a reason."),
            code=row.code,
        )
    return row


def _unprinted_tag(session: Session, row: Container) -> Container:
    printed = select(PrintedLabel.id).join(Printing, PrintedLabel.printing_id == Printing.id)
    of_tag = (PrintedLabel.container_id == row.id, Printing.kind == PrintKind.TAG, came_well())
    if session.execute(printed.where(*of_tag)).first():
        raise Refusal(
            "tag_printed",
            N_("The tag of {container} {number} was printed. To print it again, choose Reprint and a reason."),
            number=row.number,
        )
    return row


def _counted(session: Session, row: Container) -> Container:
    if count_that_stands(session, row.id) is None:
        raise Refusal(
            "not_counted_yet",
            N_("{Container} {number} was not counted yet. Write its first count."),
            number=row.number,
        )
    return row


def _trays(session: Session, ids: Sequence[int]) -> dict[int, str]:
    """Return where each container lies to dry: its trays, or its crate."""
    lies: dict[int, list[str]] = {}
    for first in range(0, len(ids), AT_ONCE):
        rows = session.execute(
            select(Part.container_id, Part.place)
            .where(Part.container_id.in_(ids[first : first + AT_ONCE]), Part.place_kind.in_(("tray", "crate")))
            .order_by(Part.ordinal)
        )
        for container_id, place in rows:
            lies.setdefault(container_id, []).append(place)
    return {container_id: ", ".join(filter(None, places)) for container_id, places in lies.items()}


def _wash_tags_out(session: Session, ids: Sequence[int]) -> dict[int, int]:
    """Return the highest copy of each container's wash tag printed since its last count, the spoiled ones too."""
    out = func.coalesce(Printing.came_out_at, Printing.printed_at)
    newest = (
        select(func.max(Count.happened_at)).where(Count.container_id == PrintedLabel.container_id).scalar_subquery()
    )
    rows = session.execute(
        select(PrintedLabel.container_id, func.max(PrintedLabel.copy))
        .join(Printing, PrintedLabel.printing_id == Printing.id)
        .where(PrintedLabel.container_id.in_(ids), Printing.kind == PrintKind.WASH, out >= newest)
        .group_by(PrintedLabel.container_id)
    )
    return {row[0]: row[1] for row in rows if row[0] is not None}
