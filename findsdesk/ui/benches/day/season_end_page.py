"""The end of a season: what is open, each line with the way to its work; deadlines, papers, and two signatures."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.desk import Desk
from findsdesk.desk.season_end import season_end
from findsdesk.desk.setting_up import seasons
from findsdesk.desk.signing_open import SignedOpen, sign_open
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.asking_form import AskingForm
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.day.deadlines_part import DeadlinesPart
from findsdesk.ui.benches.day.needs import NeedsList
from findsdesk.ui.benches.day.season_end_state import SeasonEndState, season_end_state
from findsdesk.ui.benches.day.state import NeedRow
from findsdesk.ui.paper_out import hand_over
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.scroll_page import in_a_page
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import _, plural

if TYPE_CHECKING:
    from findsdesk.desk.sheets import PrintedList

_LEAST = 150
"""Pixels of height, at 100 per cent, that what is open keeps; more lines are scrolled."""


class SeasonEndPage(QWidget):
    """Stands in the place of the day page while it is open."""

    chosen = Signal(object)
    """The ``OpenLine`` that was pressed."""
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
        self.season = ""
        """The season that is looked at; '' for that of today, or the newest."""
        self.seasons = ChoiceBox()
        self.seasons.setAccessibleName(_("Which season"))
        self.seasons.activated.connect(self._choose_season)
        self.open_things = NeedsList(self.theme)
        self.open_things.chosen.connect(self._open)
        self.deadlines = DeadlinesPart(bench)
        self.deadlines.changed.connect(self.read_again)
        self.signed = labels.muted(wrap=True)
        self.signing = AskingForm(bench, _("Signed by two, carried over"), _("Sign for it"))
        self.signing.wanted.connect(self.sign)
        self.deadlines.begins.connect(self.signing.leave)
        self.sign_button = act_button(_("Sign for what stays open"))
        self.sign_button.clicked.connect(self.begin_signing)
        self.back = QPushButton(_("Back to the day"))
        self.back.clicked.connect(self.left)
        self.export = QPushButton(_("Hand-over bundle …"))
        self.export.clicked.connect(self.export_wanted)
        self.papers = {
            key: self._paper_button(key, words)
            for key, words in (
                ("open", _("What stays open")),
                ("inspector", _("For the inspector")),
                ("balance", _("Balance certificate")),
            )
        }
        self._lay_out()

    def read_again(self) -> None:
        """Read what is open, on the reading lane."""
        desk, season = self.surroundings.desk, self.season

        def work() -> SeasonEndState:
            names = [one.name for one in seasons(desk)]
            return season_end_state(season_end(desk, season or None), WordsAround.of(desk), names)

        self.bench.read(work, self.show_state, "season_end")

    def show_state(self, state: SeasonEndState) -> None:
        """Show what was read."""
        self.state = state
        if [self.seasons.itemText(place) for place in range(self.seasons.count())] != list(state.seasons):
            self.seasons.clear()
            self.seasons.addItems(state.seasons)
        self.seasons.setCurrentText(state.season)
        self.what.say_heading(state.heading)
        self.open_things.show_rows(state.lines)
        self.deadlines.show_state(state)
        self.signed.setText(" ".join(state.signed))
        self.signed.setVisible(bool(state.signed))
        self.sign_button.setEnabled(state.may_sign)

    def leave_forms(self) -> None:
        """Put open forms away."""
        self.signing.leave()
        self.deadlines.leave_forms()

    def begin_signing(self) -> None:
        """Ask who signs with whoever sits here."""
        self.leave_forms()
        self.signing.begin(FieldForm(self.theme, _fields(), self.surroundings.terms))

    def sign(self) -> None:
        """Sign with a second person for what is shown."""
        values, state = self.signing.read(), self.state
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
                note=values["note"],
            ),
            then=self._signed,
            button=self.signing.write,
        )

    def _signed(self, done: SignedOpen) -> None:
        self.signing.leave()
        text = plural(": {n} thing, carried over", ": {n} things, carried over", done.lines)
        self.surroundings.say(Answer(Tone.DONE, _("Signed by two"), text))
        self.read_again()

    def _choose_season(self) -> None:
        self.leave_forms()
        self.season = self.seasons.currentText()
        self.read_again()

    def _open(self, row: NeedRow) -> None:
        if self.state is not None and row in self.state.behind:
            self.chosen.emit(self.state.behind[row])

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
        px = self.theme.px
        top = QHBoxLayout()
        top.addWidget(labels.muted(_("Season"), wrap=False))
        self.seasons.setFixedWidth(px(170))
        top.setSpacing(px(10))
        top.addWidget(self.seasons)
        top.addWidget(self.signed, 1)
        top.addStretch(0)
        self.what = Card(self.theme, _("What is open"))
        area = in_a_page(self.open_things)
        area.setMinimumHeight(px(_LEAST))
        self.what.body.addWidget(area, 1)
        cards = QHBoxLayout()
        cards.setSpacing(px(14))
        cards.addWidget(self.what, 3)
        cards.addWidget(self.deadlines, 2)
        foot = QWidget()
        flow = FlowLayout()
        foot.setLayout(flow)
        flow.set_gaps(px(10), px(6))
        for button in (self.sign_button, *self.papers.values(), self.export, self.back):
            flow.addWidget(button)
        mould = _("Nothing damp goes into a closed box: it grows mould. What is boxed unwashed is dry first.")
        self.signing.body.insertWidget(0, labels.plain(mould))
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(px(10))
        whole.addLayout(top)
        for form in (self.signing, self.deadlines.adding, self.deadlines.changing):
            whole.addWidget(form)
        whole.addLayout(cards, 1)
        whole.addWidget(foot)


def _fields() -> tuple[Field, ...]:
    help_ = _("Whoever has a PIN types it; one of the two is the director or the registrar.")
    return (
        Field("second", _("Signs with you"), FieldKind.TEXT, 200),
        Field("pin", _("Your PIN"), FieldKind.PIN, 80, help_),
        Field("second_pin", _("Their PIN"), FieldKind.PIN, 80, beside=True),
        Field("note", _("Note")),
    )


def _paper(desk: Desk, key: str, season: str) -> Callable[[], PrintedList]:
    def make() -> PrintedList:
        # Paper is loaded when something is printed: its libraries would hold up the window at the start.
        from findsdesk.desk.all_papers import make_paper
        from findsdesk.desk.whole_papers import Asked

        return make_paper(desk, key, Asked(season=season))

    return make
