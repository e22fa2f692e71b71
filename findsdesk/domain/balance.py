"""The law of balance: every sherd that was counted can be pointed at, or its end is written down.

Per container and material: counted + found more + arrived = kept + on hold + to discard + discarded + used up +
moved out + not a sherd + not found + not yet sorted. Pieces are whole; dry grams obey the same law in tenths of a gram
within a stated tolerance.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields, replace
from enum import StrEnum

from findsdesk.domain.numbers import grams_in_words
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.words import N_, CountOf


class Entry(StrEnum):
    """An entry of the ledger: signed pieces with who and why, never edited, only answered by its opposite."""

    COUNTED = "counted"
    RECOUNTED = "recounted"
    FOUND_MORE = "found more"
    ARRIVED = "arrived"
    MOVED_OUT = "moved out"
    USED_UP = "used up"
    NOT_A_SHERD = "not a sherd"
    NOT_FOUND = "not found"


class Decision(StrEnum):
    """What becomes of a group of sherds."""

    KEEP = "keep"
    MEND = "mend"
    DISCARD = "discard"
    HOLD = "hold"


# A recount enters only the difference to what the ledger expected, so it goes into the same column as the count.
COLUMN_OF_ENTRY: dict[Entry, str] = {
    Entry.COUNTED: "counted",
    Entry.RECOUNTED: "counted",
    Entry.FOUND_MORE: "found_more",
    Entry.ARRIVED: "arrived",
    Entry.MOVED_OUT: "moved_out",
    Entry.USED_UP: "used_up",
    Entry.NOT_A_SHERD: "not_a_sherd",
    Entry.NOT_FOUND: "not_found",
}
COMES_IN = frozenset({Entry.COUNTED, Entry.RECOUNTED, Entry.FOUND_MORE, Entry.ARRIVED})
"""Entries of pieces that come in; all others say where pieces went."""

COLUMN_OF_DECISION: dict[Decision, str] = {
    Decision.KEEP: "kept",
    Decision.MEND: "kept",
    Decision.DISCARD: "to_discard",
    Decision.HOLD: "on_hold",
}


def column_of(decision: Decision, *, discarded: bool = False) -> str:
    """Return where sherds of a decision stand in the ledger; ``discarded`` when their discard was signed for."""
    return "discarded" if discarded else COLUMN_OF_DECISION[decision]


@dataclass(frozen=True, slots=True)
class Ledger:
    """The pieces of one container and material by what is known of them; ledgers add up to the excavation's."""

    counted: int = 0
    found_more: int = 0
    arrived: int = 0
    kept: int = 0
    on_hold: int = 0
    to_discard: int = 0
    discarded: int = 0
    used_up: int = 0
    moved_out: int = 0
    not_a_sherd: int = 0
    not_found: int = 0

    @property
    def expected(self) -> int:
        """Return the pieces that ever came in: counted, found more, arrived from another container."""
        return self.counted + self.found_more + self.arrived

    @property
    def sorted(self) -> int:
        """Return the pieces that lie in groups or were discarded from them."""
        return self.kept + self.on_hold + self.to_discard + self.discarded

    @property
    def accounted(self) -> int:
        """Return the pieces that are sorted or whose end is written down."""
        return self.sorted + self.used_up + self.moved_out + self.not_a_sherd + self.not_found

    @property
    def unsorted(self) -> int:
        """Return the pieces not yet sorted; below 0 where more are accounted for than came in."""
        return self.expected - self.accounted

    @property
    def over(self) -> int:
        """Return how many pieces more are accounted for than came in."""
        return max(0, -self.unsorted)

    @property
    def balances(self) -> bool:
        """Return whether every piece is accounted for, none too few and none too many."""
        return self.unsorted == 0

    def plus(self, entry: Entry, pieces: int) -> Ledger:
        """Return the ledger with an entry of signed pieces."""
        return self._with(COLUMN_OF_ENTRY[entry], pieces)

    def with_group(self, decision: Decision, pieces: int) -> Ledger:
        """Return the ledger with a group of signed pieces sorted under a decision."""
        return self._with(COLUMN_OF_DECISION[decision], pieces)

    def signed_for(self, pieces: int) -> Ledger:
        """Return the ledger after the discard of pieces was signed for; called back, they count the other way."""
        return self._with("to_discard", -pieces)._with("discarded", pieces)

    def _with(self, column: str, pieces: int) -> Ledger:
        return replace(self, **{column: getattr(self, column) + pieces})

    def __add__(self, other: Ledger) -> Ledger:
        """Return both ledgers together."""
        return Ledger(*(getattr(self, field.name) + getattr(other, field.name) for field in fields(Ledger)))

    @staticmethod
    def sum(ledgers: Iterable[Ledger]) -> Ledger:
        """Return all ledgers together: the certificate of an excavation is the sum of its containers."""
        return sum(ledgers, Ledger())


def may_settle(ledger: Ledger, facts: Mapping[str, object] | None = None) -> None:
    """Refuse to settle a container whose ledger does not balance (``left_unsorted``, ``over``).

    ``facts`` fill the sentence: ``number`` is the container's number.
    """
    told: dict[str, object] = {"number": "", "left": ledger.unsorted, "over": ledger.over, "expected": ledger.expected}
    told["came_in"] = CountOf("{n} piece", "{n} pieces", ledger.expected)
    told["more"] = CountOf("{n} piece", "{n} pieces", ledger.over)
    told |= facts or {}
    if ledger.unsorted > 0:
        raise Refusal(
            "left_unsorted",
            N_(
                "{Container} {number}: {left} of {came_in} not sorted yet. "
                "Sort them, or explain them: not a sherd, not found, moved out."
            ),
            **told,
        )
    if ledger.over:
        raise Refusal(
            "over",
            N_(
                "{Container} {number}: {more} more than the {expected} that came in. "
                "Count again, correct a row, or write that more were found."
            ),
            **told,
        )


def needs_lead(not_found: int, expected: int, share_permille: int) -> bool:
    """Return whether so many pieces not found need the lead's word: above a share, in per mille of what came in."""
    return not_found * 1000 > max(expected, 0) * share_permille


def grams_agree(expected_tenths: int, accounted_tenths: int, tolerance_permille: int) -> bool:
    """Return whether dry weights in tenths of a gram agree within a tolerance in per mille of what is expected."""
    return abs(expected_tenths - accounted_tenths) * 1000 <= abs(expected_tenths) * tolerance_permille


def grams_doubt(
    expected_tenths: int, accounted_tenths: int, tolerance_permille: int, facts: Mapping[str, object] | None = None
) -> Question | None:
    """Return the question whether a container settles although its dry grams disagree, or None where they agree.

    ``facts`` fill the sentence: ``number`` is the container's number.
    """
    if grams_agree(expected_tenths, accounted_tenths, tolerance_permille):
        return None
    told = {
        "number": "",
        "counted": grams_in_words(expected_tenths),
        "accounted": grams_in_words(accounted_tenths),
        "share": f"{tolerance_permille / 10:g}",
    } | dict(facts or {})
    return Question(
        "grams_disagree",
        N_("{Container} {number}: {counted} g came in, {accounted} g are accounted for, over {share} % apart. Settle?"),
        **told,
    )
