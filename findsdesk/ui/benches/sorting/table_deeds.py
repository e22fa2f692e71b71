"""What is written at the table, on the deed lane and in the order in which it was said.

A row that cannot be written waits on the table with the reason beside it; everything else is refused on the bench.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from findsdesk.desk import bagging, counting, sorting
from findsdesk.desk.dossiers import Dossier
from findsdesk.desk.group_rows import GroupFacts, GroupRow
from findsdesk.desk.overrides import say_why
from findsdesk.domain.balance import Entry
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.routes import Standing
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.sorting import table_words
from findsdesk.ui.benches.sorting.ask_line import About, Answered
from findsdesk.ui.benches.sorting.keys_in_turn import KeysInTurn
from findsdesk.ui.benches.sorting.lines import Clash, TableLine, TableLines
from findsdesk.ui.benches.sorting.pasting import pasted_groups
from findsdesk.ui.benches.sorting.piece_deeds import PieceDeeds
from findsdesk.ui.benches.sorting.saying import Saying
from findsdesk.ui.benches.sorting.state import SortingState
from findsdesk.ui.benches.sorting.steps_back import StepsBack
from findsdesk.ui.benches.sorting.typed_row import own_reason
from findsdesk.words import N_, _, plural

_ENTRIES: Mapping[About, Entry] = {
    About.NOT_A_SHERD: Entry.NOT_A_SHERD,
    About.FOUND_MORE: Entry.FOUND_MORE,
    About.NOT_FOUND: Entry.NOT_FOUND,
}


class TableDeeds:
    """The deeds of one bench. ``show`` repaints what the state says, ``read`` reads the container afresh."""

    def __init__(self, bench: Bench, state: SortingState, show: Callable[[], None], read: Callable[[], None]) -> None:
        self._bench, self.state = bench, state
        self._around = bench.surroundings
        self._show, self._read = show, read
        self._say = Saying(bench.surroundings, state)
        self.in_turn = KeysInTurn(bench)
        self.pieces = PieceDeeds(bench, state, self._say, read, self.in_turn)
        self.steps = StepsBack(bench, state, self._say, self._show_and_go_on, read, self.in_turn)

    def _dossier(self) -> Dossier:
        if self.state.dossier is None:
            raise Refusal("nothing_in_hand", N_("Nothing is in hand. Scan a tag first."))
        return self.state.dossier

    def is_writing(self) -> bool:
        """Return whether something is on its way to the store."""
        return self._around.lanes.deeds_wait()

    def go_on(self) -> None:
        """What is done now makes old what was refused before; a question waits for its answer."""
        self.state.forget_not_answered()
        if not self._bench.refusals.is_asking():
            self._bench.refusals.clear()

    def _show_and_go_on(self) -> None:
        self.go_on()
        self._show()

    # Rows

    def send(self, line: TableLine, seen: int | None = None) -> None:
        """Write a row, new or changed from the version ``seen``; the typing goes on meanwhile."""
        desk, dossier, lines, said, row = self._around.desk, self._dossier(), self.state.lines, line.said, line.row
        assert said is not None
        code = dossier.code
        self._say.no_more()

        def work() -> GroupRow:
            if row is None:
                return sorting.add_group(desk.as_act(line.act_id), code, **_columns(said))
            return sorting.change_group(desk, row.id, seen=seen or row.version, **_columns(said))

        def written(now: GroupRow) -> None:
            lines.written(line, now)
            if lines is self.state.lines:
                self.state.with_standing(Standing.SORTING)
            self._changed(lines)

        self._send(line, lines, dossier, work, written)

    def remove(self, line: TableLine) -> None:
        """Take a row off the table: one that is written is removed in the store, one that only waits here goes."""
        desk, dossier, lines, row = self._around.desk, self._dossier(), self.state.lines, line.row
        self.go_on()
        if line.waits_changed:
            # What is in doubt is the change: the row itself goes at the next time.
            self.steps.give_up(line)
            self._show()
            return
        if row is None:
            self.steps.take_off(line)
            self._removed(table_words.row_words(line, self.state))
            self._show()
            return
        line.is_sent(self.state.texts_of(line), row.facts)
        line.said = None

        def removed(_row: GroupRow) -> None:
            lines.drop(line)
            if lines is self.state.lines:
                self._removed(table_words.row_words(TableLine(row), self.state))
            self._changed(lines)

        self._send(line, lines, dossier, lambda: sorting.remove_group(desk, row.id, seen=row.version), removed)

    def _removed(self, row: str) -> None:
        across = self._around.words(N_("Removed: {row}"), row=row)
        self._say(N_("Row removed: {row}. Ctrl+Z brings it back."), across=across, row=row)

    def _send(
        self,
        line: TableLine,
        lines: TableLines,
        dossier: Dossier,
        work: Callable[[], GroupRow],
        then: Callable[[GroupRow], None],
    ) -> None:
        def refused(refusal: Refusal) -> None:
            removing = line.said is None
            if refusal.code == "already_written" or (refusal.code == "row_gone" and removing):
                lines.drop(line)
            elif removing:
                self._not_removed(line)
            elif refusal.code == "row_gone":
                line.row = None
                line.waits_as_gone(str(refusal.facts["who"]))
            else:
                line.waits_because(refusal.code, refusal.in_words(self._around.terms), clash=Clash.of(refusal))
                if line.row is not None:
                    self.state.moved.add(line.row.id)
            if isinstance(refusal, Question) and lines is self.state.lines:
                self._bench.refusals.ask(line.doubt, self.begin_all_the_same)
            elif lines is not self.state.lines:
                self._tell_later(dossier, refusal)
            elif removing:
                self._bench.refuse(refusal)
            self._changed(lines, read=True)

        def failed(fault: BaseException) -> None:
            if line.said is None and line.row is not None:
                line.is_written(line.row)
            else:
                line.waits_because("not_written", _("Not written. F2, then Page down tries again."))
            self._show()
            self._around.notices.failed(fault)

        def done(row: GroupRow) -> None:
            self._around.written.emit()
            then(row)

        self._around.lanes.deed(work, then=done, refused=refused, failed=failed)
        self._show()

    def _not_removed(self, line: TableLine) -> None:
        """Let a row whose removal was refused stand as it is written."""
        if line.row is not None:
            self.state.moved.add(line.row.id)
            line.is_written(line.row)

    def _tell_later(self, dossier: Dossier, refusal: Refusal) -> None:
        """A row of a container that is no longer in hand was refused: say so where scans are answered."""
        words = self._around.words(N_("{Container} {number}: a row waits"), number=dossier.number)
        self._around.say(Answer(Tone.REFUSED, words, f": {refusal.in_words(self._around.terms)}"))

    def _changed(self, lines: TableLines, *, read: bool = False) -> None:
        """Show what was written; the news of it has the table read. What was refused is no news: read it here."""
        if lines is self.state.lines:
            self._show()
            if read:
                self._read()

    def paste(self, text: str) -> None:
        """Write pasted rows as one act; where one of them is doubtful none is written, and it is named."""
        desk, code, lists = self._around.desk, self._dossier().code, self.state.lists
        try:
            groups = pasted_groups(text, lists, self._around.terms)
        except Refusal as refusal:
            self._bench.refuse(refusal)
            return

        def work(sure: bool = False) -> tuple[GroupRow, ...]:
            return sorting.add_groups(desk, code, groups, sure=sure)

        self._bench.deed(work, then=self._pasted, sure=lambda: work(sure=True))

    def _pasted(self, rows: tuple[GroupRow, ...]) -> None:
        self.state.with_standing(Standing.SORTING)
        words = plural("{n} row", "{n} rows", len(rows))
        across = _("{rows} pasted, the last: {row}").format(rows=words, row=rows[-1].facts.in_short())
        self._say(N_("{rows} pasted. Ctrl+Z takes them back."), across=across, rows=words)
        self._read()

    # Onto the table, explained, counted, settled, bagged

    def begin_all_the_same(self) -> None:
        """Put it onto the table although it has not lain its hours: somebody says that it is dry."""
        desk, code = self._around.desk, self._dossier().code
        self._bench.deed(lambda: sorting.begin_sorting(desk, code, sure=True), then=self._begun)

    def _begun(self, done: sorting.AtTable) -> None:
        if self._is_in_hand(done.container_id):
            self.state.with_standing(done.standing)
            for line in self.state.lines.waiting():
                if line.doubt_code == "not_dry_yet" and line.typed is not None:
                    self.send(self.state.sent(line.typed, line))
        self._read()

    def answer(self, said: Answered, then: Callable[[], None], no: Callable[[Refusal], None]) -> None:
        """Write what the asking line was answered; ``then`` is called when it is written, ``no`` when it is refused."""
        about, desk, code = said.asking.about, self._around.desk, self._dossier().code
        pieces, tenths, why = said.pieces or 0, said.tenths, said.why
        if about in _ENTRIES:
            entry = _ENTRIES[about]
            self._bench.deed(
                lambda: sorting.explain(desk, code, entry, pieces=pieces, why=why, tenths=tenths or 0),
                then=lambda done: self._explained(done, then),
                no=no,
            )
        elif about is About.ANSWER:
            of = said.asking.of
            self._bench.deed(
                lambda: sorting.answer_entry(desk, of, why=why), then=lambda done: self._answered(done, then), no=no
            )
        elif about is About.LIFT:
            self.pieces.lift(said, then, no)
        elif about is About.SHARE:
            self.pieces.draw(said, then, no)
        elif about is About.VESSEL:
            self.pieces.gather(said, then, no)
        elif about is About.WHY:
            reason, asking = own_reason(said.asking.decided, why, self.state.lists), said.asking
            self._bench.deed(
                lambda: say_why(desk, asking.of, seen=asking.seen, reason=reason),
                then=lambda done: self._why_said(done, then),
                no=no,
            )
        elif about is About.REOPEN:
            self._bench.deed(
                lambda: sorting.reopen(desk, code, reason=why), then=lambda done: self._reopened(done, then), no=no
            )
        else:
            self._count(said, then, no)

    def _why_said(self, done: GroupRow, then: Callable[[], None]) -> None:
        then()
        row = table_words.row_words(TableLine(done), self.state)
        self._say(N_("Reason written: {row}"), row=row)
        self._read()

    def _count(self, said: Answered, then: Callable[[], None], no: Callable[[Refusal], None]) -> None:
        desk, code, pieces, tenths = self._around.desk, self._dossier().code, said.pieces or 0, said.tenths
        again = self.state.counted

        def work(sure: bool = False) -> object:
            if again:
                return counting.count_again(desk, code, pieces=pieces, tenths=tenths, why=said.why, sure=sure)
            return sorting.count_at_sorting(desk, code, pieces=pieces, tenths=tenths, sure=sure)

        self._bench.deed(work, then=lambda _done: self._counted(pieces, then), sure=lambda: work(sure=True), no=no)

    def _counted(self, pieces: int, then: Callable[[], None]) -> None:
        then()
        self._say(N_("{pieces} counted at the table"), pieces=pieces)
        self._read()

    def _explained(self, done: sorting.Explained, then: Callable[[], None]) -> None:
        then()
        what = table_words.explained_words(done.kind, done.pieces, done.why)
        self._say(N_("written: {what}"), across=what, what=what)
        if self._is_in_hand(done.container_id):
            self.state.ledger_is(done.ledger)
            self._show()
        self._read()

    def _answered(self, done: sorting.Explained, then: Callable[[], None]) -> None:
        then()
        self._entry_answered(done)

    def _entry_answered(self, done: sorting.Explained) -> None:
        if self._is_in_hand(done.container_id):
            self.state.ledger_is(done.ledger)
            self._show()
        what = f"{abs(done.pieces)} {self._around.words(table_words.ENTRY_IN_WORDS[done.kind])}"
        self._say(N_("Taken back: {what}. The balance says both."), what=what)
        self._read()

    def _stands(self, done: sorting.AtTable, then: Callable[[], None]) -> None:
        then()
        if self._is_in_hand(done.container_id):
            self.state.with_standing(done.standing)
            self._show()
        self._read()

    def _reopened(self, done: sorting.AtTable, then: Callable[[], None]) -> None:
        self._stands(done, then)
        self._say(N_("opened again"))

    def settle(self) -> None:
        """Settle it; while the law does not hold the refusal says what is missing."""
        waiting = self.state.lines.waiting()
        if waiting:
            self._bench.refuse(
                Refusal(
                    "rows_wait",
                    N_(
                        "Not all rows are written yet: {n} to go. F2 leads there: put it right, "
                        "give it up with Esc, or remove it."
                    ),
                    n=len(waiting),
                )
            )
            return
        desk, code = self._around.desk, self._dossier().code
        self._bench.deed(
            lambda: sorting.settle(desk, code), then=self._settled, sure=lambda: sorting.settle(desk, code, sure=True)
        )

    def _settled(self, done: sorting.AtTable) -> None:
        self._stands(done, lambda: None)
        self._say(N_("settled, {pieces} accounted for"), pieces=done.ledger.expected)

    def pack(self, *, sorted_here: bool) -> None:
        """Pack the bags that are proposed; each gets its code."""
        desk, code = self._around.desk, self._dossier().code
        work = bagging.bag if sorted_here else bagging.bag_unsorted
        self._bench.deed(lambda: work(desk, code), then=self._packed)

    def _packed(self, bags: tuple[bagging.BagFacts, ...]) -> None:
        if bags and self._is_in_hand(bags[0].container_id):
            self.state.with_standing(Standing.BAGGED)
            self._show()
        self._say(N_("packed in {bags}"), bags=plural("{n} bag", "{n} bags", len(bags)))
        self._read()

    def _is_in_hand(self, container_id: int) -> bool:
        return self.state.dossier is not None and self.state.dossier.container_id == container_id


def _columns(said: GroupFacts) -> dict[str, Any]:
    """Return what a row says by the names of the deeds that write it."""
    told = {name: getattr(said, name) for name in GroupFacts.__dataclass_fields__}
    del told["rule"], told["proposed"]  # They follow from the policy, and the desk knows it.
    return told
