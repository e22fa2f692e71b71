"""Export on one page: in which form, into which folder, what it will contain, how far it is, where it lies afterwards.

Benches show it in their own place; the work is done on the long lane and can be stopped.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt, QTimer, QUrl, Signal
from PySide6.QtGui import QDesktopServices, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QProgressBar, QPushButton, QVBoxLayout, QWidget

from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.background import Job
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.export_state import BUNDLE, FORMS, WITH_GRID, WITH_MARK, folder_of, place_in_words, written_in_words
from findsdesk.ui.grid_fields import CORNER, grid_as_typed, grid_fields, grid_typed, mark_refused
from findsdesk.ui.models.cells import Column, TableRow, plain_cells
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.paper_memory import read_paper, write_paper
from findsdesk.ui.paper_out import paper_folder
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.words import N_, _, grouped

if TYPE_CHECKING:
    from findsdesk.desk.export_contents import ToExport
    from findsdesk.desk.exporting import Exported

_WAIT_MS = 250
"""After so long without another key the folder that is typed is looked at."""
_SIDE_BY_SIDE = 900
"""Pixels of width, at 100 per cent, from which what it will contain stands beside what is asked."""


class ExportPage(QWidget):
    """One export at a time; whoever leaves the page while it is written finds it again as it is."""

    left = Signal()

    def __init__(self, bench: Bench, back: str) -> None:
        super().__init__()
        self.bench = bench
        self.theme, self.say = bench.theme, bench.surroundings.words
        self.made: Exported | None = None
        self._job: Job | None = None
        terms = bench.surroundings.terms
        self.form = FieldForm(self.theme, _fields(self.say), terms)
        # Forms of their own, no rows that come and go: a form keeps room for rows it hid.
        self.mark = FieldForm(self.theme, (Field("with_mark", _("For spreadsheets"), FieldKind.YES),), terms)
        self.grid = FieldForm(self.theme, grid_fields(self.say), terms)
        self.purpose = labels.muted(wrap=True)
        self.grid_help = labels.muted(self.say(CORNER), small=True)
        self.mark_help = labels.muted(
            _("Spreadsheet programs need a mark before the text to read letters such as é; other programs do not."),
            small=True,
        )
        self.choose = QPushButton(_("Choose the folder …"))
        self.place = labels.plain()
        self.model = ShortTable([Column(_("What"), grows=True), Column(_("How many"), figures=True)])
        self.contents = TableView(self.theme, _("What it will contain"))
        self.contents.setModel(self.model)
        self.write = act_button(_("Write it"))
        self.bar = QProgressBar()
        self.bar.setAccessibleName(_("How far the export is"))
        self.stop = QPushButton(_("Stop"))
        self.outcome = labels.plain()
        self.show_folder = QPushButton(_("Open the folder"))
        self.back = QPushButton(back)
        self._wait = QTimer(self)
        self._wait.setSingleShot(True)
        self._wait.setInterval(_WAIT_MS)
        self._lay_out()
        self._wire()
        self._show_fields()
        self._show_work()

    def open_with(self, form: str = "") -> None:
        """Show the page, with a form chosen where one is named; the keyboard goes to the form."""
        if not self.form.peek()["folder"]:
            self.form.show_values({"folder": str(paper_folder(self.bench.surroundings.desk))})
        if self._job is None:
            self.grid.show_values(grid_as_typed(self.bench.surroundings.desk.facts.settings.grid))
        if form and self._job is None:
            self.form.show_values({"form": form})
            self._show_fields()
        self.look()
        self.form.focus_first()

    # What it will be

    def look(self) -> None:
        """Read on the reading lane what the chosen export would contain, and where it would lie."""
        self._wait.stop()
        said, desk = self.form.peek(), self.bench.surroundings.desk
        try:
            folder = folder_of(str(said["folder"] or ""))
        except Refusal as refusal:
            self.place.setText(refusal.in_words())
            return
        form = str(said["form"])

        def work() -> ToExport:
            from findsdesk.desk.export_contents import to_export
            from findsdesk.desk.exporting import FileForm

            return to_export(desk, FileForm(form), folder)

        self.bench.read(work, self._show_wanted, "to-export")

    def _show_wanted(self, wanted: ToExport) -> None:
        self.place.setText(place_in_words(wanted))
        rows = [(one.what, grouped(one.many)) for one in wanted.parts]
        self.model.show_rows([TableRow(place, plain_cells(*texts)) for place, texts in enumerate(rows)])
        self.contents.fit_columns()

    def _changed(self) -> None:
        """Show what belongs to the form, and look again once nobody types."""
        self._show_fields()
        self._wait.start()

    def _show_fields(self) -> None:
        form = str(self.form.peek()["form"])
        self.purpose.setText(self.say(FORMS[form][1]))
        for parts, forms in (((self.mark, self.mark_help), WITH_MARK), ((self.grid, self.grid_help), WITH_GRID)):
            for part in parts:
                part.setVisible(form in forms)

    def _choose(self) -> None:
        notices, before = self.bench.surroundings.notices, str(self.form.peek()["folder"] or "")
        chosen = notices.folder_to_use(_("The folder for the export"), Path(before) if before else None)
        if chosen is not None:
            self.form.show_values({"folder": str(chosen)})
            self.look()

    # Writing it

    def export(self) -> None:
        """Write what is chosen."""
        said, mark, grid = self.form.read(), self.mark.read(), self.grid.read()
        if said is None or mark is None or grid is None or self._job is not None:
            return
        self.bench.refusals.clear()
        try:
            folder, work = folder_of(str(said["folder"] or "")), self._asked(said | mark | grid)
        except Refusal as refusal:
            self._refuse(refusal)
            return
        job = self.bench.surroundings.lanes.job(
            "long", topic=f"{self.bench.key}/export", progress=self._say_progress, when_called_off=self._called_off
        )
        self._job, self.made = job, None
        self.outcome.setText(_("It is being written …"))
        self._show_work()
        self.stop.setFocus()
        self.bench.surroundings.lanes.read(
            lambda: work(folder, job), then=self._written, refused=self._refused, failed=self._failed, job=job
        )

    def _asked(self, said: dict[str, Any]) -> Any:
        """Return the work of the export that is asked for. Refusals: those of reading where the grid lies."""
        from findsdesk.desk.exporting import FileForm, How, export

        # A form without a grid does not show its fields: what stands in them is no reason to refuse.
        grid = grid_typed(said) if said["form"] in WITH_GRID else None
        how = How(with_mark=bool(said["with_mark"]), grid=grid)
        desk, form = self.bench.surroundings.desk, FileForm(said["form"])
        return lambda folder, job: export(desk, form, folder, how=how, follow=job.follow)

    def _say_progress(self, done: int, of: int) -> None:
        self.bar.setRange(0, of)
        self.bar.setValue(done)

    def _written(self, made: Exported) -> None:
        self.made = made
        station = self.bench.surroundings.desk.station_name
        write_paper(station, replace(read_paper(station), folder=str(made.path.parent)))
        self._ended(written_in_words(made))
        lies = self.say(N_("lies in {folder}"), folder=made.path.parent)
        self.bench.surroundings.say(Answer(Tone.DONE, made.path.name, f" {lies}"))
        self.look()

    def _refused(self, refusal: Refusal) -> None:
        self._ended(_("Nothing was written."))
        self._refuse(refusal)

    def _refuse(self, refusal: Refusal) -> None:
        self.bench.refuse(refusal)
        mark_refused(self.grid, refusal)

    def _failed(self, fault: BaseException) -> None:
        self._ended(_("Nothing was written."))
        self.bench.surroundings.notices.failed(fault)

    def _called_off(self) -> None:
        self._ended(_("Stopped. Nothing was written; what was there before is as it was."))

    def _ended(self, said: str) -> None:
        had_keyboard = self.stop.hasFocus()
        self._job = None
        self.outcome.setText(said)
        self._show_work()
        if had_keyboard:
            (self.show_folder if self.made is not None else self.write).setFocus()

    def _show_work(self) -> None:
        """Show what can be done now: write it, or stop it."""
        under_way = self._job is not None
        wait: tuple[QWidget, ...] = (self.form, self.mark, self.grid, self.choose, self.write)
        for part in wait:
            part.setEnabled(not under_way)
        self.bar.setVisible(under_way)
        self.stop.setVisible(under_way)
        self.bar.setRange(0, 0)
        self.outcome.setVisible(bool(self.outcome.text()))
        self.show_folder.setVisible(self.made is not None)

    def _open_folder(self) -> None:
        if self.made is not None:
            QDesktopServices.openUrl(QUrl.fromLocalFile(str(self.made.path.parent)))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
            return
        super().keyPressEvent(event)

    # Layout

    def _wire(self) -> None:
        self.form.show_values({"form": BUNDLE})
        self.mark.show_values({"with_mark": True})
        self.form.edited.connect(self._changed)
        for form in (self.form, self.mark, self.grid):
            form.entered.connect(self.export)
        self._wait.timeout.connect(self.look)
        self.choose.clicked.connect(self._choose)
        self.write.clicked.connect(self.export)
        self.stop.clicked.connect(lambda: self._job.call_off() if self._job is not None else None)
        self.show_folder.clicked.connect(self._open_folder)
        self.back.clicked.connect(self.left)

    def _lay_out(self) -> None:
        px = self.theme.px
        # No cards: they ask for no height of their own, and the page scrolls where there is too little.
        asked = QWidget()
        what = QVBoxLayout(asked)
        what.setContentsMargins(0, 0, 0, 0)
        what.setSpacing(px(8))
        for part in (
            self.form, self._in_a_row(self.choose), self.purpose, self.mark, self.mark_help, self.grid, self.grid_help,
        ):  # fmt: skip
            what.addWidget(part)
        what.addStretch(1)
        holds = QVBoxLayout()
        holds.addWidget(labels.group(_("What it will contain")))
        holds.addWidget(self.contents, 1)
        # As high as it likes to be: where a table may shrink, the layout takes the height from the fields above.
        self.contents.setMinimumHeight(px(192))
        self._sides = QBoxLayout(QBoxLayout.Direction.TopToBottom)
        self._sides.setSpacing(px(14))
        self._sides.addWidget(asked)
        self._sides.addLayout(holds, 1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(px(10))
        whole.addLayout(self._sides, 1)
        for part in (self.place, self.outcome, self.bar):
            whole.addWidget(part)
        whole.addWidget(self._in_a_row(self.write, self.stop, self.show_folder, self.back))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        wide = self.width() >= self.theme.px(_SIDE_BY_SIDE)
        directions = QBoxLayout.Direction
        self._sides.setDirection(directions.LeftToRight if wide else directions.TopToBottom)
        self._sides.setStretch(0, 1 if wide else 0)

    def _in_a_row(self, *parts: QWidget) -> QWidget:
        row = QWidget()
        flow = FlowLayout()
        row.setLayout(flow)
        flow.set_gaps(self.theme.px(10), self.theme.px(6))
        for part in parts:
            flow.addWidget(part)
        return row


def _fields(say: Callable[[str], str]) -> tuple[Field, ...]:
    forms = tuple((key, say(name)) for key, (name, _purpose) in FORMS.items())
    return (
        Field("form", _("Written as"), FieldKind.CHOICE, width=260, choices=forms),
        Field("folder", _("Folder")),
    )
