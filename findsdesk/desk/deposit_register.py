"""The register of deposits, those merged into others too."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sqlalchemy import and_, or_

from findsdesk.desk.container_register import deposits_numbered
from findsdesk.desk.deposit_facts import DepositFacts, facts_of_deposits
from findsdesk.desk.desk import Reading
from findsdesk.desk.register_windows import Condition, Key, Source
from findsdesk.desk.setting_up import person_named
from findsdesk.desk.squares import square_named
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Deposit
from findsdesk.words import N_

STATES: Mapping[str, Condition] = {
    "open": and_(Deposit.closed.is_(None), Deposit.merged_into_id.is_(None)),
    "closed": and_(Deposit.closed.is_not(None), Deposit.merged_into_id.is_(None)),
    "merged": Deposit.merged_into_id.is_not(None),
}


def _holds_word(word: str) -> Condition:
    return or_(Deposit.search_text.like(word, escape="/"), Deposit.id.in_(deposits_numbered(word)))


def _of_squares(reading: Reading, values: Sequence[str]) -> Condition:
    return Deposit.square_id.in_([square_named(reading.session, value).id for value in values])


def _of_supervisors(reading: Reading, values: Sequence[str]) -> Condition:
    people = [person_named(reading.session, value) for value in values]
    return Deposit.supervisor_id.in_([person.id for person in people if person is not None])


def _in_states(_reading: Reading, values: Sequence[str]) -> Condition:
    for value in values:
        if value not in STATES:
            raise Refusal(
                "unknown_state",
                N_("{said} is none of {known}. Choose one of them."),
                said=value,
                known=", ".join(STATES),
            )
    return or_(*(STATES[value] for value in values))


def _of_kinds(_reading: Reading, values: Sequence[str]) -> Condition:
    return Deposit.kind.in_(values)


def _secure(_reading: Reading, values: Sequence[str]) -> Condition:
    return Deposit.security.in_(values)


def _rows(reading: Reading, keys: Sequence[Key]) -> Mapping[Key, DepositFacts]:
    return {facts.id: facts for facts in facts_of_deposits(reading.session, keys)}


DEPOSITS = Source(
    key=Deposit.id,
    sorts={"number": (Deposit.number_key,), "opened": (Deposit.opened,)},
    filters={
        "square": _of_squares,
        "supervisor": _of_supervisors,
        "kind": _of_kinds,
        "security": _secure,
        "state": _in_states,
    },
    holds_word=_holds_word,
    rows=_rows,
)
