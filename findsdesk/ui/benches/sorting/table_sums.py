"""What the rows on the table add to what the store has summed: one pass over them, however many there are."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from findsdesk.desk.group_rows import GroupFacts, GroupRow
from findsdesk.domain.balance import Ledger, column_of
from findsdesk.ui.benches.sorting.lines import Saved, TableLine


@dataclass(slots=True)
class TableSums:
    """Differences between the rows as they stand and those the store counted."""

    columns: Counter[str] = field(default_factory=Counter)
    """Pieces by column of the ledger."""
    new: Counter[str] = field(default_factory=Counter)
    """The same of the rows that are not in the store yet."""
    wares: Counter[str] = field(default_factory=Counter)
    tenths: int = 0

    @classmethod
    def of(cls, lines: Iterable[TableLine], stored: Mapping[int, GroupRow]) -> TableSums:
        """Return the differences of these rows to the stored ones."""
        sums, seen = cls(), 0
        for line in lines:
            row = line.row
            before = stored.get(row.id) if row is not None else None
            if before is not None:
                seen += 1
                if line.saved is Saved.WRITTEN and row is not None and row.version == before.version:
                    continue
                sums._count(before.facts, before.discarded, -1)
            facts = line.facts
            if facts is not None:
                sums._count(facts, row is not None and row.discarded, 1)
                if row is None:
                    sums.new[column_of(facts.decision)] += facts.pieces
        if seen < len(stored):
            there = {line.row.id for line in lines if line.row is not None}
            for row_id, gone in stored.items():
                if row_id not in there:
                    sums._count(gone.facts, gone.discarded, -1)
        return sums

    def _count(self, facts: GroupFacts, discarded: bool, sign: int) -> None:
        self.columns[column_of(facts.decision, discarded=discarded)] += sign * facts.pieces
        self.wares[facts.ware] += sign * facts.pieces
        self.tenths += sign * (facts.tenths or 0)

    def on(self, ledger: Ledger, *, new_only: bool = False) -> Ledger:
        """Return a ledger with these differences; ``new_only`` with the rows alone that are in no store yet."""
        changes = self.new if new_only else self.columns
        return replace(ledger, **{name: getattr(ledger, name) + pieces for name, pieces in changes.items() if pieces})

    def wares_on(self, known: Mapping[str, int]) -> dict[str, int]:
        """Return pieces by ware with these differences, wares without any left out."""
        together = Counter(known)
        together.update(self.wares)
        return {ware: pieces for ware, pieces in together.items() if pieces > 0}
