"""Whether sherds that are about to be written look late where they are from."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy.orm import Session

from findsdesk.desk.figure_dates import bulks_of
from findsdesk.desk.group_rows import GroupFacts, GroupOf
from findsdesk.desk.type_table import type_table
from findsdesk.domain.deposits import Security
from findsdesk.store.models import Container, Deposit
from findsdesk.store.sherd_sums import Cell, Inside, Within, dated_objects
from findsdesk.store.sums_in_spans import sums_of

NewSherds = tuple[GroupFacts, GroupOf]


def looking_late(session: Session, container: Container, groups: Sequence[NewSherds]) -> list[bool]:
    """Tell of each of some checked groups of a container whether it looks late there.

    It does where it begins when the bulk of its sealed deposit has ended, as that stands or with all these groups.
    """
    end = _end_of_bulk(session, container, groups)
    if end is None:
        return [False] * len(groups)
    types = type_table(session)
    years = [types.years_said(*_type_of(of), None, None) for _said, of in groups]
    return [one is not None and one.begin >= end for one in years]


def _end_of_bulk(session: Session, container: Container, groups: Sequence[NewSherds]) -> int | None:
    deposit_id = container.deposit_id
    if deposit_id is None or session.get_one(Deposit, deposit_id).security != Security.SEALED:
        return None
    within, types = Within(Inside.DEPOSIT, deposit_id), type_table(session)
    there, objects = sums_of(session, within), dated_objects(session, within)
    come = [_cell(deposit_id, said, of) for said, of in groups]
    ends = (bulks_of(session, cells, objects, types).get(deposit_id) for cells in (there, [*there, *come]))
    return min((end for end in ends if end is not None), default=None)


def _cell(deposit_id: int, said: GroupFacts, of: GroupOf) -> Cell:
    """Return a group as it is summed up for dates, which ask for nothing but its type and its pieces."""
    nothing = dict.fromkeys(Cell._fields, 0) | {"earliest": None, "latest": None}
    ware_id, form_id = _type_of(of)
    told = {"kind": "", "deposit_id": deposit_id, "ware_id": ware_id, "form_id": form_id, "pieces": said.pieces}
    return Cell(**(nothing | told))  # type: ignore[arg-type]


def _type_of(of: GroupOf) -> tuple[int | None, int | None]:
    return of.ware.id if of.ware else None, of.form.id if of.form else None
