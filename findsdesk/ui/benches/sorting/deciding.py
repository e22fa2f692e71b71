"""The decision of the row being typed: as the policy proposes, until somebody decides otherwise."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import QObject, Signal

from findsdesk.desk.group_rows import GroupFacts
from findsdesk.domain.balance import Decision
from findsdesk.domain.intrusions import LOOKS_LATE
from findsdesk.domain.retention import Proposal
from findsdesk.ui.benches.sorting.cells import Cell, show_text, text_of
from findsdesk.ui.benches.sorting.choice_field import OwnWordsField
from findsdesk.ui.benches.sorting.row_lists import RowLists
from findsdesk.ui.benches.sorting.typed_row import TypedRow, understand
from findsdesk.ui.widgets.choice_fields import ChoiceBox


class Deciding(QObject):
    """Fills the cells of the decision and its reason while the others are typed."""

    changed = Signal()

    def __init__(self, cells: Mapping[str, Cell], said: Callable[[], TypedRow]) -> None:
        """``said`` returns the row as it is typed now."""
        super().__init__()
        box, reason = cells["decision"], cells["reason"]
        assert isinstance(box, ChoiceBox)
        assert isinstance(reason, OwnWordsField)
        self._box, self._reason, self._said = box, reason, said
        self.last_reason: Callable[[Decision], str] = lambda _decision: ""
        self.late_from: Callable[[], int | None] = lambda: None
        self.held_as_late = False
        """Whether it is proposed on hold because it looks late where it is from, though a rule discards it."""
        self.own = False
        """Whether somebody decided."""
        self.proposal = Proposal(Decision.KEEP)
        self._own_reason = False
        self._shown, self._shown_proposal = TypedRow(), Proposal(Decision.KEEP)
        """The row as it was shown, and what the policy said of it then."""
        self._security = ""
        self._lists: RowLists | None = None
        self._box.activated.connect(lambda _place: self.decide(self.decision()))

    def use_lists(self, lists: RowLists, security: str) -> None:
        """Offer the decisions of these lists, and propose by their policy for a deposit of a security."""
        decision = self.decision() if self._box.count() else Decision.KEEP
        self._lists, self._security = lists, security
        self._box.clear()
        for one in lists.offered:
            self._box.addItem(lists.decisions[one], one)
        self._show_decision(decision)
        self.propose()

    def decision(self) -> Decision:
        """Return the decision that stands in its cell."""
        return Decision(self._box.currentData())

    def by_rules(self) -> tuple[str, str]:
        """Return the rule that is about the row, and what it proposes where somebody decides otherwise, else ''.

        As the desk writes it: what was decided so before stays by, or against, the rule it was.
        """
        shown, same = self._shown, self._shown.own and self._shown.decision is self.decision()
        if not self.proposal.overridden_by(self.decision()):
            return self.proposal.rule, ""
        if same and self.proposal == self._shown_proposal:
            return shown.rule, shown.proposed
        stays = same and shown.rule == self.proposal.rule and not shown.proposed
        return self.proposal.rule, "" if stays else str(self.proposal.decision)

    def moved_from(self) -> str:
        """Return what a written row is decided as where the rules say otherwise of what is typed, else nothing."""
        shown = self._shown.decision
        moved = self._shown.own and not self.own and shown is not self.decision()
        return self._lists.decision_word(shown) if moved and self._lists is not None else ""

    def overrides(self) -> bool:
        """Return whether somebody discards what a rule says to keep: that wants a reason."""
        return self.decision() is Decision.DISCARD and self.proposal.overridden_by(Decision.DISCARD)

    def show(self, typed: TypedRow) -> None:
        """Show the decision of a row that was typed before, or written."""
        self.own, self._own_reason = typed.own, bool(typed.reason.strip())
        self._show_decision(typed.decision)
        show_text(self._reason, typed.reason)
        self.propose()
        self._shown, self._shown_proposal = typed, self.proposal
        if self._as_proposed(typed):
            # Nobody decided it otherwise: put right, it is proposed anew as a row being typed is.
            self.own = self._own_reason = False

    def _reason_of_before(self) -> bool:
        """Return whether the reason was given when no rule was passed over yet, as before a part was put right."""
        passed_over = self._shown_proposal.overridden_by(Decision.DISCARD)
        return not passed_over and text_of(self._reason).strip() == self._shown.reason.strip()

    def _as_proposed(self, typed: TypedRow) -> bool:
        """Return whether a row stands as the policy proposes it now: not otherwise, nor as a share or a rule of old."""
        if self._lists is None or typed.decision is not self.proposal.decision:
            return False
        if typed.reason.strip() not in ("", self._proposed_reason()):
            return False
        return self.held_as_late or (typed.rule == self.proposal.rule and not typed.proposed)

    def propose(self) -> None:
        """Ask the policy about what is typed; its proposal stands in the cells unless somebody decided."""
        if self._lists is None:
            return
        facts = understand(self._said(), self._lists).facts
        self.proposal = self._proposal(facts)
        if not self.own:
            self._show_decision(self.proposal.decision)
            if not self._own_reason:
                show_text(self._reason, self._proposed_reason())
        elif self.overrides() and not (self._own_reason and not self._reason_of_before()):
            # Why a rule is passed over is said anew for each row: the reason of another one is not taken.
            show_text(self._reason, "")
        self._offer_reasons()

    def _proposal(self, facts: GroupFacts) -> Proposal:
        """Return what the policy says, but on hold for what it discards and what looks late in a sealed deposit."""
        assert self._lists is not None
        said = self._lists.of_table.propose(facts, self._security)
        begins, late_from = self._lists.of_table.begins(facts), self.late_from()
        late = late_from is not None and begins is not None and begins >= late_from
        self.held_as_late = late and said.decision is Decision.DISCARD
        return Proposal(Decision.HOLD, reason=LOOKS_LATE) if self.held_as_late else said

    def reason_typed(self) -> None:
        """Take note that the reason is somebody's own; emptied, it is proposed again."""
        self._own_reason = bool(text_of(self._reason).strip())

    def next(self) -> None:
        """Go to the next decision."""
        assert self._lists is not None
        offered = self._lists.offered
        place = offered.index(self.decision()) if self.decision() in offered else -1
        self.decide(offered[(place + 1) % len(offered)])

    def decide(self, decision: Decision, reason: str | None = None) -> None:
        """Let somebody decide; without a reason the one given last is taken, but none for what a rule keeps."""
        self._show_decision(decision)
        self.own = decision is not self.proposal.decision
        self._own_reason = bool(reason)
        show_text(self._reason, self._reason_for(decision) if reason is None else reason)
        self._offer_reasons()
        self.changed.emit()

    def _reason_for(self, decision: Decision) -> str:
        if decision is self.proposal.decision and self.proposal.rule:
            return self._proposed_reason()
        if decision is Decision.KEEP or self.overrides():
            return ""
        return self.last_reason(decision)

    def _proposed_reason(self) -> str:
        assert self._lists is not None
        return self._lists.reason_word(self.proposal.decision, self.proposal.reason)

    def _offer_reasons(self) -> None:
        if self._lists is not None:
            self._reason.choices = self._lists.reasons[self.decision()]
            self._reason.own_words = self.decision() is not Decision.DISCARD

    def _show_decision(self, decision: Decision) -> None:
        place = self._box.findData(decision)
        if place < 0 and self._lists is not None:
            # A row written under an earlier rule of the excavation keeps what it says.
            self._box.addItem(self._lists.decision_word(decision), decision)
            place = self._box.count() - 1
        self._box.setCurrentIndex(place)
