"""A proposal of few boxes for the bags that lie in none; shown before it is written, and taken in one act."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from findsdesk.desk.box_kinds import box_rules
from findsdesk.desk.box_proposals import BoxProposal, pack_as_proposed, propose_boxes
from findsdesk.desk.boxing import BoxWithBags
from findsdesk.desk.desk import Desk
from findsdesk.desk.shelves import PlaceInTree, places_tree
from findsdesk.desk.squares import squares
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Tone
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.shelves.packing_page import home_choices
from findsdesk.ui.benches.shelves.rows import proposal_columns, proposal_rows, proposal_words
from findsdesk.ui.benches.shelves.shelf_page import RowTable, ShelfPage, button, in_a_row
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.dossier_facts import Caution
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.ui.widgets.slips import CautionSlip
from findsdesk.words import N_, _, plural

_WAITS = N_("Something else is chosen: press Enter to propose boxes for it.")


@dataclass(frozen=True, slots=True)
class ProposalRead:
    """A proposal with what can be chosen for another one."""

    asked: dict[str, str]
    proposal: BoxProposal
    squares: tuple[str, ...]
    places: tuple[PlaceInTree, ...]


def read_proposal(desk: Desk, asked: dict[str, str]) -> ProposalRead:
    """Read a proposal; runs on the reading lane. Refusals: of finding the deposit."""
    return ProposalRead(asked, propose_boxes(desk, **asked), squares(desk), places_tree(desk))  # type: ignore[arg-type]


class ProposalPage(ShelfPage):
    """Nothing is written before the act; the proposal is made anew when it is."""

    packed = Signal(str)
    """The code of the first box that was packed."""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.shown: ProposalRead | None = None
        kinds = tuple((rule.key, self.say(rule.name)) for rule in box_rules().values())
        self.form = FieldForm(
            self.theme,
            (
                Field("square", self.say(N_("Of {square}")), FieldKind.CHOICE, width=120, choices=(("", _("all")),)),
                Field("deposit", self.say(N_("{Deposit}")), width=90, beside=True),
                Field("kind", _("Boxes for"), FieldKind.CHOICE, width=190, choices=(("", _("all kinds")), *kinds)),
                Field("place", _("They stand at"), FieldKind.CHOICE, width=230, choices=(("", _("no place yet")),),
                      beside=True),
            ),
            bench.surroundings.terms,
        )  # fmt: skip
        self.words = labels.plain()
        self.table = RowTable(self.theme, _("Proposed boxes"), proposal_columns(self.say))
        self.caution = CautionSlip(self.theme)
        self.act = act_button("")
        self.again = button(_("Propose"), self.read_again)
        self.whole.addWidget(self.form)
        self.whole.addWidget(self.words)
        self.whole.addWidget(self.table, 1)
        self.whole.addWidget(self.caution)
        self.whole.addWidget(in_a_row(self.theme, self.act, self.again))
        self.act.clicked.connect(self._pack)
        self.form.entered.connect(self.read_again)
        for key in ("square", "kind"):
            self.form.entries[key].when_edited(lambda *_what: self.read_again())
        self.form.entries["deposit"].when_edited(lambda *_what: self._empty(_WAITS))

    def first_focus(self) -> QWidget | None:
        """Return the choice of a square."""
        return self.form.entries["square"].widget

    def read_again(self) -> None:
        """Propose boxes for what is chosen."""
        self.bench.refusals.clear()
        desk, asked = self.desk, self._asked()
        if self.shown is not None and self.shown.asked != asked:
            self._empty()
        self.bench.surroundings.lanes.read(
            lambda: read_proposal(desk, asked), then=self.show_proposal, refused=self._refused, topic="shelves/proposal"
        )

    def _refused(self, refusal: Refusal) -> None:
        self._empty()
        self.bench.refuse(refusal)

    def _empty(self, words: str = "") -> None:
        """Show no proposal: what stands on the screen is what the act packs."""
        self.shown = None
        self.words.setText(self.say(words) if words else "")
        self.table.show_rows(())
        assert self.act is not None
        for part in (self.table, self.act):
            part.setVisible(False)
        self.caution.show_caution(None)

    def _asked(self) -> dict[str, str]:
        said = self.form.peek()
        return {key: str(said[key] or "") for key in ("square", "deposit", "kind")}

    def show_proposal(self, read: ProposalRead) -> None:
        """Show a proposal, unless something else was chosen meanwhile."""
        if read.asked != self._asked():
            return
        self.shown = read
        proposal = read.proposal
        self.form.offer("square", (("", _("all")), *((one, one) for one in read.squares)))
        self.form.offer("place", home_choices(read.places))
        self.words.setText(proposal_words(proposal, self.say))
        self.table.setVisible(bool(proposal.boxes))
        self.table.show_rows(proposal_rows(proposal, self.say))
        assert self.act is not None
        self.act.setVisible(bool(proposal.boxes))
        self.act.setText(plural("Make {n} box and pack it", "Make {n} boxes and pack them", len(proposal.boxes)))
        one = proposal.cautions[0] if proposal.cautions and proposal.boxes else None
        self.caution.show_caution(Caution(self.say(one.lead), self.say(one.text)) if one is not None else None)

    def _pack(self) -> None:
        if self.shown is None:
            return
        desk = self.desk
        wanted: dict[str, Any] = {**self.shown.asked, "place": str(self.form.peek()["place"] or "")}
        wanted["shown"] = self.shown.proposal.says
        self.bench.deed(
            lambda: pack_as_proposed(desk, **wanted),
            then=self._are_packed,
            sure=lambda: pack_as_proposed(desk, **wanted, sure=True),
            button=self.act,
        )

    def _are_packed(self, packed: tuple[BoxWithBags, ...]) -> None:
        self._empty()
        bags = plural("{n} bag", "{n} bags", sum(one.box.bags for one in packed))
        first, last = packed[0].box.number, packed[-1].box.number
        numbers = str(first) if first == last else f"{first}–{last}"
        text = N_(": {bags} packed. Print their labels and lists; “Take all bags out” takes a box back.")
        self.tell(Tone.DONE, self.say(N_("Box {number}"), number=numbers), self.say(text, bags=bags))
        self.packed.emit(packed[0].box.code)
