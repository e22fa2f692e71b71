"""What waits at the labels: bags to pack and to label, tags to print, things to write again, lists."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.bags import how_many_to_bag
from findsdesk.desk.box_label_words import boxes_said_wrong
from findsdesk.desk.desk import Desk
from findsdesk.desk.label_batches import how_many_wait, tags_never_printed
from findsdesk.desk.label_contents import PrintKind
from findsdesk.desk.mark_sums import unmarked
from findsdesk.desk.redoing import Written
from findsdesk.domain.routes import Standing
from findsdesk.store.models import Redo, TagBlock


@dataclass(frozen=True, slots=True)
class LabelsWaiting:
    """How much waits: settled containers to pack, labels and tags never printed, papers and marks to write again."""

    to_pack: int
    bag_labels: int
    wash_tags: int
    field_tags: int
    """Those for the trench: tags that are issued and out of nobody's hands yet."""
    again: int
    """Tags, bag labels, inked marks and slips; each mark counts."""
    to_mark: int
    """Kept sherds without mark or slip."""


@dataclass(frozen=True, slots=True)
class TagsToPrint:
    """Tags never printed that belong together: for whom, the first and last number, whether their finds are here."""

    key: str
    supervisor: str
    first: str
    last: str
    codes: tuple[str, ...]
    for_the_trench: bool


def labels_waiting(desk: Desk) -> LabelsWaiting:
    """Return how much waits at the labels."""
    with desk.reading() as reading:
        session = reading.session
        trench = sum(row[2] is Standing.ISSUED for row in tags_never_printed(session))
        return LabelsWaiting(
            to_pack=how_many_to_bag(session),
            bag_labels=how_many_wait(session, PrintKind.BAG),
            wash_tags=how_many_wait(session, PrintKind.WASH),
            field_tags=trench,
            again=sum(to_redo(session).values()),
            to_mark=unmarked(session, desk.facts.settings),
        )


def to_redo(session: Session) -> dict[Written, int]:
    """Return how many tags, labels and marks wait to be written again; each mark counts."""
    rows = session.execute(
        select(Redo.what, func.sum(Redo.pieces)).where(Redo.done_at.is_(None)).group_by(Redo.what)
    ).all()
    waiting = {Written(what): int(pieces) for what, pieces in rows}
    boxes = len(boxes_said_wrong(session))
    return waiting | {Written.BOX: boxes} if boxes else waiting


def tags_to_print(desk: Desk) -> tuple[TagsToPrint, ...]:
    """Return the tags never printed: block by block those for the trench, newest first; then those already here."""
    with desk.reading() as reading:
        rows = tags_never_printed(reading.session)
        issued = {row[0]: row[1] for row in reading.session.execute(select(TagBlock.id, TagBlock.issued_at))}
    blocks: dict[int, list[tuple[str, str, str]]] = {}
    here: list[tuple[str, str]] = []
    for code, number, standing, block, supervisor in rows:
        if standing is Standing.ISSUED:
            blocks.setdefault(block or 0, []).append((code, number, supervisor))
        else:
            here.append((code, number))
    newest_first = [*sorted(issued, key=lambda block: (issued[block], block), reverse=True), 0]
    groups = [_group(f"block {block}", blocks[block]) for block in newest_first if block in blocks]
    if here:
        codes = tuple(code for code, _number in here)
        groups.append(TagsToPrint("here", "", here[0][1], here[-1][1], codes, for_the_trench=False))
    return tuple(groups)


def _group(key: str, tags: list[tuple[str, str, str]]) -> TagsToPrint:
    return TagsToPrint(key, tags[0][2], tags[0][1], tags[-1][1], tuple(code for code, *_rest in tags), True)
