"""The excavation itself: its name and director, its own words, and the settings of its yard."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from findsdesk.desk.changing_excavation import change_excavation
from findsdesk.desk.desk import Desk, ExcavationFacts
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.settings import SecondOpenDeposit, Settings
from findsdesk.domain.square_grid import GridPlace
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.grid_fields import CORNER, grid_as_typed, grid_fields, grid_typed, mark_refused
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.ui.widgets.scroll_page import ScrollPage, scrolled
from findsdesk.words import N_, Terms, _, put

SECOND_IN_WORDS = {
    SecondOpenDeposit.REFUSE: N_("is refused"),
    SecondOpenDeposit.ASK: N_("is asked about"),
    SecondOpenDeposit.ALLOW: N_("is let pass"),
}
TERMS = (
    ("container", N_("One container is a")),
    ("containers", N_("several are")),
    ("deposit", N_("One deposit is a")),
    ("deposits", N_("several are")),
    ("square", N_("One square is a")),
    ("squares", N_("several are")),
)
SETTINGS = (
    ("soak_shortest_h", N_("Soaks at least"), FieldKind.WHOLE, N_("hours")),
    ("soak_longest_h", N_("at most"), FieldKind.WHOLE, N_("hours")),
    ("dry_h", N_("Dries for"), FieldKind.WHOLE, N_("hours")),
    ("tubs", N_("Tubs"), FieldKind.WHOLE, ""),
    ("trays", N_("trays"), FieldKind.WHOLE, ""),
    ("not_found_share_permille", N_("Not found: above this a lead writes it"), FieldKind.SHARE, ""),
    ("grams_tolerance_permille", N_("grams may differ by"), FieldKind.SHARE, ""),
    ("lettering_tenths_mm", N_("Lettering height"), FieldKind.LETTERING, ""),
    ("plain_marked_one_in", N_("Plain sherds marked, one in"), FieldKind.WHOLE, ""),
    ("marks_checked_one_in", N_("marks checked, one in"), FieldKind.WHOLE, ""),
)
_BESIDE = frozenset(
    {
        "containers",
        "deposits",
        "squares",
        "soak_longest_h",
        "trays",
        "grams_tolerance_permille",
        "marks_checked_one_in",
    }
)
_SECOND = N_("A second open {deposit} in a {square}")


def excavation_fields(terms: Terms) -> tuple[Field, ...]:
    """Return the fields of the form."""
    words = [Field(key, put(label), width=130, beside=key in _BESIDE) for key, label in TERMS]
    numbers = [
        Field(key, put(label), kind, width=80, unit=put(unit) if unit else "", beside=key in _BESIDE)
        for key, label, kind, unit in SETTINGS
    ]
    seconds = tuple((choice, put(label)) for choice, label in SECOND_IN_WORDS.items())
    return (
        Field("name", put(N_("Site"))),
        Field("director", put(N_("Director"))),
        *words,
        *numbers,
        Field("count_at_wash", put(N_("Counted at the wash")), FieldKind.YES),
        Field("discards", put(N_("Sherds may be discarded")), FieldKind.YES),
        Field("inspector_signs", put(N_("The inspector signs discard lists")), FieldKind.YES),
        Field("second_open_deposit", put(_SECOND, terms), FieldKind.CHOICE, choices=seconds),
        *grid_fields(lambda text: put(text, terms)),
    )


class ExcavationPart(QWidget):
    """What is changed here holds for every screen and sheet from now on."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bench = bench
        self.form = FieldForm(bench.theme, excavation_fields(bench.surroundings.terms), bench.surroundings.terms)
        self.asked = QVBoxLayout()
        self.button = act_button(_("Write the changes"))
        self.button.clicked.connect(self.write)
        self.form.entered.connect(self.write)
        self._shown: dict[str, Any] = {}
        page = ScrollPage()
        inside = QVBoxLayout(page)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.addWidget(self.form)
        inside.addWidget(labels.muted(put(CORNER, bench.surroundings.terms), small=True))
        inside.addStretch(1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(scrolled(page), 1)
        layout.addLayout(self.asked)
        layout.addWidget(self.button, alignment=Qt.AlignmentFlag.AlignLeading)

    def refresh(self) -> None:
        """Show what holds now; what somebody is changing stays."""
        facts = self.bench.surroundings.desk.facts
        values = _values(facts)
        if self._shown and self.form.peek() != self._shown:
            return
        self.form.show_values(values)
        self._shown = self.form.peek()

    def write(self) -> None:
        """Write the changes as one act."""
        values = self.form.read()
        if values is None:
            return
        try:
            grid = grid_typed(values)
        except Refusal as refusal:
            self.bench.refuse(refusal)
            mark_refused(self.form, refusal)
            return
        desk = self.bench.surroundings.desk
        self.bench.deed(lambda: _write(desk, values, grid), then=lambda _done: self._written(), button=self.button)

    def _written(self) -> None:
        self._shown = self.form.peek()
        self.bench.surroundings.say(Answer(Tone.DONE, _("Written"), put(N_(": it holds from now on"))))
        self.form.focus_first()


def _values(facts: ExcavationFacts) -> dict[str, Any]:
    terms = {key: getattr(facts.terms, key) for key, _label in TERMS}
    plain = facts.settings.as_plain() | grid_as_typed(facts.settings.grid)
    return {"name": facts.name, "director": facts.director} | terms | plain


def _write(desk: Desk, values: dict[str, Any], grid: GridPlace) -> None:
    before = desk.facts
    terms = Terms(**{key: values[key].strip() or getattr(before.terms, key) for key, _label in TERMS})
    settings = Settings.from_plain(
        before.settings.as_plain() | {key: value for key, value in values.items() if hasattr(before.settings, key)}
    )
    settings = replace(settings, grid=grid)
    change_excavation(desk, name=values["name"], director=values["director"], terms=terms, settings=settings)
