"""What became of a sample: where it went, when it was sent and came back, what is left of it, what was found."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton

from findsdesk.desk.samples import SampleFacts, change_sample
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.words import N_, _

KEYS = ("laboratory", "permit", "sent_on", "back_on", "rest_tenths", "result")


class SampleFollow(Card):
    """A card with the form; what was changed in it is written, also that a day or grams were emptied."""

    done = Signal(object)
    """The ``SampleFacts`` as they are now."""
    left = Signal()

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench.theme, " ")
        self.bench = bench
        self.sample: SampleFacts | None = None
        self.form = FieldForm(
            bench.theme,
            (
                Field("laboratory", _("Laboratory"), width=220),
                Field("permit", _("Permit"), width=140, beside=True),
                Field("sent_on", _("Sent on"), FieldKind.DAY, 155),
                Field("back_on", _("back on"), FieldKind.DAY, 155, beside=True),
                Field("rest_tenths", _("Grams left"), FieldKind.GRAMS, 80, beside=True),
                Field("result", _("Result")),
            ),
            bench.surroundings.terms,
        )
        self.button = QPushButton(_("Write what became of it"))
        self.leave = QPushButton(_("Leave it"))
        buttons = QHBoxLayout()
        buttons.addWidget(self.button)
        buttons.addWidget(self.leave)
        buttons.addStretch(1)
        self.body.addWidget(self.form)
        self.body.addLayout(buttons)
        self.button.clicked.connect(self.write)
        self.form.entered.connect(self.write)
        self.leave.clicked.connect(self.left)

    def show_sample(self, sample: SampleFacts) -> None:
        """Show what is known of a sample, to be gone on with."""
        self.sample = sample
        of = sample.piece or sample.container
        self.say_heading(self.bench.surroundings.words(N_("Sample {number} of {of}"), number=sample.number, of=of))
        self.form.clear()
        self.form.show_values({key: getattr(sample, key) for key in KEYS})

    def write(self) -> None:
        """Write what was changed."""
        values, sample = self.form.read(), self.sample
        if values is None or sample is None:
            return
        said: dict[str, Any] = {key: values[key] for key in KEYS if values[key] != getattr(sample, key)}
        desk = self.bench.surroundings.desk

        def work(*, sure: bool = False) -> SampleFacts:
            return change_sample(desk, sample.number, seen=sample.version, sure=sure, **said)

        if said:
            self.bench.deed(work, sure=lambda: work(sure=True), then=self._written, button=self.button)
        else:
            self.left.emit()

    def _written(self, sample: SampleFacts) -> None:
        self.show_sample(sample)
        said = self.bench.surroundings.words(N_("Sample {number}"), number=sample.number)
        rest = self.bench.surroundings.words(N_(": written"))
        self.bench.surroundings.say(Answer(Tone.DONE, said, rest))
        self.done.emit(sample)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)
