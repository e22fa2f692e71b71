"""What a retention policy would have kept of sherds that are sorted already, and what that does to the figures.

A share is drawn as it would be at the table, but from the middle of its step and not from a place drawn by lot, so
that the same question has the same answer. Grams are parted in proportion to the sherds. Dates are those of the
figures: what looks late in a sealed deposit and what nobody could date is in none.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from fractions import Fraction
from typing import TypeVar

from findsdesk.domain.balance import Decision
from findsdesk.domain.date_ranges import DateRange, YearsSaid
from findsdesk.domain.dated_finds import DatedFind
from findsdesk.domain.mean_dates import MeanDate, mean_ceramic_date
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.retention import Policy, Proposal, SaidOfAGroup, draw_of
from findsdesk.domain.terminus import TerminusPostQuem, terminus_post_quem

T = TypeVar("T")
BOX_TENTHS = 100_000
"""A box of finds is filled up to 10 kg (common practice, no source); by weight alone, since sherds have no set bulk."""


@dataclass(frozen=True, slots=True)
class SortedRow:
    """Sherds sorted alike: of which deposit and security, what is said of them, pieces, tenths, and what was decided.

    ``tenths`` are the dry tenths of a gram of those weighed, ``unweighed`` the pieces that were not; ``years`` are
    what was said of them, ``late`` are those that look late in their sealed deposit.
    """

    deposit: str
    security: str
    said: SaidOfAGroup
    pieces: int
    tenths: int
    unweighed: int
    decision: Decision
    years: YearsSaid = field(default_factory=YearsSaid)
    late: bool = False


@dataclass(slots=True)
class Held:
    """Sherds and their dry tenths of a gram: by ware, and by ware and years those that may give a date."""

    by_ware: Counter[str] = field(default_factory=Counter)
    by_years: Counter[tuple[str, YearsSaid]] = field(default_factory=Counter)
    tenths: Fraction = Fraction(0)
    late: int = 0

    def put(self, row: SortedRow, pieces: int) -> None:
        """Add so many of the sherds of a row, with their part of its grams."""
        self.by_ware[row.said.ware] += pieces
        self.tenths += Fraction(row.tenths * pieces, row.pieces)
        if row.late:
            self.late += pieces
        elif pieces:
            self.by_years[row.said.ware, row.years] += pieces

    @property
    def undated(self) -> int:
        """Return how many of the sherds have no first and last year."""
        return sum(pieces for (_ware, said), pieces in self.by_years.items() if said.range is None)

    @property
    def mean_date(self) -> MeanDate | None:
        """Return the mean date of the sherds; None where nothing is dated."""
        counts: Counter[str] = Counter()
        ranges: dict[str, DateRange | None] = {}
        for (ware, said), pieces in self.by_years.items():
            key = f"{ware} {said.range.in_words()}" if said.range else ware
            counts[key] += pieces
            ranges[key] = said.range
        return _or_none(lambda: mean_ceramic_date(counts, ranges))

    @property
    def terminus(self) -> TerminusPostQuem | None:
        """Return the terminus post quem that the sherds give; None where nothing is dated."""
        finds = [DatedFind(ware, said.years, pieces) for (ware, said), pieces in self.by_years.items()]
        return _or_none(lambda: terminus_post_quem(finds))

    @property
    def pieces(self) -> int:
        """Return how many sherds there are."""
        return self.by_ware.total()

    @property
    def grams(self) -> float:
        """Return their dry grams."""
        return float(self.tenths / 10)

    @property
    def boxes(self) -> int:
        """Return how many boxes of 10 kg they fill, by weight alone."""
        return -(-self.tenths.__ceil__() // BOX_TENTHS)

    def permille(self, ware: str) -> int:
        """Return the share of a ware in the sherds, per mille."""
        return round(1000 * self.by_ware[ware] / self.pieces) if self.pieces else 0


@dataclass(frozen=True, slots=True)
class RuleEffect:
    """What one rule would have done: '' is the name of no rule, which keeps all."""

    rule: str
    pieces: int
    kept: int


@dataclass(frozen=True, slots=True)
class Simulated:
    """What lies sorted, what of it was kept as it was decided, and what the policy would have kept."""

    sorted: Held
    as_decided: Held
    by_policy: Held
    rules: tuple[RuleEffect, ...]
    unweighed: int
    against: int = 0
    """Pieces that somebody decided otherwise than the rule proposed that was in force then."""
    unexplained: int = 0
    """Those of them of which nobody has said why."""

    @property
    def wares(self) -> tuple[str, ...]:
        """Return the codes of the wares there are, the most frequent first."""
        return tuple(ware for ware, _pieces in self.sorted.by_ware.most_common())


def simulate_rows(policy: Policy, rows: Iterable[SortedRow]) -> Simulated:
    """Return what a policy would have kept of sorted sherds."""
    everything, as_decided, by_policy = Held(), Held(), Held()
    met: Counter[str] = Counter()
    kept_by: Counter[str] = Counter()
    shares = _Shares()
    unweighed = 0
    for row in rows:
        proposal = policy.propose(row.said, row.security)
        kept = shares.kept_of(row, proposal)
        everything.put(row, row.pieces)
        if row.decision is not Decision.DISCARD:
            as_decided.put(row, row.pieces)
        by_policy.put(row, kept)
        met[proposal.rule] += row.pieces
        kept_by[proposal.rule] += kept
        unweighed += row.unweighed
    names = [rule.name for rule in policy.rules if rule.name in met] + ([""] if "" in met else [])
    return Simulated(
        sorted=everything,
        as_decided=as_decided,
        by_policy=by_policy,
        rules=tuple(RuleEffect(name, met[name], kept_by[name]) for name in names),
        unweighed=unweighed,
    )


class _Shares:
    """The shares under way, by deposit, rule and ware, as they are carried on at the table."""

    def __init__(self) -> None:
        self._first: dict[tuple[str, str, str], int] = {}
        self._kept: defaultdict[tuple[str, str, str], int] = defaultdict(int)

    def kept_of(self, row: SortedRow, proposal: Proposal) -> int:
        if proposal.decision is not Decision.DISCARD:
            return row.pieces
        if not proposal.splits:
            return 0
        key = row.deposit, proposal.rule, row.said.ware
        first = self._first.get(key, ((proposal.one_in or 1) + 1) // 2)
        share = draw_of(row.pieces, proposal, first=first, kept_before=self._kept[key])
        self._first[key] = share.carried + 1
        self._kept[key] += share.kept
        return share.kept


def _or_none(make: Callable[[], T]) -> T | None:
    """Return what is made, or None where nothing is dated."""
    try:
        return make()
    except Refusal as refused:
        if refused.code != "nothing_dated":
            raise
        return None
