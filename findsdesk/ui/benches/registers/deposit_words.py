"""A deposit in words: its facts, what levelling comes to while it is typed, and what an act brought about."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Any

from findsdesk.desk.deposit_facts import DepositFacts
from findsdesk.desk.editing import Differing
from findsdesk.desk.redoing import Asked, ThingToRedo, Written
from findsdesk.desk.renumbering import Renumbered
from findsdesk.domain.deposits import KINDS, SECURITY_IN_WORDS, Security
from findsdesk.domain.elevations import Elevation
from findsdesk.domain.numbers import metres_in_words
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, grouped, plural


def head_of(facts: DepositFacts, around: WordsAround) -> str:
    """Return "Context 2017"."""
    return around.say(N_("{Deposit} {number}"), number=facts.number)


def facts_in_words(facts: DepositFacts, around: WordsAround) -> tuple[tuple[str, str], ...]:
    """Return (what, said) of each fact that is known."""
    say = around.say
    open_days = say(N_("{opened} to {closed}"), opened=facts.opened, closed=facts.closed) if facts.closed else ""
    lines = (
        (N_("{Square}"), facts.square),
        (N_("Kind"), say(facts.kind) if facts.kind in KINDS else facts.kind),
        (N_("Open"), open_days or say(N_("since {opened}"), opened=facts.opened)),
        (N_("Supervisor"), facts.supervisor),
        (N_("Security"), "" if facts.security is Security.NOT_SAID else say(SECURITY_IN_WORDS[facts.security])),
        (N_("Opening elevation"), _metres(facts.opening_mm)),
        (N_("Closing elevation"), _metres(facts.closing_mm)),
        (N_("Soil dug"), facts.soil),
        (N_("{Containers}"), grouped(facts.containers)),
        (N_("Left in the trench"), left_in_words(facts, around)),
        (N_("Once"), ", ".join(facts.former_numbers)),
        (N_("Merged into"), facts.merged_into or ""),
        (N_("Description"), facts.description),
    )
    return tuple((say(what), said) for what, said in lines if said)


def left_in_words(facts: DepositFacts, around: WordsAround) -> str:
    """Return what was seen and left in the trench: "240 pieces, 2 entries"; nothing where nothing was."""
    if not facts.left_entries:
        return ""
    entries = plural("{n} entry", "{n} entries", facts.left_entries)
    if not facts.left_pieces:
        return around.say(N_("{entries}, not counted"), entries=entries)
    return f"{plural('{n} piece', '{n} pieces', facts.left_pieces)}, {entries}"


def _metres(mm: int | None) -> str:
    return "" if mm is None else f"{metres_in_words(mm)} m"


def levelling_in_words(values: Mapping[str, Any], value: str, around: WordsAround) -> str:
    """Return the sum of levelling as far as its readings are typed; a contradiction in its own words.

    ``value`` is the key under which the elevation itself is typed, in millimetres as all others.
    """
    readings = tuple(values.get(name) for name in ("benchmark_mm", "backsight_mm", "foresight_mm"))
    if all(one is None for one in readings):
        return ""
    if any(one is None for one in readings):
        return around.say(N_("benchmark + backsight − foresight: write all three"))
    said = Elevation(values.get(value), *readings)
    try:
        _checked = said.mm
    except Refusal as refusal:
        return refusal.in_words(around.terms)
    return said.reading.in_words() if said.reading else ""


def redo_in_words(asked: Asked, around: WordsAround) -> str:
    """Return what an act asks to be written again: "7 tags and 3 bag labels to write again"; nothing where none."""
    things = ", ".join(str(one) for one in asked.counts)
    return around.say(N_("To write again: {things}"), things=things) if things else ""


def waits_in_words(things: Iterable[ThingToRedo], number: str, around: WordsAround) -> str:
    """Return what of a deposit waits to be written again now; nothing where all of it was."""
    n = Counter[Written]()
    for one in things:
        if one.deposit == number:
            n[one.what] += one.pieces
    asked = Asked(
        tags=n[Written.TAG],
        labels=n[Written.LABEL],
        marks=n[Written.MARK],
        piece_labels=n[Written.PIECE],
        slips=n[Written.SLIP],
        inside=n[Written.INSIDE],
    )
    return redo_in_words(asked, around)


def done_in_words(key: str, done: DepositFacts | Renumbered, around: WordsAround) -> tuple[str, str]:
    """Return (what stands now, what is to be written again) after an act."""
    facts = done.deposit if isinstance(done, Renumbered) else done
    said = around.say(_DONE[key], number=facts.number, moved=grouped(done.moved if isinstance(done, Renumbered) else 0))
    return said, redo_in_words(done.asked, around) if isinstance(done, Renumbered) else ""


_DONE = {
    "open": N_("{Deposit} {number} is open"),
    "close": N_("{Deposit} {number} is closed"),
    "reopen": N_("{Deposit} {number} is open again"),
    "change": N_("{Deposit} {number} is changed"),
    "renumber": N_("It is {deposit} {number} now"),
    "merge": N_("Merged: its {containers} are of {deposit} {number} now"),
    "split": N_("{Deposit} {number} has what was split off: {moved}"),
    "mixed": N_("{Deposit} {number} is mixed"),
    "left": N_("Written: left in the trench of {deposit} {number}"),
}


def differences_in_words(differences: Iterable[Differing], around: WordsAround) -> tuple[str, ...]:
    """Return a line for each value that somebody else changed meanwhile: mine, theirs, before."""
    lines = []
    for one in differences:
        what = around.say(_FIELDS.get(one.field, one.field))
        lines.append(
            around.say(
                N_("{what}: yours {mine}, now {theirs}, before {before}"),
                what=what,
                mine=_plain(one.field, one.mine),
                theirs=_plain(one.field, one.theirs),
                before=_plain(one.field, one.before),
            )
        )
    return tuple(lines)


_FIELDS = {
    "square": N_("{Square}"),
    "supervisor": N_("Supervisor"),
    "kind": N_("Kind"),
    "opened": N_("Opened"),
    "closed": N_("Closed"),
    "opening_mm": N_("Opening elevation"),
    "closing_mm": N_("Closing elevation"),
    "security": N_("Security"),
    "description": N_("Description"),
    "soil": N_("Soil dug"),
    "number": N_("Number"),
}


def _plain(field: str, value: Any) -> str:
    if value is None or value == "":
        return "–"
    return f"{metres_in_words(value)} m" if field.endswith("_mm") else f"“{value}”"
