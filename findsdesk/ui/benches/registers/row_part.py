"""One row of a register with what can still be said of it: a sample followed, what was left in the trench answered."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.left_in_trench import LeftFacts, answer_left, left_of
from findsdesk.desk.samples import SampleFacts, sample_of
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.sample_follow import SampleFollow
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.field_form import Field, FieldForm
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, plural


class RowPart(QWidget):
    """Escape and the first button lead back to the list, the second to what the row is of."""

    left = Signal()
    wanted = Signal()
    """What the row is of is to be shown."""

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.bench = bench
        self.back, self.there = QPushButton(_("Back")), QPushButton()
        px = bench.theme.px
        top = QWidget()
        flow = FlowLayout(px(8), px(6))
        top.setLayout(flow)
        for button in (self.back, self.there):
            flow.addWidget(button)
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 0, 0)
        self.column.setSpacing(px(10))
        self.column.addWidget(top)
        self.back.clicked.connect(self.left)
        self.there.clicked.connect(self.wanted)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)


class SamplePart(RowPart):
    """A sample: where it went and what came of it."""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.code = ""
        self.follow = SampleFollow(bench)
        self.column.addWidget(self.follow)
        self.column.addStretch(1)
        self.follow.left.connect(self.left)
        self.follow.done.connect(lambda _sample: self.left.emit())

    def show_sample(self, number: int, code: str) -> None:
        """Read a sample and show it; ``code`` is the tag of the container it is of."""
        desk = self.bench.surroundings.desk
        self.code = code
        self.there.setText(self.bench.surroundings.words(N_("Take its {container} in hand")))
        self.bench.read(lambda: sample_of(desk, number), self._show, topic="sample")

    def _show(self, sample: SampleFacts) -> None:
        self.follow.show_sample(sample)
        self.follow.form.focus_first()


class LeftPart(RowPart):
    """An entry of what was left in the trench: answered by its opposite where it was wrong; both stay readable."""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.entry: LeftFacts | None = None
        self.card = Card(bench.theme, " ")
        self.about = labels.plain()
        self.form = FieldForm(
            bench.theme,
            (Field("why", _("Why it is taken back"), help=_("Stands beside the entry; both stay readable.")),),
            bench.surroundings.terms,
        )
        self.button = act_button(_("Take the entry back"))
        for part in (self.about, self.form):
            self.card.body.addWidget(part)
        self.card.body.addWidget(self.button, alignment=Qt.AlignmentFlag.AlignLeading)
        self.column.addWidget(self.card)
        self.column.addStretch(1)
        self.button.clicked.connect(self.write)
        self.form.entered.connect(self.write)

    def show_entry(self, entry_id: int, deposit: str) -> None:
        """Read an entry of a deposit and show it."""
        desk = self.bench.surroundings.desk
        self.there.setText(self.bench.surroundings.words(N_("Show the {deposit}")))
        self.form.clear()
        self.bench.read(
            lambda: next((one for one in left_of(desk, deposit) if one.id == entry_id), None), self._show, topic="left"
        )

    def _show(self, entry: LeftFacts | None) -> None:
        self.entry = entry
        if entry is None:
            self.left.emit()
            return
        around = WordsAround.of(self.bench.surroundings.desk)
        self.card.say_heading(around.say(N_("Left in {deposit} {number}"), number=entry.deposit))
        self.about.setText(left_in_words(entry, around))
        open_still = not entry.answered and entry.answers_id is None
        for part in (self.form, self.button):
            part.setVisible(open_still)
        if open_still:
            self.form.focus_first()
        else:
            self.back.setFocus(Qt.FocusReason.OtherFocusReason)

    def write(self) -> None:
        """Answer the entry by its opposite."""
        values, entry, desk = self.form.read(), self.entry, self.bench.surroundings.desk
        if values is not None and entry is not None:
            why = values["why"]
            self.bench.deed(lambda: answer_left(desk, entry.id, why=why), then=self._written, button=self.button)

    def _written(self, answer: LeftFacts) -> None:
        said = self.bench.surroundings.words(
            N_(": {what}, {deposit} {number}"), what=answer.what, number=answer.deposit
        )
        self.bench.surroundings.say(Answer(Tone.DONE, _("Taken back"), said))
        self.left.emit()


def left_in_words(entry: LeftFacts, around: WordsAround) -> str:
    """Return an entry in a sentence: what, how much, why, by whom, and whether it stands."""
    say = around.say
    pieces = "" if entry.pieces is None else plural("{n} piece", "{n} pieces", entry.pieces)
    grams = "" if entry.tenths is None else f"{entry.tenths / 10:,.1f} g"
    when = f"{entry.happened_at.astimezone(around.zone):%Y-%m-%d %H:%M}"
    stands = ""
    if entry.answers_id is not None:
        stands = say(N_("It answers an entry that was wrong."))
    elif entry.answered:
        stands = say(N_("It was taken back."))
    said = ", ".join(part for part in (entry.what, pieces, grams, entry.why) if part)
    return "\n".join(part for part in (said, say(N_("{when} by {who}"), when=when, who=entry.person), stands) if part)
