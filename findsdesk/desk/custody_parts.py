"""Custody on paper: where the boxes lie, and what is off site or in somebody's hands."""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import select

from findsdesk.desk.loans import loans_out
from findsdesk.desk.missing_things import missing_things
from findsdesk.desk.sheets import Wording
from findsdesk.desk.shelves import places_tree
from findsdesk.desk.taking_away import out_now
from findsdesk.desk.transports import under_way
from findsdesk.desk.whole_papers import NONE, grams
from findsdesk.domain.natural_order import folded
from findsdesk.domain.standings import Standing
from findsdesk.paper.list_kinds import Column, ListRow
from findsdesk.paper.report_kinds import Heading, Part, Table
from findsdesk.store import models
from findsdesk.words import N_, grouped


def custody_parts(say: Wording) -> Iterator[Part]:
    """Yield where the boxes lie, and what is not where it belongs."""
    yield Heading(say(N_("Where the boxes lie")), 1)
    yield _places(say)
    yield Heading(say(N_("Off site and in hand")), 1)
    yield _off_site(say)


def _places(say: Wording) -> Table:
    rows: list[ListRow] = [
        (
            one.path,
            grouped(one.boxes_here),
            grouped(one.bags),
            grouped(one.pieces),
            grams(one.tenths),
            grouped(one.not_met) if one.not_met else "",
        )
        for one in places_tree(say.desk)
        if one.boxes_here
    ]
    columns = (
        Column(say(N_("Place")), 3.0),
        Column(say(N_("Boxes")), 0.7, "right"),
        Column(say(N_("Bags")), 0.7, "right"),
        Column(say(N_("Count")), 0.8, "right"),
        Column(say(N_("Grams")), 1.0, "right"),
        Column(say(N_("Not met")), 0.7, "right"),
    )
    return Table(columns, lambda: rows, when_empty=say(N_("No box stands at a place yet.")))


def _off_site(say: Wording) -> Table:
    rows = [*_lent(say), *_handed_on(say), *_out(say), *_moving(say), *_missing(say)]
    columns = (
        Column(say(N_("What")), 2.4),
        Column(say(N_("With whom, where")), 2.0),
        Column(say(N_("Why")), 1.6),
        Column(say(N_("Since")), 1.0),
        Column(say(N_("Due")), 1.0),
    )
    return Table(columns, lambda: rows, when_empty=say(N_("Everything is where it belongs.")))


def _lent(say: Wording) -> Iterator[ListRow]:
    for loan in loans_out(say.desk):
        names = ", ".join(line.name for line in loan.lines if line.back_on is None)
        what = say(N_("loan {number}: {names}"), number=loan.number, names=names)
        yield (what, loan.borrower, loan.purpose, loan.lent_on.isoformat(), loan.due_on.isoformat())


def _handed_on(say: Wording) -> Iterator[ListRow]:
    """Yield containers in somebody's hands that are on no loan, by whom they are with; a shelf of ours is nobody."""
    lent = select(models.LoanLine.id).where(
        models.LoanLine.container_id == models.Container.id, models.LoanLine.back_on.is_(None)
    )
    wanted = (
        select(models.Container.number, models.Season.name, models.Part.place, models.Part.since)
        .join(models.Part, models.Part.container_id == models.Container.id)
        .join(models.Season, models.Container.season_id == models.Season.id)
        .where(models.Container.standing == Standing.AWAY, ~lent.exists())
        .order_by(models.Part.place, models.Season.starts, models.Container.number_key, models.Container.id)
    )
    with say.desk.reading() as reading:
        rows = reading.session.execute(wanted).all()
    ours = {folded(name) for one in places_tree(say.desk) for name in (one.name, one.path)}
    for number, season, place, since in rows:
        if folded(place) in ours:
            continue
        name = say(N_("{container} {number} of {season}"), number=number, season=season)
        yield (name, place or NONE, say(N_("handed on")), say.moment(since)[:10], NONE)


def _out(say: Wording) -> Iterator[ListRow]:
    for one in out_now(say.desk):
        name = say(N_("box {number}"), number=one.number) if one.number else say(N_("bag {code}"), code=one.code)
        yield (name, one.to, one.why, say.moment(one.since)[:10], NONE)


def _missing(say: Wording) -> Iterator[ListRow]:
    """Yield what stock-takes missed and nobody met since."""
    for one in missing_things(say.desk):
        name = say(N_("box {number}"), number=one.number) if one.number else say(N_("bag {code}"), code=one.code)
        why = say(N_("missing since stock-take {number}"), number=one.stock_take)
        yield (name, NONE, why, say.moment(one.since)[:10], NONE)


def _moving(say: Wording) -> Iterator[ListRow]:
    for one in under_way(say.desk):
        name = say(N_("transport {number}, not arrived: {n}"), number=one.number, n=len(one.not_arrived))
        yield (name, one.to, one.note, say.moment(one.left_at)[:10], NONE)
