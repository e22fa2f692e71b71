"""The retention policy: which sherds are kept, which discarded, and the shares drawn from what is discarded.

A policy is a row of rules. The first that fits a group proposes its decision and gives it the rule's name; where none
fits, it is kept. People decide otherwise as they see fit, with a reason of their own. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from findsdesk.domain.balance import Decision
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

MOST_ONE_IN = 1000
MOST_AT_LEAST = 10_000
STAYS = frozenset({Decision.KEEP, Decision.MEND, Decision.HOLD})
"""Decisions under which a sherd stays in the house."""


@dataclass(frozen=True, slots=True)
class SaidOfAGroup:
    """What a rule looks at: codes of ware and form ('' for none), keys of part, decoration and conditions.

    Several decorations or conditions stand with a blank between them, as in the store; ``diagnostic`` by the
    excavation's own rule.
    """

    ware: str = ""
    part: str = ""
    form: str = ""
    decoration: str = ""
    condition: str = ""
    diagnostic: bool = False


LISTS = ("parts", "wares", "forms", "decorations", "conditions", "securities")
"""What a rule may name, in the order in which it is written down."""


@dataclass(frozen=True, slots=True)
class Fits:
    """What a group must be for a rule: one of each list that is not empty; an empty list fits everything.

    ``diagnostic`` True or False asks for diagnostic sherds or for the others; None for both.
    """

    parts: frozenset[str] = frozenset()
    wares: frozenset[str] = frozenset()
    forms: frozenset[str] = frozenset()
    decorations: frozenset[str] = frozenset()
    conditions: frozenset[str] = frozenset()
    securities: frozenset[str] = frozenset()
    diagnostic: bool | None = None

    def fit(self, said: SaidOfAGroup, security: str) -> bool:
        """Tell whether a group from a deposit of a security is meant."""
        return (
            self.diagnostic in (None, said.diagnostic)
            and _one_of(self.parts, [said.part])
            and _one_of(self.wares, [said.ware])
            and _one_of(self.forms, [said.form])
            and _one_of(self.decorations, said.decoration.split())
            and _one_of(self.conditions, said.condition.split())
            and _one_of(self.securities, [security])
        )

    def as_plain(self) -> dict[str, Any]:
        """Return the lists that are not empty, sorted, as plain JSON values."""
        lists = {name: sorted(getattr(self, name)) for name in LISTS if getattr(self, name)}
        return lists if self.diagnostic is None else {**lists, "diagnostic": self.diagnostic}

    @classmethod
    def from_plain(cls, values: Mapping[str, Any]) -> Fits:
        """Read what ``as_plain`` gave."""
        lists = {name: frozenset(values.get(name, ())) for name in LISTS}
        return cls(**lists, diagnostic=values.get("diagnostic"))


def _one_of(wanted: frozenset[str], said: Iterable[str]) -> bool:
    return not wanted or not wanted.isdisjoint(said)


@dataclass(frozen=True, slots=True)
class RetentionRule:
    """One rule: what it fits, what it decides and why.

    ``one_in`` keeps one sherd of so many and lets the decision stand for the others; ``at_least`` keeps so many of a
    ware in a deposit (or all, where there are fewer) before the decision stands.
    """

    name: str
    decision: Decision
    reason: str = ""
    fits: Fits = field(default_factory=Fits)
    one_in: int | None = None
    at_least: int | None = None

    def check(self) -> None:
        """Refuse a rule that cannot be meant: ``empty``, ``reason_needed``, ``share_range``, ``share_of_kept``."""
        if not self.name.strip():
            raise Refusal("empty", N_("Write the {what} first."), what=N_("name of the rule"))
        if self.decision is Decision.DISCARD and not self.reason:
            raise Refusal("reason_needed", N_("A discard needs a reason. Choose one from the list."))
        if self.decision is not Decision.DISCARD and (self.one_in is not None or self.at_least is not None):
            raise Refusal(
                "share_of_kept",
                N_("“{rule}” keeps all that it fits. Leave share and minimum empty, or let it discard."),
                rule=self.name,
            )
        for number, fewest, most in ((self.one_in, 2, MOST_ONE_IN), (self.at_least, 1, MOST_AT_LEAST)):
            if number is not None and not fewest <= number <= most:
                raise Refusal(
                    "share_range",
                    N_("{number} cannot be meant here. Write {fewest} to {most}, or leave it empty."),
                    number=number,
                    fewest=fewest,
                    most=most,
                )


@dataclass(frozen=True, slots=True)
class Proposal:
    """What the policy says of a group: the decision, its reason, the rule's name ('' where none fits), its share."""

    decision: Decision
    reason: str = ""
    rule: str = ""
    one_in: int | None = None
    at_least: int | None = None

    @property
    def splits(self) -> bool:
        """Tell whether some of the group are kept before the decision stands for the others."""
        return self.one_in is not None or self.at_least is not None

    def overridden_by(self, decision: Decision) -> bool:
        """Tell whether somebody decides otherwise than a rule proposes."""
        return bool(self.rule) and decision is not self.decision


@dataclass(frozen=True, slots=True)
class Policy:
    """The rules in force, in their order."""

    rules: tuple[RetentionRule, ...] = ()

    def propose(self, said: SaidOfAGroup, security: str) -> Proposal:
        """Return what the first fitting rule says of a group from a deposit of a security; no rule means keep."""
        for rule in self.rules:
            if rule.fits.fit(said, security):
                return Proposal(rule.decision, rule.reason, rule.name, rule.one_in, rule.at_least)
        return Proposal(Decision.KEEP)


def check_override(proposal: Proposal, decision: Decision, reason: str) -> None:
    """Refuse to discard without a reason what a rule says to keep: ``override_reason``.

    Keeping what a rule would discard is never refused, for it loses nothing: it stays open until somebody says why.
    """
    if decision is Decision.DISCARD and proposal.overridden_by(decision) and not reason.strip():
        raise Refusal(
            "override_reason",
            N_("“{rule}” says {decision}. To discard it all the same, write the reason."),
            rule=proposal.rule,
            decision=str(proposal.decision),
        )


@dataclass(frozen=True, slots=True)
class Share:
    """A share of sherds laid out in a row: the first place kept (from 1), then each ``step``-th.

    ``step`` 0 draws none. ``more`` are kept beside the drawn ones to reach the minimum: the first in the row not drawn.
    ``carried`` sherds of the next row are passed over before one is kept again.
    """

    laid_out: int
    step: int
    first: int
    drawn: int
    more: int
    carried: int

    @property
    def kept(self) -> int:
        """Return how many are kept in all."""
        return self.drawn + self.more


def draw(laid_out: int, step: int, first: int) -> Share:
    """Return the share of a row of ``laid_out`` sherds: the ``first`` (from 1) is kept, then each ``step``-th.

    A first place beyond the row keeps none and is carried on. Over many rows, each begun at what was ``carried`` + 1,
    exactly those are kept that would be kept were all rows one: a systematic sample with a random start.
    Refusals: ``share_start``, ``share_range``.
    """
    if step < 1 or laid_out < 0:
        raise Refusal(
            "share_range",
            N_("{number} cannot be meant here. Write {fewest} to {most}, or leave it empty."),
            number=step,
            fewest=1,
            most=MOST_ONE_IN,
        )
    if not 1 <= first <= step:
        raise Refusal(
            "share_start",
            N_("A share of one in {step} starts at the 1st to the {step}th sherd, not at {first}."),
            step=step,
            first=first,
        )
    drawn = 0 if first > laid_out else 1 + (laid_out - first) // step
    carried = first + drawn * step - laid_out - 1
    return Share(laid_out, step, first, drawn, 0, carried)


def draw_of(laid_out: int, proposal: Proposal, *, first: int, kept_before: int) -> Share:
    """Return the share of a row by a rule with a share, a minimum or both.

    ``kept_before`` of the same ware, deposit and rule are kept already. Refusals: those of ``draw``.
    """
    share = Share(laid_out, 0, 0, 0, 0, 0) if proposal.one_in is None else draw(laid_out, proposal.one_in, first)
    wanting = max(0, (proposal.at_least or 0) - kept_before - share.drawn)
    more = min(wanting, laid_out - share.drawn)
    return Share(share.laid_out, share.step, share.first, share.drawn, more, share.carried)
