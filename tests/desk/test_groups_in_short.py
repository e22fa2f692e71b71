"""A group and its change as they are read back aloud: in few words, and what stayed is not said again."""

from dataclasses import replace

from findsdesk.desk.group_rows import GroupFacts, changed_in_short
from findsdesk.domain.balance import Decision

HANDLE = GroupFacts("TGY", "handle", 1, 640, reason="diagnostic")


def test_a_change_says_what_is_other_than_before_and_of_which_group() -> None:
    assert HANDLE.in_short() == "TGY handle 1, 64.0 g, keep (diagnostic)"
    more = replace(HANDLE, pieces=14, tenths=2400)
    assert changed_in_short(HANDLE, more) == "TGY handle 1 → TGY handle 14, 64.0 g → 240.0 g"
    held = replace(HANDLE, decision=Decision.HOLD, reason="joins")
    assert changed_in_short(HANDLE, held) == "TGY handle 1, keep (diagnostic) → hold (joins)"
    mended = replace(HANDLE, tenths=None, decision=Decision.MEND, reason="")
    assert (
        changed_in_short(HANDLE, mended) == "TGY handle 1, 64.0 g, keep (diagnostic) → TGY handle 1, keep for mending"
    )
    assert changed_in_short(HANDLE, replace(HANDLE, note="sooted")) == HANDLE.in_short()
