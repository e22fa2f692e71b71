"""A row as it was typed, what it says, and what is doubtful about it: a doubt waits beside its row and stops nobody."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, fields, replace
from typing import Any

from findsdesk.desk.group_rows import GroupFacts, GroupRow
from findsdesk.domain.balance import Decision
from findsdesk.domain.doubts import Doubt
from findsdesk.domain.natural_order import folded
from findsdesk.domain.numbers import MOST_PIECES, grams_in_words, read_grams, read_percent, read_pieces
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.benches.sorting.choices import Choice, Choices
from findsdesk.ui.benches.sorting.row_lists import WORDS_OF, RowLists
from findsdesk.words import N_

_NAMED = 4
"""Near words named in a doubt."""
MISSING = frozenset({"no_part", "no_count", "reason_needed"})
"""Doubts that something was not typed yet: no mistake while the row is being typed."""
MAY_BE = frozenset({"no_rim_there", "no_base_there"})
"""Doubts about what is unlikely and yet may be so: said once more as it stands, the row is written."""
WHOLE_PERMILLE = 1000


@dataclass(frozen=True, slots=True)
class TypedRow:
    """The texts of the fields by their columns, and the decision."""

    ware: str = ""
    part: str = ""
    pieces: str = ""
    grams: str = ""
    decision: Decision = Decision.KEEP
    reason: str = ""
    form: str = ""
    surface: str = ""
    decoration: str = ""
    condition: str = ""
    rim: str = ""
    base: str = ""
    note: str = ""
    own: bool = field(default=False, compare=False)
    """Whether somebody decided; else the decision is what the policy proposes."""
    rule: str = field(default="", compare=False)
    """The rule that proposes the decision, or another one."""
    proposed: str = field(default="", compare=False)
    """What that rule proposes, where somebody decided otherwise; else nothing."""

    @property
    def wants_why(self) -> bool:
        """Return whether it is decided against a rule and no reason is given."""
        return bool(self.proposed) and not self.reason.strip()

    @property
    def is_empty(self) -> bool:
        """Return whether nothing was typed; a decision with its reason alone is nothing."""
        return not any(self.text(one.name).strip() for one in fields(self) if one.name not in _DECIDED)

    def text(self, column: str) -> str:
        """Return the text of a column."""
        return str(getattr(self, column))

    def with_text(self, column: str, text: str) -> TypedRow:
        """Return the row with another text in a column."""
        changed: dict[str, Any] = {column: text}
        return replace(self, **changed)


_DECIDED = frozenset({"decision", "reason", "own", "rule", "proposed"})


def as_typed(row: GroupRow | GroupFacts, lists: RowLists) -> TypedRow:
    """Return a written group as it would be typed."""
    said = row.facts if isinstance(row, GroupRow) else row
    return TypedRow(
        ware=said.ware,
        form=said.form,
        pieces=str(said.pieces),
        grams="" if said.tenths is None else grams_in_words(said.tenths),
        rim=percent_in_words(said.rim_permille),
        base=percent_in_words(said.base_permille),
        decision=said.decision,
        reason=lists.reason_word(said.decision, said.reason),
        note=said.note,
        own=True,
        rule=said.rule,
        proposed=said.proposed,
        **{column: lists.word(column, getattr(said, column)) for column in WORDS_OF},
    )


def percent_in_words(permille: int | None) -> str:
    """Return per mille as per cent as it is typed, '' for none."""
    return "" if permille is None else f"{permille / 10:g}"


@dataclass(frozen=True, slots=True)
class Understood:
    """What a typed row says as far as it is understood, and its doubts; with none it can be written."""

    facts: GroupFacts
    doubts: tuple[Doubt, ...] = ()


def understand(typed: TypedRow, lists: RowLists) -> Understood:
    """Return what a row says.

    Doubts: a word unknown, no part, no count, a number that is none or out of range, a rim or base on a part that has
    none, a discard without a reason.
    """
    doubts: list[Doubt] = []
    ware = _code(typed.ware, "ware", lists, doubts)
    form = _code(typed.form, "form", lists, doubts)
    words = {column: _words(typed.text(column), column, lists, doubts) for column in WORDS_OF}
    pieces = _pieces(typed, lists, doubts)
    said = GroupFacts(
        ware=ware,
        form=form,
        pieces=pieces,
        tenths=_number(typed.grams, read_grams, "grams", doubts),
        rim_permille=_share(typed, "rim", pieces, lists, doubts),
        base_permille=_share(typed, "base", pieces, lists, doubts),
        decision=typed.decision,
        reason=_reason(typed, lists, doubts),
        rule=typed.rule,
        proposed=typed.proposed,
        note=typed.note.strip(),
        **words,
    )
    return Understood(said, tuple(doubts))


def _code(typed: str, column: str, lists: RowLists, doubts: list[Doubt]) -> str:
    said = typed.strip()
    choices = lists.columns[column]
    found = choices.meant(said) if said else None
    into = lists.merged_into(column, said)
    if into and (found is None or folded(said) != folded(found.key)):
        text = N_("{said} was merged into {code}. Type {code}.")
        doubts.append(Doubt(f"merged_{column}", text, {"said": said, "code": into}, column))
        return said
    if found is not None or not said:
        return found.key if found else ""
    if choices.matching(said):
        text = N_("Which form is {said}? {near}.") if column == "form" else N_("Which ware is {said}? {near}.")
        doubts.append(Doubt(f"which_{column}", text, {"said": said, "near": _named(choices.near(said))}, column))
    else:
        doubts.append(_unknown(f"unknown_{column}", column, said, choices))
    return said


_UNKNOWN = {
    "ware": (N_("No ware {said}. Near it: {near}."), N_("No ware {said}. None is near it.")),
    "form": (N_("No form {said}. Near it: {near}."), N_("No form {said}. None is near it.")),
    "part": (N_("No part “{said}”. Near it: {near}."), N_("No part “{said}”. None is near it.")),
    "reason": (N_("No reason “{said}”. Near it: {near}."), N_("No reason “{said}”. There are: {all}.")),
}
"""By the column: where a word is near what was said, and where none is."""
_UNKNOWN_WORD = (N_("No word “{said}”. Near it: {near}."), N_("No word “{said}”. None is near it."))


def _unknown(code: str, column: str, said: str, choices: Choices) -> Doubt:
    """Return the doubt about a word that is on no list; only words that are near are called so."""
    near = choices.near(said)
    some, none = _UNKNOWN.get(column, _UNKNOWN_WORD)
    facts: dict[str, object] = {
        "said": said, "near": _named(near), "all": ", ".join(choice.word for choice in choices.of),
    }  # fmt: skip
    return Doubt(code, some if near else none, facts, column)


def _words(typed: str, column: str, lists: RowLists, doubts: list[Doubt]) -> str:
    said = typed.strip()
    if not said:
        if column == "part":
            doubts.append(Doubt("no_part", N_("No part. Rim, body, base?"), {}, "part"))
        return ""
    keys, unknown = lists.meant(column, said)
    if not unknown:
        return keys
    code = "unknown_part" if column == "part" else "unknown_word"
    doubts.append(_unknown(code, column, unknown, lists.columns[column]))
    return said


def _pieces(typed: TypedRow, lists: RowLists, doubts: list[Doubt]) -> int:
    if not typed.pieces.strip():
        doubts.append(Doubt("no_count", N_("No count. Type how many."), {}, "pieces"))
        return 0
    ware = lists.columns["ware"].meant(typed.pieces.strip())
    if ware is not None and not typed.pieces.strip().isdigit():
        text = N_("{said} is a ware and no count: the row is out of step, each cell one too far.")
        doubts.append(Doubt("out_of_step", text, {"said": ware.key}, "pieces"))
        return 0
    pieces = _number(typed.pieces, read_pieces, "pieces", doubts)
    if pieces == 0:
        facts: dict[str, object] = {"pieces": pieces, "most": MOST_PIECES}
        text = N_("A group has 1 to {most} pieces, not {pieces}. Write the number that lies on the table.")
        doubts.append(Doubt("group_pieces", text, facts, "pieces"))
    return pieces or 0


def _share(typed: TypedRow, column: str, pieces: int, lists: RowLists, doubts: list[Doubt]) -> int | None:
    permille = _number(typed.text(column), read_percent, column, doubts)
    if permille is not None and pieces and permille > pieces * WHOLE_PERMILLE:
        facts: dict[str, object] = {
            "column": column, "pieces": pieces, "most": pieces * WHOLE_PERMILLE // 10,
            "percent": percent_in_words(permille),
        }  # fmt: skip
        text = N_("This row's {column} may be 0 to {most} % of the circle ({pieces} counted), not {percent} %.")
        doubts.append(Doubt("rim_out_of_range", text, facts, column))
    elif permille and not lists.has_circle(column, typed.part):
        text = N_("A rim is read on “{part}”, which has none. Right one of them; F2, Page down writes both.")
        if column == "base":
            text = N_("A base is read on “{part}”, which has none. Right one of them; F2, Page down writes both.")
        part = lists.word("part", lists.meant("part", typed.part)[0])
        doubts.append(Doubt(f"no_{column}_there", text, {"part": part}, column))
    return permille


def _number(text: str, read: Callable[[str], int], column: str, doubts: list[Doubt]) -> int | None:
    if not text.strip():
        return None
    try:
        return read(text)
    except Refusal as refusal:
        doubts.append(Doubt(refusal.code, refusal.text, refusal.facts, column))
        return None


def _reason(typed: TypedRow, lists: RowLists, doubts: list[Doubt]) -> str:
    said = typed.reason.strip()
    if typed.decision is not Decision.DISCARD:
        return own_reason(typed.decision, said, lists)
    choices = lists.reasons[typed.decision]
    known = choices.meant(said) if said else None
    if not said:
        doubts.append(Doubt("reason_needed", N_("A discard needs a reason."), {}, "reason"))
    elif known is None:
        doubts.append(_unknown("unknown_reason", "reason", said, choices))
    return known.key if known else said


def own_reason(decision: Decision, said: str, lists: RowLists) -> str:
    """Return why something is kept, mended or held: the key of a word of its list, or somebody's own words.

    Only a whole word is taken for one of the list: a beginning may be a word of its own.
    """
    known = lists.reasons[decision].meant(said) if said else None
    return known.key if known is not None and known.word == said else said


def _named(choices: tuple[Choice, ...]) -> str:
    return ", ".join(choice.word for choice in choices[:_NAMED])
