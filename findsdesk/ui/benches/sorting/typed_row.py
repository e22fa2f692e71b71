"""A row as it was typed, what it says, and what is doubtful about it: a doubt waits beside its row and stops nobody."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from findsdesk.desk.group_rows import GroupFacts, GroupRow
from findsdesk.domain.balance import Decision
from findsdesk.domain.doubts import Doubt
from findsdesk.domain.numbers import MOST_PIECES, grams_in_words, read_grams, read_pieces
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.benches.sorting.choices import Choice, WordLists
from findsdesk.words import N_

_NAMED = 4
"""Near words named in a doubt."""


@dataclass(frozen=True, slots=True)
class TypedRow:
    """The texts of the fields, and the decision."""

    ware: str = ""
    part: str = ""
    count: str = ""
    grams: str = ""
    decision: Decision = Decision.KEEP
    reason: str = ""

    @property
    def is_empty(self) -> bool:
        """Return whether nothing was typed; a decision alone is nothing."""
        return not (self.ware.strip() or self.part.strip() or self.count.strip() or self.grams.strip())


def as_typed(row: GroupRow | GroupFacts, lists: WordLists) -> TypedRow:
    """Return a written group as it would be typed."""
    return TypedRow(
        ware=row.ware,
        part=lists.part_word(row.part),
        count=str(row.pieces),
        grams="" if row.tenths is None else grams_in_words(row.tenths),
        decision=row.decision,
        reason=lists.reason_word(row.decision, row.reason),
    )


@dataclass(frozen=True, slots=True)
class Understood:
    """What a typed row says as far as it is understood, and its doubts; with none it can be written."""

    facts: GroupFacts
    doubts: tuple[Doubt, ...] = ()


def understand(typed: TypedRow, lists: WordLists) -> Understood:
    """Return what a row says. Doubts: ware, part or reason unknown, no part, no count, a number that is none."""
    doubts: list[Doubt] = []
    ware = lists.wares.meant(typed.ware)
    if ware is None and typed.ware.strip():
        doubts.append(_unknown_ware(typed.ware.strip(), lists))
    part = lists.parts.meant(typed.part)
    if part is None:
        doubts.append(_no_part(typed.part.strip(), lists))
    pieces = _number(typed.count, read_pieces, "count", doubts) or 0
    if not typed.count.strip():
        doubts.append(Doubt("no_count", N_("No count. Type how many."), {}, "count"))
    elif not pieces and not any(doubt.column == "count" for doubt in doubts):
        facts: dict[str, object] = {"pieces": pieces, "most": MOST_PIECES}
        text = N_("A group has 1 to {most} pieces, not {pieces}. Write the number that lies on the table.")
        doubts.append(Doubt("group_pieces", text, facts, "count"))
    tenths = _number(typed.grams, read_grams, "grams", doubts)
    reason = _reason(typed, lists, doubts)
    facts_said = GroupFacts(
        ware=ware.key if ware else typed.ware.strip(),
        part=part.key if part else typed.part.strip(),
        pieces=pieces,
        tenths=tenths,
        decision=typed.decision,
        reason=reason,
    )
    return Understood(facts_said, tuple(doubts))


def _number(text: str, read: Callable[[str], int], column: str, doubts: list[Doubt]) -> int | None:
    if not text.strip():
        return None
    try:
        return read(text)
    except Refusal as refusal:
        doubts.append(Doubt(refusal.code, refusal.text, refusal.facts, column))
        return None


def _unknown_ware(said: str, lists: WordLists) -> Doubt:
    several = lists.wares.matching(said)
    facts: dict[str, object] = {"said": said, "near": _words(lists.wares.near(said))}
    if several:
        return Doubt("which_ware", N_("Which ware is {said}? {near}."), facts, "ware")
    return Doubt("unknown_ware", N_("No ware {said}. Near it: {near}."), facts, "ware")


def _no_part(said: str, lists: WordLists) -> Doubt:
    if not said:
        return Doubt("no_part", N_("No part. Rim, body, base?"), {}, "part")
    facts: dict[str, object] = {"said": said, "near": _words(lists.parts.near(said))}
    return Doubt("unknown_part", N_("No part “{said}”. Near it: {near}."), facts, "part")


def _reason(typed: TypedRow, lists: WordLists, doubts: list[Doubt]) -> str:
    said = typed.reason.strip()
    known = lists.reasons[typed.decision].meant(said) if said else None
    if typed.decision is not Decision.DISCARD:
        # Only a whole word is taken for one of the list here: a reason to keep may be in somebody's own words.
        return known.key if known is not None and known.word == said else said
    if not said:
        doubts.append(Doubt("reason_needed", N_("A discard needs a reason."), {}, "reason"))
    elif known is None:
        facts: dict[str, object] = {"said": said, "near": _words(lists.reasons[Decision.DISCARD].near(said))}
        doubts.append(Doubt("unknown_reason", N_("No reason “{said}”. Near it: {near}."), facts, "reason"))
    return known.key if known else said


def _words(choices: tuple[Choice, ...]) -> str:
    return ", ".join(choice.word for choice in choices[:_NAMED]) or "–"
