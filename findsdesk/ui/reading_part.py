"""Reading pottery: what was read of a container or a deposit, one's own reading in a form, what to look at again.

Shared by the benches at which somebody reads; none of them knows the other.
"""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent
from PySide6.QtWidgets import QApplication, QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.figure_scopes import Of, scope_of
from findsdesk.desk.reading_page import ReadingPage, reading_page, write_reading
from findsdesk.desk.reading_rows import ReadingFacts
from findsdesk.desk.readings import DEFAULT_CONFIDENCE, answer_look_again
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.kept_readings import KeptReadings, Typed
from findsdesk.ui.readings_in_words import reading_in_words
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _

_PERIODS = ("main", "earlier", "latest")


class ReadingPart(QWidget):
    """Enter goes from field to field and writes at the last; what was typed stays until it is written.

    It also outlasts another container in hand and the window.
    """

    written = Signal()
    """A reading was written or corrected."""
    left = Signal()

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.bench = bench
        self.of, self.code = Of.CONTAINER, ""
        self.page: ReadingPage | None = None
        self._who = ""
        """Whose form it is: what somebody else typed and did not write is not theirs."""
        self.kept = KeptReadings(bench)
        self._as_shown: Typed = {}
        """What the form said before anybody typed in it."""
        say = bench.surroundings.words
        self.card = Card(bench.theme)
        self.form = FieldForm(
            bench.theme,
            (
                Field("main", _("Main period"), FieldKind.CHOICE, 210),
                Field("earlier", _("earlier"), FieldKind.CHOICE, 180, beside=True),
                Field("latest", _("latest"), FieldKind.CHOICE, 180, beside=True),
                Field("confidence", _("How sure"), FieldKind.CHOICE, 110),
                Field("line", _("In a line"), help=_("What it is, and what to remember of it.")),
                Field("look_again", _("Look again"), help=say(N_("Why somebody should; it stands on the day page."))),
            ),
            bench.surroundings.terms,
        )
        self.button = QPushButton(_("Write the reading"))
        self.back = QPushButton(_("Back"))
        self.told = QVBoxLayout()
        self.answers: list[QLineEdit] = []
        self._to_answer = False
        self._shown: tuple[Of, str] | None = None
        """Of what the readings are that are shown."""
        self._texts: list[QWidget] = []
        self._lay_out()
        self.form.entered.connect(self.write)
        self.form.edited.connect(self._keep)
        self.button.clicked.connect(self.write)
        self.back.clicked.connect(self.left)
        bench.surroundings.seated.connect(self.read_again)

    def show_for(self, of: Of, code: str) -> None:
        """Show the readings of a container or a deposit, and the form with one's own."""
        self.of, self.code = of, code
        self.read_again()

    def focus_answer(self) -> None:
        """Give the keyboard to what is to be answered, as soon as it is read, else to the form."""
        self._to_answer = True

    def read_again(self) -> None:
        """Read what was read of the thing; what somebody types stays where the thing is the same."""
        desk, of, code = self.bench.surroundings.desk, self.of, self.code

        def show(page: ReadingPage) -> None:
            self._shown = (of, code)
            self.show_page(page)

        if code:
            self.bench.read(lambda: reading_page(desk, scope_of(desk, of, code)), show, "reading")

    def is_behind(self) -> bool:
        """Return whether the readings of another thing are shown than the one that is being read."""
        return self._shown != (self.of, self.code) and self.bench.reads("reading")

    def show_page(self, page: ReadingPage) -> None:
        """Show what was read."""
        say = self.bench.surroundings.words
        who = self.bench.surroundings.desk.person.name
        other = self.page is None or self.page.scope != page.scope or self.page.own != page.own or self._who != who
        self._who = who
        self.page = page
        none = [("", _("–"))]
        for key in _PERIODS:
            self.form.offer(key, [*none, *((one.code, f"{one.code} {one.name}") for one in page.periods)])
        self.form.offer("confidence", [(key, say(word)) for key, word in page.confidences])
        heading = N_("{Container} {n}") if page.scope.of is Of.CONTAINER else N_("{Deposit} {n}")
        self.card.say_heading(say(heading, n=page.scope.name))
        again = _("Write a reading of your own") if page.readings else _("Write the reading")
        self.button.setText(_("Correct my reading") if page.own else again)
        if other:
            self.form.show_values(_values(page.own))
            self._as_shown = self._typed()
            self.kept.find_again()
            self.form.show_values(self.kept.half.get(self._of(page), {}))
        self._tell(page)
        if self._to_answer and self.answers:
            self.answers[0].setFocus()
        self._to_answer = False

    def write(self) -> None:
        """Write one's reading, or correct it."""
        values, page, code = self.form.read(), self.page, self.code
        if values is None or page is None:
            return
        desk = self.bench.surroundings.desk
        said = {key: str(value or "") for key, value in values.items()}
        of = self._of(page)
        self.bench.deed(
            lambda: write_reading(desk, page, code=code, **said),
            then=lambda made: self._written(made, of),
            button=self.button,
        )

    def is_half_typed(self, of: Of, which: int) -> bool:
        """Return whether who sits here typed a reading of a thing, by its id, and did not write it."""
        self.kept.find_again()
        return _known_as(of, which, self.bench.surroundings.desk.person.name) in self.kept.half

    def _of(self, page: ReadingPage) -> str:
        """Return what is read and who reads it."""
        return _known_as(page.scope.of, page.scope.id, self._who)

    def _typed(self) -> Typed:
        return {key: str(value or "") for key, value in self.form.as_typed().items()}

    def _keep(self) -> None:
        """Somebody typed: keep it until it is written, or is again as it was."""
        if self.page is not None:
            typed = self._typed()
            self.kept.take_note(self._of(self.page), typed if typed != self._as_shown else None)

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self.kept.keep_now()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def _written(self, made: ReadingFacts, of: str) -> None:
        self.kept.take_note(of, None)
        name = made.periods.main.name if made.periods.main else made.line
        self.bench.surroundings.say(
            Answer(Tone.DONE, _("Reading written"), f": {made.container or made.deposit}, {name}")
        )
        self.read_again()
        self.written.emit()

    def _tell(self, page: ReadingPage) -> None:
        """Show each reading in words, and a line to answer where somebody has to look again."""
        focus = QApplication.focusWidget()
        had_keyboard = focus is not None and any(widget.isAncestorOf(focus) for widget in self._texts)
        for widget in self._texts:
            self.told.removeWidget(widget)
            widget.hide()
            widget.deleteLater()
        self._texts, self.answers = [], []
        around = WordsAround.of(self.bench.surroundings.desk)
        for one in page.readings:
            self._put(labels.plain(reading_in_words(one, around)))
            if one.waits:
                self._put(self._answer(one))
        if not page.readings:
            self._put(labels.muted(_("Nobody has read it yet.")))
        if had_keyboard:
            # What was answered is gone: else the toolkit gives the keyboard to whatever stands beside the bench.
            (self.answers[0] if self.answers else self.form.entries["main"].widget).setFocus()

    def _put(self, widget: QWidget) -> None:
        self._texts.append(widget)
        self.told.addWidget(widget)

    def _answer(self, one: ReadingFacts) -> QWidget:
        line, entry, button = QWidget(), QLineEdit(), QPushButton(_("Write what was seen"))
        entry.setProperty("free_text", True)
        label = labels.plain(_("What was seen"), wrap=False)
        label.setBuddy(entry)
        entry.setAccessibleName(_("What was seen: {why}").format(why=one.look_again_why))
        row = QHBoxLayout(line)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(label)
        row.addWidget(entry, 1)
        row.addWidget(button)
        desk = self.bench.surroundings.desk

        def write() -> None:
            says = entry.text()
            self.bench.deed(
                lambda: answer_look_again(desk, one.id, says=says), then=lambda _made: self.read_again(), button=button
            )

        button.clicked.connect(write)
        entry.returnPressed.connect(write)
        self.answers.append(entry)
        return line

    def _lay_out(self) -> None:
        self.title: QLabel = self.card.heading
        foot = QHBoxLayout()
        foot.addWidget(self.button)
        foot.addWidget(self.back)
        foot.addStretch(1)
        self.card.body.addLayout(self.told)
        self.card.body.addWidget(self.form)
        self.card.body.addLayout(foot)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.card)
        whole.addStretch(1)


def _known_as(of: Of, which: int | None, who: str) -> str:
    return f"{of.value} {which} {who}"


def _values(own: ReadingFacts | None) -> dict[str, str]:
    """Return one's own reading as the form shows it; an empty one where there is none."""
    if own is None:
        return dict.fromkeys((*_PERIODS, "line", "look_again"), "") | {"confidence": DEFAULT_CONFIDENCE}
    said = own.periods
    return {
        "main": said.main.code if said.main else "",
        "earlier": said.earlier.code if said.earlier else "",
        "latest": said.latest.code if said.latest else "",
        "confidence": own.confidence,
        "line": own.line,
        "look_again": own.look_again_why,
    }
