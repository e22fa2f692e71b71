"""The yard as the bench shows it: tubs, trays, the line below, in words."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from findsdesk.desk.desk import Desk
from findsdesk.desk.setting_up import people
from findsdesk.desk.shipped import route_of
from findsdesk.desk.yard import TubSlip as SlipInTub
from findsdesk.desk.yard import Yard, yard
from findsdesk.domain.moments import SoakState
from findsdesk.domain.routes import Hold, Standing
from findsdesk.domain.settings import Role
from findsdesk.ui import moments_in_words as times
from findsdesk.ui.widgets.big_line import Figure
from findsdesk.ui.widgets.trays import Tray, TrayState
from findsdesk.ui.widgets.tubs import Tub, TubSlip
from findsdesk.ui.words_around import WordsAround, first_name
from findsdesk.words import N_, grouped, how_many

HELD = "held"
_MOST_NAMED = 6
_MOST_NEXT = 4
_WHY_ON_A_SLIP: dict[Hold, str] = {
    Hold.PAINTED: N_("painted"),
    Hold.INSCRIBED: N_("ink?"),
    Hold.FLAKING: N_("flaking"),
    Hold.RESIDUE: N_("residue"),
    Hold.OTHER: N_("other"),
}


@dataclass(frozen=True, slots=True)
class YardNow:
    """The yard at one moment, and what its words need."""

    yard: Yard
    around: WordsAround
    ceramicist: str
    """The first name of the one ceramicist, or empty."""


def read_yard(desk: Desk) -> YardNow:
    """Read the yard; on the reading lane."""
    readers = [person.name for person in people(desk) if person.role is Role.CERAMICIST and person.active]
    return YardNow(yard(desk), WordsAround.of(desk), first_name(readers[0]) if len(readers) == 1 else "")


def tubs_shown(now: YardNow) -> list[Tub]:
    """Return the tubs and the dashed box of what is held."""
    say = now.around.say
    tubs = [
        Tub(tub, say(N_("Tub {tub}"), tub=tub), tuple(_slip(slip, now) for slip in slips))
        for tub, slips in now.yard.tubs
    ]
    if now.yard.held or len(tubs) % 3:
        name = say(N_("Held for {name}"), name=now.ceramicist) if now.ceramicist else say(N_("Held back"))
        slips = tuple(TubSlip(slip.code, slip.number, _why(slip.held_for, now)) for slip in now.yard.held)
        tubs.append(Tub(HELD, name, slips, held=True))
    return tubs


def _slip(slip: SlipInTub, now: YardNow) -> TubSlip:
    late = slip.state == SoakState.TOO_LONG
    aside = now.around.say(N_("{n} h !") if late else N_("{n} h"), n=int(slip.hours))
    if slip.parts > 1 and not late:
        aside = now.around.say(N_("{part} of {parts}"), part=slip.part, parts=slip.parts)
    return TubSlip(slip.code, slip.number, aside, late)


def _why(held_for: str, now: YardNow) -> str:
    return now.around.say(_WHY_ON_A_SLIP[Hold(held_for)]) if held_for in set(Hold) else ""


def trays_shown(now: YardNow) -> list[Tray]:
    """Return the trays: drying, dry, free, the next free one thick."""
    return [
        Tray(card.tray, card.tray, _state(card.standing, card.tray == now.yard.next_tray), _holds(place, now))
        for place, card in enumerate(now.yard.trays)
    ]


def _state(standing: Standing | None, is_next: bool) -> TrayState:
    if standing is None:
        return TrayState.NEXT if is_next else TrayState.FREE
    return TrayState.DRYING if standing is Standing.DRYING else TrayState.DRY


def _holds(place: int, now: YardNow) -> str:
    card, around = now.yard.trays[place], now.around
    if not card.number:
        return ""
    held = around.say(N_("{container} {number}"), number=card.number)
    if card.standing is not Standing.DRYING or card.dry_from is None:
        return held
    if card.dry_from <= around.now:
        return around.say(N_("{held}, should be dry"), held=held)
    when = _time_or_day(card.dry_from, now)
    return around.say(N_("{held}, dry from about {when}"), held=held, when=when)


def in_tray(now: YardNow, tray: str) -> str:
    """Return the code of what lies in a tray, or nothing."""
    return next((card.code for card in now.yard.trays if card.tray == tray), "")


def drying(now: YardNow) -> tuple[tuple[str, str, bool], ...]:
    """Return (code, words, due) of each container that dries in a tray, each once, those due first."""
    found: dict[str, tuple[str, str, bool]] = {}
    for card in now.yard.trays:
        if card.standing is Standing.DRYING and card.code not in found:
            due = card.dry_from is not None and card.dry_from <= now.around.now
            words = _drying_words(card.tray, card.number, None if due else card.dry_from, now)
            found[card.code] = (card.code, words, due)
    return tuple(sorted(found.values(), key=lambda one: not one[2]))


def _drying_words(tray: str, number: str, dry_from: datetime | None, now: YardNow) -> str:
    if dry_from is None:
        return now.around.say(N_("tray {tray}: {number}, due"), tray=tray, number=number)
    when = _time_or_day(dry_from, now)
    return now.around.say(N_("tray {tray}: {number}, from {when}"), tray=tray, number=number, when=when)


def _time_or_day(moment: datetime, now: YardNow) -> str:
    """Return the time, with the day where it is another one."""
    zone = now.around.zone
    same_day = moment.astimezone(zone).date() == now.around.today()
    return times.clock_time(moment, zone) if same_day else times.day_and_time(moment, zone)


def due(now: YardNow) -> tuple[str, ...]:
    """Return the codes of all that have dried for their hours."""
    return tuple(code for code, _words, is_due in drying(now) if is_due)


def going_on(now: YardNow, open_tub: str) -> str:
    """Return the line beside the title: the tub being filled, or who is next from the tubs."""
    say = now.around.say
    if open_tub:
        return say(N_("filling tub {tub}: scan what goes in"), tub=open_tub)
    if now.yard.next_from_tubs:
        return say(N_("next from the tubs: {numbers}"), numbers=", ".join(now.yard.next_from_tubs[:_MOST_NEXT]))
    return say(N_("nothing has soaked long enough yet")) if _soaking(now) else say(N_("the tubs are empty"))


def _soaking(now: YardNow) -> bool:
    return any(slips for _tub, slips in now.yard.tubs)


def waiting_line(now: YardNow) -> str:
    """Return which containers wait for their look or their tub, or nothing."""
    numbers = [slip.number for slip in now.yard.waiting if route_of(slip.material).soak]
    if not numbers:
        return ""
    named = ", ".join(numbers[:_MOST_NAMED])
    more = len(numbers) - _MOST_NAMED
    if more > 0:
        return now.around.say(N_("Not in a tub yet: {numbers} and {n} more"), numbers=named, n=more)
    return now.around.say(N_("Not in a tub yet: {numbers}"), numbers=named)


def figures(now: YardNow) -> list[Figure]:
    """Return the line below: counted since, pieces, and how far washing is behind the trench."""
    say, shown = now.around.say, now.yard
    if shown.first_count_at is None:
        counted = [Figure(say(N_("Nothing")), say(N_("counted today yet")))]
    else:
        since = times.clock_time(shown.first_count_at, now.around.zone)
        counted = [
            Figure(grouped(shown.counted_today), say(N_("counted since {time}"), time=since)),
            Figure(*_pieces(now)),
        ]
    behind = shown.days_behind
    if behind is None and not _soaking(now):
        return [*counted, Figure(say(N_("Nothing")), say(N_("waits for water or its count")))]
    # What was forgotten in a tub is told by name and keeps nobody behind.
    if not behind:
        return [*counted, Figure(say(N_("level")), say(N_("with the trench")), say(N_("Washing is")))]
    days = how_many(N_("{n} day"), N_("{n} days"), behind)
    return [*counted, Figure(days, say(N_("behind the trench")), say(N_("Washing is")))]


def _pieces(now: YardNow) -> tuple[str, str]:
    """Return the pieces of today, in the material's own word where there was one material."""
    n, materials = now.yard.pieces_today, now.yard.materials_today
    if len(materials) == 1:
        route = route_of(materials[0])
        number, _space, word = how_many(route.pieces_one, route.pieces_many, n).partition(" ")
        return number, word
    number, _space, word = how_many(N_("{n} piece"), N_("{n} pieces"), n).partition(" ")
    return number, word
