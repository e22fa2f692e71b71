"""What the label of a box says of it, kept when it came out, and which boxes hold something else by now.

Bags come and go, are weighed, renumbered with their deposit, packed anew: no act asks for a box's label. What the label
said is compared with what the box holds whenever somebody looks.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.bag_loads import loads_in
from findsdesk.desk.box_kinds import box_rule
from findsdesk.desk.desk import Deed, Desk
from findsdesk.domain.natural_order import sort_key
from findsdesk.store.models import Bag, Box, Container, Deposit
from findsdesk.words import put

BETWEEN = " · "
AT_ONCE = 5_000
WHY = "contents changed"


@dataclass(frozen=True, slots=True)
class BoxSaidWrong:
    """A box whose label says something else than what lies in it."""

    id: int
    code: str
    number: int
    said: str
    says_now: str
    labelled_at: datetime

    def in_words(self, desk: Desk) -> tuple[str, str]:
        """Return what its label says and has to say, the kind of box in words."""
        return _with_kind(self.said, desk), _with_kind(self.says_now, desk)


def _with_kind(text: str, desk: Desk) -> str:
    kind, between, rest = text.partition(BETWEEN)
    return f"{put(box_rule(kind).name, desk.terms)}{between}{rest}"


def contents_of(session: Session, box_ids: Sequence[int]) -> dict[int, tuple[str, ...]]:
    """Return what lies in boxes, a line for each deposit: 2017: 131, 132."""
    found: dict[int, dict[str, list[str]]] = {}
    for first in range(0, len(box_ids), AT_ONCE):
        rows: Any = session.execute(
            select(Bag.box_id, Deposit.number, Container.number, func.count())
            .join(Container, Bag.container_id == Container.id)
            .outerjoin(Deposit, Container.deposit_id == Deposit.id)
            .where(Bag.box_id.in_(box_ids[first : first + AT_ONCE]), Bag.pieces > 0)
            .group_by(Bag.box_id, Deposit.number, Container.number)
        )
        for box_id, deposit, container, bags in rows:
            of_deposit = found.setdefault(box_id, {}).setdefault(deposit or "–", [])
            of_deposit.append(f"{container} ({bags})" if bags > 1 else container)
    return {box_id: _lines(lying) for box_id, lying in found.items()}


def _lines(lying: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    return tuple(
        f"{deposit}: {', '.join(sorted(containers, key=sort_key))}"
        for deposit, containers in sorted(lying.items(), key=lambda one: sort_key(one[0]))
    )


def boxes_say(session: Session, box_ids: Sequence[int]) -> dict[int, str]:
    """Return what the labels of boxes say by the facts as they stand: kind, contents, kilograms as printed."""
    contents, loads = contents_of(session, box_ids), loads_in(session, box_ids)
    said: dict[int, str] = {}
    for first in range(0, len(box_ids), AT_ONCE):
        some = box_ids[first : first + AT_ONCE]
        for box_id, kind, empty in session.execute(select(Box.id, Box.kind, Box.empty_tenths).where(Box.id.in_(some))):
            tenths = empty + (loads[box_id].tenths if box_id in loads else 0)
            weight = f"{tenths / 10_000:.1f} kg" if tenths else ""
            said[box_id] = BETWEEN.join(filter(None, (kind, "; ".join(contents.get(box_id, ())), weight)))
    return said


def box_labels_say(session: Session, codes: Sequence[str]) -> dict[str, str]:
    """Return what the labels of boxes say by the facts as they stand, by the boxes' codes."""
    found: dict[int, str] = {}
    for first in range(0, len(codes), AT_ONCE):
        rows = session.execute(select(Box.id, Box.code).where(Box.code.in_(codes[first : first + AT_ONCE])))
        found.update((box_id, code) for box_id, code in rows)
    return {found[box_id]: said for box_id, said in boxes_say(session, list(found)).items()}


def boxes_said_wrong(session: Session, *, with_containers: Sequence[int] | None = None) -> tuple[BoxSaidWrong, ...]:
    """Return the boxes whose label says something no longer true, by number; or only those with bags of containers."""
    wanted = select(Box).where(Box.label_says != "", Box.gone_at.is_(None)).order_by(Box.number)
    if with_containers is not None:
        holding = _boxes_with(session, with_containers)
        if not holding:
            return ()
        wanted = wanted.where(Box.id.in_(holding))
    boxes = session.execute(wanted).scalars().all()
    now = boxes_say(session, [box.id for box in boxes])
    return tuple(
        BoxSaidWrong(box.id, box.code, box.number, box.label_says, now[box.id], box.labelled_at or box.made_at)
        for box in boxes
        if now[box.id] != box.label_says
    )


def _boxes_with(session: Session, container_ids: Sequence[int]) -> set[int]:
    found: set[int] = set()
    for first in range(0, len(container_ids), AT_ONCE):
        some = container_ids[first : first + AT_ONCE]
        rows = session.execute(select(Bag.box_id).where(Bag.container_id.in_(some), Bag.box_id.is_not(None)).distinct())
        found.update(box_id for box_id in rows.scalars() if box_id is not None)
    return found


def label_boxes_by_hand(deed: Deed, box_ids: Sequence[int]) -> list[BoxSaidWrong]:
    """Let the labels of boxes say what lies in them: somebody wrote it there. Returns those that said otherwise."""
    wrong = [one for one in boxes_said_wrong(deed.session) if one.id in set(box_ids)]
    for one in wrong:
        deed.session.get_one(Box, one.id).label_says = one.says_now
    return wrong
