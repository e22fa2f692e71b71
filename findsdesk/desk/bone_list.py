"""The bone list: every container of bone with what is known of it, for the specialist and for the crate."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from sqlalchemy import func, select

from findsdesk.desk.desk import Desk
from findsdesk.desk.ledgers import NOT_COUNTED
from findsdesk.desk.sheets import PrintedList, Wording
from findsdesk.desk.whole_papers import NONE, Asked, caution_slip, grams, material_in_words, print_whole
from findsdesk.domain.cautions import At
from findsdesk.domain.routes import STANDING_IN_WORDS, Standing
from findsdesk.paper.list_kinds import Column, ListRow, Section, Signature
from findsdesk.paper.report_kinds import Part, Table, Words
from findsdesk.store.models import Bag, BalanceTotal, Container, Count, Deposit, Season, Square
from findsdesk.words import N_, grouped

BONES = ("bone", "human_bone")


def bone_list(now: Desk, asked: Asked) -> PrintedList:
    """Return the list of bone of a season, or of all; human bone stands apart, under its caution."""
    with now.at_one_moment() as desk:
        say = Wording(desk)
        rows = _containers(desk, asked.season)
        return print_whole(
            say,
            asked,
            title=say(N_("Bone list")),
            filter_words=say(N_("Season {name}"), name=asked.season) if asked.season else say(N_("All seasons")),
            parts=lambda: _parts(say, rows),
            rows=len(rows),
        )


def _containers(desk: Desk, season: str) -> Sequence[Any]:
    newest = (
        select(Count.id)
        .where(Count.container_id == Container.id)
        .order_by(Count.happened_at.desc(), Count.id.desc())
        .limit(1)
        .correlate(Container)
        .scalar_subquery()
    )
    of_it = (Bag.container_id == Container.id) & (Bag.pieces > 0)
    bags = select(func.count()).where(of_it).correlate(Container).scalar_subquery()
    # What was taken out of another container was counted there: its own ledger alone says how much it is.
    never_counted = ~select(Count.id).where(Count.container_id == Container.id).correlate(Container).exists()
    came_over = (BalanceTotal.container_id == Container.id) & (BalanceTotal.arrived > 0) & never_counted
    pieces = func.coalesce(Count.pieces, BalanceTotal.arrived)
    tenths = func.coalesce(Count.tenths, func.nullif(BalanceTotal.counted_tenths, 0))
    wanted: Any = (
        select(Container, Deposit.number, Square.name, Season.name, pieces, tenths, bags)
        .join(Season, Container.season_id == Season.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .outerjoin(Count, (Count.id == newest) & (Count.purpose != NOT_COUNTED))
        .outerjoin(BalanceTotal, came_over & (BalanceTotal.material == Container.material))
        .where(Container.material.in_(BONES), Container.standing != Standing.VOID)
        .order_by(Container.material, Season.starts, Deposit.number_key, Container.number_key, Container.id)
    )
    if season:
        wanted = wanted.where(Season.name == season)
    with desk.reading() as reading:
        return reading.session.execute(wanted).all()


def _parts(say: Wording, rows: Sequence[Any]) -> Iterator[Part]:
    slip = caution_slip(say, At.SORT, "bone")
    if slip is not None:
        yield slip
    yield Words(say(N_("Bone is never soaked: dry brush or a damp one, slow drying, trained hands.")))
    columns = (
        Column(say(N_("{Container}")), 0.8),
        Column(say(N_("Tag")), 1.5),
        Column(say(N_("Season")), 0.8),
        Column(say(N_("{Deposit}")), 0.8),
        Column(say(N_("{Square}")), 0.75),
        Column(say(N_("Dug on")), 1.25),
        Column(say(N_("Stands")), 0.9),
        Column(say(N_("Count")), 0.6, "right"),
        Column(say(N_("Grams")), 0.7, "right"),
        Column(say(N_("Bags")), 0.5, "right"),
        Column(say(N_("Description")), 1.7),
    )
    yield Table(
        columns,
        lambda: _rows(say, rows),
        totals=(say(N_("Total")), *[""] * 6, _grouped(_sum(row[4] for row in rows)),
                grams(_sum(row[5] for row in rows)), grouped(sum(row[6] for row in rows)), ""),
        when_empty=say(N_("No bone came in.")),
    )  # fmt: skip
    yield Signature(say(N_("Handed over by")))
    yield Signature(say(N_("Received by")))


def _sum(values: Iterable[int | None]) -> int | None:
    """Return the sum of what was measured; None where nothing was."""
    measured = [value for value in values if value is not None]
    return sum(measured) if measured else None


def _grouped(pieces: int | None) -> str:
    return NONE if pieces is None else grouped(pieces)


def _rows(say: Wording, rows: Sequence[Any]) -> Iterator[ListRow]:
    material = ""
    for found in rows:
        row, deposit, square, season, pieces, tenths, bags = tuple(found)
        if row.material != material:
            material = row.material
            many = sum(1 for other in rows if other[0].material == material)
            yield Section(
                material_in_words(material, say),
                say(N_("one {container}") if many == 1 else N_("{n} {containers}"), n=grouped(many)),
            )
        yield (
            row.number,
            row.code,
            season,
            deposit or NONE,
            square or NONE,
            row.collected_on.isoformat() if row.collected_on else "",
            say(STANDING_IN_WORDS[Standing(row.standing)]),
            _grouped(pieces),
            grams(tenths),
            grouped(bags) if bags else "",
            row.description,
        )
