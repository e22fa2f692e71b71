"""The bench "Set-up": its subjects beside one another, one of them open."""

from __future__ import annotations

from typing import Protocol

from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.clashes import clashes_waiting
from findsdesk.ui.answers import Answer
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.set_up.columns_part import ColumnsPart
from findsdesk.ui.benches.set_up.courier_part import CourierPart
from findsdesk.ui.benches.set_up.excavation_part import ExcavationPart
from findsdesk.ui.benches.set_up.mark_preview import mark_in_words
from findsdesk.ui.benches.set_up.people_part import PeoplePart
from findsdesk.ui.benches.set_up.policy_part import PolicyPart
from findsdesk.ui.benches.set_up.scanner_part import ScannerPart
from findsdesk.ui.benches.set_up.subject import Values
from findsdesk.ui.benches.set_up.subject_list import SubjectList
from findsdesk.ui.benches.set_up.subject_part import SubjectPart, add_beside
from findsdesk.ui.benches.set_up.subjects import list_subjects
from findsdesk.ui.benches.set_up.tables_part import TablesPart
from findsdesk.ui.benches.set_up.type_acts import TypeActs
from findsdesk.ui.benches.set_up.type_subjects import FORMS, WARES
from findsdesk.ui.benches.set_up.where_part import WherePart
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets.one_of import OneOf
from findsdesk.words import _, plural

EXCAVATION, COLUMNS, TABLES, SCANNER = "excavation", "columns", "tables", "scanner"
COURIER, WHERE = "courier", "where"


class _Part(Protocol):
    asked: QVBoxLayout
    """Where refusals stand."""

    def refresh(self) -> None:
        """Read again what is shown."""


class SetUpBench(Bench):
    """What differs between excavations is set here; what is in use already stays, and says so."""

    key = "set_up"
    kinds = frozenset(
        {
            "excavation",
            "season",
            "square",
            "person",
            "ware",
            "form",
            "period",
            "word",
            "retention_rule",
            "tag_block",
            "container",
            "number_block",
            "clash",
            "courier_passed",
        }
    )

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(surroundings, parent)
        self.excavation = ExcavationPart(self)
        self.columns = ColumnsPart(self)
        self.tables = TablesPart(self)
        self.scanner = ScannerPart(self)
        self.courier = CourierPart(self)
        self.where = WherePart(self)
        subjects = list_subjects(surroundings.terms)
        self.lists = {subject.key: SubjectPart(self, subject) for subject in subjects if subject.key != "people"}
        self.people = PeoplePart(self, next(subject for subject in subjects if subject.key == "people"))
        self.policy = PolicyPart(self)
        self.lists |= {"people": self.people, "policy": self.policy}
        self.lists["seasons"].when_edited = self._mark
        self.issue = QPushButton(_("Issue and print tags at Marks && labels"))
        self.issue.clicked.connect(lambda: surroundings.open_bench.emit("labels"))
        add_beside(self.lists["tags"], self.issue)
        self.type_acts = {key: TypeActs(self, self.lists[key]) for key in (WARES, FORMS)}
        for key, acts in self.type_acts.items():
            add_beside(self.lists[key], acts)
            acts.done.connect(self.lists[key].refresh)
        self._parts: dict[str, QWidget] = {EXCAVATION: self.excavation, **self.lists}
        self._parts |= {
            COLUMNS: self.columns,
            TABLES: self.tables,
            SCANNER: self.scanner,
            COURIER: self.courier,
            WHERE: self.where,
        }
        titles = [(subject.key, subject.title) for subject in subjects]
        self.subjects = SubjectList(
            self.theme,
            [
                (EXCAVATION, _("Excavation")),
                *titles,
                (self.policy.subject.key, self.policy.subject.title),
                (COLUMNS, _("Columns")),
                (TABLES, _("Tables")),
                (SCANNER, _("Scanner")),
                (COURIER, _("Couriers")),
                (WHERE, _("Where it all is")),
            ],
        )
        self._open = EXCAVATION
        self._pages = OneOf()
        for part in self._parts.values():
            self._pages.add_page(part)
        row = QHBoxLayout()
        row.setSpacing(self.theme.px(14))
        beside = QVBoxLayout()
        beside.addWidget(self.subjects, 1)
        beside.addStretch(0)
        row.addLayout(beside)
        row.addWidget(self._pages, 1)
        self.body.addLayout(row, 1)
        self.subjects.chosen.connect(self.show_subject)
        self.subjects.entered.connect(self._go_in)
        self.stand_refusals(self._shown().asked)

    def title(self) -> str:
        return _("Set-up")

    def what_waits(self) -> str:
        """Return how many clashes between two stores wait for a decision."""
        waiting = clashes_waiting(self.surroundings.desk)
        return plural("{n} clash to decide", "{n} clashes to decide", waiting) if waiting else ""

    def keys(self) -> tuple[tuple[str, str], ...]:
        return (
            (_("Enter"), _("on a subject: to its work; on a row: change it")),
            (_("Esc"), _("leave a row or a table as it was")),
            (_("Space"), _("under Columns: typed or not")),
            ("Alt+↑ ↓", _("under Columns: earlier or later")),
            (_("1  2  3"), _("under Couriers: keep the one word, the other, or let it stand")),
        )

    def refresh(self) -> None:
        self.say_going_on(self.surroundings.desk.facts.name)
        self._shown().refresh()

    def first_focus(self) -> QWidget:
        """Return the list of subjects: the arrow keys go along it."""
        return self.subjects

    def take_scan(self, text: str) -> Answer | None:
        """Take a scan as it came while the scanner is tested."""
        return self.scanner.take(text) if self._open == SCANNER else None

    def show_subject(self, key: str) -> None:
        """Open a subject by its key."""
        self.refusals.clear()
        self._open = key
        self.subjects.show_subject(key)
        self._pages.show_page(self._parts[key])
        self.stand_refusals(self._shown().asked)
        self._shown().refresh()

    def _shown(self) -> _Part:
        part: _Part = self._parts[self._open]  # type: ignore[assignment]
        return part

    def _go_in(self) -> None:
        self.focusNextChild()

    def _mark(self, values: Values) -> str:
        facts = self.surroundings.desk.facts
        return mark_in_words(values, facts.code, facts.settings.lettering_tenths_mm, self.surroundings.terms)
