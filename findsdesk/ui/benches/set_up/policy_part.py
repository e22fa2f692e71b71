"""The policy with its simulator: what the rules, or the one just typed, would have kept of the season."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.figure_words import value_of
from findsdesk.desk.register_columns import Say
from findsdesk.desk.retention import take_starting_policy
from findsdesk.desk.simulating import notes_of, simulate
from findsdesk.desk.trying_rules import Tried, try_rule
from findsdesk.domain.balance import Decision
from findsdesk.domain.mean_dates import MeanDate
from findsdesk.domain.policy_simulation import Held, Simulated
from findsdesk.domain.terminus import TerminusPostQuem
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.set_up.policy_subject import (
    decision_of,
    decisions_offered,
    lists_of,
    never_comes,
    policy_subject,
    reasons_offered,
)
from findsdesk.ui.benches.set_up.subject_part import SubjectPart
from findsdesk.ui.models.cells import Cell, Column, TableRow
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, grouped, plural, put

_ASKED = {"any": None, "yes": True, "no": False}


class PolicyPart(SubjectPart):
    """Nothing is written by asking."""

    _reasons_of: Decision | None = None
    """The decision whose reasons are offered."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(bench, policy_subject(discards=bench.surroundings.desk.facts.settings.discards), parent)
        theme = bench.theme
        self.start = QPushButton(_("Take in the policy that ships"))
        self.ask = QPushButton(_("What would the rules have kept?"))
        self.try_it = QPushButton(_("What would this rule change?"))
        self.told = Card(theme, _("What would have been kept of the season"))
        titles = ("", _("sorted"), _("as decided"), _("by the rules"), _("with this rule"))
        # The figures are what was asked for: where there is too little room the names beside them give way.
        self.figures = ShortTable(
            [Column(title, figures=bool(place), grows=not place) for place, title in enumerate(titles)]
        )
        self.figure_table = TableView(theme, _("What would have been kept"))
        self.figure_table.setModel(self.figures)
        self.figure_table.setMinimumHeight(theme.px(150))
        self.never = labels.bold(wrap=True)
        self.note = labels.muted(small=True)
        self.put_away = QPushButton(_("Back to the rules"))
        self._asked_for()
        self.start.clicked.connect(self._take_in)
        self.ask.clicked.connect(self._ask)
        self.try_it.clicked.connect(self._try)
        self.put_away.clicked.connect(self._hide_told)

    def _asked_for(self) -> None:
        layout = self.layout()
        assert isinstance(layout, QVBoxLayout)
        beside, line = QWidget(), FlowLayout(self.bench.theme.px(10), self.bench.theme.px(6))
        beside.setLayout(line)
        for button in (self.start, self.ask, self.try_it):
            line.addWidget(button)
        self.told.body.addWidget(self.never)
        self.told.body.addWidget(self.figure_table, 1)
        self.told.body.addWidget(self.note)
        row = QHBoxLayout()
        row.addWidget(self.put_away)
        row.addStretch(1)
        self.told.body.addLayout(row)
        layout.insertWidget(1, beside)
        layout.addWidget(self.told, 2)
        self.told.hide()

    def refresh(self) -> None:
        """Read the rules again; what somebody types stays."""
        discards = self.bench.surroundings.desk.facts.settings.discards
        self.form.offer("decision", decisions_offered(discards=discards))
        super().refresh()

    def _show_parts(self) -> None:
        super()._show_parts()
        if hasattr(self, "start"):
            self.start.setVisible(not self.entries)

    def _say_what_follows(self) -> None:
        super()._say_what_follows()
        decision = decision_of(self.form.peek())
        if decision is not self._reasons_of:
            self._reasons_of = decision
            self.form.offer("reason", reasons_offered(decision, WordsAround.of(self.bench.surroundings.desk)))

    def _take_in(self) -> None:
        desk = self.bench.surroundings.desk
        self.bench.deed(lambda: take_starting_policy(desk), then=self._taken, button=self.start)

    def _taken(self, rules: tuple[object, ...]) -> None:
        said = plural("{n} rule", "{n} rules", len(rules))
        self.bench.surroundings.say(Answer(Tone.DONE, _("Written"), f": {said}"))
        self.refresh()

    def _ask(self) -> None:
        desk = self.bench.surroundings.desk
        self.bench.refusals.clear()
        self.bench.read(lambda: (simulate(desk), None), self._tell, topic="simulate")

    def _try(self) -> None:
        values = self.form.read()
        if values is None:
            return
        desk, entry = self.bench.surroundings.desk, self.at_hand
        self.bench.refusals.clear()

        def work() -> tuple[Simulated, Tried]:
            tried = try_rule(
                desk,
                instead_of=entry.name if entry else None,
                name=values["name"],
                decision=decision_of(values),
                reason=values["reason"],
                lists=lists_of(values),
                diagnostic=_ASKED[values["diagnostic"]],
                one_in=values["one_in"],
                at_least=values["at_least"],
                in_force=values["in_force"] if entry else True,
                place=values["place"],
            )
            return simulate(desk), tried

        self.bench.read(work, self._tell, topic="simulate")

    def _tell(self, both: tuple[Simulated, Tried | None]) -> None:
        told, tried = both
        self.figures.show_rows(figure_rows(told, tried.kept if tried else None))
        self.figure_table.setColumnHidden(4, tried is None)
        self.figure_table.fit_columns()
        self.never.setText(_("This rule {never}.").format(never=never_comes(tried.behind)) if tried else "")
        self.never.setVisible(bool(tried and tried.behind))
        self.note.setText(_note(told, self.bench.surroundings.words))
        self.card.hide()
        self.told.show()
        self.put_away.setFocus()

    def _open(self, row_id: object) -> None:
        if self.told.isVisible():
            self._hide_told()
        super()._open(row_id)

    def _hide_told(self) -> None:
        self.told.hide()
        self.card.show()
        self.ask.setFocus()


def figure_rows(told: Simulated, tried: Simulated | None = None) -> list[TableRow]:
    """Return the figures of a simulation as rows: what is sorted, what was kept, what the policy would have kept.

    The last column says what it would have kept with the rule that is ``tried``, where one is.
    """
    last = tried or told
    parts = (told.sorted, told.as_decided, told.by_policy, last.by_policy)
    rows = [
        (_("count"), *(grouped(one.pieces) for one in parts)),
        (_("kilos"), *(f"{one.grams / 1000:,.1f}" for one in parts)),
        (_("boxes"), *(grouped(one.boxes) for one in parts)),
        (_("mean date of the sherds"), *(_year(one.mean_date) for one in parts)),
        (_("TPQ by the sherds"), *(_year(one.terminus) for one in parts)),
        *((_ware(ware), *_shares(parts, ware)) for ware in told.wares),
    ]
    return [
        TableRow(place, tuple(Cell(text, "", strong=not at) for at, text in enumerate(row)))
        for place, row in enumerate(rows)
    ]


def _ware(ware: str) -> str:
    return put(N_("{ware}, % of the pieces"), None, {"ware": ware or "–"})


def _year(dated: MeanDate | TerminusPostQuem | None) -> str:
    return value_of(None if dated is None else dated.year)


def _note(told: Simulated, say: Say) -> str:
    """Return by what boxes are counted and what the figures leave out."""
    boxes = say(N_("Boxes of 10 kg by weight alone, since sherds have no set bulk."))
    return " ".join((boxes, *(say(text, **facts) for text, facts in notes_of(told))))


def _shares(parts: tuple[Held, ...], ware: str) -> tuple[str, ...]:
    return tuple(f"{one.permille(ware) / 10:.1f}" for one in parts)
