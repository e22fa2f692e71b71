"""The words of a retention rule: what people type in its lists, and the keys and codes that stand in the store."""

from __future__ import annotations

from collections.abc import Sequence

from findsdesk.desk.desk import Deed, Reading
from findsdesk.desk.group_checks import form_named, part_named, ware_named, words_named
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.deposits import Security
from findsdesk.domain.natural_order import folded
from findsdesk.domain.unknown_words import unknown_word

ANY = "any"
"""Said in place of a list: everything fits."""


def rule_list(at: Deed | Reading, name: str, words: Sequence[str]) -> frozenset[str]:
    """Return the keys or codes of a rule's list as they stand in the store; refuses words that are on no list.

    ``name`` is one of ``domain.retention.LISTS``. Refusals: ``unknown_ware``, ``unknown_form``, ``unknown_part``,
    ``unknown_word``.
    """
    said = [word.strip() for word in words if word.strip()]
    if [folded(word) for word in said] == [ANY]:
        return frozenset()
    return frozenset(_key(at, name, word) for word in said)


def _key(at: Deed | Reading, name: str, word: str) -> str:
    if name == "wares":
        ware = ware_named(at.session, word)
        return ware.code if ware else ""
    if name == "forms":
        form = form_named(at.session, word)
        return form.code if form else ""
    if name == "parts":
        return part_named(word, words_of(at.desk))
    if name == "securities":
        return _security(word)
    return words_named(name, word, words_of(at.desk))


def _security(word: str) -> str:
    found = next((one for one in Security if one and folded(one) == folded(word)), None)
    if found is None:
        raise unknown_word("securities", word, [one for one in Security if one])
    return found
