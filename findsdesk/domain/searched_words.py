"""The words of a text as a full-text index holds them, and the words somebody looks for.

Both come from here, so that every database finds the same. Nothing but letters, digits and ``- . /`` is ever in one:
no sign that means something to a database's own query language.
"""

from __future__ import annotations

import re
import unicodedata
from functools import cache

from findsdesk.domain.natural_order import folded

MOST_WORDS = 12
"""More words than these of a question are not looked for."""
LONGEST = 60
"""Signs of a word that are kept; nobody types more of one."""
MOST_PARTS = 6
"""Parts of a word with signs in it that are found on their own."""

# Han, kana, Thai, Lao, Burmese and Khmer are written without blanks: each sign is found on its own.
_ALONE = (
    "\u0e00-\u0eff\u1000-\u109f\u1780-\u17ff\u3040-\u30ff\u3400-\u4dbf\u4e00-\u9fff\uf900-\ufaff\U00020000-\U0003ffff"
)
_LETTERS = rf"[^\W_{_ALONE}]+"
_JOINT = re.compile(r"[-./]")


@cache
def _word() -> re.Pattern[str]:
    """Return the pattern of a word; made when first asked for, since it takes 3 ms of the start."""
    return re.compile(rf"{_LETTERS}(?:[-./]{_LETTERS})*|[{_ALONE}]")


def words_looked_for(text: str) -> tuple[str, ...]:
    """Return the words of a question, each once, in their order."""
    return tuple(dict.fromkeys(word[:LONGEST] for word in _word().findall(_plain(text))))[:MOST_WORDS]


def words_to_find(text: str) -> tuple[str, ...]:
    """Return the words under which a text is found, each once, in their order.

    A word with signs in it is found from each of its parts on: VE-26-014 by "ve-26", by "26-014" and by "014".
    """
    found: dict[str, None] = {}
    for word in _word().findall(_plain(text)):
        found[word[:LONGEST]] = None
        for joint in list(_JOINT.finditer(word))[: MOST_PARTS - 1]:
            found[word[joint.end() :][:LONGEST]] = None
    return tuple(found)


def _plain(text: str) -> str:
    said = folded(text)
    # Vowel signs that stand beside their letter are no letters to a regular expression, and would part the word.
    return said if said.isascii() else "".join(sign for sign in said if unicodedata.category(sign) != "Mc")
