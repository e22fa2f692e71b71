"""What is made in place of the sheet: a stock that is measured, a layout that is changed and looked at."""

from __future__ import annotations

import re
from collections.abc import Callable

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QImage

from findsdesk.desk.label_layouts import LayoutFacts, change_label_layout
from findsdesk.desk.label_preview import LookedAt, look_at_layout
from findsdesk.desk.laying_out import frames_of
from findsdesk.desk.own_stocks import as_measured, take_stock_away
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.labels.layout import LabelsLayout
from findsdesk.ui.benches.labels.printing_work import PrintingWork
from findsdesk.ui.benches.labels.state import Aside, LabelsState, Phase
from findsdesk.ui.paper_out import hand_over
from findsdesk.words import _


class AsideWork:
    """Files and drawing wait for nobody: they are done away from the window's thread."""

    def __init__(
        self, bench: Bench, state: LabelsState, parts: LabelsLayout, work: PrintingWork, show: Callable[[], None]
    ) -> None:
        self.bench, self.state, self.parts, self.work, self.show = bench, state, parts, work, show
        parts.stock.measure_wanted.connect(self.begin_stock)
        parts.stock.layout_wanted.connect(self.begin_layout)
        parts.measure.complained.connect(self._say_wrong)
        parts.measure.keep_wanted.connect(self.keep_stock)
        parts.measure.take_away_wanted.connect(self.take_away)
        parts.measure.correct_wanted.connect(self.correct)
        parts.measure.frames_wanted.connect(self.print_frames)
        parts.measure.leave.clicked.connect(self.leave)
        parts.editor.changed.connect(self.look)
        parts.editor.refused.connect(bench.refuse)
        parts.editor.keep_wanted.connect(self.keep_layout)
        parts.editor.leave.clicked.connect(self.leave)

    def leave(self) -> None:
        """Turn back to the sheet; what was set and not kept is asked about first."""
        is_stock = self.state.aside is Aside.STOCK
        if not (self.parts.measure.is_begun() if is_stock else self.parts.editor.is_changed()):
            self._turn_back()
            return
        stock, layout = _("What was measured here is not kept."), _("What was changed in the layout is not kept.")
        self.bench.refusals.ask(stock if is_stock else layout, self._turn_back, _("Drop it and go back"))

    def _turn_back(self) -> None:
        self.bench.refusals.clear()
        before, self.state.aside = self.state.aside, None
        self.show()
        there = self.parts.stock.layout_button if before is Aside.LAYOUT else self.parts.stock.stock
        there.setFocus(Qt.FocusReason.OtherFocusReason)

    # A stock

    def begin_stock(self) -> None:
        """Turn to the page on which a stock is measured."""
        if self.state.phase is not Phase.LOOKING:
            return
        self.bench.refusals.clear()
        self.state.aside = Aside.STOCK
        self.parts.measure.begin(self._own())
        self.show()
        self.parts.measure.name.setFocus(Qt.FocusReason.OtherFocusReason)

    def _own(self) -> tuple[str, ...]:
        return tuple(one.name for one in self.state.stocks if one.own)

    def keep_stock(self) -> None:
        """Keep the stock that was measured, and lay the labels out on it."""
        self.bench.refusals.clear()
        try:
            said = self.parts.measure.said()
        except Refusal as refusal:
            self._stock_refused(refusal)
            return
        self.bench.surroundings.lanes.pool(said.keep, then=self._kept, refused=self._stock_refused)

    def _stock_refused(self, refusal: Refusal) -> None:
        self.parts.measure.mark(refusal)
        self.bench.refuse(refusal)

    def _say_wrong(self, text: str) -> None:
        """Say what is wrong with a length over the head of the bench; a question that waits there stays."""
        if self.bench.refusals.is_asking():
            return
        if text:
            self.bench.refusals.refuse(text)
        else:
            self.bench.refusals.clear()

    def _kept(self, name: str) -> None:
        self.state.read_stocks()
        self._turn_back()
        if name == self.state.stock().name:
            self.work.lay_out()
        self.work.use_stock(name)
        kept = _(" is kept; the labels are laid out on it. Its frames are printed at “Measure a stock …”.")
        self.bench.surroundings.say(Answer(Tone.DONE, name, kept))

    def correct(self, name: str) -> None:
        """Fill the form with a stock that was measured here; kept, it stands in place of what it was."""
        self.bench.refusals.clear()
        self.bench.surroundings.lanes.pool(
            lambda: as_measured(name), then=self.parts.measure.show_measured, refused=self.bench.refuse
        )

    def take_away(self, name: str) -> None:
        """Forget a stock that was measured here."""
        self.bench.refusals.clear()

        def gone(_stock: object) -> None:
            self.state.read_stocks()
            self.parts.measure.show_own(self._own())
            self.work.lay_out()
            self.bench.surroundings.say(Answer(Tone.DONE, name, _(" is taken away.")))

        self.bench.surroundings.lanes.pool(lambda: take_stock_away(name), then=gone, refused=self.bench.refuse)

    def print_frames(self, name: str) -> None:
        """Make the frames of a stock's labels, and ask where the PDF is kept; held against the sheet they must meet."""
        surroundings, desk = self.bench.surroundings, self.bench.surroundings.desk
        moment, language = desk.now().astimezone(desk.facts.zone), desk.facts.settings.paper_language
        self.bench.refusals.clear()
        plain = re.sub(r"[^\w-]+", "-", name)

        def made(pdf: bytes) -> None:
            hand_over(surroundings, pdf, f"frames-{plain}")

        surroundings.lanes.pool(
            lambda: frames_of(name, moment=moment, language=language),
            then=made,
            refused=self.bench.refuse,
            topic="labels/frames",
        )

    # A layout

    def begin_layout(self) -> None:
        """Turn to what stands on the labels of the chosen kind."""
        facts = self.state.read.layout if self.state.read else None
        if facts is None or self.state.phase is not Phase.LOOKING:
            return
        self.bench.refusals.clear()
        self.state.aside = Aside.LAYOUT
        self.parts.editor.begin(facts)
        self.show()
        self.parts.editor.take_keyboard()
        QTimer.singleShot(0, self.parts.editor, self.parts.editor.come_into_sight)

    def look(self) -> None:
        """Draw the label as it is set now: the first of those that wait, or an invented one."""
        self.bench.refusals.clear()
        try:
            layout = self.parts.editor.said()
        except Refusal:
            return  # it stands beside its field, where it is typed
        desk, state, batch = self.bench.surroundings.desk, self.state, self.state.batch
        label = batch.labels[0].label if batch and batch.labels else None
        stock, printer = state.stock().name, state.printer
        width = max(600, self.parts.editor.picture.width() * 2)

        def work() -> tuple[QImage, LookedAt]:
            looked = look_at_layout(desk, layout, stock=stock, label=label, printer=printer, width=width)
            return QImage.fromData(looked.picture), looked

        self.bench.surroundings.lanes.pool(
            work,
            then=lambda seen: self.parts.editor.show_looked(*seen),
            refused=self.bench.refuse,
            topic="labels/layout",
        )

    def keep_layout(self) -> None:
        """Write the layout: it holds for what is printed from now on."""
        self.bench.refusals.clear()
        if self.parts.editor.go_to_wrong():
            return
        layout = self.parts.editor.said()
        desk, editor = self.bench.surroundings.desk, self.parts.editor
        seen = editor.seen or None

        def done(facts: LayoutFacts) -> None:
            name = editor.head.text()
            self._turn_back()
            self.bench.refresh()
            self.bench.surroundings.say(Answer(Tone.DONE, name, _(": the layout holds from now on.")))

        self.bench.deed(lambda: change_label_layout(desk, layout, seen=seen), then=done)
