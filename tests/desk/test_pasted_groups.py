"""Groups pasted at once are one act: all of them or none, and one taking back removes them all."""

from findsdesk.desk.deposits import change_deposit
from findsdesk.desk.desk import Desk
from findsdesk.desk.proving import prove
from findsdesk.desk.retention import add_rule
from findsdesk.desk.sorting import GroupFacts, NewGroup, add_group, add_groups, do_again, table_of, take_back_last
from findsdesk.domain.balance import Decision
from tests.desk.at_the_table import dry_container, prove_totals, refused
from tests.yard import acts, last_said

ROWS = (
    NewGroup(GroupFacts("qrs", "rim", 11, 3400, rim_permille=620)),
    NewGroup(GroupFacts("MBU", "body", 54, 6110, reason="no diagnostic value"), Decision.DISCARD),
    NewGroup(GroupFacts("", "handle", 2, None), Decision.HOLD),
)


def short(desk: Desk, code: str) -> list[str]:
    return [row.facts.in_short() for row in table_of(desk, code).groups]


SHORT = [
    "QRS rim 11, 340.0 g, 62 %, keep",
    "MBU body 54, 611.0 g, discard (no diagnostic value)",
    "handle 2, hold",
]


def test_several_groups_are_one_act_and_one_taking_back(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    before = acts(desk)
    written = add_groups(desk, code, ROWS)
    assert [row.ordinal for row in written] == [1, 2, 3]
    assert acts(desk) == before + 1
    assert last_said(desk) == "131: 3"
    assert short(desk, code) == SHORT
    prove_totals(desk)
    take_back_last(desk, code)
    assert short(desk, code) == []
    do_again(desk, code)
    assert short(desk, code) == SHORT
    take_back_last(desk, code)
    assert short(desk, code) == []
    prove_totals(desk)
    assert not prove(desk).findings


def test_one_row_that_is_wrong_is_named_and_none_is_written(desk: Desk) -> None:
    code = dry_container(desk, 131, 132)
    add_group(desk, code, ware="QRS", part="rim", pieces=1)
    with refused(desk, "pasted_row") as caught:
        add_groups(desk, code, (*ROWS, NewGroup(GroupFacts("XYZ", "rim", 1))))
    assert caught.value.in_words().startswith("Row 4: There is no ware XYZ.")
    with refused(desk, "pasted_row") as caught:
        add_groups(desk, code, (NewGroup(GroupFacts("XYZ", "rim", 1), row=7),))
    assert caught.value.in_words().startswith("Row 7: There is no ware XYZ.")
    with refused(desk, "no_rows"):
        add_groups(desk, code, ())


GLAZE = NewGroup(GroupFacts("GGL", "body", 2, 110))
BODIES = {"decision": Decision.DISCARD, "reason": "no diagnostic value", "parts": ("body",)}


def test_what_looks_late_where_it_is_from_is_held_as_at_typing_and_not_discarded(desk: Desk) -> None:
    add_rule(desk, "Other body sherds", **BODIES)  # type: ignore[arg-type]
    code = dry_container(desk, 131, 132)
    add_group(desk, code, ware="QRS", part="rim", pieces=7)
    said = NewGroup(GroupFacts("GGL", "body", 1, reason="modern"), Decision.DISCARD)
    written = add_groups(desk, code, (NewGroup(GroupFacts("MBU", "body", 5)), GLAZE, said))
    assert [row.facts.in_short() for row in written] == [
        "MBU body 5, discard (no diagnostic value)",
        "GGL body 2, 11.0 g, hold (looks late)",
        "GGL body 1, discard (modern)",
    ]
    prove_totals(desk)
    assert not prove(desk).findings


def test_what_looks_late_beside_the_other_rows_of_the_paste_is_held_too(desk: Desk) -> None:
    add_rule(desk, "Other body sherds", **BODIES)  # type: ignore[arg-type]
    code = dry_container(desk, 131, 132)
    written = add_groups(desk, code, (GLAZE, NewGroup(GroupFacts("QRS", "rim", 40))))
    assert written[0].facts.in_short() == "GGL body 2, 11.0 g, hold (looks late)"


def test_where_a_deposit_is_not_sealed_the_policy_decides_what_is_pasted(desk: Desk) -> None:
    add_rule(desk, "Other body sherds", **BODIES)  # type: ignore[arg-type]
    code = dry_container(desk, 131, 132)
    add_group(desk, code, ware="QRS", part="rim", pieces=70)
    change_deposit(desk, "2017", security="unsealed")
    assert add_groups(desk, code, (GLAZE,))[0].decision is Decision.DISCARD
