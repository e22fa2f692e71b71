"""Results that came back with a loan: files taken in, copied out again, taken off."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from findsdesk.desk.loan_results import add_result, copy_result, take_off_result
from findsdesk.desk.loan_rows import LoanFacts, ResultFacts
from findsdesk.desk.loans import loan_named
from findsdesk.ui.answers import Tone
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.shelves.loan_lines import result_columns, result_row
from findsdesk.ui.benches.shelves.shelf_page import RowTable, ShelfPage, button, in_a_row
from findsdesk.ui.paper_out import paper_folder
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.field_form import Field, FieldForm
from findsdesk.words import N_, _, plural


class ResultsPart(ShelfPage):
    """Enter on a file keeps a copy of it under its own name; Delete takes it off the loan."""

    left = Signal()

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.loan: LoanFacts | None = None
        self.heading = labels.bold(wrap=True)
        self.hint = labels.muted(_("Reports, tables, pictures: each file is kept as it came, beside the photographs."))
        self.table = _Files(self)
        self.form = FieldForm(self.theme, (Field("note", _("What they are")),), bench.surroundings.terms)
        self.act = act_button(_("Add files …"))
        self.copy = button(_("Keep a copy …"), self.keep_copy)
        self.off = button(_("Take it off"), self.take_off)
        self.back = button(_("Back to the loans"), self.left.emit)
        for part in (self.heading, self.hint):
            self.whole.addWidget(part)
        self.whole.addWidget(self.table, 1)
        self.whole.addWidget(self.form)
        self.whole.addWidget(in_a_row(self.theme, self.act, self.copy, self.off, self.back))
        self.whole.addStretch(0)
        self.act.clicked.connect(self.add_files)
        self.form.entered.connect(self.add_files)
        self.table.opened.connect(lambda _key: self.keep_copy())

    def first_focus(self) -> QWidget | None:
        """Return the files, or what adds the first."""
        return self.table if self.table.isVisible() else self.act

    def begin(self, loan: LoanFacts) -> None:
        """Show the results of a loan."""
        self.form.clear()
        self.show_loan(loan)

    def read_again(self) -> None:
        """Read the loan again."""
        if self.loan is not None:
            desk, code = self.desk, self.loan.code
            self.read(lambda: loan_named(desk, code), self._read, "results")

    def _read(self, loan: LoanFacts) -> None:
        if self.loan is not None and loan.code == self.loan.code:
            self.show_loan(loan)

    def show_loan(self, loan: LoanFacts) -> None:
        """Show what came back with a loan."""
        self.loan = loan
        around = self.around()
        files = plural("{n} result", "{n} results", len(loan.results))
        self.heading.setText(
            self.say(N_("Loan {number}, {who}: {files}"), number=loan.number, who=loan.borrower, files=files)
        )
        self.table.show_rows([result_row(one, around) for one in loan.results])
        for part in (self.table, self.copy, self.off):
            part.setVisible(bool(loan.results))

    def chosen(self) -> ResultFacts | None:
        """Return the file under the cursor."""
        files = self.loan.results if self.loan is not None else ()
        return next((one for one in files if one.id == self.table.row_id()), None)

    # What is done

    def add_files(self) -> None:
        """Let a person choose files, and take them in one after the other."""
        said, loan, desk = self.form.read(), self.loan, self.desk
        if said is None or loan is None:
            return
        paths = self.bench.surroundings.notices.files_to_open(_("Results of the loan"), _("All files (*)"))
        if not paths:
            return

        def work() -> list[ResultFacts]:
            return [add_result(desk, loan.code, Path(path), note=said["note"]) for path in paths]

        self.bench.deed(work, then=self._added, lost=self.read_again, button=self.act)

    def _added(self, files: list[ResultFacts]) -> None:
        self.form.clear()
        self.tell(Tone.DONE, files[0].file_name, f": {plural('{n} file taken in', '{n} files taken in', len(files))}")
        self.read_again()

    def keep_copy(self) -> None:
        """Let a person choose where a copy of the chosen file goes."""
        file, desk = self.chosen(), self.desk
        if file is None:
            return
        proposal = paper_folder(desk) / file.file_name
        path = self.bench.surroundings.notices.file_to_write(_("Keep a copy as"), proposal, _("All files (*)"))
        if path is not None:
            self.read(lambda: copy_result(desk, file, path), self._copied, "copy")

    def _copied(self, path: Path) -> None:
        self.tell(Tone.DONE, path.name, f" {self.say(N_('lies in {folder}'), folder=path.parent)}")

    def take_off(self) -> None:
        """Take the chosen file off the loan."""
        file, desk = self.chosen(), self.desk
        if file is not None:
            self.bench.deed(
                lambda: take_off_result(desk, file.id, seen=file.version), then=self._is_off, button=self.off
            )

    def _is_off(self, file: ResultFacts) -> None:
        self.tell(Tone.DONE, file.file_name, _(": taken off; the file itself stays kept"))
        self.read_again()


class _Files(RowTable):
    """The files; Delete takes one off."""

    def __init__(self, part: ResultsPart) -> None:
        super().__init__(part.theme, _("Results of the loan"), result_columns(part.say))
        self._part = part

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self._part.take_off()
            return
        super().keyPressEvent(event)
