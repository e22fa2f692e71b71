"""Asking what another retention policy would have kept of a season's sherds."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sqlalchemy import case, func, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.figure_dates import ends_of_bulk
from findsdesk.desk.figure_scopes import Of, Scope
from findsdesk.desk.retention import policy_of
from findsdesk.desk.setting_up import season_now
from findsdesk.desk.type_table import TypeTable, type_table
from findsdesk.domain.balance import Decision
from findsdesk.domain.policy_simulation import Simulated, SortedRow, simulate_rows
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.retention import Policy, SaidOfAGroup
from findsdesk.domain.sample_sizes import enough_of
from findsdesk.store.models import Container, Deposit, Form, Season, Ware
from findsdesk.store.sherd_sums import POTTERY, dated_objects
from findsdesk.store.sorted_sherds import sorted_sherds
from findsdesk.store.sums_in_spans import sums_of
from findsdesk.words import N_, CountOf, grouped


def simulate(desk: Desk, policy: Policy | None = None, *, season: str | None = None) -> Simulated:
    """Return what a policy (None: the one in force) would have kept of a season's pottery (None: the present season).

    Years are those of the figures: each of the piece itself, else of its form, else of its ware. Refusal:
    ``unknown_season``.
    """
    asked = policy_of(desk) if policy is None else policy
    now = season_now(desk)
    name = season if season is not None else now.name if now is not None else ""
    with desk.reading() as reading:
        session = reading.session
        season_id = session.execute(select(Season.id).where(Season.name == name)).scalar()
        if season_id is None:
            raise Refusal("unknown_season", N_("There is no season {name}. Look at the list of seasons."), name=name)
        told = simulate_rows(asked, _rows(session, Scope(Of.SEASON, season_id, name), type_table(session)))
        against, unexplained = _decided_against(session, season_id)
        return replace(told, against=against, unexplained=unexplained)


def _decided_against(session: Session, season_id: int) -> tuple[int, int]:
    """Return how many pieces of a season's pottery are decided against a rule, and of how many nobody said why."""
    sherds = sorted_sherds("container_id", "proposed", "reason", "pieces").c
    untold = func.sum(case((sherds.reason == "", sherds.pieces), else_=0))
    against, unexplained = session.execute(
        select(func.sum(sherds.pieces), untold)
        .join(Container, sherds.container_id == Container.id)
        .where(Container.season_id == season_id, Container.material == POTTERY, sherds.proposed != "")
    ).one()
    return int(against or 0), int(unexplained or 0)


def notes_of(told: Simulated) -> tuple[tuple[str, dict[str, object]], ...]:
    """Return what is said below the figures of a simulation, as message keys with their facts."""
    sherds = told.sorted.pieces
    left_out = (
        (N_("Not weighed and in no kilo: {pieces}."), told.unweighed),
        (N_("Without a first or last year and in no mean date: {pieces}."), told.sorted.undated),
        (N_("Looking late in a sealed {deposit} and in no date: {pieces}."), told.sorted.late),
    )
    said: list[tuple[str, dict[str, object]]] = [
        (text, {"pieces": CountOf("{n} piece", "{n} pieces", n)}) for text, n in left_out if n
    ]
    if told.against:
        against = CountOf("{n} piece", "{n} pieces", told.against)
        said.append((_AGAINST, {"pieces": against, "untold": grouped(told.unexplained)}))
    if sherds:
        enough = enough_of(sherds)
        there = CountOf("{n} sherd", "{n} sherds", sherds)
        drawn = CountOf("{n} drawn by lot is enough", "{n} drawn by lot are enough", enough.cochran)
        said.append((_ENOUGH, {"n": there, "enough": drawn, "short": grouped(enough.yamane)}))
    return tuple(said)


_AGAINST = N_("Decided against a rule: {pieces}, without a reason yet: {untold}.")
_ENOUGH = N_("To tell the share of a ware in {n} to 5 %, {enough} (Cochran 1977; {short} by Yamane's short formula).")


def _rows(session: Session, season: Scope, types: TypeTable) -> Iterator[SortedRow]:
    """Yield the sherds of a season, those said alike of one deposit together: shares come out the same over them."""
    within = season.within()
    ends = ends_of_bulk(session, sums_of(session, within), dated_objects(session, within), types)
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
        with_years=True,
    ).c
    alike = (
        Deposit.number_key,
        Deposit.number,
        Deposit.id,
        Deposit.security,
        Ware.code,
        Ware.id,
        Form.code,
        Form.id,
        sherds.part,
        sherds.decoration,
        sherds.condition,
        sherds.diagnostic,
        sherds.decision,
        sherds.earliest,
        sherds.latest,
    )
    unweighed = func.sum(case((sherds.tenths.is_(None), sherds.pieces), else_=0))
    rows = session.execute(
        select(*alike, func.sum(sherds.pieces), func.sum(sherds.tenths), unweighed)
        .join(Container, sherds.container_id == Container.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Ware, sherds.ware_id == Ware.id)
        .outerjoin(Form, sherds.form_id == Form.id)
        .where(Container.season_id == season.id, Container.material == POTTERY, sherds.pieces > 0)
        .group_by(*alike)
        .order_by(*alike)
    )
    for row in rows:
        (_key, deposit, deposit_id, security, ware, ware_id, form, form_id, part, decoration, condition) = row[:11]
        (told, decision, earliest, latest, pieces, tenths, rest) = row[11:]
        said = types.said(ware_id, form_id, earliest, latest)
        yield SortedRow(
            deposit or "",
            security or "",
            SaidOfAGroup(ware or "", part, form or "", decoration, condition, bool(told)),
            pieces,
            tenths or 0,
            rest,
            Decision(decision),
            said,
            late=said.years is not None and deposit_id in ends and said.years.begin >= ends[deposit_id],
        )
