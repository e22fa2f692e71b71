"""The box in hand as a card: number, kind, place, the weight against the limit as a bar, care and caution."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout

from findsdesk.desk.boxes import BoxFacts
from findsdesk.desk.boxing import BoxWithBags
from findsdesk.domain.box_rules import kilograms
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.balance_bar import BalanceBar, BarPart, Fill
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.dossier_facts import Caution
from findsdesk.ui.widgets.slips import CautionSlip
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, plural


class BoxCard(Card):
    """The caution of lifting stands on it as long as a box is in hand."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.number = labels.title()
        self.weight = labels.title()
        self.kind = labels.muted()
        self.bar = BalanceBar(theme)
        self.room = labels.muted(small=True)
        self.caution = CautionSlip(theme)
        head = QHBoxLayout()
        head.addWidget(self.number)
        head.addWidget(self.kind, 1)
        head.addWidget(self.weight)
        self.body.addLayout(head)
        for part in (self.bar, self.room, self.caution):
            self.body.addWidget(part)

    def show_box(self, held: BoxWithBags, around: WordsAround) -> None:
        """Show a box."""
        say, box = around.say, held.box
        self.number.setText(say(N_("Box {number}"), number=box.number))
        self.setAccessibleName(self.number.text())
        away = say(N_("away: {to}"), to=box.away.to) if box.away is not None else ""
        place = box.place or say(N_("at no place yet"))
        self.kind.setText(" · ".join(part for part in (say(box.kind_name), place, away) if part))
        self.weight.setText(
            say(N_("{weight} of {limit} kg"), weight=kilograms(box.tenths), limit=kilograms(box.limit_tenths))
        )
        self.bar.show_parts(bar_parts(box, around))
        care = say(box.care)
        full = say(N_("{full} full by weight or room."), full=f"{box.full_permille / 10:.0f} %")
        unweighed = plural("{n} bag not weighed.", "{n} bags not weighed.", box.unweighed) if box.unweighed else ""
        self.room.setText(" ".join(part for part in (full, unweighed, care) if part))
        one = held.cautions[0] if held.cautions else None
        self.caution.show_caution(Caution(say(one.lead), say(one.text)) if one is not None else None)


def bar_parts(box: BoxFacts, around: WordsAround) -> tuple[BarPart, ...]:
    """Return the weight of a box as parts of a bar: what is in it, what more it may weigh, or what is too much."""
    say = around.say
    over, left = max(0, box.tenths - box.limit_tenths), max(0, box.limit_tenths - box.tenths)
    fill = Fill.ACCENT if box.nearly_full else Fill.SOLID
    return (
        BarPart(box.tenths - over, say(N_("{weight} kg"), weight=kilograms(box.tenths - over)), fill),
        BarPart(over, say(N_("{weight} kg too much"), weight=kilograms(over)), Fill.OVER),
        BarPart(left, say(N_("{weight} kg left"), weight=kilograms(left)), Fill.HATCHED),
    )
