"""Where everything is: the store, its copies, this station's settings; copies made and restored; the proof."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QGridLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.photo_folders import name_photo_folder
from findsdesk.desk.proving import Proof, prove
from findsdesk.desk.restoring import proposed_name, restore
from findsdesk.desk.whereabouts import Whereabouts, whereabouts
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.set_up.where_words import (
    PlaceLine,
    copies_in_words,
    findings_in_words,
    place_lines,
    proof_in_words,
)
from findsdesk.ui.models.cells import Column, TableRow, plain_cells
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.said_over import SaidOver
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, put

_KINDS = "FindsDesk (*.findsdesk)"


@dataclass(frozen=True, slots=True)
class _Looked:
    """What one reading brings, in words."""

    where: Whereabouts
    lines: tuple[PlaceLine, ...]
    copies: str
    late: bool


class WherePart(QWidget):
    """Says where things lie, makes and restores copies, and proves the store."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bench = bench
        self.where: Whereabouts | None = None
        theme = bench.theme
        self.places = Card(theme, _("Where everything is"))
        self.grid = QGridLayout()
        self.copies = labels.plain()
        self.copy = QPushButton(_("Make a copy now"))
        self.restore = QPushButton(_("Restore a copy into a new file …"))
        self.photos = QPushButton(_("Choose the folder of photographs …"))
        self.proof = Card(theme, _("Is the store sound?"))
        self.said = labels.plain(_("The journal, the balances, the totals and the references are read and compared."))
        self.prove = QPushButton(_("Prove the store"))
        self.lies = QWidget()
        self.over = SaidOver(self.lies)
        self.asked = self.over.asked
        self.model = ShortTable([Column(_("Where")), Column(_("What is wrong"), grows=True)])
        self.findings = TableView(theme, _("What was found wrong"))
        self.findings.setModel(self.model)
        self.copy.clicked.connect(self.make_copy)
        self.restore.clicked.connect(self.restore_copy)
        self.photos.clicked.connect(self.choose_photo_folder)
        self.prove.clicked.connect(self.make_proof)
        self._lay_out()

    def refresh(self) -> None:
        """Look again where things lie."""
        desk = self.bench.surroundings.desk

        def work() -> _Looked:
            where = whereabouts(desk)
            copies, late = copies_in_words(where, WordsAround.of(desk))
            return _Looked(where, place_lines(where), copies, late)

        self.bench.read(work, self._show, "places")

    def make_copy(self) -> None:
        """Make a verified copy on the reading lane."""
        self._work(self.bench.surroundings.desk.copy, lambda _copy: self._copied(), self.copy)

    def restore_copy(self) -> None:
        """Let somebody choose a copy and a new file; what is there already is never written over."""
        notices, where = self.bench.surroundings.notices, self.where
        chosen = notices.file_to_open(_("Choose a copy"), _KINDS, where.copies_folder if where else None)
        if chosen is None:
            return
        into = notices.file_to_write(_("Restore the copy into a new file"), proposed_name(chosen), _KINDS)
        if into is not None:
            self._work(lambda: restore(chosen, into), self._restored, self.restore)

    def choose_photo_folder(self) -> None:
        """Let somebody choose where this station keeps the photographs of a store on a server."""
        desk, where = self.bench.surroundings.desk, self.where
        begin = where.photos_folder if where else None
        chosen = self.bench.surroundings.notices.folder_to_use(_("The folder of photographs"), begin)
        if chosen is not None:
            self._work(lambda: name_photo_folder(desk, chosen), self._photos_named, self.photos)

    def make_proof(self) -> None:
        """Prove the store on the reading lane."""
        desk = self.bench.surroundings.desk
        self.said.setText(_("The journal, the totals and the references are being read …"))
        self._work(lambda: prove(desk), self._proved, self.prove)

    def _work(self, work: Callable[[], object], then: Callable[[object], None], button: QPushButton) -> None:
        """Do something that takes a while on the reading lane; its button is dead meanwhile."""
        self.bench.refusals.clear()
        button.setEnabled(False)

        def done(value: object) -> None:
            button.setEnabled(True)
            then(value)

        def failed(fault: BaseException) -> None:
            button.setEnabled(True)
            self.bench.surroundings.notices.failed(fault)

        def refused(refusal: Refusal) -> None:
            button.setEnabled(True)
            self.bench.refuse(refusal)

        self.bench.surroundings.lanes.read(work, then=done, refused=refused, failed=failed)

    def _copied(self) -> None:
        self.bench.surroundings.say(Answer(Tone.DONE, _("Copied"), put(N_(": the copy was opened again and checked"))))
        self.refresh()

    def _photos_named(self, folder: object) -> None:
        said = put(N_(": photographs lie there from now on, at this station"))
        self.bench.surroundings.say(Answer(Tone.DONE, str(folder), said))
        self.refresh()

    def _restored(self, path: object) -> None:
        file = Path(str(path))
        said = put(N_("lies in {folder}. Open it with the program to look at it."), None, {"folder": file.parent})
        self.bench.surroundings.say(Answer(Tone.DONE, file.name, f" {said}"))

    def _proved(self, value: object) -> None:
        assert isinstance(value, Proof)
        self.said.setText(proof_in_words(value))
        labels.restyle(self.said, agreed=value.sound, wrong=not value.sound)
        rows = findings_in_words(value, self.bench.surroundings.terms)
        self.model.show_rows([TableRow(place, plain_cells(*texts)) for place, texts in enumerate(rows)])
        self.findings.setVisible(bool(rows))
        self.findings.fit_columns()

    def _show(self, looked: _Looked) -> None:
        self.where = looked.where
        self.copies.setText(looked.copies)
        labels.restyle(self.copies, wrong=looked.late)
        here = not looked.where.on_server
        self.copy.setVisible(here and not looked.where.read_only)
        self.restore.setVisible(here)
        self.photos.setVisible(not here)
        while (item := self.grid.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        for row, line in enumerate(looked.lines):
            self.grid.addWidget(labels.muted(line.what, wrap=False), row, 0)
            path = labels.plain(line.where.replace("/", "/\u200b"))
            path.setAccessibleName(f"{line.what}: {line.where}")
            self.grid.addWidget(path, row, 1)
            if line.folder:
                self.grid.addWidget(self._opener(line), row, 2)

    def _opener(self, line: PlaceLine) -> QPushButton:
        button = QPushButton(_("Open the folder"))
        button.setProperty("quiet", True)
        button.setAccessibleName(put(N_("Open the folder: {what}"), None, {"what": line.what}))
        button.clicked.connect(lambda: QDesktopServices.openUrl(QUrl.fromLocalFile(line.folder)))
        return button

    def _lay_out(self) -> None:
        px = self.bench.theme.px
        self.grid.setColumnStretch(1, 1)
        self.grid.setHorizontalSpacing(px(14))
        buttons = QWidget()
        flow = FlowLayout(px(10), px(6))
        buttons.setLayout(flow)
        flow.addWidget(self.copy)
        flow.addWidget(self.restore)
        flow.addWidget(self.photos)
        where = QVBoxLayout(self.lies)
        where.setContentsMargins(0, 0, 0, 0)
        where.addLayout(self.grid)
        where.addWidget(self.copies)
        self.places.body.addWidget(self.over)
        self.places.body.addWidget(buttons)
        proving = QWidget()
        line = FlowLayout(px(10), px(6))
        proving.setLayout(line)
        line.addWidget(self.prove)
        self.proof.body.addWidget(self.said)
        self.proof.body.addWidget(self.findings, 1)
        self.proof.body.addWidget(proving)
        self.findings.setMinimumHeight(px(110))
        self.findings.hide()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(px(12))
        layout.addWidget(self.places)
        layout.addWidget(self.proof)
        layout.addStretch(1)
