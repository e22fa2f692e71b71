"""A new excavation, asked for in short steps: the site, its words, its season and squares, the file of its store."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any
from zoneinfo import available_timezones

from PySide6.QtCore import Qt, QTimeZone, Signal
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from findsdesk import places
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.bench import act_button
from findsdesk.ui.first_questions import check_step, first_steps, first_values
from findsdesk.ui.notices import Notices
from findsdesk.ui.store_work import STORE_SUFFIX
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.field_form import FieldForm
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.one_of import OneOf
from findsdesk.ui.widgets.slips import RefusalSlip
from findsdesk.words import N_, _, put


class NewExcavationForm(QWidget):
    """Enter goes on. Nothing typed is lost, neither on going back nor when the excavation cannot be made."""

    wanted = Signal(object)
    """The answers by name, when somebody asks for the excavation to be made."""
    left = Signal()

    def __init__(self, theme: Theme, notices: Notices, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme, self.notices = theme, notices
        self.step = 0
        zones = tuple(sorted(available_timezones()))
        self.steps = first_steps(zones)
        self.forms = [FieldForm(theme, step.fields) for step in self.steps]
        self.head = labels.bold()
        self.text = labels.muted()
        self.refusals = RefusalSlip(theme)
        self.next = act_button(_("Next"))
        self.back = QPushButton(_("Back"))
        self.choose = QPushButton(_("Choose …"))
        self._where_typed = False
        self._fill(zones)
        self._wire()
        self._lay_out()
        self.go_to(0)

    def values(self) -> Mapping[str, Any]:
        """Return all answers as they stand."""
        answers: dict[str, Any] = {}
        for form in self.forms:
            answers |= form.peek()
        return answers

    def show_values(self, values: Mapping[str, Any]) -> None:
        """Show these answers; those not named stay."""
        for form in self.forms:
            form.show_values(values)

    def refuse(self, words: str) -> None:
        """Say why it was not made."""
        self.refusals.refuse(words)

    def focus_first(self) -> None:
        """Give the keyboard to the first field of the step."""
        self.forms[self.step].focus_first()

    def go_to(self, step: int) -> None:
        """Show a step, counted from 0."""
        self.step = step
        shown, last = self.steps[step], step == len(self.steps) - 1
        self.refusals.clear()
        head = N_("Step {n} of {all}: {title}")
        self.head.setText(put(head, None, {"n": step + 1, "all": len(self.steps), "title": shown.title}))
        self.text.setText(shown.text)
        self.next.setText(_("Make the excavation") if last else _("Next"))
        self.choose.setVisible(last)
        if last and not self._where_typed:
            self.forms[step].show_values({"where": self._proposal()})
        self._pages.show_page(self.forms[step])
        self.focus_first()

    def go_on(self) -> None:
        """Go to the next step, or ask for the excavation to be made; what is wrong in this step stays on it."""
        values = self.forms[self.step].read()
        if values is None:
            return
        try:
            check_step(self.step, values)
        except Refusal as refusal:
            self.refuse(refusal.in_words())
            return
        if self.step < len(self.steps) - 1:
            self.go_to(self.step + 1)
        else:
            self.refusals.clear()
            self.wanted.emit(self.values())

    def _go_back(self) -> None:
        if self.step:
            self.go_to(self.step - 1)
        else:
            self.left.emit()

    def _proposal(self) -> str:
        name = str(self.values()["name"] or "")
        plain = re.sub(r"[^\w]+", "-", name.strip().lower()).strip("-") or "excavation"
        return str(places.default_stores_folder() / f"{plain}{STORE_SUFFIX}")

    def _choose_where(self) -> None:
        proposal = Path(self.values()["where"] or self._proposal())
        chosen = self.notices.file_to_write(_("Where the store lies"), proposal, f"FindsDesk (*{STORE_SUFFIX})")
        if chosen is not None:
            self._where_typed = True
            self.forms[-1].show_values({"where": str(chosen)})

    def _note_typed(self) -> None:
        self._where_typed = True

    def _fill(self, zones: tuple[str, ...]) -> None:
        here = bytes(QTimeZone.systemTimeZoneId().data()).decode()
        self.show_values({**first_values(), "time_zone": here if here in zones else "Etc/UTC"})

    def _wire(self) -> None:
        for form in self.forms:
            form.entered.connect(self.go_on)
        self.forms[-1].edited.connect(self._note_typed)
        self.next.clicked.connect(self.go_on)
        self.back.clicked.connect(self._go_back)
        self.choose.clicked.connect(self._choose_where)

    def _lay_out(self) -> None:
        px = self.theme.px
        self._pages = OneOf()
        for form in self.forms:
            self._pages.add_page(form)
        buttons = QWidget()
        flow = FlowLayout(px(10), px(6))
        buttons.setLayout(flow)
        flow.addWidget(self.next)
        flow.addWidget(self.back)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(px(12))
        whole.addWidget(self.head)
        whole.addWidget(self.text)
        whole.addWidget(self._pages)
        whole.addWidget(self.choose, alignment=Qt.AlignmentFlag.AlignLeading)
        whole.addWidget(self.refusals)
        whole.addWidget(buttons)
