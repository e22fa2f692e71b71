"""A proposal of few boxes for the bags that lie in none, deposit by deposit, and packing as proposed in one act."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256
from itertools import groupby

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from findsdesk.desk.bag_loads import load_of
from findsdesk.desk.bags import BagFacts, facts_of_bags
from findsdesk.desk.box_kinds import box_rule, box_rules, rule_for
from findsdesk.desk.boxes import new_boxes
from findsdesk.desk.boxing import BoxWithBags, all_with_bags
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import ask
from findsdesk.desk.finding import deposit_of
from findsdesk.desk.kept_places import home_kept
from findsdesk.desk.lying import all_away, lay_bag, lay_box
from findsdesk.desk.shipped import cautions_at
from findsdesk.desk.squares import square_named
from findsdesk.domain.box_rules import BoxRule, check_limit, usable_ml
from findsdesk.domain.cautions import At, Caution
from findsdesk.domain.packing import BoxSize, ToPack, pack
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.store.models import Bag, Box, Container, Deposit, Place
from findsdesk.words import N_, CountOf

AT_ONCE = 5_000


@dataclass(frozen=True, slots=True)
class ProposedBox:
    """One box of a proposal: its bags in order, their weight in tenths of a gram, their room, their deposits."""

    kind: str
    kind_name: str
    bags: tuple[BagFacts, ...]
    tenths: int
    volume_ml: int
    deposits: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BoxProposal:
    """Few boxes for the bags that lie in none.

    ``fewest`` is the lower bound over all kinds of boxes; ``too_large`` fit no box of their kind; ``unweighed`` count
    as weightless, so that a box with one may be heavier than it says.
    """

    boxes: tuple[ProposedBox, ...]
    fewest: int
    too_large: tuple[BagFacts, ...]
    unweighed: tuple[BagFacts, ...]
    limit_tenths: int
    cautions: tuple[Caution, ...]

    @property
    def says(self) -> str:
        """Return the boxes and bags in short, the same for the same proposal: it is shown, then packed as shown."""
        return sha256(repr([(one.kind, [bag.id for bag in one.bags]) for one in self.boxes]).encode()).hexdigest()


def propose_boxes(
    desk: Desk, *, square: str = "", deposit: str = "", kind: str = "", limit_tenths: int | None = None
) -> BoxProposal:
    """Return a proposal for the bags without a box: all, or those of a square, a deposit, a kind of box.

    The boxes are of the usual size of their kind. Refusals: ``unknown_box_kind``, ``limit_too_high``, of finding
    square and deposit.
    """
    with desk.reading() as reading:
        wanted = _unboxed(reading.session, square, deposit)
        limit = desk.facts.settings.box_limit_tenths if limit_tenths is None else limit_tenths
        return _proposal(reading.session, wanted, kind, limit)


def pack_as_proposed(
    desk: Desk,
    *,
    square: str = "",
    deposit: str = "",
    kind: str = "",
    place: str = "",
    limit_tenths: int | None = None,
    shown: str = "",
    sure: bool = False,
) -> tuple[BoxWithBags, ...]:
    """Make the boxes of the proposal as it is now and lay the bags into them, in one act.

    ``shown`` is what a proposal that somebody saw ``says``; '' takes the one of now unseen. Opposite:
    ``take_out_of_box``. Refusals: ``nothing_to_pack``, ``proposal_changed``, those of ``propose_boxes`` and of making
    boxes. Questions: ``bags_unweighed``, ``desiccant_needed``, ``heavy_limit``.
    """
    with desk.deed("pack_as_proposed") as deed:
        limit = deed.settings.box_limit_tenths if limit_tenths is None else limit_tenths
        proposal = _proposal(deed.session, _unboxed(deed.session, square, deposit), kind, limit)
        if not proposal.boxes:
            raise Refusal("nothing_to_pack", N_("No bag waits for a box there. Look at the register of bags."))
        if shown and shown != proposal.says:
            raise Refusal(
                "proposal_changed",
                N_("Other bags wait for a box now than those shown. Propose again, look, and pack then."),
            )
        bags = _bag_rows(deed.session, [bag.id for one in proposal.boxes for bag in one.bags])
        at = _home(deed, place)
        packed = _made(deed, proposal, limit)
        for box, one in zip(packed, proposal.boxes, strict=True):
            _pack(deed, box, [bags[bag.id] for bag in one.bags], at)
        deed.said = f"{len(packed)} · {sum(len(one.bags) for one in proposal.boxes)}"
        for question in (_weightless(proposal.unweighed), _to_be_dry(proposal.boxes), check_limit(limit)):
            ask(deed, question, sure)
        deed.session.flush()
        return all_with_bags(deed.session, [box.id for box in packed])


def _unboxed(session: Session, square: str, deposit: str) -> Select[int]:
    """Return the selection of bags in no box, in natural order of deposit and container."""
    wanted = (
        select(Bag.id)
        .join(Container, Bag.container_id == Container.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .where(Bag.box_id.is_(None), Bag.pieces > 0)
        .order_by(Deposit.number_key, Container.number_key, Bag.id)
    )
    if square.strip():
        wanted = wanted.where(Container.square_id == square_named(session, square).id)
    if deposit.strip():
        wanted = wanted.where(Container.deposit_id == deposit_of(session, deposit).id)
    return wanted


def _proposal(session: Session, wanted: Select[int], kind: str, limit: int) -> BoxProposal:
    check_limit(limit)
    away = all_away(session).bags
    ids = [one for one in session.execute(wanted).scalars() if one not in away]
    facts = facts_of_bags(session, ids)
    rows = _bag_rows(session, ids)
    rules = [box_rule(kind)] if kind.strip() else list(box_rules().values())
    boxes, fewest, too_large, unweighed = list[ProposedBox](), 0, list[BagFacts](), list[BagFacts]()
    for rule in rules:
        its = [one for one in facts if rule_for(one.material) is rule]
        packed = pack([_to_pack(rows[one.id], one) for one in its], BoxSize(limit, usable_ml(rule.size_mm)))
        by_id = {one.id: one for one in its}
        fewest += packed.fewest
        too_large.extend(by_id[bag.key] for bag in packed.too_large)
        unweighed.extend(one for one in its if load_of(rows[one.id], one.material).unweighed)
        boxes.extend(_proposed(rule, [by_id[bag.key] for bag in box.bags], box.tenths, box.volume_ml)
                     for box in packed.boxes)  # fmt: skip
    return BoxProposal(tuple(boxes), fewest, tuple(too_large), tuple(unweighed), limit, cautions_at(At.CARRY))


def _to_pack(row: Bag, facts: BagFacts) -> ToPack:
    load = load_of(row, facts.material)
    return ToPack(row.id, facts.deposit, load.tenths, load.volume_ml)


def _proposed(rule: BoxRule, bags: Sequence[BagFacts], tenths: int, volume_ml: int) -> ProposedBox:
    deposits = tuple(dict.fromkeys(bag.deposit for bag in bags))
    return ProposedBox(rule.key, rule.name, tuple(bags), tenths, volume_ml, deposits)


def _bag_rows(session: Session, ids: Sequence[int]) -> dict[int, Bag]:
    rows: dict[int, Bag] = {}
    for first in range(0, len(ids), AT_ONCE):
        found = session.execute(select(Bag).where(Bag.id.in_(ids[first : first + AT_ONCE]))).scalars()
        rows |= {row.id: row for row in found}
    return rows


def _home(deed: Deed, place: str) -> Place | None:
    if not place.strip():
        return None
    return home_kept(deed, place)


def _made(deed: Deed, proposal: BoxProposal, limit: int) -> list[Box]:
    """Make the boxes of a proposal, those of a kind together, in its order."""
    made: list[Box] = []
    for kind, boxes in groupby(proposal.boxes, key=lambda one: one.kind):
        rule = box_rule(kind)
        made.extend(new_boxes(deed, rule, len(list(boxes)), limit=limit, empty=0, size=rule.size_mm))
    deed.session.flush()
    return made


def _pack(deed: Deed, box: Box, bags: Sequence[Bag], at: Place | None) -> None:
    if at is not None:
        lay_box(deed, box, at)
    for bag in bags:
        lay_bag(deed, bag, box=box)


def _weightless(unweighed: Sequence[BagFacts]) -> Question | None:
    if not unweighed:
        return None
    return Question(
        "bags_unweighed",
        N_("{bags}. Are the boxes weighed before they are lifted?"),
        bags=CountOf(
            "{n} bag was not weighed and counts as nothing",
            "{n} bags were not weighed and count as nothing",
            len(unweighed),
        ),
    )


def _to_be_dry(boxes: Sequence[ProposedBox]) -> Question | None:
    dry = sum(1 for one in boxes if box_rule(one.kind).desiccant)
    if not dry:
        return None
    return Question(
        "desiccant_needed",
        N_("To be kept dry: {boxes}. Is there desiccant to lay in, written on each afterwards?"),
        boxes=CountOf("{n} box", "{n} boxes", dry),
    )
