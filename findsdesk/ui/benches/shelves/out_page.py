"""What is taken out to a table or somebody of the team: scanned out, since when, and back by scan."""

from __future__ import annotations

from typing import Any

from PySide6.QtWidgets import QWidget

from findsdesk.desk.setting_up import PersonFacts, people
from findsdesk.desk.shelves import PlaceInTree, places_tree
from findsdesk.desk.taking_away import OutNow, bring_back, out_now, take_away
from findsdesk.domain.codes import Code, Kind
from findsdesk.domain.shelving import PlaceKind
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.shelves.rows import out_columns, out_row, thing_in_words
from findsdesk.ui.benches.shelves.scanned_table import ScannedTable, described, now_at
from findsdesk.ui.benches.shelves.shelf_page import RowTable, ShelfPage, button, in_a_row
from findsdesk.ui.benches.shelves.state import Scanned, is_place
from findsdesk.ui.models.cells import TableRow
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.words import N_, _, plural

_Read = tuple[tuple[OutNow, ...], tuple[PlaceInTree, ...], tuple[PersonFacts, ...]]


class OutPage(ShelfPage):
    """A scan of what is out brings it back at once; a scan of what is not goes on the list to be taken out."""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.scans = Scanned()
        self.rows: dict[str, TableRow] = {}
        self.out: tuple[OutNow, ...] = ()
        self.hint = labels.muted(
            _("Scan what is taken out, then the table it goes to. A scan of something that is out brings it back.")
        )
        self.scanned = ScannedTable(self, _("What is taken out"), self._drop)
        self.form = FieldForm(
            self.theme,
            (
                Field("to", _("To"), FieldKind.CHOICE_OR_NEW, width=300),
                Field("why", _("Why"), width=300),
            ),
            bench.surroundings.terms,
        )
        self.act = act_button(" ")
        self.title = labels.group(_("Out at the moment"))
        self.table = RowTable(self.theme, _("Out at the moment"), out_columns(self.say))
        self.table.may_leave_out((5, 4))
        self.back = button(_("It is back"), self._chosen_back)
        for part in (self.hint, self.scanned, self.form):
            self.whole.addWidget(part)
        self.whole.addWidget(in_a_row(self.theme, self.act, self.back))
        self.whole.addWidget(self.title)
        self.whole.addWidget(self.table, 1)
        self.whole.addStretch(0)
        self.act.clicked.connect(self._take)
        self.form.entered.connect(self._take)
        self.show_scanned()

    def first_focus(self) -> QWidget | None:
        """Return where it goes."""
        return self.form.entries["to"].widget

    def read_again(self) -> None:
        """Read what is out, the tables and the team."""
        desk = self.desk

        def work() -> _Read:
            return out_now(desk), places_tree(desk), people(desk)

        self.read(work, self._show_read, "out")

    def _show_read(self, read: _Read) -> None:
        self.out, places, team = read
        around = self.around()
        kept = self.form.peek()["to"]
        tables = [(one.code, one.path) for one in places if one.kind is PlaceKind.TABLE]
        self.form.offer("to", (*tables, *((one.name, one.name) for one in team if one.active)))
        self.form.show_values({"to": kept})
        self.table.show_rows([out_row(one, around) for one in self.out])
        self.title.setText(plural("{n} out at the moment", "{n} out at the moment", len(self.out)))
        self.table.setVisible(bool(self.out))
        self.back.setVisible(bool(self.out))

    # Scans

    def take(self, code: Code) -> Answer | None:
        """Bring back what is out, or add what goes out; a table says where to."""
        if is_place(code):
            self.form.show_values({"to": code.text})
            return Answer(Tone.DONE, _("Goes to"), f": {self.form.entries['to'].in_words()}")
        if code.kind not in (Kind.BOX, Kind.BAG):
            return None
        if any(one.code == code.text for one in self.out):
            self._bring(code.text)
            return Answer(Tone.PLAIN, code.text)
        if not self.scans.add(code.text):
            return Answer(Tone.ALREADY, _("Already scanned"), f": {code.text}")
        desk, text = self.desk, code.text
        self.bench.surroundings.lanes.deed(
            lambda: described(desk, text), then=self._described, refused=lambda why: self._unknown(text, why)
        )
        return Answer(Tone.PLAIN, code.text)

    def _described(self, row: TableRow) -> None:
        self.rows[str(row.row_id)] = row
        self.show_scanned()
        text = self.say(N_(": to be taken out, now {where}"), where=now_at(row))
        self.tell(Tone.DONE, row.cells[0].text, text)

    def _unknown(self, code: str, why: Any) -> None:
        self._drop(code)
        self.bench.refuse(why)

    def _drop(self, code: object) -> None:
        self.scans.drop(code)
        self.show_scanned()

    def show_scanned(self) -> None:
        """Show what was scanned to be taken out."""
        codes = self.scans.codes
        self.scanned.show_rows([self.rows[code] for code in codes if code in self.rows])
        self.scanned.setVisible(bool(codes))
        assert self.act is not None
        self.act.setEnabled(bool(codes))
        words = plural("Take {n} thing out", "Take {n} things out", len(codes)) if codes else _("Take out: scan it")
        self.act.setText(words)

    # What is done

    def _take(self) -> None:
        said = self.form.read()
        if said is None or not self.scans.codes:
            return
        desk, what = self.desk, list(self.scans.codes)
        to, why = str(said["to"] or ""), str(said["why"] or "")
        self.bench.deed(lambda: take_away(desk, what, to=to, why=why), then=self._taken, button=self.act)

    def _taken(self, rows: tuple[OutNow, ...]) -> None:
        self.scans.clear()
        self.rows.clear()
        self.form.show_values({"why": ""})
        self.show_scanned()
        self.read_again()
        if self.isVisible():
            # The button that was pressed is dead now; the keyboard would go to the rail.
            self.form.entries["to"].widget.setFocus()
        self.tell(Tone.DONE, plural("{n} taken out", "{n} taken out", len(rows)), f": {rows[0].to}")

    def _chosen_back(self) -> None:
        if self.table.row_id() is not None:
            self._bring(str(self.table.row_id()))

    def _bring(self, code: str) -> None:
        desk = self.desk
        self.by_scan(lambda: bring_back(desk, [code]), self._is_back)

    def _is_back(self, rows: tuple[OutNow, ...]) -> None:
        one = rows[0]
        belongs = self.say(N_("box {number}"), number=one.belongs) if one.belongs.isdecimal() else one.belongs
        where = belongs or _("no place yet")
        head = thing_in_words(one.number, one.code, self.say)
        self.tell(Tone.DONE, head, f" {self.say(N_('is back: it belongs to {where}'), where=where)}")
        self.out = tuple(other for other in self.out if other.code != one.code)
        self.read_again()
