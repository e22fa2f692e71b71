"""What becomes of a group: as the policy proposes, or as somebody decides otherwise, with a reason of their own."""

from __future__ import annotations

from dataclasses import replace

from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed
from findsdesk.desk.drawn_shares import SHARE
from findsdesk.desk.group_checks import reason_named
from findsdesk.desk.group_rows import GroupFacts, is_diagnostic
from findsdesk.desk.retention import need_discards, policy_in
from findsdesk.desk.word_lists import WordLists, words_of
from findsdesk.domain.balance import Decision
from findsdesk.domain.retention import Proposal, SaidOfAGroup, check_override
from findsdesk.store.models import Container, Deposit


def said_for_the_policy(said: GroupFacts, lists: WordLists) -> SaidOfAGroup:
    """Return what the rules look at of a group in the excavation's own spelling."""
    return SaidOfAGroup(said.ware, said.part, said.form, said.decoration, said.condition, is_diagnostic(said, lists))


def security_of(session: Session, container: Container) -> str:
    """Return how far the finds of a container's deposit belong together; '' where nobody said."""
    if container.deposit_id is None:
        return ""
    return session.get_one(Deposit, container.deposit_id).security


def proposal_for(deed: Deed, container: Container, said: GroupFacts) -> Proposal:
    """Return what the policy in force says of a checked group of a container."""
    policy = policy_in(deed.session, discards=deed.settings.discards)
    return policy.propose(said_for_the_policy(said, words_of(deed.desk)), security_of(deed.session, container))


def decide(
    deed: Deed, container: Container, said: GroupFacts, decision: Decision | None, before: GroupFacts | None = None
) -> GroupFacts:
    """Return a checked group with its decision, reason and rule; ``decision`` None leaves all to the policy.

    A group carries the name of its rule; one decided otherwise also what the rule proposed, and waits for a reason
    where none is given. A decision that stands from ``before`` under the same rule stays that rule's, as the kept ones
    of a share do, and what was decided before stays so while the rules say of the group what they said.
    Refusals: ``nothing_discarded``, ``override_reason``, ``reason_needed``, ``unknown_reason``.
    """
    proposal, lists = proposal_for(deed, container, said), words_of(deed.desk)
    decided = proposal.decision if decision is None else decision
    if decided is Decision.DISCARD:
        need_discards(deed.desk)
    if not proposal.overridden_by(decided) or _stays_by_the_rule(proposal, decided, before):
        by_the_rule = decided is proposal.decision
        reason = said.reason.strip() or (proposal.reason if by_the_rule else "")
        reason = reason_named(decided, reason, lists)
        return replace(said, decision=decided, reason=reason, rule=proposal.rule, proposed="")
    if before is not None and before.decision is decided and proposal_for(deed, container, before) == proposal:
        # Neither this decision nor what the rules say is new: a number put right makes no override of an old row.
        rule, proposed = before.rule, before.proposed
    else:
        check_override(proposal, decided, said.reason)
        rule, proposed = proposal.rule, str(proposal.decision)
    reason = reason_named(decided, said.reason, lists)
    return replace(said, decision=decided, reason=reason, rule=rule, proposed=proposed)


def stands_as_proposed(deed: Deed, container: Container, said: GroupFacts) -> bool:
    """Tell whether nobody decided a group otherwise than the policy proposes it now, nor gave a reason of their own."""
    proposal = proposal_for(deed, container, said)
    by_the_rule = said.decision is proposal.decision and said.rule == proposal.rule and not said.proposed
    return by_the_rule and said.reason in ("", proposal.reason)


def _stays_by_the_rule(proposal: Proposal, decided: Decision, before: GroupFacts | None) -> bool:
    """Tell whether a group was decided so by the same rule before, or kept by lot as this one keeps some too."""
    if before is None or before.decision is not decided or before.proposed:
        return False
    by_lot = decided is Decision.KEEP and before.reason == SHARE
    return before.rule == proposal.rule or (by_lot and proposal.splits)
