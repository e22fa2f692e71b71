"""The sherds of very many groups summed span by span of containers: followed, called off, and remembered.

What was summed is kept as long as nobody wrote anything: another weight of the profile, or the rows behind a figure,
asks for it again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from operator import add
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.store.kept_sums import as_it_stands
from findsdesk.store.models import Container
from findsdesk.store.sherd_sums import Cell, Span, Within, beside, sherd_sums

Follow = Callable[[int, int], None]
"""Is told how much is done and of how much, and may raise to call it off."""
SPAN_CONTAINERS = 12_500
"""About a quarter of a second's work; fewer in all are summed at once."""
_KEY = len(("kind", "deposit_id", "mine", "ware_id", "form_id", "linked", "earliest", "latest"))
"""The fields of a cell that say what it is of; those after them add up."""


def sums_of(session: Session, within: Within, follow: Follow | None = None) -> list[Cell]:
    """Return the sherds of pottery containers summed by deposit and type, as they stand in a reading session.

    Those beside it that belong to its sealed deposits come with them, and are not its own. ``follow`` is asked between
    spans where there are several; what it raises ends the work.
    """
    spans = tuple(_spans(session)) if within.is_wide() else ()
    if len(spans) < 2:
        return [*sherd_sums(session, within), *_beside(session, within)]
    return as_it_stands(
        session,
        within,
        lambda: [*_summed(session, within, spans, follow or _nobody), *_beside(session, within)],
    )


def _beside(session: Session, within: Within) -> Iterator[Cell]:
    for rest in beside(session, within):
        yield from sherd_sums(session, rest)


def _spans(session: Session) -> Iterator[Span]:
    """Yield spans of so many containers each that hold them all."""
    ids = list(session.execute(select(Container.id).order_by(Container.id)).scalars())
    after = -1
    for upto in [*ids[SPAN_CONTAINERS - 1 : -1 : SPAN_CONTAINERS], *ids[-1:]]:
        yield Span(after, upto)
        after = upto


def _summed(session: Session, within: Within, spans: Sequence[Span], follow: Follow) -> list[Cell]:
    sums: dict[tuple[Any, ...], tuple[Any, ...]] = {}
    for done, span in enumerate(spans):
        follow(done, len(spans))
        for cell in sherd_sums(session, within, span):
            key, added = cell[:_KEY], cell[_KEY:]
            before = sums.get(key)
            sums[key] = added if before is None else tuple(map(add, before, added))
    follow(len(spans), len(spans))
    return [Cell(*key, *added) for key, added in sums.items()]


def _nobody(_done: int, _of: int) -> None:
    """Follow nothing."""
