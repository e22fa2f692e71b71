"""A container that is not being read: why not yet, or its bags. A few lines, one act, and the way back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.bags import BagFacts
from findsdesk.desk.dossiers import Dossier
from findsdesk.desk.sorting_table import WaitingContainer
from findsdesk.domain.bags import BAG_IN_WORDS, BagProposal
from findsdesk.domain.numbers import grams_in_words
from findsdesk.domain.standings import BEFORE_COUNT
from findsdesk.ui.bench import act_button
from findsdesk.ui.benches.sorting.ask_line import AskLine
from findsdesk.ui.benches.sorting.reading import TableRead
from findsdesk.ui.benches.sorting.state import Asked, SortingState
from findsdesk.ui.benches.sorting.table_words import wanting_why_words
from findsdesk.ui.next_step import next_step
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.big_line import BigLine
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.words_around import WordsAround, pieces_in_words
from findsdesk.words import N_, _, how_many, plural, put


@dataclass(frozen=True, slots=True)
class PageWords:
    """What the page says; ``act`` is empty where there is nothing to do here."""

    head: str
    lines: tuple[tuple[str, str], ...] = ()
    """(bold, rest) of each line."""
    act: str = ""
    may_reopen: bool = False
    next_code: str = ""
    """The container the act takes in hand, where the act is the next one."""
    may_read: bool = False
    """Whether its pottery can be read from here."""


def page_words(
    state: SortingState, read: TableRead | None, asked: Asked, around: WordsAround, *, half_read: bool = False
) -> PageWords:
    """Return what is said of the container in hand where its rows are not read; ``half_read``: a reading waits."""
    dossier = state.dossier
    assert dossier is not None
    words = _words_of(state, dossier, read, asked, around)
    if not words.may_reopen:
        return words
    return replace(words, lines=(*words.lines, *_of_reading(dossier, half_read)), may_read=True)


def _of_reading(dossier: Dossier, half_read: bool) -> tuple[tuple[str, str], ...]:
    """Return that nobody read the pottery yet, or that one's own reading is not written."""
    if half_read:
        return (("", _("Your reading of it is half typed and not written. F11 goes on with it.")),)
    return () if dossier.readings else (("", _("Nobody has read it yet.")),)


def _words_of(
    state: SortingState, dossier: Dossier, read: TableRead | None, asked: Asked, around: WordsAround
) -> PageWords:
    if asked is Asked.NOT_DRY:
        return _not_dry(state, dossier, around)
    if asked in (Asked.BAG, Asked.ONE_BAG):
        return _to_bag(dossier, read, asked, around)
    if asked is Asked.BAGGED:
        return _bagged(dossier, read, around)
    why = state.why_not_yet()
    said = why.in_words(around.terms) if why else ""
    if dossier.standing in BEFORE_COUNT:
        said = around.say(N_("{Container} {number} is not ready to be sorted"), number=dossier.number)
    return PageWords(said, ((_("Next"), f": {next_step(dossier, around)}"),))


def _not_dry(state: SortingState, dossier: Dossier, around: WordsAround) -> PageWords:
    hours = int(max(0.0, (around.now - state.lies_since()).total_seconds()) // 3600)
    head = around.say(
        N_("{Container} {number} has lain to dry for {hours} of {dry} hours. Is it dry all the same?"),
        number=dossier.number,
        hours=hours,
        dry=state.settings.dry_h,
    )
    damp = around.say(N_("Damp finds grow mould in a bag. Feel a thick one at the break before you say yes."))
    return PageWords(head, (("", damp),), _("It is dry, sort it"))


def _to_bag(dossier: Dossier, read: TableRead | None, asked: Asked, around: WordsAround) -> PageWords:
    if asked is Asked.ONE_BAG:
        head = around.say(
            N_("{Container} {number} is not sorted here: it goes into a bag as it is"), number=dossier.number
        )
    else:
        settled = pieces_in_words(dossier.route, dossier.ledger.expected)
        head = around.say(N_("{Container} {number} is settled: {pieces}"), number=dossier.number, pieces=settled)
    proposed = read.proposed if read is not None and read.code == dossier.code else ()
    lines = tuple(bag_line(dossier, bag) for bag in proposed)
    if read is not None and not proposed:
        lines = (("", around.say(N_("Nothing of it is kept, so there is no bag to pack."))),)
    act = plural("Pack {n} bag", "Pack {n} bags", len(proposed)) if proposed else ""
    return PageWords(head, (*lines, *_wanting_why(read)), act, may_reopen=asked is Asked.BAG)


def _wanting_why(read: TableRead | None) -> tuple[tuple[str, str], ...]:
    """Return that rows are decided against a rule and say no reason, which no settling ends."""
    rows = len(read.wanting_why) if read is not None else 0
    return (("", wanting_why_words(rows)),) if rows else ()


def bag_line(dossier: Dossier, bag: BagProposal) -> tuple[str, str]:
    """Return a bag to be packed: "Bag of diagnostic: 13 sherds, 428.5 g"."""
    return _("{what}").format(what=_bag_head(bag.what)), _holds(dossier, bag.pieces, bag.tenths)


def _bag_head(what: str) -> str:
    name = put(BAG_IN_WORDS[what])
    return put(N_("Bag, {what}"), None, {"what": name}) if name else put(N_("Bag, all of it"))


def _holds(dossier: Dossier, pieces: int, tenths: int | None) -> str:
    said = how_many(dossier.route.pieces_one, dossier.route.pieces_many, pieces) if dossier.route.counted else ""
    grams = f"{grams_in_words(tenths)} g" if tenths is not None else ""
    both = ", ".join(part for part in (said, grams) if part)
    return f": {both}" if both else ""


def _bagged(dossier: Dossier, read: TableRead | None, around: WordsAround) -> PageWords:
    here = read if read is not None and read.code == dossier.code else None
    bags: Sequence[BagFacts] = here.bags if here else ()
    n = len(bags) or len(dossier.bags)
    packed = plural("{n} bag", "{n} bags", n)
    head = around.say(N_("{Container} {number} is in {bags}"), number=dossier.number, bags=packed)
    lines = [
        (f"{bag.code}  {put(BAG_IN_WORDS[bag.what])}".rstrip(), _holds(dossier, bag.pieces, bag.tenths)) for bag in bags
    ]
    waiting = next((one for one in here.waiting if one.code != dossier.code), None) if here else None
    if here and any(not bag.label_copy for bag in bags):
        lines.append(("", around.say(N_("Its labels are printed at Marks & labels."))))
    act = _next_words(waiting, around) if waiting else ""
    lines += _wanting_why(here)
    return PageWords(
        head, tuple(lines), act, may_reopen=dossier.route.sorted_here, next_code=waiting.code if waiting else ""
    )


def _next_words(waiting: WaitingContainer, around: WordsAround) -> str:
    return around.say(N_("Next: {container} {number}"), number=waiting.number)


class WordPage(QWidget):
    """Shows ``PageWords``; Enter presses the clay button."""

    acted = Signal()
    reopen_wanted = Signal()
    reading_wanted = Signal()
    what_waits_wanted = Signal()

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = surroundings.theme
        self.words = PageWords("")
        self.head = BigLine(self.theme)
        self._card = Card(self.theme)
        self._lines: list[QLabel] = []
        self.act = act_button("")
        self.reopen = QPushButton(_("Open it again"))
        self.reading = QPushButton(_("Reading"))
        self.what_waits = QPushButton(_("What waits"))
        for button in (self.reopen, self.reading, self.what_waits):
            button.setProperty("quiet", True)
        self.ask = AskLine(surroundings)
        self.act.clicked.connect(self.acted)
        self.reopen.clicked.connect(self.reopen_wanted)
        self.reading.clicked.connect(self.reading_wanted)
        self.what_waits.clicked.connect(self.what_waits_wanted)
        buttons = QHBoxLayout()
        for button in (self.act, self.reopen, self.reading, self.what_waits):
            buttons.addWidget(button)
        buttons.addStretch(1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.head)
        layout.addWidget(self._card)
        layout.addLayout(buttons)
        layout.addWidget(self.ask)
        layout.addStretch(1)

    def show_words(self, words: PageWords) -> bool:
        """Show this; return whether another act is offered than before."""
        other = words.act != self.words.act and not self.ask.asking
        self.words = words
        self.head.show_text(words.head)
        for label in self._lines:
            self._card.body.removeWidget(label)
            label.hide()
            label.deleteLater()
        self._lines = [labels.headed(bold, rest) for bold, rest in words.lines]
        for label in self._lines:
            self._card.body.addWidget(label)
        self._card.setVisible(bool(words.lines))
        self.act.setText(words.act)
        self.act.setVisible(bool(words.act))
        self.reopen.setVisible(words.may_reopen)
        self.reading.setVisible(words.may_read)
        return other

    def first_focus(self) -> QWidget:
        """Return what takes the keyboard here."""
        return self.act if self.words.act else self.what_waits
