"""A new loan: what leaves is scanned, then to whom, what for, until when, in which condition."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from findsdesk.desk.finding_pieces import looks_like_a_piece
from findsdesk.desk.lendable import ToLend, to_lend
from findsdesk.desk.loans import lend
from findsdesk.domain.codes import Code, Kind
from findsdesk.domain.lending import BORROWER_IN_WORDS, BorrowerKind
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.shelves.loan_lines import lend_columns, lend_row
from findsdesk.ui.benches.shelves.shelf_page import RowTable, ShelfPage, button, in_a_row
from findsdesk.ui.benches.shelves.state import Scanned
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.words import N_, _, plural

_DAYS = 28
"""How long a loan is proposed for."""
_LENT = frozenset({Kind.BAG, Kind.BOX, Kind.PIECE, Kind.TAG})


class LendingPart(ShelfPage):
    """Enter on a scanned thing lets its own condition be written; Delete takes it off."""

    lent = Signal(object)
    """The new loan's ``LoanFacts``."""
    left = Signal()

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.scans = Scanned()
        self.things: dict[str, ToLend] = {}
        self.conditions: dict[str, str] = {}
        self.hint = labels.muted(_("Scan what leaves: bags, boxes, pieces. Or type a piece (131.4) or sample 3."))
        self.table = _Things(self)
        terms = bench.surroundings.terms
        self.own = FieldForm(self.theme, (Field("own", _("Its own condition"), width=300),), terms)
        self.form = FieldForm(self.theme, self._fields(), terms)
        self.act = act_button(" ")
        self.back = button(_("Back to the loans"), self.left.emit)
        for part in (self.hint, self.table, self.own, self.form):
            self.whole.addWidget(part)
        self.whole.addWidget(in_a_row(self.theme, self.act, self.back))
        self.whole.addStretch(1)
        self.act.clicked.connect(self._lend)
        self.form.entered.connect(self._lend)
        self.own.entered.connect(self._keep_own)
        self.table.opened.connect(lambda _key: self.own.focus_first())
        self.table.picked.connect(lambda key: self.own.show_values({"own": self.conditions.get(str(key), "")}))
        self.begin()

    def _fields(self) -> tuple[Field, ...]:
        kinds = tuple((str(kind), self.say(BORROWER_IN_WORDS[kind])) for kind in BorrowerKind)
        return (
            Field("borrower", _("Goes to"), width=230),
            Field("kind", _("Who is a"), FieldKind.CHOICE, width=150, choices=kinds, beside=True),
            Field("purpose", _("What for"), width=230),
            Field("due_on", _("Due back"), FieldKind.DAY, width=130, beside=True),
            Field("condition", _("Condition"), width=230),
            Field("permit", _("Permit"), width=130, beside=True),
            Field("address", _("Address")),
        )

    def first_focus(self) -> QWidget | None:
        """Return who borrows: scans come by themselves."""
        return self.form.entries["borrower"].widget

    def begin(self) -> None:
        """Begin a new loan, with nothing on it."""
        self.scans.clear()
        self.things.clear()
        self.conditions.clear()
        self.form.clear()
        self.form.show_values({"due_on": self.around().today() + timedelta(days=_DAYS)})
        self.show_things()

    # Scans

    def take_text(self, text: str, code: Code | None) -> Answer | None:
        """Add what leaves: a scanned code, or a piece or sample by name."""
        named = looks_like_a_piece(text) or text.strip().lower().startswith("sample ")
        if not named and (code is None or code.kind not in _LENT):
            return None
        which = code.text if code is not None else text.strip()
        if not self.scans.add(which):
            return Answer(Tone.ALREADY, _("Already scanned"), f": {which}")
        desk = self.desk
        self.bench.surroundings.lanes.deed(
            lambda: to_lend(desk, which), then=self._added, refused=lambda why: self._refused(which, why)
        )
        return Answer(Tone.PLAIN, which)

    def _added(self, thing: ToLend) -> None:
        self.bench.refusals.clear()
        self.things[thing.which] = thing
        self.show_things()
        self.table.go_to(thing.which)
        pieces = plural("{n} piece", "{n} pieces", thing.pieces)
        self.tell(Tone.DONE, thing.name, self.say(N_(": to be lent, {pieces}"), pieces=pieces))

    def _refused(self, which: str, why: Refusal) -> None:
        self.drop(which)
        self.bench.refuse(why)

    def drop(self, which: object) -> None:
        """Take a thing off the loan."""
        self.scans.drop(which)
        self.show_things()

    def show_things(self) -> None:
        """Show what is to leave."""
        shown = [self.things[one] for one in self.scans.codes if one in self.things]
        self.table.show_rows([lend_row(one, self.conditions, self.say) for one in shown])
        for part in (self.table, self.own):
            part.setVisible(bool(shown))
        assert self.act is not None
        self.act.setEnabled(bool(shown))
        pieces = sum(one.pieces for one in shown)
        self.act.setText(plural("Lend {n} piece", "Lend {n} pieces", pieces) if shown else _("Lend: scan what leaves"))

    def _keep_own(self) -> None:
        key = self.table.row_id()
        if key is not None:
            self.conditions[str(key)] = str(self.own.peek()["own"] or "")
            self.show_things()
            self.table.setFocus()

    # The act

    def _say_no_day(self) -> None:
        """Say what is wrong with the day it is due: a day without its year is none."""
        self.bench.refusals.clear()
        if not self.form.entries["due_on"].judge():
            text = N_("The day it is due back is no day with its year. Write it like {example}.")
            self.bench.refuse(Refusal("no_day", text, example=self.around().today().isoformat()))

    def _lend(self) -> None:
        said = self.form.read()
        if said is None:
            self._say_no_day()
            return
        if not self.scans.codes:
            return
        desk, what, conditions = self.desk, list(self.scans.codes), {k: v for k, v in self.conditions.items() if v}
        if said["due_on"] is None:
            self.bench.refuse(Refusal("empty", N_("Write the day on which it is due back.")))
            return
        wanted: dict[str, Any] = {**said, "kind": BorrowerKind(said["kind"]), "conditions": conditions}
        self.bench.deed(
            lambda: lend(desk, what, **wanted),
            then=self.lent.emit,
            sure=lambda: lend(desk, what, sure=True, **wanted),
            button=self.act,
        )


class _Things(RowTable):
    """What is to leave; Delete takes one off."""

    def __init__(self, part: LendingPart) -> None:
        super().__init__(part.theme, _("What leaves"), lend_columns(part.say))
        self._part = part

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace) and self.row_id() is not None:
            self._part.drop(self.row_id())
            return
        super().keyPressEvent(event)
