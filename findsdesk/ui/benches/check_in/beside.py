"""What stands beside the big tag: the pallet, or one of the two forms, with the deeds of each."""

from __future__ import annotations

from datetime import date

from PySide6.QtWidgets import QPushButton, QWidget

from findsdesk.desk.checking_in import close_delivery
from findsdesk.desk.listed_containers import list_container
from findsdesk.desk.new_containers import IssuedTag
from findsdesk.desk.untagged import register_untagged
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.check_in.listed_form import ListedForm
from findsdesk.ui.benches.check_in.pallet_card import PalletCard
from findsdesk.ui.benches.check_in.state import materials
from findsdesk.ui.benches.check_in.untagged_form import UntaggedForm
from findsdesk.ui.widgets.one_of import OneOf
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, plural


class Beside(OneOf):
    """The pallet is in front unless a form is being filled in."""

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.bench = bench
        self.day: date | None = None
        """The day somebody chose, None for the newest delivery."""
        self.shown_day: date | None = None
        self.lists = QPushButton(_("Field lists …"))
        self.questions = QPushButton()
        self.type_row = QPushButton(_("Type a row"))
        self.untagged_button = QPushButton(_("A find without a tag"))
        self.end_day = QPushButton(_("End the day at the pallet"))
        self.pallet = PalletCard(
            bench.surroundings, (self.lists, self.questions, self.type_row, self.untagged_button, self.end_day)
        )
        self.untagged = UntaggedForm(bench.surroundings)
        self.listed = ListedForm(bench.surroundings)
        offered = materials(WordsAround.of(bench.surroundings.desk))
        for form in (self.untagged, self.listed):
            form.offer_materials(offered)
        for part in (self.pallet, self.untagged, self.listed):
            self.add_page(part)
        self.show_questions(0)
        self._wire()

    def filling_in(self) -> bool:
        """Tell whether a form is in front."""
        return self.shown() is not self.pallet

    def show_questions(self, n: int) -> None:
        """Say how many rows were set aside with a question."""
        self.questions.setText(plural("{n} row set aside", "{n} rows set aside", n))
        self.questions.setVisible(bool(n))

    def the_day(self) -> date:
        """Return the day of the delivery that is shown."""
        return self.shown_day or WordsAround.of(self.bench.surroundings.desk).today()

    def _wire(self) -> None:
        self.pallet.day_chosen.connect(self._choose_day)
        self.type_row.clicked.connect(self._begin_row)
        self.untagged_button.clicked.connect(self._begin_untagged)
        self.end_day.clicked.connect(self._end_day)
        self.untagged.wanted.connect(self._register)
        self.listed.wanted.connect(self._write_row)
        for form in (self.untagged, self.listed):
            form.left.connect(lambda: self._show(self.pallet))

    def _show(self, part: QWidget) -> None:
        self.show_page(part)
        if part is self.pallet:
            (self.bench.first_focus() or self.pallet.table).setFocus()

    def _choose_day(self, day: date | None) -> None:
        """Show the delivery of a day; None is today."""
        self.day = day or WordsAround.of(self.bench.surroundings.desk).today()
        self.bench.refresh()

    # A find without a tag

    def _begin_untagged(self) -> None:
        self._show(self.untagged)
        self.untagged.deposit.setFocus()

    def _register(self) -> None:
        form, desk = self.untagged, self.bench.surroundings.desk
        material = str(form.material.currentData())
        deposit, neighbours = form.deposit.text().strip(), form.neighbours.text().strip()
        self.bench.deed(
            lambda: register_untagged(desk, material=material, deposit=deposit or None, neighbours=neighbours),
            then=self._registered,
            button=form.register,
        )

    def _registered(self, tag: IssuedTag) -> None:
        self.untagged.clear()
        self._show(self.pallet)
        self.bench.surroundings.take_in_hand.emit(tag.code)

    # A row of the list by hand

    def _begin_row(self) -> None:
        self._show(self.listed)
        self.listed.begin(WordsAround.of(self.bench.surroundings.desk).today())

    def _write_row(self) -> None:
        form, desk = self.listed, self.bench.surroundings.desk
        if form.day.unreadable():
            form.day.setFocus()
            return
        number, deposit, day = form.number.text(), form.deposit.text(), form.day.day()
        supervisor, description = form.supervisor.text().strip(), form.description.text().strip()
        material = str(form.material.currentData())

        def work(sure: bool = False) -> IssuedTag:
            return list_container(
                desk,
                number,
                deposit=deposit,
                collected_on=day,
                supervisor=supervisor,
                material=material,
                description=description,
                sure=sure,
            )

        self.bench.deed(work, then=self._row_written, button=form.write, sure=lambda: work(sure=True))

    def _row_written(self, tag: IssuedTag) -> None:
        self.listed.next_row()
        say = self.bench.surroundings.words
        self.bench.surroundings.say(Answer(Tone.DONE, say(N_("{Container} {number} is expected"), number=tag.number)))

    # The end of the day

    def _end_day(self) -> None:
        desk, day = self.bench.surroundings.desk, self.the_day()
        self.bench.deed(lambda: close_delivery(desk, day), then=self._day_ended, button=self.end_day)

    def _day_ended(self, missing: tuple[str, ...]) -> None:
        if missing:
            head = plural("{n} reported missing", "{n} reported missing", len(missing))
            self.bench.surroundings.say(Answer(Tone.DONE, head, f": {', '.join(missing)}"))
        else:
            self.bench.surroundings.say(Answer(Tone.DONE, _("Everything listed so far is here")))
