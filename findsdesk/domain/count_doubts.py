"""Counts that are possible and hardly meant."""

from __future__ import annotations

from typing import NoReturn

from findsdesk.domain.balance import Ledger
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.words import N_, CountOf

USUAL_MOST = 2_000
"""OWN: one container at the wash holds some ten to a few hundred pieces; ten times that is a slip of the hand."""


def ask_if_many(pieces: int, number: str) -> Question | None:
    """Return the question that a count far above the usual raises, or nothing."""
    if pieces <= USUAL_MOST:
        return None
    return Question(
        "many_pieces",
        N_("{pieces:,} pieces in {container} {number}: that is far more than usual. Is it so?"),
        pieces=pieces,
        number=number,
    )


def refuse_none_beside_sorted(ledger: Ledger, lifted: int, number: str) -> None:
    """Refuse to count nothing where sherds stand in rows or as pieces, or explanations: they would be out of sight.

    ``lifted`` of the sorted sherds are pieces. Codes: ``sorted_stand``, ``discarded_stand``, ``explained_stand``.
    """
    if ledger.sorted and ledger.sorted == ledger.discarded:
        raise Refusal(
            "discarded_stand",
            N_("{Container} {number}: what was sorted is discarded; it is not empty after washing. Settle it."),
            number=number,
        )
    if ledger.sorted:
        _refuse_sorted(ledger.sorted - lifted, lifted)
    if ledger.not_a_sherd or ledger.not_found or ledger.found_more or ledger.used_up:
        raise Refusal(
            "explained_stand",
            N_("{Container} {number}: explanations stand at the table. Settle it there, or take them back first."),
            number=number,
        )


def _refuse_sorted(in_rows: int, lifted: int) -> NoReturn:
    rows = CountOf("{n} sherd is sorted", "{n} sherds are sorted", in_rows)
    if not lifted:
        raise Refusal("sorted_stand", N_("{rows} in rows. Count what is here, or take the rows off first."), rows=rows)
    if not in_rows:
        out = CountOf("{n} sherd is lifted out", "{n} sherds are lifted out", lifted)
        raise Refusal("sorted_stand", N_("{out}. Count what is here, or lay back what was lifted first."), out=out)
    out = CountOf("{n} is lifted out", "{n} are lifted out", lifted)
    raise Refusal(
        "sorted_stand",
        N_("{rows} in rows, {out}. Count what is here, or take the rows off and lay the pieces back first."),
        rows=rows,
        out=out,
    )
