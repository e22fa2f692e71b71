from hypothesis import given
from hypothesis import strategies as st

from findsdesk.domain.bags import BagOf, BagProposal, Kept, propose
from findsdesk.domain.balance import Decision

GROUPS = st.lists(
    st.builds(
        Kept,
        diagnostic=st.booleans(),
        pieces=st.integers(1, 500),
        tenths=st.none() | st.integers(0, 9000),
        decision=st.sampled_from(list(Decision)),
    ),
    max_size=8,
)


def test_each_pile_has_its_bag() -> None:
    groups = [
        Kept(True, 3, 600, Decision.KEEP),
        Kept(False, 9, None, Decision.KEEP),
        Kept(False, 1, 40, Decision.MEND),
        Kept(True, 2, 80, Decision.HOLD),
        Kept(False, 50, 4000, Decision.DISCARD),
        Kept(True, 1, 150, Decision.KEEP),
    ]
    assert propose(groups, apart=True) == (
        BagProposal(BagOf.DIAGNOSTIC, 4, 750),
        BagProposal(BagOf.BODY, 9, None),
        BagProposal(BagOf.MENDING, 1, 40),
        BagProposal(BagOf.HOLD, 2, 80),
    )


def test_what_is_not_told_apart_lies_together() -> None:
    groups = [Kept(True, 3, None, Decision.KEEP), Kept(False, 9, None, Decision.KEEP)]
    assert propose(groups, apart=False) == (BagProposal(BagOf.ALL, 12, None),)


@given(GROUPS, st.booleans())
def test_every_piece_that_stays_is_in_one_bag(groups: list[Kept], apart: bool) -> None:
    bags = propose(groups, apart=apart)
    assert sum(bag.pieces for bag in bags) == sum(
        group.pieces for group in groups if group.decision is not Decision.DISCARD
    )
    assert len({bag.what for bag in bags}) == len(bags)
