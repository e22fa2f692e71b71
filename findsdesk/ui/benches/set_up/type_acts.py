"""What further is done with wares and forms: pictures, one taken away, two merged, the series as a file."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.photos import pictures_of
from findsdesk.desk.tables_taken_back import TableHere
from findsdesk.desk.type_files import TakenTypes, WrittenTypes, take_in_types, write_types
from findsdesk.desk.type_series import MergedCodes, merge_forms, merge_wares, remove_form, remove_ware
from findsdesk.desk.types_taken_back import take_back_types
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.set_up.subject_part import SubjectPart
from findsdesk.ui.benches.set_up.type_subjects import WARES
from findsdesk.ui.photo_strip import PhotoStrip
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.words import N_, _, plural

_SIDE = 56
"""Pixels of a small picture at 100 per cent."""
_KINDS = N_("Type series (*.zip *.csv *.xlsx *.ods)")
_WITH, _WITHOUT = N_("With pictures (*.zip)"), N_("Table alone (*.csv)")


class TypeActs(QWidget):
    """Stands below the list; what is taken away or merged is the entry under the cursor."""

    done = Signal()

    def __init__(self, bench: Bench, part: SubjectPart) -> None:
        super().__init__()
        self.bench, self.part = bench, part
        self.away = QPushButton(_("Take it away"))
        self.into = QLineEdit()
        self.into.setAccessibleName(_("Code that takes its place"))
        self.into.setMaximumWidth(bench.theme.px(90))
        self.merge = QPushButton(_("Merge into"))
        self.take_in = QPushButton(_("Take a file in …"))
        self.back = QPushButton(_("Take it back"))
        self.back.setAccessibleName(_("Take the last file of the type series back"))
        self.out = QPushButton(_("Write a file …"))
        self.pictures = PhotoStrip(bench, _SIDE, in_a_row=True)
        self.pictures.add.setText(_("Pictures …"))
        self.pictures.off.setText(_("Take this picture off"))
        below, line = QWidget(), FlowLayout(bench.theme.px(8), bench.theme.px(6))
        below.setLayout(line)
        of_codes = (self.away, self.merge, self.into, self.pictures.add, self.pictures.off)
        for widget in (*of_codes, self.out, self.take_in, self.back):
            line.addWidget(widget)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.pictures)
        layout.addWidget(below)
        layout.addWidget(
            labels.muted(_("A file holds wares and forms together, as a zip with their pictures."), small=True)
        )
        self.away.clicked.connect(self.write_away)
        self.merge.clicked.connect(self.write_merge)
        self.into.returnPressed.connect(self.write_merge)
        self.take_in.clicked.connect(self.choose_file)
        self.back.clicked.connect(self.write_back)
        self.out.clicked.connect(self.write_file)
        self.pictures.done.connect(self.read_pictures)
        part.table.picked.connect(lambda _row_id: self.read_pictures())

    def chosen(self) -> str:
        """Return the code under the cursor, '' where there is none."""
        row_id = self.part.table.row_id()
        return next((entry.name for entry in self.part.entries if entry.row.row_id == row_id), "")

    def read_pictures(self) -> None:
        """Show the pictures of the code under the cursor."""
        desk, code, row_id = self.bench.surroundings.desk, self.chosen(), self.part.table.row_id()
        if not code or not isinstance(row_id, int):
            self.pictures.show_pictures(None, "", ())
            return
        of = ("ware" if self.part.subject.key == WARES else "form", row_id)
        self.bench.read(
            lambda: pictures_of(desk, of),
            lambda found: self.pictures.show_pictures(of, code, found),
            topic=f"pictures of {self.part.subject.key}",
        )

    def write_away(self) -> None:
        """Take the code under the cursor away, where nothing uses it."""
        desk, code = self.bench.surroundings.desk, self.chosen()
        if code:
            remove = remove_ware if self.part.subject.key == WARES else remove_form
            self.bench.deed(lambda: remove(desk, code), then=self._written, button=self.away)

    def write_merge(self) -> None:
        """Let another code take the place of the one under the cursor; what follows is asked about first."""
        desk, code, into = self.bench.surroundings.desk, self.chosen(), self.into.text().strip()
        if code and into:
            merge = merge_wares if self.part.subject.key == WARES else merge_forms
            self.bench.deed(
                lambda: merge(desk, code, into),
                sure=lambda: merge(desk, code, into, sure=True),
                then=self._merged,
                button=self.merge,
            )

    def choose_file(self) -> None:
        """Choose a file and take its wares and forms in."""
        file = self.bench.surroundings.notices.file_to_open(_("Type series"), self.bench.surroundings.words(_KINDS))
        if file:
            desk, path = self.bench.surroundings.desk, Path(file)
            self.bench.deed(
                lambda: take_in_types(desk, path),
                sure=lambda: take_in_types(desk, path, sure=True),
                then=self._taken_in,
                button=self.take_in,
            )

    def write_back(self) -> None:
        """Take the last file back, after asking: what it added, changed and showed."""
        desk = self.bench.surroundings.desk
        self.bench.deed(
            lambda: take_back_types(desk),
            sure=lambda: take_back_types(desk, sure=True),
            then=self._taken_back,
            button=self.back,
        )

    def write_file(self) -> None:
        """Write wares and forms as a file, with their pictures or without."""
        surroundings = self.bench.surroundings
        kinds = ";;".join(surroundings.words(one) for one in (_WITH, _WITHOUT))
        file = surroundings.notices.file_to_write(_("Type series"), Path.home() / "type-series.zip", kinds)
        if file:
            desk, path = surroundings.desk, Path(file)
            surroundings.lanes.read(
                lambda: write_types(desk, path),
                then=lambda one: self._file_written(path, one),
                refused=self.bench.refuse,
                job=surroundings.lanes.job("long"),
            )

    def _file_written(self, path: Path, written: WrittenTypes) -> None:
        said = [plural("{n} row", "{n} rows", written.rows)]
        if written.pictures:
            said.append(plural("{n} picture", "{n} pictures", written.pictures))
        for name in written.missing:
            said.append(self.bench.surroundings.words(N_("not {file}: its file is gone or changed"), file=name))
        tone = Tone.PLAIN if written.missing else Tone.DONE
        self.bench.surroundings.say(Answer(tone, path.name, f": {', '.join(said)}"))

    def _written(self, code: str) -> None:
        said = self.bench.surroundings.words(N_("Taken away: {code}"), code=code)
        self.bench.surroundings.say(Answer(Tone.DONE, said))
        self.done.emit()

    def _merged(self, merged: MergedCodes) -> None:
        self.into.clear()
        followed = self.bench.surroundings.words(N_(": {uses} followed"), uses=merged.followed.in_words())
        self.bench.surroundings.say(Answer(Tone.DONE, f"{merged.code} → {merged.into}", followed))
        self.done.emit()

    def _taken_in(self, taken: TakenTypes) -> None:
        words = self.bench.surroundings.words(
            N_(": {added} new, {changed} changed, {same} as they were, {pictures}"),
            added=len(taken.added),
            changed=len(taken.changed),
            same=taken.same,
            pictures=plural("{n} new picture", "{n} new pictures", taken.pictures),
        )
        self.bench.surroundings.say(Answer(Tone.DONE, _("Type series"), words))
        self._read_again()

    def _taken_back(self, table: TableHere) -> None:
        rows = plural(": {n} row taken back", ": {n} rows taken back", table.rows)
        self.bench.surroundings.say(Answer(Tone.DONE, table.file_name, rows))
        self._read_again()

    def _read_again(self) -> None:
        self.done.emit()
        self.read_pictures()
