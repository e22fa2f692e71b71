"""Trying a rule before it is written: the policy with it, and what that would have kept of a season."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from findsdesk.desk.desk import Desk
from findsdesk.desk.group_checks import reason_named
from findsdesk.desk.retention import rules_of, telling
from findsdesk.desk.rule_words import rule_list
from findsdesk.desk.simulating import simulate
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.balance import Decision
from findsdesk.domain.policy_simulation import Simulated
from findsdesk.domain.retention import Fits, Policy, RetentionRule
from findsdesk.domain.rule_order import behind


@dataclass(frozen=True, slots=True)
class Tried:
    """What the policy would have kept with the rule; ``behind`` names one before it that takes all it would."""

    kept: Simulated
    behind: str = ""


def try_rule(
    desk: Desk,
    *,
    instead_of: str | None,
    name: str,
    decision: Decision,
    reason: str,
    lists: Mapping[str, Sequence[str]],
    diagnostic: bool | None,
    one_in: int | None,
    at_least: int | None,
    in_force: bool = True,
    place: int | None = None,
    season: str | None = None,
) -> Tried:
    """Return what the policy in force would have kept with a rule that is not written yet. Nothing is written.

    ``instead_of`` names the rule it would take the place of; a new one stands at the end, or at ``place``. Refusals:
    those of the words of the lists, of ``RetentionRule.check`` and of ``simulate``.
    """
    with desk.reading() as reading:
        said = {one: rule_list(reading, one, words) for one, words in lists.items()}
    rule = RetentionRule(
        name.strip(),
        decision,
        reason_named(decision, reason, words_of(desk)),
        Fits(**said, diagnostic=diagnostic),
        one_in,
        at_least,
    )
    rule.check()
    others = [one for one in rules_of(desk) if one.rule.name != instead_of]
    before = next((one.position for one in rules_of(desk) if one.rule.name == instead_of), len(others) + 1)
    rules = [one.rule if one.in_force else None for one in others]
    rules.insert((place or before) - 1, rule if in_force else None)
    discards = desk.facts.settings.discards
    policy = tuple(one for one in rules if one is not None and (discards or one.decision is not Decision.DISCARD))
    kept = simulate(desk, Policy(policy), season=season)
    return Tried(kept, behind(policy, rule, telling(words_of(desk))) if any(one is rule for one in policy) else "")
