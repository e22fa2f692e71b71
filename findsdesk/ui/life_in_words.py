"""A container's life as the lines of the dossier: what was done, what to do now, what lies ahead."""

from __future__ import annotations

from datetime import date, datetime

from findsdesk.desk import dossiers
from findsdesk.desk.life_words import came_off_a_list
from findsdesk.domain.moments import soaked_hours
from findsdesk.domain.routes import Hold, StepKind
from findsdesk.domain.standings import HOLD_IN_WORDS
from findsdesk.ui import moments_in_words as times
from findsdesk.ui.next_step import next_step
from findsdesk.ui.widgets.dossier_facts import LifeStep, When
from findsdesk.ui.words_around import WordsAround, first_name, pieces_in_words
from findsdesk.words import N_, plural

HEADS: dict[StepKind, str] = {
    StepKind.ISSUED: N_("Tag issued"),
    StepKind.LISTED: N_("On the field list"),
    StepKind.ARRIVED: N_("Checked in"),
    StepKind.MISSING: N_("Reported missing"),
    StepKind.LOOKED_AT: N_("Dipped and looked at"),
    StepKind.HELD: N_("Held back"),
    StepKind.RELEASED: N_("Released"),
    StepKind.SOAKING: N_("Soaking"),
    StepKind.WASHED: N_("Washed"),
    StepKind.DRY_BRUSHED: N_("Brushed dry"),
    StepKind.LEFT_UNWASHED: N_("Left unwashed"),
    StepKind.COUNTED: N_("Counted"),
    StepKind.DRY: N_("Dry"),
    StepKind.SORTING: N_("Sorting begun"),
    StepKind.SETTLED: N_("Settled"),
    StepKind.REOPENED: N_("Reopened"),
    StepKind.BAGGED: N_("Bagged"),
    StepKind.HANDED_ON: N_("Handed on"),
    StepKind.CAME_BACK: N_("Came back"),
    StepKind.CLOSED: N_("Closed as a sample"),
    StepKind.TAKEN_BACK: N_("Taken back a step"),
    StepKind.SPLIT: N_("Split"),
    StepKind.JOINED: N_("Put together with another"),
    StepKind.VOIDED: N_("Tag voided"),
    StepKind.UNUSED: N_("Tag back unused"),
    StepKind.SWAPPED: N_("Tags swapped back"),
    StepKind.ATTRIBUTED: N_("Attributed"),
    StepKind.CORRECTED: N_("Corrected"),
}
AHEAD: dict[StepKind, str] = {
    StepKind.ARRIVED: N_("Check-in"),
    StepKind.LOOKED_AT: N_("Dip and look"),
    StepKind.SOAKING: N_("Soaking"),
    StepKind.COUNTED: N_("Washed and counted"),
    StepKind.DRY: N_("Drying"),
    StepKind.SORTING: N_("Sorting"),
    StepKind.SETTLED: N_("Settled"),
    StepKind.BAGGED: N_("Marked and bagged"),
    StepKind.HANDED_ON: N_("To trained hands"),
    StepKind.CAME_BACK: N_("Back from them"),
    StepKind.CLOSED: N_("Closed as a sample"),
}
_OUT_OF_THE_TUB = (
    StepKind.COUNTED,
    StepKind.WASHED,
    StepKind.LEFT_UNWASHED,
    StepKind.DRY_BRUSHED,
    StepKind.TAKEN_BACK,
    StepKind.SOAKING,
)
_WITHOUT_NAME = frozenset({StepKind.ISSUED, StepKind.SOAKING})
"""Steps whose line is long enough without who wrote it."""


def life_steps(dossier: dossiers.Dossier, around: WordsAround) -> tuple[LifeStep, ...]:
    """Return the life line: the steps behind, the clay dot with what to do now, and the steps ahead."""
    behind = []
    day: date | None = None
    for place, step in enumerate(dossier.life):
        behind.append(_behind(dossier, place, day, around))
        day = step.happened_at.astimezone(around.zone).date()
    if not dossier.ahead:
        return (*behind[:-1], *(LifeStep(last.head, last.rest, When.NOW) for last in behind[-1:]))
    now = LifeStep(around.say(N_("In hand:")), f" {next_step(dossier, around)}", When.NOW)
    ahead = (LifeStep(around.say(AHEAD.get(kind, HEADS[kind])), "", When.AHEAD) for kind in dossier.ahead[1:])
    return (*behind, now, *ahead)


def _behind(dossier: dossiers.Dossier, place: int, day_before: date | None, around: WordsAround) -> LifeStep:
    step = dossier.life[place]
    say = around.say
    soaking = step.kind is StepKind.SOAKING
    when = _soak(dossier, place, day_before, around) if soaking else _when(step.happened_at, day_before, around)
    who = say(N_("by {who}"), who=first_name(step.who)) if step.who and step.kind not in _WITHOUT_NAME else ""
    where = say(N_("tub {tub}"), tub=step.place) if soaking and step.place else step.place
    parts = (
        f"{when} {who}".strip(),
        where,
        _soak_length(dossier, place) if soaking else "",
        _pieces(dossier, step),
        "" if _came_without_tag(dossier, place) else _note(step, around),
        say(N_("entered later")) if step.entered_later else "",
    )
    head = N_("Taken out") if step.kind is StepKind.SPLIT and step.pieces is not None else HEADS[step.kind]
    head = N_("Back from a discard list") if came_off_a_list(dossier.life, place) else head
    head = N_("Provisional number given") if _came_without_tag(dossier, place) else head
    return LifeStep(say(head), f" {', '.join(part for part in parts if part)}")


def _pieces(dossier: dossiers.Dossier, step: dossiers.LifeStep) -> str:
    """Return how many pieces a step is about; what was taken out may be of any kind, a coin or a nail."""
    if step.pieces is None:
        return ""
    if step.kind is StepKind.SPLIT:
        return plural("{n} piece", "{n} pieces", step.pieces)
    return pieces_in_words(dossier.route, step.pieces)


def _came_without_tag(dossier: dossiers.Dossier, place: int) -> bool:
    """Tell whether this is the first step of a find without a tag: it was issued and arrived in one act."""
    if dossier.life[place].kind is not StepKind.ISSUED:
        return False
    after = dossier.life[place + 1 : place + 2]
    return any(
        step.kind is StepKind.ARRIVED and step.happened_at == dossier.life[place].happened_at for step in after
    ) and (dossier.provisional or any(step.kind is StepKind.ATTRIBUTED for step in dossier.life))


def _when(moment: datetime, day_before: date | None, around: WordsAround) -> str:
    """Return the time, with the day where it is another day than the step before."""
    same_day = moment.astimezone(around.zone).date() == day_before
    return times.clock_time(moment, around.zone) if same_day else times.day_and_time(moment, around.zone)


def _end_of_soak(dossier: dossiers.Dossier, place: int) -> datetime | None:
    return next((step.happened_at for step in dossier.life[place + 1 :] if step.kind in _OUT_OF_THE_TUB), None)


def _soak(dossier: dossiers.Dossier, place: int, day_before: date | None, around: WordsAround) -> str:
    start, end = dossier.life[place].happened_at, _end_of_soak(dossier, place)
    began = _when(start, day_before, around)
    if end is None:
        return around.say(N_("since {time}"), time=began)
    ended = _when(end, start.astimezone(around.zone).date(), around)
    return around.say(N_("{start} to {end}"), start=began, end=ended)


def _soak_length(dossier: dossiers.Dossier, place: int) -> str:
    start, end = dossier.life[place].happened_at, _end_of_soak(dossier, place)
    return times.hours(soaked_hours(start, end)) if end is not None else ""


def _note(step: dossiers.LifeStep, around: WordsAround) -> str:
    if step.kind is StepKind.LOOKED_AT and not step.note:
        return around.say(N_("nothing seen"))
    if step.kind is StepKind.ISSUED and step.note:
        return around.say(N_("block of {who}"), who=first_name(step.note))
    if step.kind is StepKind.SPLIT and step.pieces is None and step.note.isdecimal():
        return plural("stands in {n} part", "stands in {n} parts", int(step.note))
    if step.kind is StepKind.LISTED:
        return ""
    if step.note in set(Hold):
        return around.say(HOLD_IN_WORDS[Hold(step.note)])
    return step.note
