"""Places and boxes into which something is laid, kept to one deed: nobody gives them up meanwhile."""

from __future__ import annotations

from findsdesk.desk.desk import Deed
from findsdesk.desk.finding_shelves import box_of, place_of
from findsdesk.desk.one_at_a_time import only_here_in_store
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.shelving import FOR_A_WHILE, PlaceKind
from findsdesk.store.models import Box, Place
from findsdesk.words import N_


def place_kept(deed: Deed, which: str) -> Place:
    """Return a place as it is when no other station writes it. Refusals: those of finding it."""
    row = place_of(deed.session, deed.desk, which)
    only_here_in_store(deed, row)
    return place_of(deed.session, deed.desk, row.code)


def home_kept(deed: Deed, which: str) -> Place:
    """Return a place where something is to belong. Refusals: ``for_a_while_only``, those of finding it."""
    row = place_kept(deed, which)
    if PlaceKind(row.kind) in FOR_A_WHILE:
        raise Refusal(
            "for_a_while_only",
            N_("Nothing belongs to {place}: take it out to there by scan, and bring it back."),
            place=row.name,
        )
    return row


def box_kept(deed: Deed, which: str) -> Box:
    """Return a box as it is when no other station writes it. Refusals: those of finding it."""
    row = box_of(deed.session, deed.desk, which)
    only_here_in_store(deed, row)
    return box_of(deed.session, deed.desk, row.code)
