"""What lies on the table, what is asked of it now, and what is known of it before the store has answered.

Plain values without Qt. The rows of a container stay here while something of them is not written, whatever else is
taken in hand meanwhile.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import datetime
from enum import Enum

from findsdesk.desk.dossiers import Dossier
from findsdesk.desk.group_rows import GroupFacts, GroupRow
from findsdesk.desk.on_the_table import LIES_TO_DRY
from findsdesk.desk.sorting_table import SortingTable
from findsdesk.desk.table_lists import TableLists
from findsdesk.desk.taking_back import NOTHING_IN_TURN, InTurn
from findsdesk.domain.balance import Decision, Ledger
from findsdesk.domain.moments import is_dry
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Standing, StepKind, allowed
from findsdesk.domain.settings import Settings
from findsdesk.ui.benches.sorting.lines import Saved, TableLine, TableLines
from findsdesk.ui.benches.sorting.row_lists import RowLists
from findsdesk.ui.benches.sorting.table_sums import TableSums
from findsdesk.ui.benches.sorting.typed_row import MAY_BE, TypedRow, as_typed, understand
from findsdesk.words import Terms, _


class Asked(Enum):
    """What the bench shows and asks."""

    WHAT_WAITS = "what waits"
    NOT_YET = "not yet"
    """It cannot be sorted from where it stands."""
    NOT_DRY = "not dry"
    READ = "read"
    BAG = "bag"
    ONE_BAG = "one bag"
    """It is not sorted here and goes into one bag as it is."""
    BAGGED = "bagged"


@dataclass
class SortingState:
    """The bench's own memory; one per bench."""

    settings: Settings = field(default_factory=Settings)
    terms: Terms = field(default_factory=Terms)
    lists: RowLists = field(default_factory=lambda: RowLists.of(TableLists()))
    lists_read: bool = False
    """Whether those are the excavation's own; until then they are empty."""
    dossier: Dossier | None = None
    table: SortingTable | None = None
    lines: TableLines = field(default_factory=TableLines)
    stored: dict[int, GroupRow] = field(default_factory=dict)
    """The rows that the ledger of ``table`` counts, by their ids."""
    moved: set[int] = field(default_factory=set)
    """Rows of the container in hand that changed since they were read."""
    laid_aside: bool = False
    """What waits is shown although something is in hand."""
    held: TableLine | None = None
    """The row that is being changed where it stands."""
    last: TableLine | None = None
    """The row said last: it stands large below the table."""
    last_gone: TypedRow | None = None
    """What it said, where it was removed and nobody was told yet."""
    told: str = ""
    """What was pasted, taken back or done again since that row was said: it stands there instead."""
    kept_of: tuple[str, TypedRow] | None = None
    """The container whose half typed row was kept when this one came, and the row: told in words."""
    not_answered: str = ""
    """What was typed in a line that went before it was written, in words."""
    not_answered_at: dict[int, str] = field(default_factory=dict)
    """The same of each container that was left with it, until something is done there."""
    late_types: frozenset[str] = frozenset()
    """The codes of ware and form that look late where the container is from."""
    late_from: int | None = None
    """The year from which on what begins looks late there."""
    reasons: dict[Decision, str] = field(default_factory=dict)
    """The reason given last for each decision."""
    _unwritten: dict[int, TableLines] = field(default_factory=dict)
    _for_what_comes: list[TypedRow] = field(default_factory=list)
    _unjudged: list[tuple[TableLine, str]] = field(default_factory=list)
    """Rows finished before the lists were read, and the codes of their doubts."""
    _looked_up: int = 0
    _sums: TableSums | None = None

    def looks_late(self, line: TableLine) -> bool:
        """Tell whether the sherds of a row look late for the sealed deposit they are from."""
        facts = line.facts
        return facts is not None and " ".join(one for one in (facts.ware, facts.form) if one) in self.late_types

    def forget_not_answered(self) -> None:
        """Something is done in the container in hand: what went there before it was written is old."""
        self.not_answered = ""
        if self.dossier is not None:
            self.not_answered_at.pop(self.dossier.container_id, None)

    # In hand

    def take(self, dossier: Dossier | None, half: TypedRow) -> TypedRow | None:
        """Take a container in hand, or none; ``half`` stands half typed for the one before and is kept with it.

        Returns the half typed row of the container that comes, to go on with; None where nothing changes hands.
        """
        if self.is_in_hand(dossier):
            self.dossier, self.laid_aside = dossier, False
            return None
        self._keep(half)
        self.dossier, self.table, self.laid_aside = dossier, None, False
        self.stored, self.moved = {}, set()
        self.last, self.told = None, ""
        self.lines = self._unwritten.pop(dossier.container_id, TableLines()) if dossier else TableLines()
        self.lines.number = dossier.number if dossier else ""
        come, self.lines.half_typed = self.lines.half_typed, None
        return come or TypedRow()

    def _keep(self, half: TypedRow) -> None:
        self.kept_of = None
        if self.dossier is None:
            return
        if not half.is_empty:
            if self.lines.half_typed is not None:
                self.sent_half(self.lines.half_typed)
            self.lines.half_typed = half
            self.kept_of = (self.dossier.number, half)
        if self.lines.unwritten():
            self._unwritten[self.dossier.container_id] = self.lines

    def unwritten(self, half: TypedRow) -> dict[int, TableLines]:
        """Return what is in no store, by container; ``half`` stands half typed for what is in hand."""
        rows = dict(self._unwritten)
        if self.dossier is not None:
            here = replace(self.lines, half_typed=None if half.is_empty else half)
            if here.unwritten():
                rows[self.dossier.container_id] = here
        return rows

    def find_again(self, kept: Mapping[int, TableLines]) -> None:
        """Take over what was kept while no window was open."""
        self._unwritten = {**kept, **self._unwritten}

    @property
    def elsewhere(self) -> tuple[TableLines, ...]:
        """Return the rows not written of containers that are not in hand."""
        return tuple(self._unwritten.values())

    def is_in_hand(self, dossier: Dossier | None) -> bool:
        """Return whether this is the container that is in hand already, whatever became of it meanwhile."""
        return dossier is not None and self.dossier is not None and dossier.container_id == self.dossier.container_id

    # While something is looked up, whole rows wait for what comes

    def look_up_begins(self) -> None:
        """A scan is being looked up: a row finished from now on is for what comes."""
        self._looked_up += 1

    def look_up_ended(self) -> list[TypedRow]:
        """A look-up ended; return the rows that were finished meanwhile."""
        self._looked_up = max(0, self._looked_up - 1)
        if self._looked_up:
            return []
        rows, self._for_what_comes = self._for_what_comes, []
        return rows

    @property
    def looking_up(self) -> bool:
        """Return whether something is being looked up."""
        return self._looked_up > 0

    @property
    def rows_wait(self) -> bool:
        """Return whether rows were finished for what is being looked up."""
        return bool(self._for_what_comes)

    def wait_for_what_comes(self, typed: TypedRow) -> None:
        """Keep a finished row until it is known what it belongs to."""
        self._for_what_comes.append(typed)

    # What is asked

    def asked(self, now: datetime) -> Asked:
        """Return what the bench asks now."""
        dossier = self.dossier
        if dossier is None or self.laid_aside:
            return Asked.WHAT_WAITS
        if dossier.standing is Standing.BAGGED:
            return Asked.BAGGED
        if dossier.standing is Standing.SETTLED and dossier.route.sorted_here:
            return Asked.BAG
        if not dossier.route.sorted_here and self._why_not(StepKind.BAGGED, dossier.standing) is None:
            return Asked.ONE_BAG
        if self.why_not_yet() is not None:
            return Asked.NOT_YET
        if dossier.standing in LIES_TO_DRY and not is_dry(self.lies_since(), now, self.settings.dry_h):
            return Asked.NOT_DRY
        return Asked.READ

    def why_not_yet(self) -> Refusal | None:
        """Return why it cannot be sorted from where it stands, or None."""
        dossier = self.dossier
        if dossier is None:
            return None
        standing = dossier.standing
        if standing in LIES_TO_DRY:
            refusal = self._why_not(StepKind.DRY, standing)
            if refusal is not None:
                return refusal
            standing = Standing.DRY
        return self._why_not(StepKind.SORTING, standing)

    def _why_not(self, step: StepKind, standing: Standing) -> Refusal | None:
        dossier = self.dossier
        assert dossier is not None
        try:
            allowed(
                dossier.route,
                standing,
                dossier.held_for,
                step,
                count_at_wash=self.settings.count_at_wash,
                looked_at=True,
                facts={"number": dossier.number},
            )
        except Refusal as refusal:
            return refusal
        return None

    def lies_since(self) -> datetime:
        """Return since when it lies to dry, by the part that was laid out first."""
        assert self.dossier is not None
        return min(part.since for part in self.dossier.stands_at)

    # Rows

    def sent(self, typed: TypedRow, line: TableLine | None = None, *, again: bool = False) -> TableLine:
        """Put a typed row on the table: on its way to the store, or waiting with its doubt; ``line`` is changed.

        ``again``: it was finished by hand; what waited with the same typing as unlikely is written now.
        """
        said = understand(typed, self.lists)
        so = again and line is not None and line.doubt_code in MAY_BE and line.typed == typed
        doubts = [doubt for doubt in said.doubts if not (so and doubt.code in MAY_BE)]
        target = line if line is not None else self.lines.add(TableLine())
        before = target.row.facts.decision if target.row is not None else typed.decision
        target.was = before if before is not typed.decision and not typed.own else None
        target.is_sent(typed, said.facts)
        if doubts:
            doubt = doubts[0]
            target.waits_because(doubt.code, doubt.in_words(self.terms), doubt.column or "")
            if not self.lists_read:
                self._unjudged.append((target, doubt.code))
        elif typed.reason and (typed.proposed or not typed.rule):
            self.reasons[typed.decision] = self.lists.reason_word(typed.decision, said.facts.reason)
        self.last, self.told = target, ""
        self.lines.back_again.clear()
        return target

    def sent_half(self, typed: TypedRow) -> None:
        """Let a half typed row wait on the table, beside another one that was begun."""
        self.sent(typed).waits_because("half_typed", _("Half typed. F2 goes on with it."))

    def judged_anew(self, lists: RowLists) -> list[TableLine]:
        """Take over the lists; return the rows here whose doubt may be that there were none yet."""
        self.lists, self.lists_read = lists, True
        unjudged, self._unjudged = self._unjudged, []
        return [line for line, code in unjudged if line in self.lines.waiting() and line.doubt_code == code]

    def texts_of(self, line: TableLine) -> TypedRow:
        """Return a row as it would be typed."""
        if line.saved is Saved.PENDING and line.said is not None:
            return as_typed(line.said, self.lists)
        if line.typed is not None:
            return line.typed
        return as_typed(line.row, self.lists) if line.row else TypedRow()

    def above(self, line: TableLine | None) -> TypedRow | None:
        """Return the texts of the row above a row, or above the one being typed."""
        found = self.lines.above(line)
        return self.texts_of(found) if found else None

    def show_table(self, table: SortingTable) -> None:
        """Take over what was read of the container in hand."""
        if self.dossier is None or table.container_id != self.dossier.container_id:
            return
        if table.only is None:
            self.stored = {}
        elif self.table is None:
            return
        else:
            self.moved -= table.only
        for row_id in table.only or ():
            self.stored.pop(row_id, None)
        self.stored |= {row.id: row for row in table.groups}
        self.table = table
        self._merge(table)
        if self.last not in self.lines.lines:
            self.last_gone = self.texts_of(self.last) if self.last is not None else None
            self.last = self.lines.lines[-1] if self.lines.lines else None

    def _merge(self, table: SortingTable) -> None:
        """Take over the rows; one that is changed here and is no more says so, and keeps what was typed."""
        changed = [line for line in self.lines.lines if line.waits_changed or (line is self.held and line.row)]
        before = [(line, line.row, self.texts_of(line)) for line in changed]
        self.lines.merge(table.groups, table.only, self.held)
        for line, row, typed in before:
            if line.row is None and row is not None and line.saved is not Saved.PENDING:
                line.typed, line.said, line.removed_row = typed, understand(typed, self.lists).facts, row.id
                line.waits_as_gone()

    @property
    def turn(self) -> InTurn:
        """Return what the store's next taking back and doing again are about."""
        return self.table.turn if self.table is not None else NOTHING_IN_TURN

    def turn_is(self, turn: InTurn) -> None:
        """Take over whose turn it is, before the table is read again."""
        if self.table is not None:
            self.table = replace(self.table, turn=turn)

    def with_standing(self, standing: Standing) -> None:
        """Take note that it stands elsewhere now, before it is read again."""
        if self.dossier is not None:
            self.dossier = replace(self.dossier, standing=standing)

    # The balance

    @property
    def counted(self) -> bool:
        """Return whether anybody counted it."""
        if self.table is not None:
            return self.table.counted
        return self.dossier is not None and bool(self.dossier.counts)

    @property
    def count_follows(self) -> bool:
        """Return whether what is read becomes the count: the excavation counts only at sorting, and nobody did."""
        return not self.counted and not self.settings.count_at_wash

    def sums(self) -> TableSums:
        """Return the sums of the rows as they stand, written or being written, beside what the store has."""
        return self._sums if self._sums is not None else TableSums.of(self.lines.lines, self.stored)

    @contextmanager
    def summed_up(self) -> Iterator[None]:
        """Sum the rows once for all that is shown within the block; nothing may change in it."""
        self._sums = TableSums.of(self.lines.lines, self.stored)
        try:
            yield
        finally:
            self._sums = None

    def ledger(self) -> Ledger:
        """Return the ledger as it stands with the rows that are being written."""
        if self.table is not None:
            return self.sums().on(self.table.ledger)
        return self.sums().on(self.dossier.ledger if self.dossier else Ledger(), new_only=True)

    def accounted_tenths(self) -> int:
        """Return the dry tenths of a gram of the rows, of pieces lifted from them and of what was explained."""
        return self.sums().tenths + (self.table.grams.accounted if self.table is not None else 0)

    def ware_pieces(self) -> dict[str, int]:
        """Return the pieces of each ware, those being written and those lifted as pieces among them."""
        known = {share.ware: share.pieces for share in self.table.wares} if self.table is not None else {}
        return self.sums().wares_on(known)

    def ledger_is(self, ledger: Ledger) -> None:
        """Take over a ledger that an act returned."""
        if self.table is not None:
            self.table = replace(self.table, ledger=ledger)

    def pieces_waiting(self) -> int:
        """Return the pieces of rows that wait with a doubt and are in no ledger."""
        said = (self._said_by(line) for line in self.lines.waiting() if line.row is None)
        return sum(facts.pieces for facts in said)

    def _said_by(self, line: TableLine) -> GroupFacts:
        """Return what the typing of a row says; one found again from before was not understood yet."""
        return line.said or understand(self.texts_of(line), self.lists).facts

    def may_settle(self) -> bool:
        """Return whether every piece is read or explained and no row waits."""
        ledger = self.ledger()
        if self.lines.waiting() or not (self.counted or self.count_follows):
            return False
        return ledger.accounted > 0 if self.count_follows else ledger.balances
