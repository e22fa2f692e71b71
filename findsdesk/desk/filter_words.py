"""What the filters of registers take and how it is said: key and words of each value, and the filter of a column."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from findsdesk.desk.box_kinds import box_rules
from findsdesk.desk.deed_words import DEED_IN_WORDS
from findsdesk.desk.desk import Desk
from findsdesk.desk.label_contents import ONE_IN_WORDS as PRINTED_IN_WORDS
from findsdesk.desk.register_columns import fields_of, wording
from findsdesk.desk.register_fields import SayListed
from findsdesk.desk.registers import Register
from findsdesk.desk.setting_up import people, periods, seasons
from findsdesk.desk.shipped import routes
from findsdesk.desk.squares import squares
from findsdesk.desk.stations import stations
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.bags import BAG_IN_WORDS
from findsdesk.domain.deposits import KINDS, SECURITY_IN_WORDS, Security
from findsdesk.domain.lending import BORROWER_IN_WORDS
from findsdesk.domain.marking import TICK_IN_WORDS
from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.season_end import STAYS_AS_IN_WORDS, StaysAs
from findsdesk.domain.settings import Role
from findsdesk.domain.shelving import PLACE_IN_WORDS
from findsdesk.domain.standings import HOLD_IN_WORDS, STANDING_IN_WORDS
from findsdesk.words import N_

Values = tuple[tuple[str, str], ...]


def filter_words(desk: Desk, name: str) -> Values:
    """Return key and words of each value of a filter that is chosen; nothing for one that takes what is typed."""
    read = _READ.get(name)
    return read(desk, wording(desk)) if read else ()


def filter_said(desk: Desk, register: Register, name: str, value: str) -> tuple[str, str]:
    """Return a filter and its value by their keys, said as keys or as they are shown: ("Stands", "tag issued").

    Refusal: ``unknown_value``, with those that are known.
    """
    key = _filter_of_column(desk, register, name)
    known = filter_words(desk, key)
    said = folded(value)
    found = next((one for one, words in known if said in (folded(one), folded(words))), None)
    if known and found is None and key not in _NAMED_OTHERWISE:
        raise Refusal(
            "unknown_value",
            N_("{name} is never {said}. It is one of: {known}."),
            name=name,
            said=value,
            known=", ".join(words for _one, words in known),
        )
    return key, value if found is None else found


_NAMED_OTHERWISE = frozenset(
    {"square", "season", "supervisor", "person", "station", "material", "period", "part", "for"}
)
"""Filters that know more names of a thing than the one that is shown, and refuse what they do not know."""
_OF_COLUMNS = {
    (Register.DEPOSITS, "stands"): "state",
    (Register.LOANS, "standing"): "loan",
    (Register.BOXES, "kind"): "box_kind",
    (Register.PLACES, "kind"): "place_kind",
    (Register.PRINTS, "kind"): "print_kind",
    (Register.LOANS, "kind"): "borrower_kind",
}
"""Columns whose filter has another key than they have."""


def _filter_of_column(desk: Desk, register: Register, name: str) -> str:
    say = wording(desk)
    headed = (one.key for one in fields_of(register, for_file=True) if folded(say(one.title)) == folded(name))
    column = next(headed, name)
    return _OF_COLUMNS.get((register, column), column)


def _in_words(pairs: Mapping[str, str], say: SayListed) -> Values:
    return tuple((value, say(words)) for value, words in pairs.items())


def _themselves(names: tuple[str, ...]) -> Values:
    return tuple((name, name) for name in names)


def _people(desk: Desk, _say: SayListed) -> Values:
    return _themselves(tuple(person.name for person in people(desk)))


def _what(_desk: Desk, say: SayListed) -> Values:
    return tuple((value, say(words or N_("everything"))) for value, words in BAG_IN_WORDS.items())


def _security(_desk: Desk, say: SayListed) -> Values:
    return tuple((one.value, say(words)) for one, words in SECURITY_IN_WORDS.items() if one is not Security.NOT_SAID)


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
_ACTIVE = {"yes": N_("works here"), "no": N_("no longer here")}
_TELLING = {"yes": N_("tells the vessel"), "no": N_("does not tell the vessel")}
_AGAINST = {"open": N_("against a rule, no reason yet"), "said": N_("against a rule, with a reason")}
_KNOWN = {"no": N_("not yet known to the director"), "yes": N_("known to the director")}
_MENDING = {"yes": N_("to be mended"), "no": N_("not to be mended")}
_ACROSS = {"yes": N_("over two {deposits}"), "no": N_("within one {deposit}")}
_CERTAIN = {"yes": N_("certain"), "no": N_("not certain")}
_AWAY = {"yes": N_("at the laboratory"), "no": N_("not sent, or back")}
_OUT = {"yes": N_("taken out or lent"), "no": N_("where it belongs")}
_IN_USE = {"yes": N_("in use"), "no": N_("given up")}
_AGAIN = {"yes": N_("copy 2 or more"), "no": N_("first copy")}
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

_STANDINGS = {one.value: words for one, words in STANDING_IN_WORDS.items()}
_STANDINGS |= {one.value: STAYS_AS_IN_WORDS[one] for one in StaysAs}

_READ: Mapping[str, Callable[[Desk, SayListed], Values]] = {
    "standing": lambda _desk, say: _in_words(_STANDINGS, say),
    "square": lambda desk, _say: _themselves(squares(desk)),
    "season": lambda desk, _say: _themselves(tuple(season.name for season in seasons(desk))),
    "supervisor": _people,
    "person": _people,
    "station": lambda desk, _say: _themselves(stations(desk)),
    "material": lambda _desk, say: tuple((key, say(route.name)) for key, route in routes().items()),
    "held": lambda _desk, say: (
        ("yes", say(N_("for any reason"))),
        *_in_words({hold.value: words for hold, words in HOLD_IN_WORDS.items()}, say),
    ),
    "state": lambda _desk, say: _in_words(_STATES, say),
    "kind": lambda _desk, say: tuple((kind, say(kind)) for kind in KINDS),
    "security": _security,
    "look_again": lambda _desk, say: _in_words(_LOOK_AGAIN, say),
    "period": lambda desk, _say: tuple((period.code, period.name) for period in periods(desk)),
    "stage": lambda _desk, say: _in_words(_DISCARD_STAGES, say),
    "wants": lambda _desk, say: _in_words(_WANTS, say),
    "part": lambda desk, say: tuple(
        (term.key, say.listed("parts", term.key)) for term in words_of(desk)["parts"].every
    ),
    "decision": lambda desk, say: tuple(
        (term.key, say.listed("decisions", term.key)) for term in words_of(desk)["decisions"].every
    ),
    "against": lambda _desk, say: _in_words(_AGAINST, say),
    "diagnostic": lambda _desk, say: _in_words(_TELLING, say),
    "role": lambda _desk, say: tuple((role.value, say(role.value)) for role in Role),
    "active": lambda _desk, say: _in_words(_ACTIVE, say),
    "known": lambda _desk, say: _in_words(_KNOWN, say),
    "mending": lambda _desk, say: _in_words(_MENDING, say),
    "across": lambda _desk, say: _in_words(_ACROSS, say),
    "certain": lambda _desk, say: _in_words(_CERTAIN, say),
    "away": lambda _desk, say: _in_words(_AWAY, say),
    "for": lambda desk, say: tuple(
        (term.key, say.listed("sample_purposes", term.key)) for term in words_of(desk)["sample_purposes"].every
    ),
    "of": lambda _desk, say: _in_words(_PICTURED, say),
    "labelled": lambda _desk, say: _in_words(_LABELLED, say),
    "tick": lambda _desk, say: _in_words({one.value: said for one, said in TICK_IN_WORDS.items()}, say),
    "what": _what,
    "box_kind": lambda _desk, say: tuple((key, say(rule.name)) for key, rule in box_rules().items()),
    "out": lambda _desk, say: _in_words(_OUT, say),
    "in_use": lambda _desk, say: _in_words(_IN_USE, say),
    "place_kind": lambda _desk, say: _in_words(PLACE_IN_WORDS, say),
    "print_kind": lambda _desk, say: _in_words({one.value: said for one, said in PRINTED_IN_WORDS.items()}, say),
    "again": lambda _desk, say: _in_words(_AGAIN, say),
    "loan": lambda _desk, say: _in_words(_LOANS, say),
    "borrower_kind": lambda _desk, say: _in_words(BORROWER_IN_WORDS, say),
    "deed": lambda _desk, say: tuple(sorted(_in_words(DEED_IN_WORDS, say), key=lambda pair: pair[1].casefold())),
}
