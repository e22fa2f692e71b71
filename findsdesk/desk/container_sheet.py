"""The register of containers on paper: every tag ever issued, also empty, lost and void ones, of any length."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sqlalchemy import and_, func, select

from findsdesk.desk.desk import Desk
from findsdesk.desk.sheets import PrintedList, Wording
from findsdesk.desk.whole_papers import NONE, Asked, material_in_words, print_whole
from findsdesk.domain.routes import STANDING_IN_WORDS, Standing
from findsdesk.paper.list_kinds import Column, ListRow, Section
from findsdesk.paper.report_kinds import Table
from findsdesk.store.models import Bag, BalanceTotal, Container, Deposit, Season, Square
from findsdesk.words import N_, grouped

AT_ONCE = 2_000
_B = BalanceTotal
EXPECTED = _B.counted + _B.found_more + _B.arrived
DISCARDED = _B.to_discard + _B.discarded


def container_register(now: Desk, asked: Asked) -> PrintedList:
    """Return the register of the containers of a season, or of all seasons where none is asked."""
    with now.at_one_moment() as desk:
        say = Wording(desk)
        chosen = say(N_("Season {name}"), name=asked.season) if asked.season else say(N_("Every tag of every season"))
        table = container_table(say, asked.season)
        return print_whole(
            say,
            asked,
            title=say(N_("Register of {containers}")),
            filter_words=chosen,
            parts=lambda: iter((table,)),
            rows=_count(say, asked.season),
            turned=True,
        )


def _count(say: Wording, season: str) -> int:
    wanted = select(func.count()).select_from(Container).join(Season, Container.season_id == Season.id)
    if season:
        wanted = wanted.where(Season.name == season)
    with say.desk.reading() as reading:
        return reading.session.execute(wanted).scalar_one()


def container_table(say: Wording, season: str, *, short: bool = False, caption: str = "") -> Table:
    """Return the register as a table, its sums under it; ``short`` leaves out what does not fit an upright page."""
    columns = [
        Column(say(N_("{Container}")), 0.85),
        Column(say(N_("Tag")), 1.4),
        Column(say(N_("{Deposit}")), 0.85),
        Column(say(N_("{Square}")), 0.75),
        Column(say(N_("Day")), 1.2),
        Column(say(N_("Material")), 1.35),
        Column(say(N_("Stands")), 1.5),
        Column(say(N_("Came in")), 0.7, "right"),
        Column(say(N_("Kept")), 0.65, "right"),
        Column(say(N_("Discarded, to discard")), 1.0, "right"),
        Column(say(N_("Bags")), 0.5, "right"),
    ]
    if not short:
        columns.append(Column(say(N_("Description")), 2.6))
    sums = _sums(say, season)
    totals = (say(N_("Total")), *[""] * 6, *(grouped(one) for one in sums), *[""] * (len(columns) - 11))
    return Table(
        tuple(columns),
        lambda: _rows(say, season, short=short),
        totals=totals,
        when_empty=say(N_("No tag is issued yet.")),
        caption=caption,
    )


def _query(season: str) -> Any:
    of_it = (Bag.container_id == Container.id) & (Bag.pieces > 0)
    bags = select(func.count()).where(of_it).correlate(Container).scalar_subquery()
    wanted = (
        select(
            Season.name,
            Container.number,
            Container.code,
            Deposit.number,
            Square.name,
            Container.collected_on,
            Container.material,
            Container.standing,
            EXPECTED,
            _B.kept,
            DISCARDED,
            bags,
            Container.description,
        )
        .select_from(Container)
        .join(Season, Container.season_id == Season.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .outerjoin(_B, and_(_B.container_id == Container.id, _B.material == Container.material))
        .order_by(Season.starts, Container.number_key, Container.id)
    )
    return wanted.where(Season.name == season) if season else wanted


def _rows(say: Wording, season: str, *, short: bool) -> Iterator[ListRow]:
    before = ""
    with say.desk.reading() as reading:
        found: Any = reading.session.execute(_query(season).execution_options(yield_per=AT_ONCE))
        for row in found:
            name, number, code, deposit, square, day, material, standing, came, kept, gone, bags, said = tuple(row)
            if name != before and not season:
                before = name
                yield Section(say(N_("Season {name}"), name=name))
            cells = (
                number,
                code,
                deposit or NONE,
                square or NONE,
                day.isoformat() if day else "",
                material_in_words(material, say) if standing != Standing.ISSUED else "",
                say(STANDING_IN_WORDS[Standing(standing)]),
                *("" if one is None else grouped(one) for one in (came, kept, gone)),
                grouped(bags) if bags else "",
            )
            yield cells if short else (*cells, said)


def _sums(say: Wording, season: str) -> tuple[int, int, int, int]:
    """Return what came in, is kept and is discarded of the rows' materials, and the bags."""
    totals = (
        select(*(func.coalesce(func.sum(one), 0) for one in (EXPECTED, _B.kept, DISCARDED)))
        .select_from(Container)
        .join(Season, Container.season_id == Season.id)
        .join(_B, and_(_B.container_id == Container.id, _B.material == Container.material))
    )
    bags = (
        select(func.count())
        .select_from(Bag)
        .join(Container, Bag.container_id == Container.id)
        .join(Season, Container.season_id == Season.id)
        .where(Bag.pieces > 0)
    )
    if season:
        totals, bags = totals.where(Season.name == season), bags.where(Season.name == season)
    with say.desk.reading() as reading:
        came, kept, gone = (int(one) for one in tuple(reading.session.execute(totals).one()))
        return came, kept, gone, reading.session.execute(bags).scalar_one()
