"""The deadlines of a season: those that ship taken in, one of its own, and what the permit says of each."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QWidget

from findsdesk.desk.deadlines import DeadlineFacts, add_deadline, change_deadline, take_starting_deadlines
from findsdesk.desk.desk import Desk
from findsdesk.domain.season_end import COUNTS_FROM_IN_WORDS, UNIT_IN_WORDS, CountsFrom, Unit
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.asking_form import AskingForm
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.day.needs import NeedsList
from findsdesk.ui.benches.day.season_end_state import SeasonEndState
from findsdesk.ui.benches.day.state import NeedRow
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.scroll_page import in_a_page
from findsdesk.words import N_, _

_LEAST = 90
"""Pixels of height, at 100 per cent, that the deadlines keep; more are scrolled."""
_DAYS = ("permit_on", "counted_from", "done_on")


class DeadlinesPart(Card):
    """Enter on a deadline opens what can be said of it; the permit's own words go before the rule."""

    changed = Signal()
    begins = Signal()
    """A form of it opens: others are put away."""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench.theme, _("Deadlines"))
        self.bench = bench
        self.say = bench.surroundings.words
        self.state: SeasonEndState | None = None
        self._chosen: DeadlineFacts | None = None
        self.rows = NeedsList(self.theme)
        self.none = labels.muted(_("No deadline is written. Take in those that ship, then change them by the permit."))
        self.take = QPushButton(_("Take in those that ship"))
        self.new = QPushButton(_("New deadline"))
        self.adding = AskingForm(bench, _("New deadline"), _("Write the deadline"))
        self.changing = AskingForm(bench, _("Change the deadline"), _("Write the change"))
        self.area = in_a_page(self.rows)
        self.area.setMinimumHeight(self.theme.px(_LEAST))
        self.body.addWidget(self.none)
        self.body.addWidget(self.area, 1)
        buttons = QWidget()
        flow = FlowLayout()
        buttons.setLayout(flow)
        flow.set_gaps(self.theme.px(10), self.theme.px(6))
        for button in (self.take, self.new):
            flow.addWidget(button)
        self.body.addWidget(buttons)
        self.rows.chosen.connect(self._begin_change)
        self.take.clicked.connect(self._take_in)
        self.new.clicked.connect(self._begin_new)
        self.adding.wanted.connect(self._add)
        self.changing.wanted.connect(self._change)

    def show_state(self, state: SeasonEndState) -> None:
        """Show the deadlines of a season."""
        self.state = state
        self.rows.show_rows(state.deadlines)
        self.none.setVisible(not state.deadlines)
        self.area.setVisible(bool(state.deadlines))
        self.take.setVisible(not state.deadlines)

    def leave_forms(self) -> None:
        """Put an open form away."""
        self.adding.leave()
        self.changing.leave()

    def _make_room(self) -> None:
        self.leave_forms()
        self.begins.emit()

    def _take_in(self) -> None:
        desk, season = self._where()
        self.bench.deed(
            lambda: take_starting_deadlines(desk, season=season),
            then=lambda _all: self.changed.emit(),
            button=self.take,
        )

    def _where(self) -> tuple[Desk, str]:
        desk: Desk = self.bench.surroundings.desk
        return desk, self.state.season if self.state is not None else ""

    def _begin_new(self) -> None:
        self._make_room()
        form = FieldForm(self.theme, _new_fields(self.say), self.bench.surroundings.terms)
        self.adding.begin(form)
        form.show_values({"offset": 4, "unit": str(Unit.WEEKS)})

    def _add(self) -> None:
        said = self.adding.read()
        if said is None:
            return
        desk, season = self._where()
        offset = (said["offset"] or 0) * (-1 if said["before"] == "before" else 1)
        wanted: dict[str, Any] = {key: said[key] or "" for key in ("source", "permit_says")}
        self.bench.deed(
            lambda: add_deadline(
                desk,
                said["deliverable"],
                counts_from=CountsFrom(said["counts_from"]),
                offset=offset,
                unit=Unit(said["unit"]),
                permit_on=said["permit_on"],
                season=season,
                **wanted,
            ),
            then=self._is_written,
            button=self.adding.write,
        )

    def _begin_change(self, row: NeedRow) -> None:
        one = self.state.due.get(row) if self.state is not None else None
        if one is None:
            return
        self._make_room()
        self._chosen = one
        self.changing.say_heading(self.say(N_("Deadline: {name}"), name=one.deliverable))
        form = FieldForm(self.theme, _change_fields(), self.bench.surroundings.terms)
        self.changing.begin(form)
        days = {"permit_on": one.permit_on, "counted_from": one.counted_from, "done_on": one.done_on}
        form.show_values({**days, "permit_says": one.permit_says, "in_force": one.in_force})

    def _change(self) -> None:
        said, one = self.changing.read(), self._chosen
        if said is None or one is None:
            return
        desk, season = self._where()
        # A day that stood there and was taken away goes; one that follows from the season is not written as said.
        gone = tuple(key for key in _DAYS if said[key] is None and getattr(one, key) is not None)
        days = {key: said[key] for key in _DAYS if said[key] != getattr(one, key)}
        self.bench.deed(
            lambda: change_deadline(
                desk,
                one.deliverable,
                season=season,
                seen=one.version,
                permit_says=said["permit_says"] or "",
                in_force=said["in_force"],
                without=gone,
                **days,
            ),
            then=self._is_written,
            button=self.changing.write,
        )

    def _is_written(self, one: DeadlineFacts) -> None:
        self.leave_forms()
        due = self.say(N_(": due {day}"), day=one.due_on.isoformat() if one.due_on else "–")
        self.bench.surroundings.say(Answer(Tone.DONE, one.deliverable, due))
        self.changed.emit()


def _new_fields(say: Any) -> tuple[Field, ...]:
    sides = (("after", _("after")), ("before", _("before")))
    units = tuple((str(one), say(UNIT_IN_WORDS[one])) for one in Unit)
    since = tuple((str(one), say(COUNTS_FROM_IN_WORDS[one])) for one in CountsFrom)
    return (
        Field("deliverable", _("What is due"), width=230),
        Field("source", _("Who asks for it"), width=180, beside=True),
        Field("offset", _("So much"), FieldKind.WHOLE, width=60),
        Field("unit", _("of"), FieldKind.CHOICE, 110, choices=units, beside=True, name=_("of days, weeks or months")),
        Field("before", _("comes"), FieldKind.CHOICE, 90, choices=sides, beside=True, name=_("comes after or before")),
        Field(
            "counts_from", _("the"), FieldKind.CHOICE, 190, choices=since, beside=True, name=_("the day counted from")
        ),
        *_of_the_permit(),
    )


def _of_the_permit() -> tuple[Field, ...]:
    return (
        Field("permit_on", _("By the permit on"), FieldKind.DAY, width=130),
        Field("permit_says", _("Its words"), width=230, beside=True),
    )


def _change_fields() -> tuple[Field, ...]:
    return (
        *_of_the_permit(),
        Field("counted_from", _("Counted from"), FieldKind.DAY, width=130),
        Field("done_on", _("Done on"), FieldKind.DAY, width=130, beside=True),
        Field("in_force", _("In force"), FieldKind.YES, beside=True),
    )
