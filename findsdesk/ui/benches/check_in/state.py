"""What stands on the big tag at check-in, and in the rows of the pallet; no window needed."""

from __future__ import annotations

from dataclasses import dataclass

from findsdesk.desk.checking_in import CheckedIn, Delivery, PalletRow
from findsdesk.desk.dossiers import Dossier
from findsdesk.desk.shipped import route_of, routes
from findsdesk.domain.cautions import At
from findsdesk.domain.routes import STANDING_IN_WORDS, Hold, Standing, StepKind
from findsdesk.domain.standings import HOLD_IN_WORDS
from findsdesk.ui import moments_in_words as times
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.models.cells import Cell, TableRow
from findsdesk.ui.next_step import next_step
from findsdesk.ui.widgets.dossier_facts import Caution
from findsdesk.ui.words_around import WordsAround, cautions_of, first_name
from findsdesk.words import N_, plural

_NOT_HERE = frozenset({Standing.ISSUED, Standing.LISTED, Standing.MISSING, Standing.UNUSED})


@dataclass(frozen=True, slots=True)
class ArrivalState:
    """What the big tag says of the container in hand, and what may be done with it."""

    code: str
    number: str
    title: str
    aside: str
    deposit: str
    """As large as it goes: to be compared with the handwriting."""
    facts: tuple[str, ...]
    material: str
    here: str
    """"Checked in 14:40", or empty while it may be checked in."""
    next_step: str
    provisional: bool
    question: tuple[str, str] | None
    """What the tag says and what the list says, while that is open."""
    cautions: tuple[Caution, ...]

    @property
    def may_arrive(self) -> bool:
        """Return whether it can be checked in now."""
        return not self.here


def arrival_state(dossier: Dossier, around: WordsAround) -> ArrivalState:
    """Work out what the big tag says."""
    say = around.say
    facts = (
        ", ".join(
            part
            for part in (
                say(N_("{Square} {name}"), name=dossier.square) if dossier.square else "",
                times.day_in_words(dossier.collected_on, around.today()) if dossier.collected_on else "",
                dossier.supervisor,
            )
            if part
        ),
        dossier.description,
    )
    open_question = next(((str(q["tag"]), str(q["list"])) for q in dossier.questions if "tag" in q), None)
    return ArrivalState(
        code=dossier.code,
        number=dossier.number,
        title=say(N_("{Container} {number}"), number=dossier.number),
        aside=_aside(dossier, around),
        deposit=dossier.deposit,
        facts=tuple(fact for fact in facts if fact),
        material=dossier.material,
        here="" if dossier.standing in _NOT_HERE else _here(dossier, around),
        next_step=next_step(dossier, around),
        provisional=dossier.provisional,
        question=open_question,
        cautions=cautions_of(dossier.route, At.CHECK_IN, around),
    )


def _aside(dossier: Dossier, around: WordsAround) -> str:
    say = around.say
    if dossier.provisional:
        return say(N_("no readable tag"))
    if dossier.standing is Standing.ISSUED:
        return say(N_("on no list yet"))
    if dossier.standing in (Standing.LISTED, Standing.MISSING):
        return say(STANDING_IN_WORDS[dossier.standing])
    return "" if any(step.kind is StepKind.LISTED for step in dossier.life) else say(N_("on no list yet"))


def _here(dossier: Dossier, around: WordsAround) -> str:
    arrived = [step for step in dossier.life if step.kind is StepKind.ARRIVED]
    if not arrived:
        return around.say(STANDING_IN_WORDS[dossier.standing])
    last = arrived[-1]
    when = times.clock_time(last.happened_at, around.zone)
    if last.happened_at.astimezone(around.zone).date() != around.today():
        when = times.day_and_time(last.happened_at, around.zone)
    return around.say(N_("Checked in {when} by {who}"), when=when, who=first_name(last.who) or "?")


def act_words(state: ArrivalState, typed: str, around: WordsAround) -> str:
    """Return what the clay button says: the very thing it will write."""
    if not state.may_arrive:
        return around.say(N_("More of {number} came"), number=state.number)
    if typed and typed.casefold() != state.deposit.casefold():
        if not state.deposit:
            return around.say(N_("Check in {number}, {deposit} {said}"), number=state.number, said=typed)
        return around.say(N_("Check in {number}, tag says {said}"), number=state.number, said=typed)
    return around.say(N_("Check in {number}"), number=state.number)


def arrived_answer(done: CheckedIn, around: WordsAround) -> Answer:
    """Return the line for the scan line after a container was checked in."""
    say = around.say
    notes = []
    if done.question:
        notes.append(say(N_("tag says {tag}, list says {list}: asked"), tag=done.question, list=done.deposit))
    if done.was_missing:
        notes.append(say(N_("no longer missing")))
    if done.more_of_it:
        notes.append(say(N_("more of it came")))
    if not done.on_list:
        notes.append(say(N_("on no list yet")))
    if not done.deposit:
        notes.append(say(N_("no {deposit} yet")))
    if done.crate:
        notes.append(say(N_("to the {crate}"), crate=say(done.crate)))
    head = say(N_("{number} is here"), number=done.number)
    return Answer(Tone.DONE, head, f": {', '.join(notes)}" if notes else "")


def materials(around: WordsAround) -> tuple[tuple[str, str], ...]:
    """Return (key, name) of every material, in the order they are offered."""
    return tuple((key, around.say(route.name)) for key, route in routes().items())


@dataclass(frozen=True, slots=True)
class PalletState:
    """The rows of a delivery, and one line about it."""

    going_on: str
    rows: tuple[TableRow, ...]
    expected: int
    """How many were listed and not reported missing yet."""


def pallet_state(delivery: Delivery, around: WordsAround) -> PalletState:
    """Return the delivery in words: what is not here first, then what differs, then the rest, newest first."""
    differing = {row.container_id for row in delivery.differing}
    rest = [row for row in delivery.arrived if row.container_id not in differing]
    rest.sort(key=lambda row: row.arrived_at.timestamp() if row.arrived_at else 0.0, reverse=True)
    rows = (*delivery.not_here, *delivery.differing, *rest)
    return PalletState(
        going_on=_going_on(delivery, around),
        rows=tuple(pallet_row(row, around) for row in rows),
        expected=sum(row.standing is Standing.LISTED for row in delivery.not_here),
    )


def _going_on(delivery: Delivery, around: WordsAround) -> str:
    here, all_of_it = len(delivery.arrived), len(delivery.arrived) + len(delivery.not_here)
    if not all_of_it:
        return times.long_day(delivery.day)
    parts = [around.say(N_("{here} of {all} here"), here=here, all=all_of_it)]
    missing = sum(row.standing is Standing.MISSING for row in delivery.not_here)
    if missing:
        parts.append(plural("{n} missing", "{n} missing", missing))
    if delivery.differing:
        parts.append(plural("{n} asked about", "{n} asked about", len(delivery.differing)))
    if delivery.not_on_list:
        parts.append(plural("{n} on no list", "{n} on no list", len(delivery.not_on_list)))
    return around.say(N_("{day}: {parts}"), day=times.long_day(delivery.day), parts=", ".join(parts))


def pallet_row(row: PalletRow, around: WordsAround) -> TableRow:
    """Return one container of the pallet as a row of the table."""
    text, tone, late = _state_of(row, around)
    return TableRow(
        row.code,
        (
            Cell(row.number, strong=True),
            Cell(text, tone),
            Cell(row.deposit or "–"),
            Cell(row.square or "–"),
            Cell(around.say(route_of(row.material).name)),
            Cell(first_name(row.supervisor)),
        ),
        late,
    )


def _state_of(row: PalletRow, around: WordsAround) -> tuple[str, str, bool]:
    say = around.say
    if row.standing is Standing.MISSING:
        return say(N_("missing")), "madder", True
    if row.standing is Standing.LISTED:
        return say(N_("expected")), "muted", False
    if row.question:
        return say(N_("tag says {tag}"), tag=row.question), "ochre", False
    if row.provisional:
        return say(N_("without a tag")), "ochre", False
    arrived = times.clock_time(row.arrived_at, around.zone) if row.arrived_at else ""
    if row.held_for:
        return say(N_("held: {why}"), why=say(HOLD_IN_WORDS[Hold(row.held_for)])), "ochre", False
    if not row.on_list:
        return say(N_("{time}, on no list"), time=arrived), "ochre", False
    return say(N_("here {time}"), time=arrived), "green", False
