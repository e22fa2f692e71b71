"""Pieces and tags that change places: the ledgers, the grams and the hold-backs go with the finds."""

import pytest

from findsdesk.desk.correcting import correct_container
from findsdesk.desk.counting import count_again, log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import Dossier, find
from findsdesk.desk.moving import put_together, swap_tags, take_out
from findsdesk.desk.needs import Need
from findsdesk.desk.pieces import lift_pieces
from findsdesk.desk.proving import prove
from findsdesk.desk.sorting import add_group, begin_sorting
from findsdesk.desk.sorting_table import table_of
from findsdesk.desk.tags import issue_tags, void_tag
from findsdesk.desk.the_day import the_day
from findsdesk.desk.untagged import register_untagged
from findsdesk.desk.washing import dip_and_look, hold_back, mark_dry, start_soak, step_back, treat
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Hold, Standing, StepKind
from tests.yard import ARRIVED, acts, put_container, put_settled, standing_of, with_settings


def in_hand(desk: Desk, tag: str) -> Dossier:
    found = find(desk, tag)
    assert isinstance(found, Dossier)
    return found


def counted(desk: Desk, number: int, pieces: int, tenths: int | None = None) -> str:
    code = put_container(desk, number)
    log_count(desk, code, pieces=pieces, tenths=tenths)
    return code


def grams(desk: Desk, tag: str) -> int:
    table = table_of(desk, tag).grams
    return table.counted - table.accounted


def refused(desk: Desk, code: str, deed: object, *arguments: object, **more: object) -> None:
    """Check that a deed is refused by this code and writes nothing."""
    before = acts(desk)
    with pytest.raises(Refusal) as caught:
        deed(desk, *arguments, **more)  # type: ignore[operator]
    assert caught.value.code == code
    assert acts(desk) == before


def held(desk: Desk) -> list[Need]:
    return [need for need in the_day(desk).needs if need.kind == "held"]


def test_nothing_is_taken_out_of_what_is_settled_void_or_not_here(desk: Desk) -> None:
    refused(desk, "already_settled", take_out, put_settled(desk, 131), pieces=2, material="bone")
    tag = issue_tags(desk, how_many=1).tags[0].code
    refused(desk, "not_arrived", take_out, tag, pieces=2, material="bone")
    void_tag(desk, tag, reason="torn")
    refused(desk, "tag_void", take_out, tag, pieces=2, material="bone")


def test_at_least_one_piece_is_taken_out(desk: Desk) -> None:
    refused(desk, "nothing_taken_out", take_out, counted(desk, 131, 12), pieces=0, material="bone")


def test_pieces_are_taken_out_of_what_is_counted_only_at_the_table(desk: Desk) -> None:
    with_settings(desk, count_at_wash=False)
    code = put_container(desk, 131, steps=ARRIVED)

    treat(desk, code, how=StepKind.WASHED)
    begin_sorting(desk, code, sure=True)
    add_group(desk, code, ware="QRS", part="rim", pieces=10)
    assert take_out(desk, code, pieces=3, material="bone").left == 0


def test_what_is_taken_out_of_a_provisional_find_is_provisional_too(desk: Desk) -> None:
    put_container(desk, 1)
    find_code = register_untagged(desk).code
    bones = take_out(desk, find_code, pieces=2, material="bone")
    assert bones.tag.number == "P2"
    assert in_hand(desk, bones.tag.code).provisional
    assert in_hand(desk, "1").code != bones.tag.code


def test_grams_are_taken_out_with_their_pieces(desk: Desk) -> None:
    code = counted(desk, 131, 12, 2400)
    bones = take_out(desk, code, pieces=2, material="bone", tenths=400)
    assert (grams(desk, code), grams(desk, bones.tag.code)) == (2000, 400)
    assert prove(desk).findings == ()


def test_grams_go_along_when_two_are_put_together(desk: Desk) -> None:
    one, other = counted(desk, 131, 12, 2400), counted(desk, 132, 5, 1000)
    put_together(desk, one, into=other, reason="one bucket, two tags")
    assert (in_hand(desk, other).ledger.expected, grams(desk, other), grams(desk, one)) == (17, 3400, 0)
    assert prove(desk).findings == ()


def test_nothing_is_emptied_into_what_is_settled_or_void(desk: Desk) -> None:
    code = counted(desk, 131, 12)
    refused(desk, "already_settled", put_together, code, into=put_settled(desk, 132), reason="no")
    tag = put_container(desk, 133, steps=ARRIVED[:1])
    void_tag(desk, tag, reason="torn")
    refused(desk, "tag_void", put_together, code, into=tag, reason="no")
    refused(desk, "reason_needed", put_together, code, into=put_container(desk, 134), reason=" ")


def test_what_has_rows_on_the_table_is_not_emptied_into_another(desk: Desk) -> None:
    code, other = counted(desk, 131, 12), counted(desk, 132, 5)
    mark_dry(desk, [code])
    begin_sorting(desk, code, sure=True)
    add_group(desk, code, ware="QRS", part="rim", pieces=4)
    refused(desk, "rows_on_the_table", put_together, code, into=other, reason="no")


def test_what_is_held_back_stays_held_back_when_put_together(desk: Desk) -> None:
    one, other = put_container(desk, 131), put_container(desk, 132)
    hold_back(desk, one, reason=Hold.PAINTED)
    put_together(desk, one, into=other, reason="one bucket")
    refused(desk, "held_back", start_soak, other, tub="1")
    assert held(desk)[0].numbers == ("132",)


def test_what_was_emptied_into_another_does_not_come_back_by_itself(desk: Desk) -> None:
    one, other = counted(desk, 131, 12), counted(desk, 132, 5)
    put_together(desk, one, into=other, reason="one bucket")
    refused(desk, "joined", step_back, one, to=Standing.DRYING, reason="not so")


def test_swapped_tags_swap_grams_and_hold_backs(desk: Desk) -> None:
    one, other = counted(desk, 131, 12, 2400), put_container(desk, 132)
    hold_back(desk, other, reason=Hold.PAINTED)
    swap_tags(desk, one, other, reason="the tags lay crosswise")
    assert (grams(desk, one), grams(desk, other)) == (0, 2400)
    assert (in_hand(desk, one).held_for, in_hand(desk, other).held_for) == (Hold.PAINTED, None)
    assert (standing_of(desk, one), standing_of(desk, other)) == (Standing.ARRIVED, Standing.DRYING)
    assert held(desk)[0].numbers == ("131",)
    assert prove(desk).findings == ()
    refused(desk, "reason_needed", swap_tags, one, other, reason="")


def test_what_nobody_counted_is_counted_first_under_its_own_tag(desk: Desk) -> None:
    one, other = counted(desk, 131, 12), put_container(desk, 132)
    swap_tags(desk, one, other, reason="the tags lay crosswise")
    refused(desk, "already_counted", log_count, other, pieces=12)
    refused(desk, "not_counted_yet", count_again, one, pieces=7)
    dip_and_look(desk, one)
    assert log_count(desk, one, pieces=7).before is None
    assert [in_hand(desk, code).ledger.counted for code in (one, other)] == [7, 12]
    day = the_day(desk)
    assert (day.washed_today, day.pieces_today) == (2, 19)
    assert prove(desk).findings == ()


def test_what_only_arrived_by_a_swap_is_not_taken_for_counted(desk: Desk) -> None:
    source, other = counted(desk, 131, 12), put_container(desk, 132)
    arrived = take_out(desk, source, pieces=3, material="pottery").tag.code
    swap_tags(desk, arrived, other, reason="the tags lay crosswise")
    dip_and_look(desk, other)
    assert log_count(desk, other, pieces=3).before is None
    assert prove(desk).findings == ()


def test_what_came_with_a_swapped_tag_is_looked_at_anew(desk: Desk) -> None:
    """The look was at the other finds: paint or ink may be in these."""
    seen, unseen = (
        put_container(desk, 104, steps=(*ARRIVED, StepKind.LOOKED_AT)),
        put_container(desk, 105, steps=ARRIVED),
    )
    swap_tags(desk, seen, unseen, reason="tags swapped on the pallet")
    refused(desk, "look_first", start_soak, seen, tub="1")
    dip_and_look(desk, seen)
    start_soak(desk, seen, tub="1")
    assert standing_of(desk, seen) is Standing.SOAKING


def test_tags_of_what_has_rows_are_not_swapped(desk: Desk) -> None:
    code, other = put_settled(desk, 131), counted(desk, 132, 5)
    step_back(desk, code, to=Standing.DRY, reason="look again")
    refused(desk, "swap_too_late", swap_tags, code, other, reason="no")


def all_lifted(desk: Desk, number: int) -> str:
    """Return a container back at dry whose sherds all lie there as pieces: no row is left on its table."""
    code = put_settled(desk, number, kept=2, discarded=0)
    (row,) = table_of(desk, code).groups
    lift_pieces(desk, row.id, seen=row.version, how_many=2)
    step_back(desk, code, to=Standing.DRY, reason="look again")
    return code


def test_pieces_are_rows_too_where_a_container_is_emptied_swapped_or_of_another_material(desk: Desk) -> None:
    code, other = all_lifted(desk, 131), counted(desk, 132, 5)
    refused(desk, "rows_on_the_table", put_together, code, into=other, reason="no")
    refused(desk, "swap_too_late", swap_tags, code, other, reason="no")
    refused(desk, "sorted_already", correct_container, code, material="bone", reason="no")
    assert prove(desk).findings == ()
