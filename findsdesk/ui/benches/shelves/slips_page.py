"""Proxy slips: what stands in bags for what was taken out of them; a new one, and one whose thing is laid back."""

from __future__ import annotations

from PySide6.QtWidgets import QPushButton, QWidget

from findsdesk.desk.finding_pieces import looks_like_a_piece
from findsdesk.desk.proxy_slips import SlipFacts, slips_standing, take_slip_away, write_slip
from findsdesk.domain.codes import Code, Kind
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.asking_form import AskingForm
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.shelves.shelf_page import RowTable, ShelfPage, button, in_a_row
from findsdesk.ui.benches.shelves.slip_lines import slip_columns, slip_row
from findsdesk.ui.benches.shelves.state import code_in
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.ui.widgets.slips import EmptySlip
from findsdesk.words import N_, _


class SlipsPage(ShelfPage):
    """A scanned bag is the one a new slip stands in, or whose slip is chosen."""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.slips: tuple[SlipFacts, ...] = ()
        self.new = AskingForm(bench, _("New slip"), _("Write the slip"))
        self.empty = EmptySlip(self.theme)
        text = _("No slip stands in a bag. One is written when something is taken out of a bag for a while.")
        self.empty.say(text, _("New slip"))
        self.hint = labels.muted(
            _("A slip stands in a bag for what was taken out of it. What is lent brings its own, and its return.")
        )
        self.table = RowTable(self.theme, _("Proxy slips"), slip_columns(self.say))
        self.table.may_leave_out((7, 2))
        self.act = act_button(_("New slip"))
        self.laid_back = button(_("It is laid back"), self.lay_back)
        for part in (self.new, self.hint, self.empty):
            self.whole.addWidget(part)
        self.whole.addWidget(self.table, 1)
        self.whole.addWidget(in_a_row(self.theme, self.act, self.laid_back))
        self.whole.addStretch(0)
        self.act.clicked.connect(self.begin_new)
        self.empty.act.connect(self.begin_new)
        self.new.wanted.connect(self._write)
        self.show_slips(())

    def first_focus(self) -> QWidget | None:
        """Return the slips, or the first field of a new one."""
        return self.new.first_field() or (self.table if self.slips else self.empty)

    def act_now(self) -> QPushButton | None:
        """Return the button of an open form, or that of the page."""
        return self.new.write if self.new.fields is not None else self.act

    def read_again(self) -> None:
        """Read the slips again."""
        desk = self.desk
        self.read(lambda: slips_standing(desk), self.show_slips, "slips")

    def show_slips(self, slips: tuple[SlipFacts, ...]) -> None:
        """Show the slips that stand in bags."""
        self.slips = slips
        self.empty.setVisible(not slips)
        assert self.act is not None
        for part in (self.table, self.hint, self.act, self.laid_back):
            part.setVisible(bool(slips))
        if slips:
            around = self.around()
            self.table.show_rows([slip_row(one, around) for one in slips])

    def take(self, code: Code) -> Answer | None:
        """Choose the slip of a scanned bag, or begin a new one in it; a scanned piece is what was taken out."""
        form = self.new.fields
        if code.kind is Kind.PIECE and form is not None:
            form.show_values({"what": code.text})
            return Answer(Tone.DONE, _("Taken out"), f": {code.text}")
        if code.kind is not Kind.BAG:
            return None
        its_slip = next((one for one in self.slips if one.bag_code == code.text), None)
        if form is None and its_slip is not None:
            self.table.go_to(its_slip.number)
            self.table.setFocus()
            return Answer(Tone.DONE, self.say(N_("Slip {number}"), number=its_slip.number), f": {its_slip.what}")
        if form is None:
            self.begin_new()
        assert self.new.fields is not None
        self.new.fields.show_values({"bag": code.text})
        self.new.fields.focus_field("what")
        return Answer(Tone.DONE, self.say(N_("Bag {code}"), code=code.text), _(": the new slip is laid into it"))

    # What is done

    def begin_new(self) -> None:
        """Ask for a new slip."""
        form = FieldForm(self.theme, _fields(), self.around().terms)
        self.new.begin(form)
        form.show_values({"pieces": 1})

    def _write(self) -> None:
        said, desk = self.new.read(), self.desk
        if said is None:
            return
        what = str(said["what"] or "")
        code = code_in(what, desk.facts.code)
        of_a_piece = looks_like_a_piece(what) or (code is not None and code.kind is Kind.PIECE)
        words, piece = ("", what) if of_a_piece else (what, "")
        pieces, why, to = said["pieces"] or 1, str(said["why"] or ""), str(said["went_to"] or "")
        bag = str(said["bag"] or "")
        self.bench.deed(
            lambda: write_slip(desk, bag, what=words, piece=piece, pieces=pieces, why=why, went_to=to),
            then=self._is_written,
            button=self.new.write,
        )

    def _is_written(self, slip: SlipFacts) -> None:
        self.new.leave()
        text = self.say(N_(": lay it into bag {bag}"), bag=slip.bag_code)
        self.tell(Tone.DONE, self.say(N_("Slip {number}"), number=slip.number), text)
        self.read_again()
        self.table.setFocus()

    def lay_back(self) -> None:
        """Write that what the chosen slip stood for lies in its bag again."""
        number, desk = self.table.row_id(), self.desk
        if isinstance(number, int):
            self.bench.deed(lambda: take_slip_away(desk, number), then=self._is_back, button=self.laid_back)

    def _is_back(self, slip: SlipFacts) -> None:
        self.tell(Tone.DONE, slip.what, f" {self.say(N_('lies in bag {bag} again'), bag=slip.bag_code)}")
        self.read_again()


def _fields() -> tuple[Field, ...]:
    return (
        Field("bag", _("Bag"), width=200),
        Field("what", _("Taken out"), width=230, help=_("A piece by name (131.4) or scan, or sherds in words.")),
        Field("pieces", _("Count"), FieldKind.WHOLE, width=90, unit=_("pieces"), beside=True),
        Field("why", _("Why"), width=230),
        Field("went_to", _("Went to"), width=230, beside=True),
    )
