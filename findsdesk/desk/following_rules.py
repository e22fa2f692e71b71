"""A row nobody decided is as proposed: a new one, and one put right; what somebody decided stays."""

from __future__ import annotations

from dataclasses import replace

from findsdesk.desk.decided import decide, said_for_the_policy, stands_as_proposed
from findsdesk.desk.desk import Deed
from findsdesk.desk.group_rows import GroupFacts, GroupOf
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.balance import Decision
from findsdesk.domain.intrusions import LOOKS_LATE
from findsdesk.store.models import Container


def decide_as_proposed(deed: Deed, container: Container, said: GroupFacts, of: GroupOf) -> GroupFacts:
    """Return a checked group of which nobody said a decision: as the policy says, but held what looks late here.

    Refusals: those of ``decide``.
    """
    proposed = decide(deed, container, said, None)
    if proposed.decision is Decision.DISCARD and _looks_late(deed, container, said, of):
        return decide(deed, container, replace(said, reason=said.reason or LOOKS_LATE), Decision.HOLD)
    return proposed


def decide_anew(deed: Deed, container: Container, said: GroupFacts, of: GroupOf, before: GroupFacts) -> GroupFacts:
    """Return a checked group of whose change nobody said a decision or a reason, with both.

    Where nothing changed that a rule looks at, or somebody decided, all stays as ``before``. Refusals: those of
    ``decide``.
    """
    lists = words_of(deed.desk)
    looked_at = said_for_the_policy(said, lists) != said_for_the_policy(before, lists)
    held = before.decision is Decision.HOLD and before.reason == LOOKS_LATE
    if not (looked_at and (held or stands_as_proposed(deed, container, before))):
        return decide(deed, container, said, before.decision, before)
    return decide_as_proposed(deed, container, replace(said, reason=""), of)


def _looks_late(deed: Deed, container: Container, said: GroupFacts, of: GroupOf) -> bool:
    # Only what would be discarded is asked after: the sums of a deposit are not read for nothing.
    from findsdesk.desk.late_sherds import looking_late

    return looking_late(deed.session, container, [(said, of)])[0]
