"""Asking what another retention policy would have kept of a season's sherds."""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import case, func, select
from sqlalchemy.orm import Session

from findsdesk.desk.at_the_desk import season_now
from findsdesk.desk.desk import Desk
from findsdesk.desk.retention import policy_of
from findsdesk.domain.balance import Decision
from findsdesk.domain.date_ranges import DateRange
from findsdesk.domain.policy_simulation import Simulated, SortedRow, simulate_rows
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.retention import Policy, SaidOfAGroup
from findsdesk.store.models import Container, Deposit, Form, Season, Ware
from findsdesk.store.sherd_sums import POTTERY
from findsdesk.store.sorted_sherds import sorted_sherds
from findsdesk.words import N_


def simulate(desk: Desk, policy: Policy | None = None, *, season: str | None = None) -> Simulated:
    """Return what a policy (None: the one in force) would have kept of a season's pottery (None: the present season).

    Refusal: ``unknown_season``.
    """
    asked = policy_of(desk) if policy is None else policy
    now = season_now(desk)
    name = season if season is not None else now.name if now is not None else ""
    with desk.reading() as reading:
        season_id = reading.session.execute(select(Season.id).where(Season.name == name)).scalar()
        if season_id is None:
            raise Refusal("unknown_season", N_("There is no season {name}. Look at the list of seasons."), name=name)
        return simulate_rows(asked, _rows(reading.session, season_id), _ranges(reading.session))


def _rows(session: Session, season_id: int) -> Iterator[SortedRow]:
    """Yield the sherds of a season, those said alike of one deposit together: shares come out the same over them."""
    sherds = sorted_sherds(
        "container_id",
        "ware_id",
        "form_id",
        "part",
        "decoration",
        "condition",
        "diagnostic",
        "decision",
        "pieces",
        "tenths",
    ).c
    alike = (
        Deposit.number_key,
        Deposit.number,
        Deposit.security,
        Ware.code,
        Form.code,
        sherds.part,
        sherds.decoration,
        sherds.condition,
        sherds.diagnostic,
        sherds.decision,
    )
    unweighed = func.sum(case((sherds.tenths.is_(None), sherds.pieces), else_=0))
    rows = session.execute(
        select(*alike, func.sum(sherds.pieces), func.sum(sherds.tenths), unweighed)
        .join(Container, sherds.container_id == Container.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Ware, sherds.ware_id == Ware.id)
        .outerjoin(Form, sherds.form_id == Form.id)
        .where(Container.season_id == season_id, Container.material == POTTERY, sherds.pieces > 0)
        .group_by(*alike)
        .order_by(*alike)
    )
    for _key, deposit, security, ware, form, part, decoration, condition, told, decision, pieces, tenths, rest in rows:
        said = SaidOfAGroup(ware or "", part, form or "", decoration, condition, bool(told))
        yield SortedRow(deposit or "", security or "", said, pieces, tenths or 0, rest, Decision(decision))


def _ranges(session: Session) -> dict[str, DateRange | None]:
    rows = session.execute(select(Ware.code, Ware.earliest, Ware.latest))
    years = {
        code: DateRange(earliest, latest) if earliest is not None and latest is not None else None
        for code, earliest, latest in rows
    }
    return {**years, "": None}
