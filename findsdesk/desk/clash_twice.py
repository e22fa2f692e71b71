"""Work done in two stores on one thing: a person says whose stands, the other's is undone in its place."""

from __future__ import annotations

from sqlalchemy import select

from findsdesk.desk.desk import Deed
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Clash, Container
from findsdesk.store.one_of_two import IN_BAGS, PACKED, TwoSides, filled_bags, let_one_stand
from findsdesk.words import N_


def sides_of(row: Clash) -> TwoSides:
    """Return what both sides of a clash did."""
    return TwoSides(row.what, row.row_id, row.one["values"], row.other["values"])


def keep_one(deed: Deed, row: Clash, first: bool) -> None:
    """Let the work of one side stand. Refusal: ``packed_since``."""
    sides = sides_of(row)
    if row.what == PACKED:
        _refuse_packed_since(deed, sides)
    let_one_stand(deed.session, deed.changes, sides, first=first, now=deed.happened_at, decided=True)


def _refuse_packed_since(deed: Deed, sides: TwoSides) -> None:
    """Refuse to fill bags of a container that lies open or was packed into others since."""
    standing = deed.session.execute(select(Container.standing).where(Container.id == sides.row_id)).scalar()
    known = {bag["id"] for side in (sides.one, sides.other) for bag in side["bags"]}
    if standing not in IN_BAGS or filled_bags(deed.session, sides.row_id) - known:
        text = N_("It was opened or packed anew since. Let it stand as it is, or pack it again.")
        raise Refusal("packed_since", text)
