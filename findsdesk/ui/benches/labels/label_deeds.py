"""What is done at the labels bench beside printing: packing, issuing tags, marks inked again, lists on paper."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QPushButton

from findsdesk.desk.bagging import BagFacts, bag_settled
from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import DepositDossier, Dossier
from findsdesk.desk.inking_again import write_marks_again
from findsdesk.desk.mark_lines import MarkLine
from findsdesk.desk.marking import TickAnswered, answer_newest_tick, check_marks, slip_bag, write_marks
from findsdesk.desk.marking_sheet import marking_sheet
from findsdesk.desk.printing import PrintKind
from findsdesk.desk.redoing import Written, redo_done
from findsdesk.desk.sheets import PrintedList
from findsdesk.desk.tags import IssuedBlock, issue_tags
from findsdesk.domain.marking import TICK_IN_WORDS, Tick
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.labels import label_words, mark_words
from findsdesk.ui.benches.labels.layout import LabelsLayout
from findsdesk.ui.benches.labels.lists_work import ListsWork
from findsdesk.ui.benches.labels.papers_again import Reprint
from findsdesk.ui.benches.labels.printing_work import PrintingWork
from findsdesk.ui.benches.labels.rows import Row
from findsdesk.ui.benches.labels.state import LabelsState
from findsdesk.ui.benches.labels.tick_strip import Ticked
from findsdesk.ui.paper_out import hand_over
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, CountOf, _, plural, put


def _tick(desk: Desk, line: MarkLine, ticked: Ticked) -> MarkLine:
    n, who = ticked.pieces, ticked.who or None
    if ticked.again:
        return write_marks_again(desk, line.code, pieces=n, who=who)
    if ticked.kind is Tick.WRITTEN:
        return write_marks(desk, line.code, pieces=n, who=who)
    if ticked.kind is Tick.SLIP:
        return slip_bag(desk, line.code, pieces=1 if n is None else n, why=ticked.why, who=who)
    wrong = 0 if ticked.kind is Tick.CHECKED else 1 if n is None else n
    return check_marks(desk, line.code, pieces=wrong or n, wrong=wrong, who=who)


_PRINTED_AS: dict[object, PrintKind] = {
    Written.TAG: PrintKind.TAG,
    Written.LABEL: PrintKind.BAG,
    Written.INSIDE: PrintKind.SLIP,
    Written.PIECE: PrintKind.PIECE,
    Written.BOX: PrintKind.BOX,
}
_CHANGED = "changed"
"""The reason for printing again what a correction made untrue."""


class LabelDeeds:
    """Each gathers what is on screen and calls the desk."""

    def __init__(
        self,
        bench: Bench,
        state: LabelsState,
        parts: LabelsLayout,
        work: PrintingWork,
        choose_row: Callable[[str], None],
    ) -> None:
        self.bench, self.state, self.parts, self.work = bench, state, parts, work
        self._choose_row = choose_row
        self.papers = ListsWork(bench, parts.lists, self._keep)
        # Who inks, inks here and there.
        parts.again.writer.chosen.connect(parts.marks.strip.writer.choose)
        parts.marks.strip.writer.chosen.connect(parts.again.writer.choose)

    def pack(self) -> None:
        """Pack all settled containers that are shown, in one act, and turn to their labels."""
        codes = tuple(one.container.code for one in self.state.read.to_pack) if self.state.read else ()
        self._pack(codes, self.parts.pack.pack)

    def pack_one(self) -> None:
        """Pack the container under the cursor alone."""
        code = self.parts.pack.one()
        if code:
            self._pack((code,), self.parts.pack.pack_one)

    def _pack(self, codes: tuple[str, ...], button: QPushButton) -> None:
        desk, focus = self.bench.surroundings.desk, QApplication.focusWidget()
        keyboard_here = focus is not None and self.bench.isAncestorOf(focus)

        def done(bags: tuple[BagFacts, ...]) -> None:
            words = self.bench.surroundings.words(
                N_(" from {those}"),
                those=CountOf("{n} {container}", "{n} {containers}", len({bag.container_id for bag in bags})),
            )
            head, rest = label_words.packed(bags)
            self.bench.surroundings.say(Answer(Tone.DONE, head, f"{rest} {words}"))
            self._choose_row(Row.BAG)
            if keyboard_here and self.bench.isVisible():
                self.parts.what.take_keyboard().setFocus(Qt.FocusReason.OtherFocusReason)

        self.bench.deed(lambda: bag_settled(desk, codes), then=done, button=button)

    def issue(self) -> None:
        """Issue a block of tags as the form says; what is typed stays on a refusal."""
        desk, form = self.bench.surroundings.desk, self.parts.tags
        wanted = form.wanted()
        if wanted is None:
            form.how_many.setFocus()
            return
        how_many, who, square = wanted

        def done(block: IssuedBlock) -> None:
            form.clear_number()
            self.state.tags_for = ""
            head = plural("{n} tag issued", "{n} tags issued", len(block.tags))
            words = self.bench.surroundings.words
            numbers = block.first_number
            if len(block.tags) > 1:
                numbers = words(N_("{first} to {last}"), first=block.first_number, last=block.last_number)
            text = N_(": {numbers}, for {who}") if block.supervisor else N_(": {numbers}")
            rest = words(text, numbers=numbers, who=block.supervisor)
            self.bench.surroundings.say(Answer(Tone.DONE, head, rest))

        def issue(*, sure: bool = False) -> IssuedBlock:
            return issue_tags(desk, how_many=how_many, supervisor=who, square=square, sure=sure)

        self.bench.deed(issue, then=done, button=form.issue, sure=lambda: issue(sure=True))

    def print_tags_of(self, group: str) -> None:
        """Lay out only the tags of one block, or all that go to the trench."""
        self.state.drop_sheets()
        self.state.tags_for = group
        self.bench.refresh()

    def print_again(self, what: object, codes: object) -> None:
        """Print tags or labels again that say something no longer true."""
        kind = _PRINTED_AS.get(what)
        if kind is not None and isinstance(codes, tuple) and codes:
            self.work.print_again(Reprint(kind, codes, _CHANGED))

    def inked_again(self, ids: object) -> None:
        """Write that marks were inked again, by who is named there."""
        desk, who = self.bench.surroundings.desk, self.parts.again.writer.box.currentText() or None

        def done(_n: int) -> None:
            by = put(N_(", by {who}; the marking list takes it back"), None, {"who": who or desk.person.name})
            self.bench.surroundings.say(Answer(Tone.DONE, _("Written again by hand"), by))

        if isinstance(ids, tuple) and ids:
            self.bench.deed(
                lambda: redo_done(desk, ids, who=who),
                then=done,
                sure=lambda: redo_done(desk, ids, who=who, sure=True),
            )

    def tick_marks(self, line: object, ticked: object) -> None:
        """Write a tick on a line of the marking list."""
        if not isinstance(line, MarkLine) or not isinstance(ticked, Ticked):
            return
        desk, around = self.bench.surroundings.desk, WordsAround.of(self.bench.surroundings.desk)

        def done(after: MarkLine) -> None:
            self.parts.marks.written()
            head, rest = mark_words.ticked(ticked.kind, line, after, around, again=ticked.again)
            self.bench.surroundings.say(Answer(Tone.DONE, head, rest))

        self.bench.deed(lambda: _tick(desk, line, ticked), then=done, lost=self.parts.marks.strip.select_number)

    def take_tick_back(self, line: object) -> None:
        """Take the newest tick of a line back by its opposite."""
        if not isinstance(line, MarkLine):
            return
        desk, around = self.bench.surroundings.desk, WordsAround.of(self.bench.surroundings.desk)

        def done(one: TickAnswered) -> None:
            self.parts.marks.written()
            facts = {"n": one.pieces, "what": put(TICK_IN_WORDS[one.kind]), "number": one.number}
            text = N_(": {n} {what}, {container} {number}")
            if one.instead_of:
                text = N_(": {n} {what} again, {container} {number}. The old mark waits to be written again")
            rest = around.say(text, **facts)
            self.bench.surroundings.say(Answer(Tone.DONE, _("Taken back"), rest))

        why = put(mark_words.BY_MISTAKE)
        self.bench.deed(lambda: answer_newest_tick(desk, line.code, why=why), then=done)

    def print_list(self, key: str) -> None:
        """Make a list and ask where it is kept; a sheet of a deposit is of the one in hand where none is typed."""
        in_hand = self.bench.in_hand
        deposit = in_hand.number if isinstance(in_hand, DepositDossier) else ""
        self.papers.print(key, in_hand.deposit if isinstance(in_hand, Dossier) else deposit)

    def print_marks(self, deposit: object) -> None:
        """Make the marking list of one deposit, or of all."""
        desk, chosen = self.bench.surroundings.desk, deposit if isinstance(deposit, str) else None
        done_too = self.parts.marks.done_too.isChecked()
        self.bench.read(
            lambda: marking_sheet(desk, chosen, all_lines=done_too),
            lambda made: self._keep(made, "marking"),
            topic="list",
        )

    def _keep(self, made: PrintedList, key: str) -> None:
        day = WordsAround.of(self.bench.surroundings.desk).today().isoformat()
        hand_over(self.bench.surroundings, made.pdf, f"{day}-{key}")
