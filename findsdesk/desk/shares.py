"""Shares drawn from sherds laid out in a row: some are kept before the rule's discard stands for the others.

A row is the sherds of one group. The first row of a ware and rule in a deposit starts at a place drawn by lot, which
the window or the terminal gives; later rows carry on what was left over, so that one in so many is kept of them all.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk, Reading
from findsdesk.desk.drawn_shares import SHARE, share_is_drawn, standing_draws
from findsdesk.desk.editing import refuse_if_moved
from findsdesk.desk.finding import container_of
from findsdesk.desk.group_rows import GroupRow, as_row, facts_from_values, rewrite_group, values_of, write_group
from findsdesk.desk.one_at_a_time import only_here
from findsdesk.desk.retention import policy_in
from findsdesk.desk.sherd_groups import group_open
from findsdesk.domain.balance import Decision
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.retention import Proposal, Share, draw_of
from findsdesk.domain.type_rows import said_once
from findsdesk.store import models
from findsdesk.store.models import Container, Deposit, ShareDrawn, SherdGroup
from findsdesk.store.sorted_sherds import sorted_sherds
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class ShareAhead:
    """A row whose share is to be drawn: by which rule, one in how many, and where it starts.

    ``first`` is the place of the first sherd kept where the share is carried on; None where the lot is to be drawn, or
    where ``one_in`` is None and only a minimum is kept. ``share`` is what will be kept; None where the lot is to be
    drawn.
    """

    group_id: int
    version: int
    what: str
    rule: str
    laid_out: int
    one_in: int | None
    at_least: int | None
    first: int | None
    kept_before: int
    share: Share | None

    @property
    def needs_lot(self) -> bool:
        """Tell whether a place from 1 to ``one_in`` is to be drawn by lot."""
        return self.share is None


@dataclass(frozen=True, slots=True)
class DrawnShare:
    """A share as it was drawn, and the groups it left: what is kept and what is discarded, None where there is none."""

    share: Share
    kept: GroupRow | None
    discarded: GroupRow | None


def shares_ahead(desk: Desk, tag: str) -> tuple[ShareAhead, ...]:
    """Return the rows of a container whose shares are to be drawn, in the order of its table."""
    with desk.reading() as reading:
        return waiting_shares(reading, container_of(reading.session, desk, tag))


def waiting_shares(at: Reading | Deed, container: Container) -> tuple[ShareAhead, ...]:
    """Return the rows of a container whose shares are to be drawn."""
    proposals = _splitting(at)
    if not proposals or container.deposit_id is None:
        return ()
    rows = at.session.execute(
        select(SherdGroup)
        .where(
            SherdGroup.container_id == container.id,
            SherdGroup.decision == Decision.DISCARD,
            SherdGroup.rule.in_(proposals),
            SherdGroup.proposed == "",
        )
        .order_by(SherdGroup.ordinal, SherdGroup.id)
    ).scalars()
    waiting = [row for row in rows if not row.discarded and not share_is_drawn(at.session, row)]
    return tuple(_ahead(at.session, container, row, proposals[row.rule]) for row in waiting)


def draw_share(
    desk: Desk, group_id: int, *, seen: int, start: int | None = None, kept_tenths: int | None = None
) -> DrawnShare:
    """Draw the share of a group its rule discards, and part the group into what is kept and what is not, in one act.

    ``start`` (1 to one in how many) is drawn by lot for the first row of a deposit, ware and rule; a share carried on
    knows its own. ``kept_tenths`` are the dry tenths of a gram of what is kept; not said, the grams are parted in
    proportion and the rows say so. Opposite: the change back. Refusals: ``row_gone``, ``no_share``, ``share_drawn``,
    ``lot_needed``, ``share_start``, ``no_deposit``, ``share_of_rims``, ``share_grams``, ``changed_meanwhile``.
    """
    with desk.deed("draw_share") as deed:
        row, container = group_open(deed, group_id)
        proposal = _proposal_of(deed, row)
        _check(deed, container, row)
        refuse_if_moved(deed.session, row, seen, {})
        # Rows of the same deposit are drawn one after the other: each begins with what the one before carried on.
        only_here(deed, deed.session.get_one(Deposit, container.deposit_id))
        ahead = _ahead(deed.session, container, row, proposal)
        share = draw_of(row.pieces, proposal, first=_first(ahead, start), kept_before=ahead.kept_before)
        _write_drawn(deed, container, row, share)
        drawn = _part(deed, container, row, share, kept_tenths)
        deed.said = f"{container.number}: {ahead.what} {share.kept}/{share.laid_out} ({row.rule})"
        return drawn


def _splitting(at: Reading | Deed) -> dict[str, Proposal]:
    policy = policy_in(at.session, discards=at.desk.facts.settings.discards)
    proposals = (Proposal(one.decision, one.reason, one.name, one.one_in, one.at_least) for one in policy.rules)
    return {one.rule: one for one in proposals if one.splits}


def _proposal_of(deed: Deed, row: SherdGroup) -> Proposal:
    by_the_rule = row.decision == Decision.DISCARD and not row.proposed
    proposal = _splitting(deed).get(row.rule) if by_the_rule else None
    if proposal is None:
        raise Refusal("no_share", N_("No rule of the policy draws a share from this row. It stays as it is."))
    return proposal


def _check(deed: Deed, container: Container, row: SherdGroup) -> None:
    if share_is_drawn(deed.session, row):
        raise Refusal("share_drawn", N_("The share of this row was drawn already. Take it back to draw it anew."))
    if container.deposit_id is None:
        raise Refusal(
            "no_deposit",
            N_("{Container} {number} belongs to no {deposit} yet. Attribute it first."),
            number=container.number,
        )
    if row.rim_permille is not None or row.base_permille is not None:
        raise Refusal(
            "share_of_rims",
            N_("A row with per cent of rim or base is not parted by lot. Lift its sherds as pieces."),
        )


def _ahead(session: Session, container: Container, row: SherdGroup, proposal: Proposal) -> ShareAhead:
    of = facts_from_values(session, values_of(row))[0]
    first = _carried_on(session, container, row, proposal)
    kept_before = _kept_before(session, container, row) if proposal.at_least else 0
    needs_lot = proposal.one_in is not None and first is None
    return ShareAhead(
        group_id=row.id,
        version=row.version,
        what=" ".join(word for word in (said_once(of.ware, of.form), of.part) if word),
        rule=row.rule,
        laid_out=row.pieces,
        one_in=proposal.one_in,
        at_least=proposal.at_least,
        first=first,
        kept_before=kept_before,
        share=None if needs_lot else draw_of(row.pieces, proposal, first=first or 1, kept_before=kept_before),
    )


def _carried_on(session: Session, container: Container, row: SherdGroup, proposal: Proposal) -> int | None:
    """Return where the share of the deposit, ware and rule goes on in this row; None where it begins."""
    if proposal.one_in is None:
        return None
    stands = standing_draws(
        session,
        ShareDrawn.deposit_id == container.deposit_id,
        ShareDrawn.rule_id.in_(select(models.RetentionRule.id).where(models.RetentionRule.name == row.rule)),
        ShareDrawn.ware_id.is_not_distinct_from(row.ware_id),
        ShareDrawn.step == proposal.one_in,
    )
    return stands[-1].carried + 1 if stands else None


def _kept_before(session: Session, container: Container, row: SherdGroup) -> int:
    """Return how many of the ware are kept of the deposit under this rule already."""
    sherds = sorted_sherds("container_id", "ware_id", "rule", "proposed", "decision", "pieces").c
    kept: int | None = session.execute(
        select(func.sum(sherds.pieces))
        .join(Container, sherds.container_id == Container.id)
        .where(
            Container.deposit_id == container.deposit_id,
            sherds.ware_id.is_not_distinct_from(row.ware_id),
            sherds.rule == row.rule,
            sherds.proposed == "",
            sherds.decision != Decision.DISCARD,
        )
    ).scalar()
    return kept or 0


def _first(ahead: ShareAhead, start: int | None) -> int:
    if ahead.needs_lot and start is None:
        raise Refusal(
            "lot_needed",
            N_("A share begins here. Draw a start from 1 to {one_in} by lot and say it."),
            one_in=ahead.one_in,
        )
    return ahead.first or start or 1


def _write_drawn(deed: Deed, container: Container, row: SherdGroup, share: Share) -> None:
    rule_id = deed.session.execute(
        select(models.RetentionRule.id).where(models.RetentionRule.name == row.rule)
    ).scalar_one()
    deed.write(
        ShareDrawn,
        rule_id=rule_id,
        deposit_id=container.deposit_id,
        container_id=container.id,
        group_id=row.id,
        ware_id=row.ware_id,
        laid_out=share.laid_out,
        step=share.step,
        first=share.first,
        kept=share.kept,
        carried=share.carried,
        happened_at=deed.happened_at,
        person_id=deed.person_id,
    )


def _part(deed: Deed, container: Container, row: SherdGroup, share: Share, kept_tenths: int | None) -> DrawnShare:
    said, of = facts_from_values(deed.session, values_of(row))
    if not share.kept:
        return DrawnShare(share, None, as_row(row, of))
    tenths, note = _grams(said.tenths, share, kept_tenths)
    noted = " · ".join(word for word in (said.note, note) if word)
    kept = replace(said, pieces=share.kept, tenths=tenths, decision=Decision.KEEP, reason=SHARE, note=noted)
    if share.kept == share.laid_out:
        rewrite_group(deed, container, row, replace(kept, note=said.note), of)
        deed.session.flush()
        return DrawnShare(share, as_row(row, of), None)
    left_tenths = None if said.tenths is None or tenths is None else said.tenths - tenths
    left = replace(said, pieces=said.pieces - share.kept, tenths=left_tenths, note=noted)
    rewrite_group(deed, container, row, left, of)
    new = write_group(deed, container, kept, of)
    deed.session.flush()
    return DrawnShare(share, as_row(new, of), as_row(row, of))


def _grams(tenths: int | None, share: Share, kept_tenths: int | None) -> tuple[int | None, str]:
    """Return the tenths of a gram of what is kept, and what the rows say of them."""
    if share.kept == share.laid_out:
        return tenths, ""
    if kept_tenths is not None and not 0 <= kept_tenths <= (tenths or 0):
        raise Refusal(
            "share_grams",
            N_("What is kept cannot weigh {grams} g of {all} g. Weigh it again."),
            grams=kept_tenths / 10,
            all=(tenths or 0) / 10,
        )
    if kept_tenths is not None or tenths is None:
        return kept_tenths, ""
    return round(tenths * share.kept / share.laid_out), N_("grams in proportion")
