"""The bench "Set-up": a tab for each subject."""

from __future__ import annotations

from typing import Any, Protocol

from PySide6.QtWidgets import QWidget

from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.set_up.excavation_part import ExcavationPart
from findsdesk.ui.benches.set_up.mark_preview import mark_in_words
from findsdesk.ui.benches.set_up.subject_part import SubjectPart
from findsdesk.ui.benches.set_up.subjects import list_subjects
from findsdesk.ui.benches.set_up.where_part import WherePart
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets.one_of import OneOf
from findsdesk.ui.widgets.tab_row import TabRow
from findsdesk.words import _

EXCAVATION, WHERE = "excavation", "where"


class _Part(Protocol):
    def refresh(self) -> None:
        """Read again what is shown."""


class SetUpBench(Bench):
    """What differs between excavations is set here; what is in use already stays, and says so."""

    key = "set_up"
    kinds = frozenset(
        {"excavation", "season", "square", "person", "ware", "period", "tag_block", "container", "number_block"}
    )

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(surroundings, parent)
        self.parts: dict[str, Any] = {EXCAVATION: ExcavationPart(self)}
        subjects = list_subjects(surroundings.terms)
        self.parts |= {subject.key: SubjectPart(self, subject) for subject in subjects}
        self.parts[WHERE] = WherePart(self)
        self.parts["seasons"].when_edited = self._mark
        titles = [(subject.key, subject.title) for subject in subjects]
        self.tabs = TabRow(_("What to set up"))
        self.tabs.show_tabs([(EXCAVATION, _("Excavation")), *titles, (WHERE, _("Where it all is"))], EXCAVATION)
        self._open = EXCAVATION
        self._pages = OneOf()
        for part in self.parts.values():
            self._pages.add_page(part)
        self.body.addWidget(self.tabs)
        self.body.addWidget(self._pages, 1)
        self.tabs.chosen.connect(self.show_subject)

    def title(self) -> str:
        return _("Set-up")

    def refresh(self) -> None:
        self.say_going_on(self.surroundings.desk.facts.name)
        self._shown().refresh()

    def first_focus(self) -> QWidget:
        """Return the tabs: the arrow keys go along them."""
        """Return the row of tabs."""
        return self.tabs

    def show_subject(self, key: str) -> None:
        """Open a tab by its key."""
        self.refusals.clear()
        self._open = key
        self._pages.show_page(self.parts[key])
        self._shown().refresh()

    def _shown(self) -> _Part:
        part: _Part = self.parts[self._open]
        return part

    def _mark(self, values: dict[str, Any]) -> str:
        facts = self.surroundings.desk.facts
        return mark_in_words(values, facts.code, facts.settings.lettering_tenths_mm, self.surroundings.terms)
