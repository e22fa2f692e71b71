"""The retention policy in the set-up: its rules in their order, and the form of one."""

from __future__ import annotations

from typing import Any

from findsdesk.desk.columns_in_words import DECISION_IN_WORDS
from findsdesk.desk.desk import Desk
from findsdesk.desk.retention import RuleFacts, add_rule, change_rule, rules_of
from findsdesk.desk.rule_words import ANY
from findsdesk.domain.balance import Decision
from findsdesk.domain.deposits import SECURITY_IN_WORDS, Security
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.retention import LISTS, RetentionRule
from findsdesk.ui.benches.set_up.subject import Entry, Subject, Values, columns, row
from findsdesk.ui.widgets.field_form import Field, FieldKind
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, put

_DIAGNOSTIC = (("any", N_("both")), ("yes", N_("diagnostic ones")), ("no", N_("the others")))
_ASKS = {None: "any", True: "yes", False: "no"}
_PLACE_HELP = N_("The first rule that fits proposes. A new one without a place stands last.")
_REASONS = {
    Decision.KEEP: "keep_reasons",
    Decision.MEND: "keep_reasons",
    Decision.HOLD: "waiting_reasons",
    Decision.DISCARD: "discard_reasons",
}


def policy_subject(*, discards: bool) -> Subject:
    """Return the rules: added, changed, put at another place or out of force."""
    decisions = decisions_offered(discards=discards)
    asks = tuple((key, put(words)) for key, words in _DIAGNOSTIC)
    several = put(N_("Several with commas between them; empty fits everything."))
    fields = (
        Field("name", put(N_("Name of the rule")), width=260),
        Field("decision", put(N_("Decision")), FieldKind.CHOICE, 150, choices=decisions),
        Field("reason", put(N_("why")), FieldKind.CHOICE_OR_NEW, 200, beside=True),
        Field("parts", put(N_("Parts")), help=several),
        Field("wares", put(N_("Wares")), width=170),
        Field("forms", put(N_("forms")), width=130, beside=True),
        Field("conditions", put(N_("Conditions")), width=170),
        Field("decorations", put(N_("decorations")), width=130, beside=True),
        Field("securities", put(N_("Security")), width=170),
        Field("diagnostic", put(N_("of sherds")), FieldKind.CHOICE, 130, choices=asks, beside=True),
        Field("one_in", put(N_("Keeps one in")), FieldKind.WHOLE, 70),
        Field("at_least", put(N_("and at least")), FieldKind.WHOLE, 70, beside=True),
        Field("place", put(N_("at place")), FieldKind.WHOLE, 70, help=put(_PLACE_HELP), beside=True),
        Field("in_force", put(N_("In force")), FieldKind.YES),
    )
    return Subject(
        "policy",
        put(N_("What is kept")),
        put(N_("A new rule")),
        put(N_("Add the rule")),
        put(N_("No rule yet: everything is kept. The first rule that fits a group proposes its decision.")),
        columns(put(N_("Place")), put(N_("Rule")), put(N_("Decision")), put(N_("Keeps")), put(N_("Fits"))),
        fields,
        _entries,
        lambda desk, values: add_rule(desk, values["name"], **said_of(values), place=values["place"]),
        {"in_force": True, "decision": decisions[-1][0]},
        _change,
        N_("Change the rule “{name}”"),
        later=frozenset({"in_force"}),
        said=_said,
    )


def decisions_offered(*, discards: bool) -> tuple[tuple[Decision, str], ...]:
    """Return the decisions a rule may propose; an excavation that discards nothing is offered no discard."""
    return tuple(
        (one, put(words)) for one, words in DECISION_IN_WORDS.items() if discards or one is not Decision.DISCARD
    )


def reasons_offered(decision: Decision, around: WordsAround) -> tuple[tuple[str, str], ...]:
    """Return the reasons of the excavation's list for a decision, as they are chosen and shown."""
    said = (term.name if term.own else around.say(term.name) for term in around.lists[_REASONS[decision]].in_use)
    return tuple((one, one) for one in said)


def _entries(desk: Desk) -> list[Entry]:
    around = WordsAround.of(desk)
    return [_entry(place, one, around) for place, one in enumerate(rules_of(desk), 1)]


def _entry(place: int, one: RuleFacts, around: WordsAround) -> Entry:
    rule = one.rule
    decided = around.say(DECISION_IN_WORDS[rule.decision])
    shown = row(
        one.id,
        place,
        rule.name,
        _decision(one, decided, around),
        _share(rule, around),
        f"{_fits(rule, around)} ({never_comes(one.behind)})" if one.behind else _fits(rule, around),
    )
    return Entry(shown, _values(place, one, around), rule.name, one.version)


def _decision(one: RuleFacts, decided: str, around: WordsAround) -> str:
    if one.behind:
        return around.say(N_("{decision}, proposes nothing"), decision=decided)
    return decided if one.in_force else around.say(N_("{decision}, out of force"), decision=decided)


def never_comes(behind: str) -> str:
    """Return that a rule never proposes anything, and for which one."""
    return put(N_("proposes nothing: “{rule}” before it takes all of it"), None, {"rule": behind})


def _said(done: object) -> str:
    return never_comes(done.behind) if isinstance(done, RuleFacts) and done.behind else ""


def _share(rule: RetentionRule, around: WordsAround) -> str:
    one_in = around.say(N_("1 in {n}"), n=rule.one_in) if rule.one_in else ""
    at_least = around.say(N_("at least {n}"), n=rule.at_least) if rule.at_least else ""
    return ", ".join(word for word in (one_in, at_least) if word)


def _fits(rule: RetentionRule, around: WordsAround) -> str:
    lists = [words for name in LISTS if (words := _list(rule, name, around))]
    if rule.fits.diagnostic is not None:
        lists.append(around.say(dict(_DIAGNOSTIC)[_ASKS[rule.fits.diagnostic]]))
    return "; ".join(lists) or around.say(N_("everything"))


def _list(rule: RetentionRule, name: str, around: WordsAround) -> str:
    keys = sorted(getattr(rule.fits, name))
    if name in ("wares", "forms"):
        return ", ".join(keys)
    if name == "securities":
        return ", ".join(around.say(SECURITY_IN_WORDS[Security(key)]) for key in keys)
    return ", ".join(around.listed(name, key) or key for key in keys)


def _values(place: int, one: RuleFacts, around: WordsAround) -> Values:
    rule = one.rule
    reason = around.listed(_REASONS[rule.decision], rule.reason) or rule.reason
    return {
        "name": rule.name,
        "decision": rule.decision,
        "reason": reason,
        **{name: _list(rule, name, around) for name in LISTS},
        "diagnostic": _ASKS[rule.fits.diagnostic],
        "one_in": rule.one_in,
        "at_least": rule.at_least,
        "place": place,
        "in_force": one.in_force,
    }


def lists_of(values: Values) -> dict[str, list[str]]:
    """Return the lists of a rule as they are typed."""
    return {name: [word.strip() for word in values[name].split(",") if word.strip()] for name in LISTS}


def said_of(values: Values) -> dict[str, Any]:
    """Return what is typed of a rule, by the names of ``add_rule``."""
    plain = {name: values[name] for name in ("reason", "diagnostic", "one_in", "at_least")}
    return {"decision": decision_of(values)} | plain | lists_of(values)


def decision_of(values: Values) -> Decision:
    """Return the chosen decision; a choice box gives back a word where a word of a set was put in."""
    return Decision(values["decision"])


def _change(desk: Desk, entry: Entry, values: Values) -> object:
    said: dict[str, Any] = {name: words or [ANY] for name, words in lists_of(values).items()}
    return change_rule(
        desk,
        entry.name,
        seen=entry.version,
        to=values["name"],
        decision=decision_of(values),
        reason=values["reason"],
        diagnostic=values["diagnostic"],
        in_force=values["in_force"],
        place=values["place"] if values["place"] != entry.values["place"] else None,
        one_in=_or_none(values["one_in"]),
        at_least=_or_none(values["at_least"]),
        **said,
    )


def _or_none(typed: int | None) -> int:
    """Return the number the desk understands: an emptied field takes share or minimum away, a typed 0 is a mistake."""
    if typed is None:
        return 0
    if typed == 0:
        raise Refusal("share_range", N_("0 cannot be meant here. Leave the field empty for no share or minimum."))
    return typed
