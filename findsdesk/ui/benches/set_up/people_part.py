"""The people of the team, and the PINs they sign with."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.pins import PinFacts, pins_of_the_team, set_pin
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.settings import Role
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.set_up.subject import Subject
from findsdesk.ui.benches.set_up.subject_part import SubjectPart
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.words import N_, _, put


class PeoplePart(SubjectPart):
    """A PIN is set by whom it belongs to, or by the director; it is masked and never shown again."""

    def __init__(self, bench: Bench, subject: Subject, parent: QWidget | None = None) -> None:
        super().__init__(bench, subject, parent)
        self.open_pin = QPushButton(_("Set a PIN …"))
        self.pin_card = Card(bench.theme, _("The PIN somebody signs with"))
        self.pin_form = FieldForm(bench.theme, _fields(), bench.surroundings.terms)
        self.pin_button = act_button(_("Set the PIN"))
        self.pin_leave = QPushButton(_("Leave it"))
        self._team: tuple[PinFacts, ...] = ()
        self.open_pin.clicked.connect(self._begin_pin)
        self.pin_button.clicked.connect(self._set)
        self.pin_form.entered.connect(self._set)
        self.pin_leave.clicked.connect(self._leave_pin)
        self._lay_out_pin()

    def _lay_out_pin(self) -> None:
        layout = self.layout()
        assert isinstance(layout, QVBoxLayout)
        buttons = QHBoxLayout()
        buttons.addWidget(self.pin_button)
        buttons.addWidget(self.pin_leave)
        buttons.addStretch(1)
        self.pin_card.body.addWidget(self.pin_form)
        self.pin_card.body.addLayout(buttons)
        beside = QHBoxLayout()
        beside.addWidget(self.open_pin)
        beside.addStretch(1)
        layout.insertLayout(2, beside)
        layout.addWidget(self.pin_card)
        self.pin_card.hide()

    def _begin_pin(self) -> None:
        desk = self.bench.surroundings.desk
        self.bench.read(lambda: pins_of_the_team(desk), self._show_pin, topic="pins")

    def _show_pin(self, team: tuple[PinFacts, ...]) -> None:
        desk = self.bench.surroundings.desk
        self._team = team
        director = desk.person.role is Role.DIRECTOR
        choices = [
            (one.name, put(N_("{name} (has one)"), None, {"name": one.name}) if one.has_pin else one.name)
            for one in team
            if director or one.person_id == desk.person.id
        ]
        self.bench.refusals.clear()
        self.pin_form.clear()
        self.pin_form.offer("person", choices)
        picked = [entry.name for entry in self.entries if entry.row.row_id == self.table.row_id()]
        may = [name for name, _words in choices]
        self.pin_form.show_values({"person": picked[0] if picked and picked[0] in may else desk.person.name})
        mine = any(one.has_pin for one in team if one.person_id == desk.person.id)
        self.pin_form.show_field("own", mine)
        self.card.hide()
        self.pin_card.show()
        self.pin_form.focus_first()

    def _set(self) -> None:
        values = self.pin_form.read()
        if values is None:
            return
        desk = self.bench.surroundings.desk

        differ = values["pin"] != values["again"]

        def work() -> None:
            if differ:
                raise Refusal("pins_differ", N_("The two PINs differ. Type them again."))
            set_pin(desk, values["person"], pin=values["pin"], own_pin=values["own"])

        self.bench.deed(
            work, then=lambda _done: self._done(), button=self.pin_button, lost=lambda: self._forget(own=not differ)
        )

    def _done(self) -> None:
        self.bench.surroundings.say(Answer(Tone.DONE, _("The PIN is set")))
        self._leave_pin()

    def _forget(self, *, own: bool) -> None:
        """Empty the masked fields after a PIN was not taken, the own one unless only the new ones differ."""
        own = own and self.pin_form.entries["own"].widget.isVisible()
        for key in ("own", "pin", "again") if own else ("pin", "again"):
            self.pin_form.entries[key].clear()
        self.pin_form.entries["own" if own else "pin"].widget.setFocus()

    def _open(self, row_id: object) -> None:
        if self.pin_card.isVisible():
            self._leave_pin()
        super()._open(row_id)

    def _leave_pin(self) -> None:
        self.pin_form.clear()
        self.pin_card.hide()
        self.card.show()
        self.open_pin.setFocus()


def _fields() -> tuple[Field, ...]:
    help_ = put(N_("4 to 12 digits. It names you at a shared station; it does not keep a stolen computer shut."))
    return (
        Field("person", put(N_("Whose")), FieldKind.CHOICE, 260),
        Field("own", put(N_("Your own PIN until now")), FieldKind.PIN, 150),
        Field("pin", put(N_("The new PIN")), FieldKind.PIN, 150, help_),
        Field("again", put(N_("Once more")), FieldKind.PIN, 150),
    )
