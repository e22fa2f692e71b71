"""The end of the season: what is open, each line with the way to its bench; deadlines, papers, and two signatures."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.desk import Desk
from findsdesk.desk.season_end import season_end
from findsdesk.desk.signing_open import SignedOpen, sign_open
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.day.needs import NeedsList
from findsdesk.ui.benches.day.season_end_state import SeasonEndState, season_end_state
from findsdesk.ui.paper_out import hand_over
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.scroll_page import in_a_page
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _

if TYPE_CHECKING:
    from findsdesk.desk.sheets import PrintedList

_LEAST = 150
"""Pixels of height, at 100 per cent, that what is open keeps; more lines are scrolled."""


class SeasonEndPage(QWidget):
    """Stands in the place of the day page while it is open."""

    chosen = Signal(object)
    """The ``NeedRow`` that was pressed."""
    left = Signal()
    """Back to the day."""
    export_wanted = Signal()
    """The hand-over bundle, or another export, is to be written."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bench = bench
        self.surroundings = bench.surroundings
        self.theme = bench.theme
        self.state: SeasonEndState | None = None
        self.open_things = NeedsList(self.theme)
        self.open_things.chosen.connect(self.chosen)
        self.deadlines = NeedsList(self.theme)
        self.signed = labels.muted(wrap=True)
        self.form = FieldForm(self.theme, _fields(), self.surroundings.terms)
        self.form.entered.connect(self.sign)
        self.sign_button = QPushButton(_("Sign for what stays open"))
        self.sign_button.clicked.connect(self.sign)
        self.back = QPushButton(_("Back to the day"))
        self.back.clicked.connect(self.left)
        self.export = QPushButton(_("Hand-over bundle …"))
        self.export.clicked.connect(self.export_wanted)
        self.papers = {
            key: self._paper_button(key, words)
            for key, words in (
                ("open", _("What stays open")),
                ("inspector", _("State of the day")),
                ("balance", _("Balance certificate")),
            )
        }
        self._lay_out()

    def read_again(self) -> None:
        """Read what is open, on the reading lane."""
        desk = self.surroundings.desk
        self.bench.read(lambda: season_end_state(season_end(desk), WordsAround.of(desk)), self.show_state, "season_end")

    def show_state(self, state: SeasonEndState) -> None:
        """Show what was read."""
        self.state = state
        self.what.say_heading(state.heading)
        self.open_things.show_rows(state.lines)
        self.deadlines.show_rows(state.deadlines)
        self.no_deadline.setVisible(not state.deadlines)
        self.deadlines.setVisible(bool(state.deadlines))
        self.signed.setText(" ".join(state.signed))
        self.signed.setVisible(bool(state.signed))
        self.sign_button.setEnabled(state.may_sign)

    def sign(self) -> None:
        """Sign with a second person for what is shown."""
        values, state = self.form.read(), self.state
        if values is None or state is None:
            return
        desk = self.surroundings.desk
        self.bench.deed(
            lambda: sign_open(
                desk,
                second=values["second"],
                pin=values["pin"],
                second_pin=values["second_pin"],
                seen=state.seen,
                season=state.season,
            ),
            then=self._signed,
            button=self.sign_button,
        )

    def _signed(self, done: SignedOpen) -> None:
        self.form.clear()
        text = self.surroundings.words(N_(": {n} things, carried over"), n=done.lines)
        self.surroundings.say(Answer(Tone.DONE, _("Signed by two"), text))
        self.read_again()

    def _paper_button(self, key: str, words: str) -> QPushButton:
        button = QPushButton(words)
        button.clicked.connect(lambda: self._print(key))
        return button

    def _print(self, key: str) -> None:
        desk, season = self.surroundings.desk, self.state.season if self.state else ""
        day = WordsAround.of(desk).today().isoformat()

        def keep(made: PrintedList) -> None:
            hand_over(self.surroundings, made.pdf, f"{day}-{key}")

        self.bench.read(_paper(desk, key, season), keep, topic="print")

    def _lay_out(self) -> None:
        self.what = Card(self.theme, _("What is open"))
        area = in_a_page(self.open_things)
        area.setMinimumHeight(self.theme.px(_LEAST))
        self.what.body.addWidget(area, 1)
        due = Card(self.theme, _("Deadlines"))
        self.no_deadline = labels.muted(
            _("No deadline is written. findsdesk hand-over takes in those that ship, or writes the permit's.")
        )
        due.body.addWidget(self.no_deadline)
        due.body.addWidget(self.deadlines)
        signing = Card(self.theme, _("Signed by two, carried over"))
        mould = _("Nothing damp goes into a closed box: it grows mould. What is boxed unwashed is dry first.")
        for part in (labels.plain(mould), self.signed, self.form, self.sign_button):
            signing.body.addWidget(part)
        signing.body.addStretch(1)
        right = QVBoxLayout()
        right.addWidget(due)
        right.addWidget(signing, 1)
        cards = QHBoxLayout()
        cards.addWidget(self.what, 3)
        cards.addLayout(right, 2)
        foot = QWidget()
        flow = FlowLayout()
        foot.setLayout(flow)
        flow.set_gaps(self.theme.px(10), self.theme.px(6))
        for button in (self.back, *self.papers.values(), self.export):
            flow.addWidget(button)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addLayout(cards, 1)
        whole.addWidget(foot)


def _fields() -> tuple[Field, ...]:
    help_ = _("Whoever has a PIN types it; one of the two is the director or the registrar.")
    return (
        Field("second", _("Signs with you"), FieldKind.TEXT, 200),
        Field("pin", _("Your PIN"), FieldKind.PIN, 80, help_),
        Field("second_pin", _("Their PIN"), FieldKind.PIN, 80, beside=True),
    )


def _paper(desk: Desk, key: str, season: str) -> Callable[[], PrintedList]:
    def make() -> PrintedList:
        # Paper is loaded when something is printed: its libraries would hold up the window at the start.
        from findsdesk.desk.all_papers import make_paper
        from findsdesk.desk.whole_papers import Asked

        return make_paper(desk, key, Asked(season=season))

    return make
