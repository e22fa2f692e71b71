"""Finds that came without a readable tag: a provisional number, until somebody says which container they are."""

from __future__ import annotations

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.finding import container_of, deposit_of
from findsdesk.desk.new_containers import IssuedTag, as_tag, new_container
from findsdesk.desk.redoing import ask_to_redo, papers_of
from findsdesk.desk.rehousing import need_reason, to_deposit
from findsdesk.desk.setting_up import season_of
from findsdesk.desk.steps import take_step, write_step
from findsdesk.domain.natural_order import folded, sort_key
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Standing, StepKind
from findsdesk.store.models import Container, Deposit, Season
from findsdesk.store.numbers import take_numbers
from findsdesk.words import N_


def register_untagged(
    desk: Desk,
    *,
    material: str = "pottery",
    neighbours: str = "",
    deposit: str | None = None,
    season: str | None = None,
) -> IssuedTag:
    """Register a find that came without a readable tag under a provisional number, with its neighbours noted."""
    with desk.deed("register_untagged") as deed:
        its_season = season_of(deed.session, deed.today(), season)
        row = new_provisional(deed, its_season, material=material)
        if deposit:
            found = deposit_of(deed.session, deposit)
            row.deposit_id, row.square_id = found.id, found.square_id
        row.arrived_at = deed.happened_at
        row.collected_on = deed.today()
        deed.session.flush()
        write_step(deed, row, StepKind.ISSUED, note=neighbours)
        take_step(deed, row, StepKind.ARRIVED, note=neighbours)
        deed.said = row.number
    return as_tag(row)


def new_provisional(deed: Deed, season: Season, *, material: str) -> Container:
    """Make the row of a container under the next provisional number of a season."""
    number = take_numbers(deed.session, f"provisional:{season.id}", 1, station_id=deed.desk.station_id)[0]
    return new_container(
        deed, season, f"P{number}", material=material, scope=f"provisional {season.id}", provisional=True
    )


def attribute(desk: Desk, provisional: str, *, to: str, reason: str) -> IssuedTag:
    """Say which issued container a provisional find is: it takes that number, and the lost tag is voided.

    What is written with its provisional number comes out as things to redo. Refusals: ``reason_needed``,
    ``not_provisional``, ``already_here``.
    """
    need_reason(reason)
    with desk.deed("attribute") as deed:
        find = container_of(deed.session, desk, provisional)
        lost = container_of(deed.session, desk, to)
        if not find.provisional:
            raise Refusal("not_provisional", N_("{Container} {number} has its own number already."), number=find.number)
        if Standing(lost.standing) not in (Standing.ISSUED, Standing.LISTED, Standing.MISSING):
            raise Refusal(
                "already_here", N_("{Container} {number} is here already under its own tag."), number=lost.number
            )
        before = papers_of(deed.session, desk.facts, [find.id])
        take_step(deed, lost, StepKind.VOIDED, note=f"{find.code}: {reason}")
        number = lost.number
        lost.number = f"{number} (tag lost)"
        lost.number_key, lost.number_folded = sort_key(lost.number), folded(lost.number)
        deed.session.flush()
        find.scope, find.number, find.number_key, find.number_folded = (
            lost.scope,
            number,
            sort_key(number),
            folded(number),
        )
        find.provisional, find.on_list = False, lost.on_list
        if lost.deposit_id is not None:
            to_deposit(deed, find, deed.session.get_one(Deposit, lost.deposit_id))
        find.season_id, find.square_id = lost.season_id, lost.square_id or find.square_id
        find.collected_on = lost.collected_on or find.collected_on
        find.supervisor_id = lost.supervisor_id or find.supervisor_id
        write_step(deed, find, StepKind.ATTRIBUTED, note=reason)
        deed.said = f"{provisional} = {number}"
        deed.session.flush()
        ask_to_redo(deed, before, f"{provisional} = {number}: {reason}")
    return as_tag(find)
