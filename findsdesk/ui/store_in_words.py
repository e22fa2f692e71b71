"""A box, a place or a loan in hand, in the words of the dossier."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from findsdesk.desk.boxing import BagInBox, BoxWithBags
from findsdesk.desk.in_store import InStore
from findsdesk.desk.loan_rows import LoanFacts
from findsdesk.desk.not_met import not_met_in_words
from findsdesk.desk.shelves import PlaceWithBoxes
from findsdesk.desk.shipped import cautions_at
from findsdesk.domain.box_rules import kilograms
from findsdesk.domain.cautions import At
from findsdesk.domain.lending import BORROWER_IN_WORDS, LOAN_IN_WORDS
from findsdesk.domain.shelving import PLACE_IN_WORDS
from findsdesk.ui import moments_in_words as times
from findsdesk.ui.answers import Answer, Follows, Found, Tone
from findsdesk.ui.widgets.dossier_facts import Caution, DossierFacts, Section
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, plural

MOST_ROWS = 60
"""A dossier is looked over, not searched; longer lists stand in the registers."""

_LENT = frozenset({"loan", "loan_line", "loan_return", "loan_chase", "loan_file"})
_LYING = _LENT | {
    "box", "place", "bag", "lay", "taken_out", "transport", "transport_line", "stock_take", "stock_scan", "deposit",
}  # fmt: skip
"""Kinds of things of which the dossier of a loan says something, and that of a box or a place."""


def stored_in_words(stored: InStore, around: WordsAround) -> Found:
    """Return what the label of the store stands for as the window shows it."""
    if isinstance(stored, BoxWithBags):
        return _box(stored, around)
    return _loan(stored, around) if isinstance(stored, LoanFacts) else _place(stored, around)


def _found(thing: object, facts: DossierFacts, follows: Follows) -> Found:
    return Found(thing, Answer(Tone.DONE, facts.title, f": {facts.line}"), facts, follows=follows)


def _follows(code: str, bags: Iterable[BagInBox]) -> Follows:
    """Return what a box or place follows: all that lies or moves in the store, and the containers of its bags."""
    return Follows(code, _LYING, frozenset(("container", one.bag.container_id) for one in bags))


def _carrying(around: WordsAround) -> tuple[Caution, ...]:
    return tuple(Caution(around.say(one.lead), around.say(one.text)) for one in cautions_at(At.CARRY))


def _rows(title: str, rows: Sequence[tuple[str, ...]], around: WordsAround) -> Iterable[Section]:
    if rows:
        more = len(rows) - MOST_ROWS
        text = around.say(N_("and {n} more, in the registers"), n=more) if more > 0 else ""
        yield Section(title, text, tuple(rows[:MOST_ROWS]))


def _box(held: BoxWithBags, around: WordsAround) -> Found:
    say, box = around.say, held.box
    weight = say(N_("{weight} of {limit} kg"), weight=kilograms(box.tenths), limit=kilograms(box.limit_tenths))
    away = say(N_("away: {to}"), to=box.away.to) if box.away is not None else ""
    not_met = not_met_in_words(box.not_met, say)
    parts = [weight, plural("{n} bag", "{n} bags", box.bags), box.place or say(N_("at no place yet")), away, not_met]
    care = say(box.care)
    facts = DossierFacts(
        title=say(N_("Box {number}"), number=box.number),
        aside=say(box.kind_name),
        line=", ".join(part for part in parts if part),
        sections=(Section(say(N_("How it is packed")), care), *_bags(held.bags, around)),
        cautions=_carrying(around),
    )
    return _found(held, facts, _follows(box.code, held.bags))


def _bags(bags: Sequence[BagInBox], around: WordsAround) -> Iterable[Section]:
    say = around.say
    rows = [
        (
            say(N_("{container} {number}"), number=one.bag.number),
            say(N_("{deposit} {number}"), number=one.bag.deposit) if one.bag.deposit else "",
            plural("{n} piece", "{n} pieces", one.bag.pieces),
        )
        for one in bags
    ]
    return _rows(say(N_("Its bags")), rows, around)


def _place(held: PlaceWithBoxes, around: WordsAround) -> Found:
    say, place = around.say, held.place
    boxes = [
        (
            say(N_("Box {number}"), number=box.number),
            ", ".join(box.deposits),
            box.away.to
            if box.away is not None
            else not_met_in_words(box.not_met, say) or say(N_("{weight} kg"), weight=kilograms(box.tenths)),
        )
        for box in held.boxes
    ]
    parts = [
        plural("{n} box", "{n} boxes", place.boxes),
        plural("{n} bag", "{n} bags", place.bags),
        say(N_("{weight} kg"), weight=kilograms(place.tenths)),
    ]
    if place.not_met:
        parts.append(plural("{n} of it met by nobody", "{n} of it met by nobody", place.not_met))
    facts = DossierFacts(
        title=place.name,
        aside=say(PLACE_IN_WORDS[place.kind]),
        line=", ".join([place.path, *parts]),
        sections=(*_rows(say(N_("Its boxes")), boxes, around), *_bags(held.loose, around)),
        cautions=_carrying(around),
    )
    return _found(held, facts, _follows(place.code, held.loose))


def _loan(loan: LoanFacts, around: WordsAround) -> Found:
    say, today = around.say, around.today()
    due = say(N_("due {day}"), day=times.day_in_words(loan.due_on, today))
    late = plural("{n} day overdue", "{n} days overdue", loan.days_overdue) if loan.days_overdue else ""
    out = plural("{n} piece still out", "{n} pieces still out", loan.still_out) if loan.back_on is None else ""
    rows = [
        (
            line.name,
            plural("{n} piece", "{n} pieces", line.pieces),
            say(N_("back {day}"), day=times.day_in_words(line.back_on, today))
            if line.back_on
            else plural("{n} still out", "{n} still out", line.still_out),
        )
        for line in loan.lines
    ]
    facts = DossierFacts(
        title=say(N_("Loan {number}"), number=loan.number),
        aside=say(LOAN_IN_WORDS[loan.standing]),
        line=", ".join(
            part for part in (loan.borrower, say(BORROWER_IN_WORDS[loan.kind]), loan.purpose, due, late, out) if part
        ),
        sections=tuple(_rows(say(N_("What left")), rows, around)),
    )
    return _found(loan, facts, Follows(loan.code, _LENT))
