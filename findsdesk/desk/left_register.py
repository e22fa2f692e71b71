"""The register of what was seen in the trench and left there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sqlalchemy import or_, select

from findsdesk.desk.container_register import deposits_numbered
from findsdesk.desk.desk import Reading
from findsdesk.desk.finding import deposit_of
from findsdesk.desk.left_in_trench import LeftFacts, entries_left
from findsdesk.desk.register_windows import Condition, Key, Source
from findsdesk.desk.squares import square_named
from findsdesk.store.models import Deposit, LeftInTrench


def _holds_word(word: str) -> Condition:
    return or_(
        LeftInTrench.what.ilike(word, escape="/"),
        LeftInTrench.why.ilike(word, escape="/"),
        LeftInTrench.deposit_id.in_(deposits_numbered(word)),
    )


def _of_deposits(reading: Reading, values: Sequence[str]) -> Condition:
    return LeftInTrench.deposit_id.in_([deposit_of(reading.session, value).id for value in values])


def _of_squares(reading: Reading, values: Sequence[str]) -> Condition:
    ids = [square_named(reading.session, value).id for value in values]
    return LeftInTrench.deposit_id.in_(select(Deposit.id).where(Deposit.square_id.in_(ids)))


def _of_materials(_reading: Reading, values: Sequence[str]) -> Condition:
    return LeftInTrench.material.in_(values)


def _rows(reading: Reading, keys: Sequence[Key]) -> Mapping[Key, LeftFacts]:
    return {facts.id: facts for facts in entries_left(reading.session, keys)}


LEFT = Source(
    key=LeftInTrench.id,
    sorts={"seen": (LeftInTrench.happened_at,)},
    filters={"deposit": _of_deposits, "square": _of_squares, "material": _of_materials},
    holds_word=_holds_word,
    rows=_rows,
    newest_first=True,
)
