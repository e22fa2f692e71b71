"""What one column of a register is: its key, its heading, what a row says in it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, Protocol

from findsdesk.domain.balance import Decision
from findsdesk.domain.word_lists import REASON_LISTS
from findsdesk.words import N_

Value = str | int | float | date | datetime | None


Say = Callable[..., str]
"""Puts a marked text into words, with facts by name."""


class SayListed(Protocol):
    """Puts a marked text into words, with facts by name, and keys of a word list into the excavation's words."""

    def __call__(self, text: str, /, **facts: object) -> str:
        """Return a marked text in words."""

    def listed(self, name: str, keys: str) -> str:
        """Return the words of a list for keys with a blank between them, with commas between the words."""


def reason_in_words(decision: str, reason: str, say: SayListed) -> str:
    """Return why something is decided so: the word of the decision's list, or what somebody wrote in free words."""
    return say.listed(REASON_LISTS[Decision(decision)], reason) if reason and " " not in reason else reason


def against_in_words(rule: str, proposed: str, say: Say, decision: str) -> str:
    """Return that something is decided against a rule, ``decision`` being the word of what the rule ``proposed``."""
    return say(N_("against “{rule}” ({decision})"), rule=rule, decision=decision) if proposed else rule


def why_in_words(row: Any, say: SayListed) -> str:
    """Return why a group or piece is decided so; against a rule also that rule and what it proposed.

    Where nobody has said why it is decided against its rule, that is said.
    """
    why = reason_in_words(row.decision, row.reason, say)
    if not row.proposed:
        return why
    against = against_in_words(row.rule, row.proposed, say, say.listed("decisions", row.proposed))
    return f"{why or say(N_('no reason yet'))}, {against}"


@dataclass(frozen=True, slots=True)
class RegisterField:
    """One column: its key, its heading (a message key), and what a row says in it; words are put in by ``say``.

    ``sort`` names the order the register offers by it. ``in_file`` columns stand in files alone.
    """

    key: str
    title: str
    value: Callable[[Any, SayListed], Value]
    sort: str = ""
    figures: bool = False
    grows: bool = False
    in_file: bool = False
