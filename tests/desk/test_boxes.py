"""Boxes and the bags in them: by scan, within weight, room and material, a bag in one box at a time."""

from __future__ import annotations

from datetime import date

import pytest

from findsdesk.desk.box_kinds import box_rules, rule_for
from findsdesk.desk.box_proposals import pack_as_proposed, propose_boxes
from findsdesk.desk.boxes import add_box, change_box, give_up_box
from findsdesk.desk.boxing import box_with_bags, pack_by_scan, put_into_box, take_out_of_box, weigh_bag
from findsdesk.desk.desk import Desk
from findsdesk.desk.proving import prove
from findsdesk.desk.shelves import bags_without_box, place_with_boxes, places_tree, where_it_is
from findsdesk.desk.shipped import routes
from findsdesk.domain.codes import Kind, make_code, read_code
from findsdesk.domain.settings import Settings
from tests.desk.at_the_table import refused
from tests.desk.on_the_shelves import furnish_store, put_bags
from tests.yard import acts, advance, last_said, with_settings


@pytest.fixture
def store(desk: Desk) -> Desk:
    furnish_store(desk)
    return desk


def test_every_material_of_the_yard_has_a_box() -> None:
    for material in routes():
        assert material in rule_for(material).takes
    for rule in box_rules().values():
        assert set(rule.takes) | set(rule.asks) <= set(routes())
        assert not set(rule.takes) & set(rule.asks)
        assert rule.care.endswith(".")
    assert sum(len(rule.takes) for rule in box_rules().values()) == len(routes())


def test_bone_never_lies_with_stone_and_metal_is_dry() -> None:
    """Common practice, no source; metals dry: PUBLISHED in the advice listed in docs/sources.md."""
    rules = box_rules().values()
    assert not any({"bone", "worked_stone"} <= {*rule.takes, *rule.asks} for rule in rules)
    assert all(rule.desiccant for rule in rules if "metal" in rule.takes)
    assert not any("metal" in rule.asks for rule in rules)
    assert all(rule.takes == ("human_bone",) for rule in rules if "human_bone" in (*rule.takes, *rule.asks))


def test_a_new_box_has_its_number_code_limit_and_place(store: Desk) -> None:
    first, second = add_box(store, kind="sherds", place="Shelf 1", how_many=2)
    assert (first.number, second.number) == (1, 2)
    assert read_code(first.code, "TQ").kind is Kind.BOX
    assert first.limit_tenths == Settings().box_limit_tenths == 100_000
    assert (first.size_mm, first.place, first.bags) == ((390, 250, 200), "Dig house › Store › Shelf 1", 0)
    assert where_it_is(store, "2").lain[0].place == "Dig house › Store › Shelf 1"
    assert place_with_boxes(store, "Shelf 1").boxes == (first, second)


def test_the_limit_is_a_setting_and_its_own(store: Desk) -> None:
    with_settings(store, box_limit_tenths=80_000)
    assert add_box(store, kind="sherds")[0].limit_tenths == 80_000
    own = add_box(store, kind="stone", limit_tenths=60_000, empty_tenths=4_000, length_mm=200)[0]
    assert (own.limit_tenths, own.tenths, own.size_mm) == (60_000, 4_000, (200, 200, 150))


def test_what_is_refused_of_a_box(store: Desk) -> None:
    with refused(store, "unknown_box_kind"):
        add_box(store, kind="treasure")
    with refused(store, "boxes_at_once"):
        add_box(store, kind="sherds", how_many=0)
    with refused(store, "limit_too_high"):
        add_box(store, kind="sherds", limit_tenths=250_000, sure=True)
    with refused(store, "heavy_limit"):
        add_box(store, kind="sherds", limit_tenths=200_000)
    with refused(store, "empty_too_heavy"):
        add_box(store, kind="sherds", empty_tenths=100_000)
    with refused(store, "box_size"):
        add_box(store, kind="sherds", height_mm=5_000)
    with refused(store, "for_a_while_only"):
        add_box(store, kind="sherds", place="Drawing table")
    with refused(store, "unknown_box"):
        give_up_box(store, "9")
    add_box(store, kind="sherds", limit_tenths=200_000, sure=True)
    assert "local codes" in last_said(store)


def test_packing_by_scan_box_bag_bag_box_bag(store: Desk) -> None:
    bags = [*put_bags(store, 131, [2_000, 1_500.5]), *put_bags(store, 132, [900], deposit="2003")]
    boxes = add_box(store, kind="sherds", how_many=2, place="Shelf 1")
    before = acts(store)
    first, second = pack_by_scan(store, [boxes[0].code, bags[0], bags[1], boxes[1].code, bags[2]])
    assert acts(store) == before + 1
    assert (first.box.bags, first.box.tenths, first.box.pieces) == (2, 35_005, 20)
    assert first.box.volume_ml == 5_251, "3,500.5 g of sherds at a litre and a half a kilogram"
    assert (first.box.deposits, second.box.deposits) == (("2017",), ("2003",))
    assert [one.bag.code for one in first.bags] == bags[:2]
    assert any(caution.key == "lifting" for caution in first.cautions)
    where = where_it_is(store, bags[0])
    assert (where.box, where.place, where.lain[0].box) == (1, "Dig house › Store › Shelf 1", 1)
    assert bags_without_box(store) == ()
    assert prove(store).sound


def test_grams_and_volumes_sum_upwards(store: Desk) -> None:
    bags = put_bags(store, 131, [2_000, 1_000, 500])
    add_box(store, kind="sherds", place="Shelf 1", empty_tenths=3_000)
    add_box(store, kind="sherds", place="Shelf 2")
    put_into_box(store, "1", bags[:1])
    put_into_box(store, "2", bags[1:2])
    sums = {one.name: (one.boxes_here, one.boxes, one.bags, one.pieces, one.tenths) for one in places_tree(store)}
    assert sums["Shelf 1"] == (1, 1, 1, 10, 23_000)
    assert sums["Store"] == (0, 2, 2, 20, 33_000)
    assert sums["Dig house"] == (0, 2, 2, 20, 33_000)
    assert sums["Shelf 3"] == (0, 0, 0, 0, 0)


def test_a_bag_in_two_boxes_is_refused(store: Desk) -> None:
    bags = put_bags(store, 131, [500, 600])
    add_box(store, kind="sherds", how_many=2)
    put_into_box(store, "1", bags)
    with refused(store, "in_another_box") as caught:
        put_into_box(store, "2", bags[:1])
    assert "box 1" in caught.value.in_words()
    with refused(store, "in_this_box"):
        put_into_box(store, "1", bags[:1])
    with refused(store, "no_box_first"):
        pack_by_scan(store, [bags[0], "2"])
    with refused(store, "nothing_scanned"):
        pack_by_scan(store, [])
    take_out_of_box(store, bags[:1], why="wrong box")
    put_into_box(store, "2", bags[:1])
    assert [one.why for one in where_it_is(store, bags[0]).lain] == ["", "wrong box", ""]
    loose = put_bags(store, 132, [1])
    with refused(store, "in_no_box"):
        take_out_of_box(store, loose)


def test_a_box_over_its_limit_is_asked_about(store: Desk) -> None:
    bags = put_bags(store, 131, [9_600, 500])
    add_box(store, kind="sherds")
    held = put_into_box(store, "1", bags[:1])
    assert held.box.full_permille == 960
    assert held.box.nearly_full
    with refused(store, "box_over_limit") as caught:
        put_into_box(store, "1", bags[1:])
    assert "10.1 of 10.0 kg" in caught.value.in_words()
    assert put_into_box(store, "1", bags[1:], sure=True).box.tenths == 101_000
    assert "10.1" in last_said(store)


def test_a_box_over_full_is_asked_about(store: Desk) -> None:
    bags = put_bags(store, 131, [500])
    add_box(store, kind="sherds")
    weighed = weigh_bag(store, bags[0], gross_tenths=5_120, volume_ml=17_000)
    assert (weighed.tenths, weighed.volume_ml) == (5_120, 17_000)
    with refused(store, "box_over_full"):
        put_into_box(store, "1", bags)
    with refused(store, "bag_weight"):
        weigh_bag(store, bags[0], volume_ml=0)
    with refused(store, "nothing_measured"):
        weigh_bag(store, bags[0])
    assert put_into_box(store, "1", bags, sure=True).box.tenths == 5_120, "the bag as it was weighed"


def test_materials_keep_apart(store: Desk) -> None:
    bone = put_bags(store, 131, [100], material="bone")
    stone = put_bags(store, 132, [900], material="worked_stone")
    tile = put_bags(store, 133, [900], material="tile_brick")
    iron = put_bags(store, 134, [50], material="metal")
    for kind in ("bone", "sherds", "metal"):
        add_box(store, kind=kind)
    put_into_box(store, "1", bone)
    with refused(store, "never_together"):
        put_into_box(store, "1", stone, sure=True)
    with refused(store, "seldom_together"):
        put_into_box(store, "2", tile)
    put_into_box(store, "2", tile, sure=True)
    with refused(store, "desiccant_missing"):
        put_into_box(store, "3", iron)
    change_box(store, "3", desiccant_on=date(2026, 7, 14))
    put_into_box(store, "3", iron)
    with refused(store, "kind_of_a_full_box"):
        change_box(store, "1", kind="stone")


def test_a_box_is_given_up_empty(store: Desk) -> None:
    bags = put_bags(store, 131, [500])
    add_box(store, kind="sherds")
    put_into_box(store, "1", bags)
    with refused(store, "box_not_empty"):
        give_up_box(store, "1")
    take_out_of_box(store, bags, place="Shelf 2")
    assert where_it_is(store, bags[0]).place == "Dig house › Store › Shelf 2"
    assert give_up_box(store, "1").gone
    with refused(store, "box_gone"):
        box_with_bags(store, "1")
    assert add_box(store, kind="sherds")[0].number == 2


def test_a_bag_that_is_empty_or_unknown_is_not_packed(store: Desk) -> None:
    add_box(store, kind="sherds")
    empty = put_bags(store, 131, [None], pieces=0)
    with refused(store, "bag_is_empty"):
        put_into_box(store, "1", empty)
    with refused(store, "unknown_code"):
        put_into_box(store, "1", [make_code("TQ", Kind.BAG, 900)])


def test_a_changed_box_is_not_overwritten(store: Desk) -> None:
    seen = add_box(store, kind="sherds")[0].version
    advance(store, minutes=1)
    change_box(store, "1", note="left over from 2024")
    with refused(store, "changed_meanwhile"):
        change_box(store, "1", note="mine", seen=seen)


def test_a_proposal_packs_a_square_by_deposit_into_few_boxes(store: Desk) -> None:
    put_bags(store, 131, [3_000] * 6, deposit="2003")
    put_bags(store, 132, [2_500] * 5, deposit="2003")
    put_bags(store, 133, [400] * 4, deposit="2003", material="bone")
    put_bags(store, 134, [4_000], deposit="2017")
    proposal = propose_boxes(store, square="B2")
    assert proposal.fewest == len(proposal.boxes) == 5, "30.5 kg of sherds, and bone of its own"
    assert [one.kind for one in proposal.boxes] == ["sherds"] * 4 + ["bone"]
    assert all(one.tenths <= 100_000 for one in proposal.boxes)
    assert all(one.deposits == ("2003",) for one in proposal.boxes)
    assert any(caution.key == "lifting" for caution in proposal.cautions)
    before = acts(store)
    packed = pack_as_proposed(store, square="B2", place="Shelf 1")
    assert acts(store) == before + 1
    assert [one.box.bags for one in packed] == [len(one.bags) for one in proposal.boxes]
    assert [one.bag.number for one in bags_without_box(store)] == ["134"]
    with refused(store, "nothing_to_pack"):
        pack_as_proposed(store, square="B2")
    assert propose_boxes(store, deposit="2017", kind="bone").boxes == ()
    assert prove(store).sound


def test_a_proposal_is_packed_as_it_was_shown_or_not_at_all(store: Desk) -> None:
    codes = put_bags(store, 131, [3_000] * 3, deposit="2003")
    shown = propose_boxes(store).says
    put_bags(store, 132, [2_500], deposit="2017")
    with refused(store, "proposal_changed"):
        pack_as_proposed(store, shown=shown)
    packed = pack_as_proposed(store, deposit="2003", shown=propose_boxes(store, deposit="2003").says)
    assert sorted(one.bag.code for box in packed for one in box.bags) == sorted(codes)


def test_what_nobody_weighed_or_what_fits_nowhere_is_named(store: Desk) -> None:
    heavy, unknown = put_bags(store, 131, [11_000, None])
    proposal = propose_boxes(store)
    assert [one.code for one in proposal.too_large] == [heavy]
    assert [one.code for one in proposal.unweighed] == [unknown]
    with refused(store, "bags_unweighed"):
        pack_as_proposed(store)
    assert len(pack_as_proposed(store, sure=True)) == 1


def test_a_proposal_asks_before_a_heavy_limit_and_for_what_is_kept_dry(store: Desk) -> None:
    put_bags(store, 131, [500])
    with refused(store, "heavy_limit"):
        pack_as_proposed(store, limit_tenths=200_000)
    with refused(store, "limit_too_high"):
        pack_as_proposed(store, limit_tenths=240_000, sure=True)
    put_bags(store, 132, [50], material="metal")
    with refused(store, "desiccant_needed"):
        pack_as_proposed(store)
    assert [one.box.kind for one in pack_as_proposed(store, sure=True)] == ["sherds", "metal"]
