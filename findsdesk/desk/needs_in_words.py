"""What needs a person, in words: a line each, on paper and in the terminal."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import tzinfo
from typing import Any

from findsdesk.desk.needs import Need
from findsdesk.desk.register_fields import Say
from findsdesk.domain.discards import Stage
from findsdesk.domain.routes import Hold
from findsdesk.words import N_, CountOf, grouped

HOLD_IN_WORDS: dict[str, str] = {
    Hold.PAINTED: N_("painted"),
    Hold.INSCRIBED: N_("perhaps ink"),
    Hold.FLAKING: N_("flaking"),
    Hold.RESIDUE: N_("residue"),
    Hold.OTHER: N_("another reason"),
}


def needs_in_words(needs: Sequence[Need], say: Say, zone: tzinfo) -> Iterator[tuple[str, str]]:
    """Yield what needs a person, each with since when ('': not known), in the excavation's zone."""
    for need in needs:
        text, facts = _NEEDS[need.kind](need, say)
        since = f"{need.since.astimezone(zone):%Y-%m-%d %H:%M}" if need.since else ""
        yield say(text, **(facts | {"numbers": ", ".join(need.numbers)})), since


def _held(need: Need, say: Say) -> tuple[str, dict[str, Any]]:
    why = ", ".join(say(HOLD_IN_WORDS.get(one, one)) for one in need.facts["why"])
    return N_("{numbers}: held for the ceramicist ({why})"), {"why": why}


def _differs(need: Need, _say: Say) -> tuple[str, dict[str, Any]]:
    return N_("{numbers}: the tag says {tag}, the list {list}"), dict(need.facts)


def _rows(need: Need, _say: Say) -> tuple[str, dict[str, Any]]:
    facts = {"file": need.facts["file"], "n": grouped(need.facts["n"])}
    return N_("{file}: rows of the list that wait with a question: {n}"), facts


def _clashes(need: Need, _say: Say) -> tuple[str, dict[str, Any]]:
    return N_("stores that met said different things, to decide: {n}"), {"n": grouped(need.facts["n"])}


def _redo(need: Need, _say: Say) -> tuple[str, dict[str, Any]]:
    facts = {"why": need.facts["why"], "n": grouped(need.facts["n"])}
    return N_("{why}: tags, labels and marks to write again: {n}"), facts


def _discards(need: Need, say: Say) -> tuple[str, dict[str, Any]]:
    stage = N_("proposed") if need.facts["stage"] == Stage.PROPOSED else N_("signed")
    facts = {
        "number": str(need.facts["number"]),
        "pieces": CountOf("{n} sherd", "{n} sherds", need.facts["n"]),
        "stage": say(stage),
    }
    return N_("discard list {number}: {pieces}, {stage}, not carried away"), facts


def _called_back(need: Need, _say: Say) -> tuple[str, dict[str, Any]]:
    facts = {"number": str(need.facts["number"]), "pieces": CountOf("{n} sherd", "{n} sherds", need.facts["n"])}
    return N_("{numbers}: {pieces} off discard list {number} in no bag: pack them"), facts


def _overdue(need: Need, _say: Say) -> tuple[str, dict[str, Any]]:
    pieces, days = (
        CountOf("{n} piece", "{n} pieces", need.facts["n"]),
        CountOf("{n} day", "{n} days", need.facts["days"]),
    )
    facts = {"who": need.facts["who"], "pieces": pieces, "days": days}
    return N_("loan {numbers}: {pieces} still with {who}, {days} overdue"), facts


def _boxes_and_bags(need: Need) -> dict[str, Any]:
    facts: dict[str, Any] = {name: str(need.facts[name]) for name in ("number", "place")}
    return facts | {"things": CountOf("{n} box or bag", "{n} boxes and bags", need.facts["n"])}


def _missing_on_shelves(need: Need, _say: Say) -> tuple[str, dict[str, Any]]:
    facts = _boxes_and_bags(need)
    return N_("{place}: {things} missing since stock-take {number}"), facts


def _on_the_way(need: Need, _say: Say) -> tuple[str, dict[str, Any]]:
    facts = _boxes_and_bags(need)
    return N_("transport {number} to {place}: {things} not met there yet"), facts


_NEEDS: dict[str, Callable[[Need, Say], tuple[str, dict[str, Any]]]] = {
    "not_on_pallet": lambda _need, _say: (N_("{numbers}: on the field list, not on the pallet"), {}),
    "soaking_too_long": lambda _need, _say: (N_("{numbers}: soaking too long"), {}),
    "held": _held,
    "other_deposit": _differs,
    "rows_set_aside": _rows,
    "over": lambda _need, _say: (N_("{numbers}: more sorted than came in, count again"), {}),
    "no_reason": lambda need, _say: (
        N_("{numbers}: decided against a rule, no reason yet: {rows}"),
        {"rows": CountOf("{n} row", "{n} rows", need.facts["n"])},
    ),
    "untagged": lambda _need, _say: (N_("{numbers}: without a readable tag"), {}),
    "look_again": lambda need, _say: (N_("{numbers}: look again ({why}), says {who}"), dict(need.facts)),
    "clashes": _clashes,
    "to_redo": _redo,
    "new_object": lambda need, _say: (
        N_("object {number}, {what} ({container} {numbers}): new, for the director"),
        {name: str(value) for name, value in need.facts.items()},
    ),
    "discard_list": _discards,
    "called_back": _called_back,
    "loan_overdue": _overdue,
    "missing_on_shelves": _missing_on_shelves,
    "on_the_way": _on_the_way,
}
