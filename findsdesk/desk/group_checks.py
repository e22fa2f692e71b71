"""What may be said of sherds: words of the excavation's lists, numbers that can be meant."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TypeVar

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.group_rows import GroupFacts, GroupOf
from findsdesk.desk.word_lists import SHIPPED, WordLists
from findsdesk.domain.balance import Decision
from findsdesk.domain.natural_order import folded
from findsdesk.domain.near_codes import near
from findsdesk.domain.numbers import MOST_PIECES, MOST_TENTHS
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.said_words import words_said
from findsdesk.domain.unknown_words import unknown_word
from findsdesk.domain.word_lists import WordList
from findsdesk.store.models import Form, Ware
from findsdesk.words import N_, CountOf

WHOLE_PERMILLE = 1000


def check_group(session: Session, said: GroupFacts, lists: WordLists = SHIPPED) -> tuple[GroupFacts, GroupOf]:
    """Return the group in the excavation's own spelling, with its ware and form; refuses what cannot be meant.

    What becomes of it is for ``decide`` to check. Refusals: ``unknown_ware`` and ``unknown_form`` (with near codes),
    ``unknown_part``, ``unknown_word``, ``group_pieces``, ``group_grams``, ``rim_out_of_range``.
    """
    of = GroupOf(ware_named(session, said.ware), form_named(session, said.form))
    _check_numbers(said)
    checked = replace(
        said,
        ware=of.ware.code if of.ware else "",
        form=of.form.code if of.form else "",
        part=part_named(said.part, lists),
        surface=several_named("surfaces", said.surface, lists),
        decoration=several_named("decorations", said.decoration, lists),
        condition=several_named("conditions", said.condition, lists),
        note=said.note.strip(),
    )
    return checked, of


def _check_numbers(said: GroupFacts) -> None:
    if not 1 <= said.pieces <= MOST_PIECES:
        raise Refusal(
            "group_pieces",
            N_("A group has 1 to {most} pieces, not {pieces}. Write the number that lies on the table."),
            pieces=said.pieces,
            most=MOST_PIECES,
        )
    if said.tenths is not None and not 0 <= said.tenths <= MOST_TENTHS:
        raise Refusal(
            "group_grams",
            N_("A group cannot weigh {grams} g. Weigh it again, or leave the grams out."),
            grams=said.tenths / 10,
        )
    for permille in (said.rim_permille, said.base_permille):
        if permille is not None and not 0 <= permille <= said.pieces * WHOLE_PERMILLE:
            raise Refusal(
                "rim_out_of_range",
                N_("{pieces}: 0 to {most} % of a circle together, not {percent} %. Read the chart again."),
                pieces=CountOf("{n} sherd", "{n} sherds", said.pieces),
                most=said.pieces * WHOLE_PERMILLE // 10,
                percent=f"{permille / 10:g}",
            )


def ware_named(session: Session, said: str) -> Ware | None:
    """Return the ware of a code or a name, or None where nothing is said; a merged code means what took its place.

    Refuses ``unknown_ware``.
    """
    wanted = folded(said)
    if not wanted:
        return None
    every = session.execute(select(Ware).order_by(Ware.merged_into_id.is_not(None), Ware.code)).scalars().all()
    rows = [row for row in every if row.merged_into_id is None]
    for row in every:
        if wanted in (folded(row.code), folded(row.name)):
            return _in_its_place(session, row)
    raise Refusal(
        "unknown_ware",
        N_("There is no ware {said}. Near it: {near}. Choose one, or add it in Set-up."),
        said=said.strip(),
        near=", ".join(near(said, [row.code for row in rows])) or "–",
    )


def form_named(session: Session, said: str) -> Form | None:
    """Return the form of a code or a name, or None where nothing is said; a merged code means what took its place.

    Refuses ``unknown_form``.
    """
    wanted = folded(said)
    if not wanted:
        return None
    every = session.execute(select(Form).order_by(Form.merged_into_id.is_not(None), Form.code)).scalars().all()
    rows = [row for row in every if row.merged_into_id is None]
    for row in every:
        if wanted in (folded(row.code), folded(row.name)):
            return _in_its_place(session, row)
    raise Refusal(
        "unknown_form",
        N_("There is no form {said}. Near it: {near}. Choose one, or add it in Set-up."),
        said=said.strip(),
        near=", ".join(near(said, [row.code for row in rows])) or "–",
    )


Type = TypeVar("Type", Ware, Form)


def _in_its_place(session: Session, row: Type) -> Type:
    """Return what took the place of a code, through all that were merged one into the next."""
    while row.merged_into_id is not None:
        row = session.get_one(type(row), row.merged_into_id)
    return row


def part_named(said: str, lists: WordLists = SHIPPED) -> str:
    """Return the key of a part of a vessel; refuses ``unknown_part``."""
    parts = lists["parts"]
    found = parts.named(said) or parts.keyed(said.strip())
    if found is None:
        raise Refusal(
            "unknown_part",
            N_("“{said}” is no part of a vessel here. Near it: {near}. Choose one."),
            said=said.strip(),
            near=", ".join(near(said, [term.name for term in parts.in_use])),
        )
    return found.key


def words_named(name: str, said: str, lists: WordLists = SHIPPED) -> str:
    """Return the keys of words of a list, with a blank between them; commas part words of several.

    Raises ``unknown_word``.
    """
    words = lists[name]
    keys = []
    for word in _parted(words, said):
        found = words.named(word) or words.keyed(word)
        if found is None:
            raise unknown_word(name, word, [term.name for term in words.in_use])
        keys.append(found.key)
    return " ".join(dict.fromkeys(keys))


def several_named(name: str, said: str, lists: WordLists = SHIPPED) -> str:
    """Return the keys of words of a list as ``words_named`` does; "burnt abraded" is two words without a comma too.

    Raises ``unknown_word``.
    """
    words = lists[name]

    def known(word: str) -> bool:
        return words.named(word) is not None

    parted = [word for part in _parted(words, said) for word in words_said(part, known)]
    return words_named(name, ", ".join(parted), lists)


def _parted(words: WordList, said: str) -> list[str]:
    """Part what is said at commas or plus signs; keys as they are stored are parted at blanks too."""
    keys = {term.key for term in words.every}
    if all(word in keys for word in said.split()):
        return said.split()
    return [word.strip() for word in re.split(r"[,;+]", said) if word.strip()]


def reason_named(decision: Decision, said: str, lists: WordLists = SHIPPED) -> str:
    """Return a reason, of a discard as the key of its list; any other is said in free words.

    Raises ``reason_needed``, ``unknown_reason``.
    """
    if decision is not Decision.DISCARD:
        return said.strip()
    reasons = lists["discard_reasons"]
    if not said.strip():
        raise Refusal(
            "reason_needed",
            N_("A discard needs a reason. The reasons: {known}."),
            known=", ".join(term.name for term in reasons.in_use),
        )
    found = reasons.named(said) or reasons.keyed(said.strip())
    if found is None:
        raise Refusal(
            "unknown_reason",
            N_("“{said}” is no reason for a discard. The reasons: {known}."),
            said=said.strip(),
            known=", ".join(term.name for term in reasons.in_use),
        )
    return found.key
