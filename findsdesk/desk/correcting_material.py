"""Another material is another route: pieces change ledgers, finds leave water they may not stand in, crates fill."""

from __future__ import annotations

from findsdesk.desk.desk import Deed
from findsdesk.desk.editing import ask
from findsdesk.desk.group_rows import has_rows
from findsdesk.desk.ledgers import enter, ledger_from, there_now
from findsdesk.desk.shipped import material_named, route_of
from findsdesk.desk.steps import parts_of, stand, take_step
from findsdesk.domain.balance import Entry
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.routes import Route, Standing, StepKind, Treatment
from findsdesk.store.models import BalanceTotal, Container
from findsdesk.words import N_


def correct_material(deed: Deed, row: Container, material: str | None, reason: str, sure: bool) -> list[str]:
    """Put the material of a container right, with what follows for its way; returns what changed, for the act.

    Refusals: ``unknown_material``, ``sorted_already``. Questions: ``leaves_the_tub``.
    """
    if material is None:
        return []
    route = route_of(material_named(material) or material)
    was = row.material
    if route.key == was:
        return []
    if has_rows(deed, row):
        raise Refusal(
            "sorted_already",
            N_("{Container} {number} has rows at the Sorting table. Remove them first, then correct its material."),
            number=row.number,
        )
    _leave_standing(deed, row, route, sure)
    _carry_pieces(deed, row, route.key, reason)
    _to_its_place(deed, row, route)
    return [f"{was} → {route.key}"]


def _leave_standing(deed: Deed, row: Container, route: Route, sure: bool) -> None:
    """Take a container back from where its new route may not have it."""
    standing = Standing(row.standing)
    if standing is Standing.SOAKING and not route.soak:
        question = Question(
            "leaves_the_tub",
            N_("{Container} {number} stands in a tub, and that material is never soaked. Take it out now?"),
            number=row.number,
        )
        ask(deed, question, sure)
        take_step(deed, row, StepKind.TAKEN_BACK, back_to=Standing.ARRIVED, note=route.key)
    elif standing is Standing.SORTING and not route.sorted_here:
        take_step(deed, row, StepKind.TAKEN_BACK, back_to=Standing.DRY, note=route.key)
    elif standing is Standing.CLOSED and route.treatment not in (Treatment.CLOSED, Treatment.STOP):
        take_step(deed, row, StepKind.TAKEN_BACK, back_to=Standing.ARRIVED, note=route.key)


def _carry_pieces(deed: Deed, row: Container, material: str, reason: str) -> None:
    """Let the pieces counted so far leave the ledger of the one material and arrive in that of the other."""
    total = deed.session.get(BalanceTotal, (row.id, row.material))
    pieces = there_now(ledger_from(total))
    tenths = total.counted_tenths - total.accounted_tenths if total is not None else 0
    if pieces or tenths:
        enter(deed, row, Entry.MOVED_OUT, pieces, tenths=tenths, why=reason, other=row)
    row.material = material
    if pieces or tenths:
        enter(deed, row, Entry.ARRIVED, pieces, tenths=tenths, why=reason, other=row)


def _to_its_place(deed: Deed, row: Container, route: Route) -> None:
    for part in parts_of(deed, row):
        stays_in_water = part.place_kind == "tub" and route.soak
        if part.place_kind in ("yard", "crate", "tub") and not stays_in_water:
            kind, place = ("crate", route.crate) if route.crate else ("yard", "")
            if (part.place_kind, part.place) != (kind, place):
                stand(deed, part, kind, place)
