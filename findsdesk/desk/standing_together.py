"""What two stores wrote, asked whether it can stand together: discards, shelves, loans, marks and signed lists."""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy.orm import Session

from findsdesk.desk.deed_words import KIND_IN_WORDS
from findsdesk.desk.mark_sums import SORTED
from findsdesk.desk.shipped import routes
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.standings import Standing
from findsdesk.store.bags_proved import WrongBags, wrong_bags
from findsdesk.store.discards_proved import wrong_discards
from findsdesk.store.emptied import empty_beside_sorted
from findsdesk.store.hand_overs_proved import wrong_hand_overs
from findsdesk.store.marks_proved import wrong_marks
from findsdesk.store.shelves_proved import wrong_loans, wrong_shelves
from findsdesk.words import N_, put

Wrong = frozenset[tuple[str, str, str]]
"""Kind, name, and what is wrong of each thing."""


def what_is_wrong(session: Session) -> Wrong:
    """Return what cannot be of things as they stand: nothing in a sound store."""
    return frozenset(_wrong(session))


def _wrong(session: Session) -> Iterator[tuple[str, str, str]]:
    for one in (*wrong_shelves(session), *wrong_loans(session)):
        yield one.kind, one.name, one.why
    for listed in wrong_discards(session):
        yield "container", listed.container, f"discard {listed.why}"
    for marked in wrong_marks(session, SORTED):
        yield "container", marked.container, f"mark {marked.why}"
    for bagged in _wrong_bags(session):
        yield "container", bagged.container, "bags"
    for emptied in empty_beside_sorted(session, sorted_here()):
        yield "container", emptied.container, "empty"
    for signed in wrong_hand_overs(session):
        yield "hand_over", f"{signed.season} {signed.number}", signed.why


def sorted_here() -> list[str]:
    """Return the materials that are sorted here."""
    return [key for key, route in routes().items() if route.sorted_here]


def _wrong_bags(session: Session) -> Iterator[WrongBags]:
    counted = [key for key, route in routes().items() if route.counted]
    return wrong_bags(session, (Standing.BAGGED, Standing.AWAY), sorted_here(), counted)


def beyond_what_is_kept(session: Session) -> frozenset[int]:
    """Return the containers of which more is in bags, or marked, than is kept."""
    in_bags = {one.container_id for one in _wrong_bags(session)}
    return frozenset(in_bags | {one.container_id for one in wrong_marks(session, SORTED)})


def refuse_what_cannot_stand(session: Session, before: Wrong) -> None:
    """Refuse what was sound in each of two stores and is not in both together: ``cannot_stand_together``."""
    wrong = sorted(what_is_wrong(session) - before)
    if wrong:
        kind, name, _why = wrong[0]
        text = N_("What both stores wrote cannot stand together ({what}). Take it back in one of them, and try again.")
        raise Refusal("cannot_stand_together", text, what=f"{put(KIND_IN_WORDS.get(kind, kind))} {name}")
