"""What came back of a loan: by scan, whole or in part, in which condition, what the analysis used up."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from findsdesk.desk.loan_returns import give_back
from findsdesk.desk.loan_rows import LoanFacts, LoanLineFacts
from findsdesk.desk.loans import loan_named
from findsdesk.domain.codes import Code
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.shelves.loan_lines import line_columns, line_key, line_row
from findsdesk.ui.benches.shelves.shelf_page import RowTable, ShelfPage, button, in_a_row
from findsdesk.ui.benches.shelves.state import Scanned
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.words import N_, CountOf, _, plural


class ReturnPart(ShelfPage):
    """Scan what is back, or press Enter on it; of one thing the pieces can be said: 21 of 22."""

    written = Signal(object)
    """The loan's ``LoanFacts`` after the return."""
    left = Signal()
    results_wanted = Signal()
    """Files came back with it."""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.loan: LoanFacts | None = None
        self.scans = Scanned()
        self.heading = labels.bold(wrap=True)
        self.hint = labels.muted(
            _("Scan what is back, or press Enter on it. Of one thing alone write how many pieces.")
        )
        self.table = RowTable(self.theme, _("What is on the loan"), line_columns(self.say))
        self.table.may_leave_out((1, 4))
        self.form = FieldForm(
            self.theme,
            (
                Field("pieces", _("Pieces back"), FieldKind.WHOLE, width=90, unit=_("pieces")),
                Field("used_up", _("Used up"), FieldKind.WHOLE, width=90, unit=_("pieces"), beside=True),
                Field("condition", _("Condition")),
            ),
            bench.surroundings.terms,
        )
        self.act = act_button(" ")
        self.files = button(_("Results …"), self.results_wanted.emit)
        self.back = button(_("Back to the loans"), self.left.emit)
        for part in (self.heading, self.hint):
            self.whole.addWidget(part)
        self.whole.addWidget(self.table, 1)
        self.whole.addWidget(self.form)
        self.whole.addWidget(in_a_row(self.theme, self.act, self.files, self.back))
        self.act.clicked.connect(self._write)
        self.form.entered.connect(self._write)
        self.form.edited.connect(self._say_act)
        self.table.opened.connect(self._toggle)

    def first_focus(self) -> QWidget | None:
        """Return what is on the loan."""
        return self.table

    def begin(self, loan: LoanFacts) -> None:
        """Write the return of a loan."""
        self.loan = loan
        self.scans.clear()
        self.form.clear()
        self.show_lines()

    def read_again(self) -> None:
        """Read the loan again; what was scanned as back stays."""
        if self.loan is not None:
            desk, code = self.desk, self.loan.code
            self.read(lambda: loan_named(desk, code), self._read, "return")

    def _read(self, loan: LoanFacts) -> None:
        if self.loan is not None and loan.code == self.loan.code:
            self.loan = loan
            self.show_lines()

    def take(self, code: Code) -> Answer | None:
        """Take what is scanned as back."""
        line = next((one for one in self.loan.lines if one.code == code.text), None) if self.loan else None
        if line is None or self.loan is None:
            why = N_("{code} did not leave with loan {number}.")
            number = self.loan.number if self.loan else ""
            self.bench.refusals.refuse(self.say(why, code=code.text, number=number))
            return Answer(Tone.REFUSED, self.say(why, code=code.text, number=number))
        if line.back_on is not None or not self.scans.add(line_key(line)):
            return Answer(Tone.ALREADY, line.name, _(": back already"))
        self.bench.refusals.clear()
        self.show_lines()
        self.table.go_to(line_key(line))
        pieces = plural("{n} piece", "{n} pieces", line.still_out)
        return Answer(Tone.DONE, line.name, self.say(N_(": back now, {pieces}"), pieces=pieces))

    def _toggle(self, key: object) -> None:
        open_ones = [line_key(one) for one in self.loan.lines if one.back_on is None] if self.loan else []
        if str(key) in open_ones and not self.scans.add(str(key)):
            self.scans.drop(str(key))
        self.show_lines()

    def show_lines(self) -> None:
        """Show the loan, and what of it is back now."""
        loan = self.loan
        if loan is None:
            return
        around = self.around()
        out = plural("{n} piece still out", "{n} pieces still out", loan.still_out)
        self.heading.setText(
            self.say(N_("Loan {number}, {who}: {out}"), number=loan.number, who=loan.borrower, out=out)
        )
        rows = [line_row(one, around, line_key(one) in self.scans.codes) for one in loan.lines]
        self.table.show_rows(rows)
        alone = self._alone() is not None
        for key in ("pieces", "used_up"):
            self.form.entries[key].widget.setEnabled(alone)
        self.form.say_below("pieces", "" if alone else _("of one thing alone: scan it first, or press Enter on it"))
        self._say_act()

    def _say_act(self) -> None:
        """Say on the button what it writes: so many things, so many pieces of one, or all that is out."""
        assert self.act is not None
        line = self._alone()
        if line is not None:
            said = self.form.peek()
            used = int(said["used_up"] or 0)
            back = line.still_out - used if said["pieces"] is None else int(said["pieces"])
            if used or back != line.still_out:
                self.act.setText(self._some_of(line, back, used))
                return
        some = len(self.scans.codes)
        text = plural("{n} is back: write it", "{n} are back: write it", some)
        self.act.setText(text if some else _("All of it is back"))

    def _some_of(self, line: LoanLineFacts, back: int, used: int) -> str:
        facts = {"n": back, "used": used, "all": line.still_out}
        if used:
            return self.say(N_("{n} of {all} back, {used} used up: write it"), **facts)
        return self.say(N_("{n} of {all} back: write it"), **facts)

    def _alone(self) -> LoanLineFacts | None:
        """Return the one thing that is back, if it is one: scanned alone, or alone still out."""
        out = [one for one in self.loan.lines if one.back_on is None] if self.loan else []
        if self.scans.codes:
            out = [one for one in out if line_key(one) in self.scans.codes]
        return out[0] if len(out) == 1 else None

    def _write(self) -> None:
        said = self.form.read()
        if said is None or self.loan is None:
            return
        desk, code, what = self.desk, self.loan.code, list(self.scans.codes)
        wanted: dict[str, Any] = {"condition": said["condition"]}
        alone = self._alone()
        if alone is not None:
            what = [line_key(alone)]
            wanted |= {"pieces": said["pieces"], "used_up": said["used_up"] or 0}
        asked = None if what else _is_all_back(self.loan)

        def written(*, sure: bool = False) -> LoanFacts:
            if asked is not None and not sure:
                raise asked
            return give_back(desk, code, what, **wanted)

        self.bench.deed(written, then=self._is_written, sure=lambda: written(sure=True), button=self.act)

    def _is_written(self, loan: LoanFacts) -> None:
        out = plural("{n} piece still out", "{n} pieces still out", loan.still_out)
        head = self.say(N_("Loan {number}"), number=loan.number)
        self.tell(Tone.DONE, head, f": {out}" if loan.back_on is None else _(": all of it is back"))
        self.written.emit(loan)


def _is_all_back(loan: LoanFacts) -> Question:
    """Return the question before more than one thing is written as back without a scan of it."""
    return Question(
        "all_is_back",
        N_("{things} with {pieces} out, and none was scanned. Is all of it back?"),
        things=CountOf("{n} thing", "{n} things", sum(1 for one in loan.lines if one.back_on is None)),
        pieces=CountOf("{n} piece", "{n} pieces", loan.still_out),
    )


def no_loan() -> Refusal:
    """Return the no where an act wants a loan and none is chosen."""
    return Refusal("no_loan_chosen", N_("Choose a loan in the list first, or scan its label."))
