"""What the big tag says: the number to be counted, the look, the tub, what was just written."""

from __future__ import annotations

from dataclasses import replace

from findsdesk.desk.dossiers import Dossier
from findsdesk.domain.cautions import At
from findsdesk.domain.moments import dry_from
from findsdesk.domain.routes import Hold, Standing, StepKind
from findsdesk.domain.standings import HOLD_IN_WORDS
from findsdesk.ui.benches.wash.acts import TREATED
from findsdesk.ui.benches.wash.drying_words import where_it_dries
from findsdesk.ui.benches.wash.quiet_acts import can
from findsdesk.ui.benches.wash.state import SEEN, Asked, LeftOver, WashState
from findsdesk.ui.benches.wash.step_tag import StepFacts
from findsdesk.ui.next_step import next_step
from findsdesk.ui.widgets.count_tag import CountFacts
from findsdesk.ui.widgets.dossier_facts import Caution
from findsdesk.ui.words_around import WordsAround, cautions_of
from findsdesk.words import N_, grouped, how_many, put

SEEN_IN_WORDS: dict[Hold | None, str] = {
    None: N_("Nothing seen"),
    Hold.PAINTED: N_("Painted"),
    Hold.INSCRIBED: N_("Ink, writing"),
    Hold.FLAKING: N_("Flaking"),
    Hold.RESIDUE: N_("Soot, residue"),
    Hold.OTHER: N_("Other"),
}
_MORE = ("more", N_("More"))


def name_of(dossier: Dossier, around: WordsAround) -> str:
    """Return "Bucket 131"."""
    return around.say(N_("{Container} {number}"), number=dossier.number)


def _aside(dossier: Dossier, around: WordsAround) -> str:
    return around.say(N_("{deposit} {number}"), number=dossier.deposit) if dossier.deposit else ""


def _said(others: list[tuple[str, str]], around: WordsAround) -> tuple[tuple[str, str], ...]:
    return tuple((key, around.say(words)) for key, words in others)


def piece_word(dossier: Dossier) -> str:
    """Return what its pieces are called: "sherds"."""
    return how_many(dossier.route.pieces_one, dossier.route.pieces_many, 0).partition(" ")[2]


def count_facts(state: WashState, dossier: Dossier, around: WordsAround) -> CountFacts:
    """Return the tag of a count."""
    others = []
    again = state.asked() is Asked.COUNT_AGAIN
    if state.again:
        others.append(("keep", N_("Leave the first")))
    elif can(state, StepKind.LEFT_UNWASHED):
        others.append(("unwashed", N_("Left unwashed")))
    unit = piece_word(dossier)
    if again and dossier.counted is not None:
        unit = around.say(N_("{unit}, before: {n}"), unit=unit, n=grouped(dossier.counted.pieces))
    return CountFacts(name_of(dossier, around), _aside(dossier, around), unit, _said([*others, _MORE], around))


def step_facts(state: WashState, around: WordsAround, folded: bool = False) -> StepFacts:
    """Return the tag where no count is asked; where the dossier is ``folded``, the caution stands here."""
    dossier, asked = state.in_hand, state.asked()
    if asked is Asked.OPEN_TUB:
        return _open_tub(state, around)
    if dossier is None:
        return StepFacts(
            around.say(N_("Nothing in hand")),
            lead=around.say(N_("Scan a tag, or type its number and Enter.")),
            text=around.say(N_("To fill a tub, scan its card or press T and its number, then scan what goes in.")),
            number_words=around.say(N_("Find {container} {number}"), number="{number}"),
            others=_said([_MORE], around),
        )
    make = {
        Asked.LOOK: _look,
        Asked.TUB: _tub,
        Asked.JUST_SOAKED: _just_soaked,
        Asked.FILLING: _filling,
        Asked.TREATMENT: _treatment,
        Asked.HELD: _held,
        Asked.DRY: _dry,
    }.get(asked, _nothing)
    facts = make(state, dossier, around)
    if state.open_tub:
        facts = replace(facts, number_words=around.say(N_("Find {container} {number}"), number="{number}"))
    if folded and asked is Asked.LOOK and (cautions := cautions_of(dossier.route, At.LOOK, around)):
        return replace(facts, caution=cautions[0], lead=around.say(N_("What do you see?")))
    return facts


def _open_tub(state: WashState, around: WordsAround) -> StepFacts:
    tubs = tuple(around.say(N_("Tub {tub}"), tub=tub) for tub in range(1, state.settings.tubs + 1))
    return StepFacts(
        around.say(N_("Which tub?")),
        lead=around.say(N_("What is scanned then goes into it.")),
        choices=tubs,
        numbered=False,
        choose_at_once=len(tubs) <= 9,
        others=_said([("keep", N_("None")), _MORE], around),
    )


def _look(state: WashState, dossier: Dossier, around: WordsAround) -> StepFacts:
    then = around.say(N_("Nothing seen: into tub {tub}"), tub=state.open_tub) if state.open_tub else ""
    return StepFacts(
        name_of(dossier, around),
        _aside(dossier, around),
        lead=around.say(N_("Dip one, look, rub with a wet finger. What do you see?")),
        text=then or around.say(N_("Its number and Enter.")),
        choices=tuple(around.say(SEEN_IN_WORDS[seen]) for seen in SEEN),
        first_act=then,
        others=_said([_MORE], around),
    )


def _tub(state: WashState, dossier: Dossier, around: WordsAround) -> StepFacts:
    part = state.soak("").part
    lead = around.say(N_("Into which tub?"))
    if part is not None:
        lead = around.say(N_("Part {part} of {parts}: into which tub?"), part=part, parts=len(dossier.stands_at))
    return StepFacts(
        name_of(dossier, around),
        _aside(dossier, around),
        lead=lead,
        text=around.say(N_("Press the tub, scan its card, or type its number and Enter.")),
        choices=tuple(around.say(N_("Tub {tub}"), tub=tub) for tub in range(1, state.settings.tubs + 1)),
        numbered=False,
        others=_said([_MORE], around),
    )


def _just_soaked(state: WashState, dossier: Dossier, around: WordsAround) -> StepFacts:
    tubs = [part.place for part in dossier.stands_at if part.kind == "tub"]
    return StepFacts(
        name_of(dossier, around),
        _aside(dossier, around),
        large=", ".join(dict.fromkeys(tubs)),
        unit=around.say(N_("now in tub")),
        text=around.say(N_("Scan the next, or type its number and Enter. Escape ends the filling.")),
        others=_said([_MORE], around),
    )


def _filling(state: WashState, dossier: Dossier, around: WordsAround) -> StepFacts:
    """A tub is filled while something that could be counted is in hand: a number is the next container."""
    lead = around.say(N_("Tub {tub} is being filled: scan what goes in, or type its number."), tub=state.open_tub)
    return StepFacts(
        name_of(dossier, around),
        _aside(dossier, around),
        lead=lead,
        text=around.say(N_("Escape ends the filling; then {container} {number} is counted."), number=dossier.number),
        others=_said([_MORE], around),
    )


def _treatment(state: WashState, dossier: Dossier, around: WordsAround) -> StepFacts:
    how = state.treatment()
    others = [("unwashed", N_("Left unwashed"))] if how is not StepKind.LEFT_UNWASHED else []
    return StepFacts(
        name_of(dossier, around),
        _aside(dossier, around),
        lead=_capital(next_step(dossier, around)),
        act=around.say(N_("Write: {what}"), what=around.say(TREATED[how])),
        enter_acts=True,
        others=_said([*others, _MORE], around),
    )


def _held(state: WashState, dossier: Dossier, around: WordsAround) -> StepFacts:
    why = around.say(HOLD_IN_WORDS[dossier.held_for or Hold.OTHER])
    return StepFacts(
        name_of(dossier, around),
        _aside(dossier, around),
        large="",
        lead=around.say(N_("Held back: {why}"), why=why),
        text=around.say(N_("No water and no brush until the ceramicist releases it.")),
        others=_said([("release", N_("Release …")), _MORE], around),
    )


def _dry(state: WashState, dossier: Dossier, around: WordsAround) -> StepFacts:
    counted = state.done.counted if state.done else None
    stands = dossier.counted
    others = [("again", N_("Count again"))] if stands is not None else []
    since = max((part.since for part in dossier.stands_at), default=around.now)
    due = counted is None and dry_from(since, around.settings.dry_h) <= around.now
    if not due:
        others.insert(0, ("dry", N_("It is dry")))
    number = counted.pieces if counted is not None else stands.pieces if stands is not None else None
    where = [_capital(part) for part in where_it_dries(counted, around)] if counted is not None else [""]
    return StepFacts(
        name_of(dossier, around),
        _aside(dossier, around),
        large=grouped(number) if number is not None else "",
        unit=piece_word(dossier) if number is not None else "",
        title=where[0],
        lead=_capital(next_step(dossier, around)) if counted is None else "; ".join(where[1:]),
        text=_scan_next(around) if counted is not None else "",
        act=around.say(N_("It is dry")) if due else "",
        others=_said([*others, _MORE], around),
    )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _scan_next(around: WordsAround) -> str:
    return around.say(N_("Scan the next tag."))


def _nothing(state: WashState, dossier: Dossier, around: WordsAround) -> StepFacts:
    """Nothing to write here: what the next step is and where; for what never meets water, why."""
    arrived = dossier.standing is Standing.ARRIVED
    others = [("hand_on", N_("Hand it on …"))] if arrived and can(state, StepKind.HANDED_ON) else []
    text = around.say(dossier.route.soak_refusal, number=dossier.number) if arrived else ""
    if arrived and state.open_tub:
        # The refusal itself stands on its own slip, where the tub was tried.
        text = around.say(N_("Not into tub {tub}. Scan the next; Escape ends the filling."), tub=state.open_tub)
    counted = state.done.counted if state.done else None
    return StepFacts(
        name_of(dossier, around),
        _aside(dossier, around),
        large=grouped(counted.pieces) if counted is not None else "",
        unit=piece_word(dossier) if counted is not None else "",
        lead=_capital(next_step(dossier, around)) if not text else "",
        text=text or (_scan_next(around) if state.done else ""),
        others=_said([*others, _MORE], around),
    )


def left_over_in_words(left: LeftOver | None) -> Caution | None:
    """Return the words of a number that was typed and not written, or nothing."""
    if left is None:
        return None
    if not left.number:
        return Caution(put(N_("{digits} not written: what was scanned is not known."), None, {"digits": left.digits}))
    if left.back:
        head = put(N_("{digits} was typed for {number} before."), None, {"digits": left.digits, "number": left.number})
        return Caution(head, put(N_("Enter writes it, a digit begins another number.")))
    head = put(N_("{digits} not written for {number}."), None, {"digits": left.digits, "number": left.number})
    return Caution(head, put(N_("Scan {number} again to write it."), None, {"number": left.number}))
