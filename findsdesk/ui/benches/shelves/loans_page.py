"""Loans: what is out with whom, late ones marked; a new one by scan, returns by scan, asked for, forms to sign."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.desk import Desk
from findsdesk.desk.loan_rows import LoanFacts, LoanLineFacts
from findsdesk.desk.loans import change_loan, chase_loan, every_loan
from findsdesk.desk.returns_taken_back import take_return_back
from findsdesk.domain.codes import Code
from findsdesk.domain.refusals import Refusal
from findsdesk.ui import moments_in_words as times
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.asking_form import AskingForm
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.shelves.lending_part import LendingPart
from findsdesk.ui.benches.shelves.loan_lines import line_columns, line_key, line_row, loan_columns, loan_row
from findsdesk.ui.benches.shelves.results_part import ResultsPart
from findsdesk.ui.benches.shelves.return_part import ReturnPart, no_loan
from findsdesk.ui.benches.shelves.shelf_page import RowTable, ShelfPage, button, in_a_row
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.ui.widgets.one_of import OneOf
from findsdesk.ui.widgets.slips import EmptySlip
from findsdesk.words import N_, _, plural

if TYPE_CHECKING:
    from findsdesk.desk.sheets import PrintedList


class LoansPage(ShelfPage):
    """Enter on a loan opens its return; a scanned loan is chosen."""

    labels_wanted = Signal()

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.loans: tuple[LoanFacts, ...] = ()
        self.wanted = ""
        self._seen: LoanFacts | None = None
        self._undone: LoanLineFacts | None = None
        """Of what somebody says that it is not back after all."""
        self.pages = OneOf()
        self.lending = LendingPart(bench)
        self.returning = ReturnPart(bench)
        self.results = ResultsPart(bench)
        self._build_list()
        for page in (self.listing, self.lending, self.returning, self.results):
            self.pages.add_page(page)
        self.whole.addWidget(self.pages, 1)
        self.lending.lent.connect(self._lent)
        self.lending.left.connect(self.show_list)
        self.returning.left.connect(self.show_list)
        self.returning.written.connect(self._written)
        self.returning.results_wanted.connect(self.begin_results)
        self.results.left.connect(self.show_list)

    @property
    def page(self) -> ShelfPage | None:
        """Return the part in which somebody lends or takes back, or None at the list."""
        shown = self.pages.shown()
        return shown if isinstance(shown, ShelfPage) else None

    def first_focus(self) -> QWidget | None:
        """Return the loans, or the first field of what is under way."""
        if self.page is not None:
            return self.page.first_focus()
        field = next((one.first_field() for one in self._forms if one.fields is not None), None)
        return field or (self.table if self.loans else None)

    def act_now(self) -> QPushButton | None:
        """Return the button of what is under way."""
        if self.page is not None:
            return self.page.act_now()
        under_way = next((one for one in self._forms if one.fields is not None), None)
        return self.act if under_way is None else under_way.write

    def go_back(self) -> bool:
        """Go back from lending or taking back to the loans; what was scanned to be lent stays."""
        if self.page is None:
            return False
        self.show_list()
        return True

    def read_again(self) -> None:
        """Read the loans again."""
        desk = self.desk
        self.read(lambda: every_loan(desk), self.show_loans, "loans")
        if self.page in (self.returning, self.results):
            self.page.read_again()

    def show_loans(self, loans: tuple[LoanFacts, ...]) -> None:
        """Show the loans, those still out and longest due first."""
        self.loans = loans
        around = self.around()
        self.empty.setVisible(not loans)
        for part in (self.table, self.lines, self.line, *self._of_one):
            part.setVisible(bool(loans))
        self.table.blockSignals(True)
        self.table.show_rows([loan_row(one, around) for one in loans])
        if self.wanted:
            self.table.go_to(self.wanted)
        self.table.blockSignals(False)
        self._show_chosen()

    def chosen(self) -> LoanFacts | None:
        """Return the loan under the cursor."""
        code = self.table.row_id()
        return next((one for one in self.loans if one.code == code), None)

    def _show_chosen(self) -> None:
        loan = self.chosen()
        if loan is None:
            return
        self.wanted = loan.code
        around = self.around()
        self.lines.show_rows([line_row(one, around) for one in loan.lines])
        asked = loan.chased[-1] if loan.chased else None
        last = ""
        if asked is not None:
            day = times.day_in_words(asked.happened_at.astimezone(around.zone).date(), around.today())
            last = self.say(
                N_("Asked for on {day}, {how}: {answer}"), day=day, how=asked.how, answer=asked.answer or "–"
            )
        head = self.say(N_("On loan {number}"), number=loan.number)
        files = ", ".join(one.file_name for one in loan.results)
        came = self.say(N_("Results: {files}"), files=files) if files else ""
        self.line.setText(". ".join(part for part in (head, loan.note, last, came) if part))
        for part in (self.take_back, self.ask):
            part.setEnabled(loan.back_on is None)
        self.undo.setEnabled(any(one.pieces_back for one in loan.lines))

    # Scans

    def take_text(self, text: str, code: Code | None) -> Answer | None:
        """Hand a scan to what is under way; at the list it is looked up."""
        return self.page.take_text(text, code) if self.page is not None else None

    def take_thing(self, thing: object) -> None:
        """Choose the loan that was scanned."""
        if isinstance(thing, LoanFacts) and self.page is None:
            self.wanted = thing.code
            self.read_again()

    # Acts

    def show_list(self) -> None:
        """Go back to the loans."""
        self.bench.refusals.clear()
        self.pages.show_page(self.listing)
        self.read_again()
        self.table.setFocus()

    def begin_loan(self) -> None:
        """Lend something: the list of what leaves stays until it is lent."""
        self._leave_forms()
        self.pages.show_page(self.lending)
        self.lending.form.focus_first()

    def begin_return(self, _code: object = None) -> None:
        """Take something back of the chosen loan."""
        loan = self.chosen()
        if loan is None:
            self.bench.refuse(no_loan())
            return
        if loan.back_on is None:
            self._leave_forms()
            self.returning.begin(loan)
            self.pages.show_page(self.returning)
            self.returning.table.setFocus()

    def begin_results(self) -> None:
        """Show the files that came back with the chosen loan."""
        loan = self.chosen()
        if loan is None:
            self.bench.refuse(no_loan())
            return
        self._leave_forms()
        self.results.begin(loan)
        self.pages.show_page(self.results)
        focus = self.results.first_focus()
        if focus is not None:
            focus.setFocus()

    def _leave_forms(self) -> None:
        for form in self._forms:
            form.leave()

    def _lent(self, loan: LoanFacts) -> None:
        self.lending.begin()
        self.wanted = loan.code
        self.show_list()
        text = N_("to {who}. Print its form to be signed, and its label.")
        self.tell(Tone.DONE, self.say(N_("Loan {number}"), number=loan.number), f" {self.say(text, who=loan.borrower)}")

    def _written(self, loan: LoanFacts) -> None:
        self.wanted = loan.code
        self.show_list()

    def _begin_changing(self) -> None:
        loan = self.chosen()
        if loan is None:
            return
        self._leave_forms()
        fields = (
            Field("due_on", _("Due back"), FieldKind.DAY, width=130),
            Field("permit", _("Permit"), width=130, beside=True),
            Field("address", _("Address")),
            Field("note", _("Note")),
        )
        form = FieldForm(self.theme, fields, self.around().terms)
        self.changing.begin(form)
        form.show_values({"due_on": loan.due_on, "permit": loan.permit, "address": loan.address, "note": loan.note})
        self._seen = loan

    def _write_change(self) -> None:
        said, loan, desk = self.changing.read(), self._seen, self.desk
        if said is not None and loan is not None:
            self.bench.deed(
                lambda: change_loan(desk, loan.code, seen=loan.version, **said),
                then=self._is_changed,
                button=self.changing.write,
            )

    def _is_changed(self, loan: LoanFacts) -> None:
        self.changing.leave()
        due = self.say(N_(": due {day}"), day=times.day_in_words(loan.due_on, self.around().today()))
        self.tell(Tone.DONE, self.say(N_("Loan {number}"), number=loan.number), due)
        self.read_again()
        self.table.setFocus()

    def _begin_asking(self) -> None:
        self._leave_forms()
        fields = (Field("how", _("How"), width=260), Field("answer", _("Answer"), width=260))
        self.asking.begin(FieldForm(self.theme, fields, self.around().terms))

    def _write_asked(self) -> None:
        said, loan, desk = self.asking.read(), self.chosen(), self.desk
        if said is not None and loan is not None:
            code = loan.code
            self.bench.deed(lambda: chase_loan(desk, code, **said), then=self._asked, button=self.asking.write)

    def _asked(self, _loan: LoanFacts) -> None:
        self.asking.leave()
        self.read_again()
        self.table.setFocus()

    def begin_undoing(self) -> None:
        """Ask what of the chosen line is not back after all."""
        line = self._line_back()
        if line is None:
            self.bench.refuse(Refusal("no_line_back", N_("Choose below what is not back after all.")))
            return
        self._leave_forms()
        fields = (
            Field("pieces", self.say(N_("Of {name}"), name=line.name), FieldKind.WHOLE, width=90, unit=_("pieces")),
            Field("why", _("Why"), width=330),
        )
        self._undone = line
        form = FieldForm(self.theme, fields, self.around().terms)
        self.undoing.begin(form)
        form.show_values({"pieces": line.pieces_back})

    def _line_back(self) -> LoanLineFacts | None:
        """Return the line under the cursor, or the only one, of which something counts as back."""
        loan, key = self.chosen(), self.lines.row_id()
        back = [one for one in loan.lines if one.pieces_back] if loan is not None else []
        here = next((one for one in back if line_key(one) == key), None)
        return here or (back[0] if len(back) == 1 else None)

    def _write_undone(self) -> None:
        said, loan, line, desk = self.undoing.read(), self.chosen(), self._undone, self.desk
        if said is not None and loan is not None and line is not None:
            code, what = loan.code, line_key(line)
            self.bench.deed(
                lambda: take_return_back(desk, code, what, why=str(said["why"] or ""), pieces=said["pieces"]),
                then=self._is_undone,
                button=self.undoing.write,
            )

    def _is_undone(self, loan: LoanFacts) -> None:
        self.undoing.leave()
        out = plural("{n} piece still out", "{n} pieces still out", loan.still_out)
        self.tell(Tone.DONE, self.say(N_("Loan {number}"), number=loan.number), f": {out}")
        self.read_again()
        self.table.setFocus()

    def _print(self, coming_back: bool) -> None:
        loan = self.chosen()
        if loan is not None:
            code, name = loan.code, f"{_('return') if coming_back else _('loan')}-{loan.number}"
            self.print_out(lambda desk: _form(desk, code, coming_back), name)

    # Layout

    def _build_list(self) -> None:
        self.listing = QWidget()
        column = QVBoxLayout(self.listing)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(self.theme.px(10))
        self.asking = AskingForm(self.bench, _("Asked for what is still out"), _("Write it down"))
        self.changing = AskingForm(self.bench, _("Change the loan"), _("Write the change"))
        self.undoing = AskingForm(self.bench, _("Not back after all"), _("Write it"))
        self._forms = (self.asking, self.changing, self.undoing)
        self.table = RowTable(self.theme, _("Loans"), loan_columns(self.say))
        self.line = labels.group(" ")
        self.lines = RowTable(self.theme, _("What is on the loan"), line_columns(self.say))
        self.lines.may_leave_out((1, 4))
        self.empty = EmptySlip(self.theme)
        text = _("Nothing is on loan. What goes to a specialist, a conservator or a laboratory is lent by scan.")
        self.empty.say(text, _("New loan"))
        self.act = act_button(_("New loan"))
        self.take_back = button(_("Something is back"), self.begin_return)
        self.ask = button(_("Asked for it"), self._begin_asking)
        self.change = button(_("Change it"), self._begin_changing)
        self.files = button(_("Results …"), self.begin_results)
        self.undo = button(_("Not back after all …"), self.begin_undoing)
        self.form = button(_("Loan form"), lambda: self._print(False))
        self.form_back = button(_("Return form"), lambda: self._print(True))
        self.tags = QPushButton(_("Labels"))
        self._of_one = (
            self.take_back, self.undo, self.ask, self.change, self.files, self.form, self.form_back, self.tags,
        )  # fmt: skip
        for part in (*self._forms, self.empty):
            column.addWidget(part)
        column.addWidget(self.table, 1)
        column.addWidget(self.line)
        column.addWidget(self.lines, 1)
        column.addWidget(in_a_row(self.theme, self.act, *self._of_one))
        self.empty.hide()
        self.act.clicked.connect(self.begin_loan)
        self.empty.act.connect(self.begin_loan)
        self.tags.clicked.connect(self.labels_wanted)
        self.asking.wanted.connect(self._write_asked)
        self.changing.wanted.connect(self._write_change)
        self.undoing.wanted.connect(self._write_undone)
        self.table.picked.connect(lambda _code: self._show_chosen())
        self.table.opened.connect(self.begin_return)


def _form(desk: Desk, code: str, coming_back: bool) -> PrintedList:
    # Paper is loaded when something is printed: its libraries would hold up the window at the start.
    from findsdesk.desk.store_sheets import loan_sheet

    return loan_sheet(desk, code, coming_back=coming_back)
