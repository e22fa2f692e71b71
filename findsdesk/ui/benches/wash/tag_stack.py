"""The one big tag of the bench, whichever of its faces is up: count, step, the list behind "More", a form."""

from __future__ import annotations

from PySide6.QtCore import QSize, Signal
from PySide6.QtWidgets import QApplication, QStackedWidget, QWidget

from findsdesk.ui.benches.wash.quiet_tag import QuietForm, QuietList
from findsdesk.ui.benches.wash.step_tag import StepFacts, StepTag
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets.count_tag import CountFacts, CountTag


class TagStack(QStackedWidget):
    """Shows one face at a time; a face that is up already keeps what is typed on it."""

    entered = Signal(str)
    """What was typed and Enter, on the count or on the step."""
    acted = Signal()
    other = Signal(str)
    """The key of another button."""

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        theme = surroundings.theme
        self.count_tag = CountTag(theme)
        self.step_tag = StepTag(theme)
        self.quiet_list = QuietList(theme)
        self.quiet_form = QuietForm(theme, lambda: surroundings.terms)
        self._count_facts: CountFacts | None = None
        for face in (self.step_tag, self.count_tag, self.quiet_list, self.quiet_form):
            self.addWidget(face)
        self.count_tag.written.connect(self.entered)
        self.step_tag.chosen.connect(self.entered)
        self.step_tag.acted.connect(self.acted)
        self.count_tag.other.connect(self.other)
        self.step_tag.other.connect(self.other)

    def show_count(self, facts: CountFacts) -> None:
        """Show the count; the same one again keeps its digits."""
        if facts != self._count_facts or self.currentWidget() is not self.count_tag:
            kept, offered = self.typed(), self.currentWidget() is self.count_tag and self.count_tag.offered()
            self._count_facts = facts
            self.count_tag.show_facts(facts)
            (self.count_tag.offer if offered else self.count_tag.set_typed)(kept)
            self.setCurrentWidget(self.count_tag)

    def show_step(self, facts: StepFacts) -> None:
        """Show the step; digits typed are kept."""
        if facts != self.step_tag.facts or self.currentWidget() is not self.step_tag:
            kept = self.typed()
            self.step_tag.show_facts(facts)
            self.step_tag.set_typed(kept)
            self.setCurrentWidget(self.step_tag)

    def in_quiet(self) -> bool:
        """Return whether the list or a form is up."""
        return self.currentWidget() in (self.quiet_list, self.quiet_form)

    def typed(self) -> str:
        """Return what is typed on the face that is up."""
        face = self.currentWidget()
        return face.typed() if isinstance(face, CountTag | StepTag) else ""

    def set_typed(self, typed: str) -> None:
        """Put what was typed on the face that is up, or take it off."""
        face = self.currentWidget()
        if isinstance(face, CountTag | StepTag):
            face.set_typed(typed)

    def offer(self, typed: str) -> None:
        """Bring a number back; on the count the next digit begins another."""
        if self.currentWidget() is self.count_tag:
            self.count_tag.offer(typed)
        else:
            self.set_typed(typed)

    def add(self, character: str) -> None:
        """Add a character that is no key of the bench to what is typed: it must not vanish."""
        face = self.currentWidget()
        if isinstance(face, CountTag | StepTag):
            face.add(character)

    def enter(self) -> None:
        """Do what Enter does on the face that is up."""
        face = self.currentWidget()
        if isinstance(face, CountTag):
            face.write_button.click()
        elif isinstance(face, StepTag):
            face.enter()

    def has_keyboard(self) -> bool:
        """Return whether the keyboard is on the face that is up, or on a part of it."""
        focus, face = QApplication.focusWidget(), self.currentWidget()
        return focus is not None and face is not None and (focus is face or face.isAncestorOf(focus))

    def focus_face(self) -> None:
        """Give the keyboard to the face that is up."""
        face = self.currentWidget()
        if face is not None:
            face.setFocus()

    def minimumSizeHint(self) -> QSize:
        face = self.currentWidget()
        return face.minimumSizeHint() if face is not None else super().minimumSizeHint()

    def sizeHint(self) -> QSize:
        face = self.currentWidget()
        return face.sizeHint() if face is not None else super().sizeHint()
