"""The rarer acts behind "More": which may be done now, what each asks for, and the act its answers make."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import Enum

from findsdesk.desk.dossiers import Dossier
from findsdesk.desk.shipped import routes, vocabulary
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import STANDING_IN_WORDS, Hold, Standing, StepKind, allowed, may_go_back
from findsdesk.domain.standings import IN_ORDER
from findsdesk.ui.benches.wash import acts
from findsdesk.ui.benches.wash.acts import Act
from findsdesk.ui.benches.wash.state import Asked, WashState
from findsdesk.words import N_

Choices = tuple[tuple[str, str], ...]
"""(value, marked words) of each."""
Answers = Mapping[str, object]


class Kind(Enum):
    """How a question is answered."""

    NUMBER = "number"
    TEXT = "text"
    CHOICE = "choice"
    TAG = "tag"
    """Another tag, scanned or typed."""
    SEVERAL = "several"
    """Any of the choices, ticked."""


@dataclass(frozen=True, slots=True)
class Question:
    """One thing an act asks for: ``label`` is marked; a choice may be written in as well where ``free``."""

    key: str
    label: str
    kind: Kind
    choices: Choices = ()
    free: bool = False


@dataclass(frozen=True, slots=True)
class QuietAct:
    """One entry behind "More". Without ``make`` the page does it itself, at once."""

    key: str
    title: str
    may: Callable[[WashState], bool]
    questions: Callable[[WashState], tuple[Question, ...]] = lambda _state: ()
    make: Callable[[WashState, Answers], Act] | None = None
    button: str = N_("Write it")


def can(state: WashState, step: StepKind) -> bool:
    """Return whether the route lets what is in hand take a step now."""
    dossier = state.in_hand
    if dossier is None:
        return False
    try:
        allowed(
            dossier.route,
            dossier.standing,
            dossier.held_for,
            step,
            count_at_wash=state.settings.count_at_wash,
            looked_at=True,
        )
    except Refusal:
        return False
    return True


def _code(state: WashState) -> str:
    dossier = state.in_hand
    if dossier is None:
        raise Refusal("nothing_in_hand", N_("Nothing is in hand. Scan a tag first."))
    return dossier.code


def _text(answers: Answers, key: str) -> str:
    return str(answers.get(key) or "").strip()


def _number(answers: Answers, key: str) -> int:
    value = answers.get(key)
    if not isinstance(value, int):
        raise Refusal("number_needed", N_("Write a number first."))
    return value


def _reason(answers: Answers) -> str:
    reason = _text(answers, "reason")
    if not reason:
        raise Refusal("reason_needed", N_("Write the reason first."))
    return reason


def _other(answers: Answers) -> str:
    other = _text(answers, "other")
    if not other:
        raise Refusal("other_needed", N_("Scan the other tag first."))
    return other


_OTHER_TAG = Question("other", N_("Other tag: scan it, or type its number"), Kind.TAG)
_NOTE = Question("note", N_("Note"), Kind.TEXT)
_WHY = Question("reason", N_("Why"), Kind.TEXT)


def _hold_choices(_state: WashState) -> tuple[Question, ...]:
    choices = tuple((term.key, term.name) for term in vocabulary("hold_reasons"))
    return (Question("what", N_("What shows"), Kind.CHOICE, choices), _NOTE)


def _materials(state: WashState) -> tuple[Question, ...]:
    own = state.in_hand.material if state.in_hand else ""
    choices = tuple((key, route.name) for key, route in routes().items() if key != own)
    bone_first = sorted(choices, key=lambda choice: choice[0] != "bone")
    return (
        Question("pieces", N_("Count"), Kind.NUMBER),
        Question("material", N_("Material"), Kind.CHOICE, tuple(bone_first)),
        _NOTE,
    )


def standings_before(state: WashState) -> Choices:
    """Return the standings it may be taken back to, the nearest first."""
    dossier = state.in_hand
    if dossier is None:
        return ()
    found = []
    for standing in reversed(IN_ORDER[IN_ORDER.index(Standing.ARRIVED) :]):
        try:
            may_go_back(dossier.route, dossier.standing, standing)
        except Refusal:
            continue
        found.append((standing.value, STANDING_IN_WORDS[standing]))
    return tuple(found)


def _back(state: WashState) -> tuple[Question, ...]:
    known = state.lists["step_back_reasons"].in_use
    reasons = tuple((term.name, term.name) for term in known if term.key != "other")
    return (
        Question("to", N_("Back to"), Kind.CHOICE, standings_before(state)),
        Question("reason", N_("Why"), Kind.CHOICE, reasons, free=True),
    )


def _hand_on(_state: WashState) -> tuple[Question, ...]:
    return (Question("to", N_("To whom"), Kind.TEXT), _NOTE)


def _make_hand_on(state: WashState, answers: Answers) -> Act:
    to = _text(answers, "to")
    if not to:
        raise Refusal("whom_needed", N_("Write to whom it goes."))
    return acts.HandOn(_code(state), to, _text(answers, "note"))


def _is_lying(dossier: Dossier | None) -> bool:
    """Return whether its finds are here and not at the sorting table yet."""
    return dossier is not None and dossier.standing in (
        Standing.ARRIVED, Standing.SOAKING, Standing.WASHED, Standing.DRYING, Standing.DRY,
    )  # fmt: skip


QUIET_ACTS: tuple[QuietAct, ...] = (
    QuietAct(
        "again",
        N_("Count again"),
        lambda state: state.in_hand is not None and state.in_hand.counted is not None and can(state, StepKind.COUNTED),
    ),
    QuietAct(
        "straight",
        N_("Count without a soak"),
        lambda state: state.asked() in (Asked.LOOK, Asked.TUB) and can(state, StepKind.WASHED),
    ),
    QuietAct(
        "unwashed",
        N_("Left unwashed"),
        lambda state: can(state, StepKind.LEFT_UNWASHED),
        make=lambda state, _answers: state.treat(StepKind.LEFT_UNWASHED),
    ),
    QuietAct(
        "brushed",
        N_("Brushed dry"),
        lambda state: can(state, StepKind.DRY_BRUSHED),
        make=lambda state, _answers: state.treat(StepKind.DRY_BRUSHED),
    ),
    QuietAct(
        "washed",
        N_("Washed, count it later"),
        lambda state: state.settings.count_at_wash and can(state, StepKind.WASHED),
        make=lambda state, _answers: state.treat(StepKind.WASHED),
    ),
    QuietAct(
        "parts",
        N_("Stands in parts …"),
        lambda state: _is_lying(state.in_hand) and can(state, StepKind.SPLIT),
        lambda _state: (Question("parts", N_("Parts, 1 to 9"), Kind.NUMBER),),
        lambda state, answers: acts.InParts(_code(state), _number(answers, "parts")),
    ),
    QuietAct(
        "hold",
        N_("Hold back for the ceramicist …"),
        lambda state: can(state, StepKind.HELD) and state.in_hand is not None and state.in_hand.held_for is None,
        _hold_choices,
        lambda state, answers: acts.HoldBack(_code(state), Hold(_text(answers, "what")), _text(answers, "note")),
    ),
    QuietAct(
        "release",
        N_("Release what is held back …"),
        lambda state: state.in_hand is not None and state.in_hand.held_for is not None,
        lambda _state: (_WHY,),
        lambda state, answers: acts.Release(_code(state), _reason(answers)),
        N_("Release it"),
    ),
    QuietAct(
        "take_out",
        N_("Take out pieces of another material …"),
        lambda state: _is_lying(state.in_hand) and can(state, StepKind.SPLIT),
        _materials,
        lambda state, answers: acts.TakeOut(
            _code(state), _number(answers, "pieces"), _text(answers, "material"), _text(answers, "note")
        ),
        N_("Take them out"),
    ),
    QuietAct(
        "swap",
        N_("Two tags were swapped …"),
        lambda state: _is_lying(state.in_hand),
        lambda _state: (_OTHER_TAG, _WHY),
        lambda state, answers: acts.SwapTags(_code(state), _other(answers), _reason(answers)),
        N_("Put both right"),
    ),
    QuietAct(
        "together",
        N_("Empty it into another {container} …"),
        lambda state: _is_lying(state.in_hand) and can(state, StepKind.JOINED),
        lambda _state: (_OTHER_TAG, _WHY),
        lambda state, answers: acts.PutTogether(_code(state), _other(answers), _reason(answers)),
        N_("Put them together"),
    ),
    QuietAct(
        "back",
        N_("Back a step …"),
        lambda state: can(state, StepKind.TAKEN_BACK) and bool(standings_before(state)),
        _back,
        lambda state, answers: acts.StepBack(_code(state), Standing(_text(answers, "to")), _reason(answers)),
        N_("Take it back"),
    ),
    QuietAct("hand_on", N_("Hand it on …"), lambda state: can(state, StepKind.HANDED_ON), _hand_on, _make_hand_on),
    QuietAct(
        "come_back",
        N_("It came back …"),
        lambda state: can(state, StepKind.CAME_BACK),
        lambda _state: (_NOTE,),
        lambda state, answers: acts.ComeBack(_code(state), _text(answers, "note")),
    ),
    QuietAct("grams", N_("Grams with the count, or without"), lambda state: state.settings.count_at_wash),
    QuietAct("paper", N_("Enter from paper what happened earlier"), lambda _state: True),
    QuietAct("wash_tags", N_("Wash tags to print, at Marks & labels"), lambda state: state.settings.count_at_wash),
    QuietAct("card", N_("Command card to print …"), lambda _state: True),
)


def several_dry(choices: Choices) -> QuietAct:
    """Return the act that says several are dry at once; ``choices`` are (code, words) of what lies in trays."""
    return QuietAct(
        "dry",
        N_("Which are dry?"),
        lambda _state: bool(choices),
        lambda _state: (Question("codes", N_("Dry now"), Kind.SEVERAL, choices),),
        _make_dry,
        N_("These are dry"),
    )


def _make_dry(_state: WashState, answers: Answers) -> Act:
    chosen = answers.get("codes")
    if not isinstance(chosen, tuple) or not chosen:
        raise Refusal("none_chosen", N_("Nothing is ticked. Tick what is dry."))
    return acts.Dry(tuple(str(code) for code in chosen))


def possible(state: WashState) -> tuple[QuietAct, ...]:
    """Return what may be done now, in the order it is offered."""
    return tuple(act for act in QUIET_ACTS if act.may(state))
