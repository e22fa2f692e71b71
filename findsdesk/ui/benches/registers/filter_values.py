"""The values a filter offers, read from the desk: (value for the desk, words); runs on the reading lane."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from findsdesk.desk.box_kinds import box_rules
from findsdesk.desk.deed_words import DEED_IN_WORDS
from findsdesk.desk.desk import Desk
from findsdesk.desk.setting_up import people, periods, seasons
from findsdesk.desk.shipped import routes
from findsdesk.desk.squares import squares
from findsdesk.desk.stations import stations
from findsdesk.domain.bags import BAG_IN_WORDS
from findsdesk.domain.deposits import KINDS, SECURITY_IN_WORDS, Security
from findsdesk.domain.lending import BORROWER_IN_WORDS
from findsdesk.domain.marking import TICK_IN_WORDS
from findsdesk.domain.shelving import PLACE_IN_WORDS
from findsdesk.domain.standings import STANDING_IN_WORDS
from findsdesk.ui.benches.registers.list_kinds import Asked, ListKind
from findsdesk.ui.next_step import HOLD_IN_WORDS
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_

Values = tuple[tuple[str, str], ...]


def filter_values(desk: Desk, kind: ListKind) -> Mapping[str, Values]:
    """Return the values of each filter of a list that is given by choosing."""
    around = WordsAround.of(desk)
    return {
        one.name: _of_standing(kind, around) if one.name == "standing" else _READ[one.name](desk, around)
        for one in kind.filters
        if one.asked is Asked.CHOICE
    }


def _of_standing(kind: ListKind, around: WordsAround) -> Values:
    """Return the standings a container can be in on this list."""
    only = {value for name, value in kind.fixed if name == "standing"}
    return tuple((one.value, around.say(said)) for one, said in STANDING_IN_WORDS.items() if not only or one in only)


def _in_words(pairs: Mapping[str, str], around: WordsAround) -> Values:
    return tuple((value, around.say(words)) for value, words in pairs.items())


def _themselves(names: tuple[str, ...]) -> Values:
    return tuple((name, name) for name in names)


def _people(desk: Desk, _around: WordsAround) -> Values:
    return _themselves(tuple(person.name for person in people(desk)))


def _what(_desk: Desk, around: WordsAround) -> Values:
    return tuple((value, around.say(words or N_("everything"))) for value, words in BAG_IN_WORDS.items())


def _security(_desk: Desk, around: WordsAround) -> Values:
    return tuple(
        (one.value, around.say(words)) for one, words in SECURITY_IN_WORDS.items() if one is not Security.NOT_SAID
    )


_STATES = {"open": N_("open"), "closed": N_("closed"), "merged": N_("merged into another")}
_LOOK_AGAIN = {"yes": N_("waits for another look"), "no": N_("nothing waits")}
_DISCARD_STAGES = {
    "proposed": N_("proposed"),
    "signed": N_("signed, not carried away"),
    "carried": N_("carried away"),
    "called back": N_("called back"),
}
_LABELLED = {"no": N_("no label yet"), "yes": N_("labelled")}

_WANTS = {"drawing": N_("drawing wanted"), "photo": N_("photograph wanted")}
_KNOWN = {"no": N_("not yet known to the director"), "yes": N_("known to the director")}
_MENDING = {"yes": N_("to be mended"), "no": N_("not to be mended")}
_ACROSS = {"yes": N_("over two {deposits}"), "no": N_("within one {deposit}")}
_CERTAIN = {"yes": N_("certain"), "no": N_("not certain")}
_AWAY = {"yes": N_("at the laboratory"), "no": N_("not sent, or back")}
_OUT = {"yes": N_("taken out or lent"), "no": N_("where it belongs")}
_IN_USE = {"yes": N_("in use"), "no": N_("given up")}
_LOANS = {"out": N_("still out"), "overdue": N_("overdue"), "back": N_("back")}
_PICTURED = {
    "piece": N_("pieces"),
    "object": N_("objects"),
    "container": N_("{containers}"),
    "deposit": N_("{deposits}"),
    "vessel": N_("vessels"),
    "ware": N_("wares"),
    "form": N_("forms"),
    "discard_list": N_("discards"),
}

_READ: Mapping[str, Callable[[Desk, WordsAround], Values]] = {
    "square": lambda desk, _around: _themselves(squares(desk)),
    "season": lambda desk, _around: _themselves(tuple(season.name for season in seasons(desk))),
    "supervisor": _people,
    "person": _people,
    "station": lambda desk, _around: _themselves(stations(desk)),
    "material": lambda _desk, around: tuple((key, around.say(route.name)) for key, route in routes().items()),
    "held": lambda _desk, around: (
        ("yes", around.say(N_("for any reason"))),
        *_in_words({hold.value: words for hold, words in HOLD_IN_WORDS.items()}, around),
    ),
    "state": lambda _desk, around: _in_words(_STATES, around),
    "kind": lambda _desk, around: tuple((kind, around.say(kind)) for kind in KINDS),
    "security": _security,
    "look_again": lambda _desk, around: _in_words(_LOOK_AGAIN, around),
    "period": lambda desk, _around: tuple((period.code, period.name) for period in periods(desk)),
    "stage": lambda _desk, around: _in_words(_DISCARD_STAGES, around),
    "wants": lambda _desk, around: _in_words(_WANTS, around),
    "part": lambda _desk, around: tuple(
        (term.key, around.listed("parts", term.key)) for term in around.lists["parts"].every
    ),
    "known": lambda _desk, around: _in_words(_KNOWN, around),
    "mending": lambda _desk, around: _in_words(_MENDING, around),
    "across": lambda _desk, around: _in_words(_ACROSS, around),
    "certain": lambda _desk, around: _in_words(_CERTAIN, around),
    "away": lambda _desk, around: _in_words(_AWAY, around),
    "for": lambda _desk, around: tuple(
        (term.key, around.listed("sample_purposes", term.key)) for term in around.lists["sample_purposes"].every
    ),
    "of": lambda _desk, around: _in_words(_PICTURED, around),
    "labelled": lambda _desk, around: _in_words(_LABELLED, around),
    "tick": lambda _desk, around: _in_words({one.value: said for one, said in TICK_IN_WORDS.items()}, around),
    "what": _what,
    "box_kind": lambda _desk, around: tuple((key, around.say(rule.name)) for key, rule in box_rules().items()),
    "out": lambda _desk, around: _in_words(_OUT, around),
    "in_use": lambda _desk, around: _in_words(_IN_USE, around),
    "place_kind": lambda _desk, around: _in_words(PLACE_IN_WORDS, around),
    "loan": lambda _desk, around: _in_words(_LOANS, around),
    "borrower_kind": lambda _desk, around: _in_words(BORROWER_IN_WORDS, around),
    "deed": lambda _desk, around: tuple(sorted(_in_words(DEED_IN_WORDS, around), key=lambda pair: pair[1].casefold())),
}
