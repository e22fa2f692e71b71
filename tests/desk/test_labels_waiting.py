"""What waits at the labels, packing in one act, and the list for the marking table."""

import pypdfium2
import pytest

from findsdesk.desk.bagging import bag, bag_settled, bags_to_label, settled_to_bag
from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import Dossier, find
from findsdesk.desk.labels_waiting import LabelsWaiting, labels_waiting, tags_to_print
from findsdesk.desk.mark_lines import mark_lines
from findsdesk.desk.marking import check_marks, write_marks
from findsdesk.desk.marking_sheet import marking_sheet
from findsdesk.desk.playing import do
from findsdesk.desk.printing import came_out_well, field_tags, lay_out_bag_labels, lay_out_field_tags
from findsdesk.desk.renumbering import renumber_deposit
from findsdesk.desk.sorting import add_group, settle
from findsdesk.desk.tags import issue_tags
from findsdesk.domain.standings import Standing
from tests.desk.at_the_table import dry_container, refused
from tests.printed import Sheet
from tests.yard import acts, put_container, put_settled, standing_of

SHEET = "a4-3x8-70x37"


def test_each_thing_that_waits_is_counted_until_it_is_done(desk: Desk) -> None:
    assert labels_waiting(desk) == LabelsWaiting(0, 0, 0, 0, 0, 0)
    put_settled(desk, 104)
    put_settled(desk, 106, deposit="2003", marked=True)
    put_settled(desk, 107, kept=0, discarded=9)
    dry_container(desk, 108, 12)
    issue_tags(desk, how_many=3, supervisor="Bryn")
    assert labels_waiting(desk) == LabelsWaiting(
        to_pack=2, bag_labels=0, wash_tags=1, field_tags=3, again=0, to_mark=22
    )
    bag_settled(desk)
    assert labels_waiting(desk).bag_labels == 2
    came_out_well(desk, lay_out_bag_labels(desk, stock=SHEET))
    assert labels_waiting(desk).bag_labels == 0
    renumber_deposit(desk, "2003", to="2031", reason="the same layer")
    waiting = labels_waiting(desk)
    # The tag and the label of 106, and the marks on its 22 kept pieces.
    assert waiting.again == 24


def test_all_settled_containers_are_packed_in_one_act(desk: Desk) -> None:
    codes = [put_settled(desk, number) for number in (104, 106, 110)]
    before = acts(desk)
    packed = bag_settled(desk)
    assert acts(desk) == before + 1
    assert [(one.number, one.pieces) for one in packed] == [("104", 22), ("106", 22), ("110", 22)]
    assert {standing_of(desk, code) for code in codes} == {Standing.BAGGED}
    assert bags_to_label(desk) == packed
    assert settled_to_bag(desk) == ()


def test_packing_refuses_as_a_whole(desk: Desk) -> None:
    with refused(desk, "nothing_settled"):
        bag_settled(desk)
    good, packed = put_settled(desk, 104), put_settled(desk, 106)
    bag(desk, packed)
    with refused(desk, "already_bagged"):
        bag_settled(desk, [good, packed])
    assert standing_of(desk, good) is Standing.SETTLED


def test_tags_to_print_stand_block_by_block_apart_from_those_here(desk: Desk) -> None:
    put_container(desk, 90)
    first = issue_tags(desk, how_many=2, supervisor="Bryn")
    second = issue_tags(desk, how_many=3, supervisor="Lio")
    groups = tags_to_print(desk)
    by_name = {group.supervisor: group for group in groups if group.for_the_trench}
    assert by_name["Bryn Hallo"].codes == tuple(tag.code for tag in first.tags)
    assert (by_name["Lio"].first, by_name["Lio"].last) == (second.first_number, second.last_number)
    assert [group.key for group in groups if not group.for_the_trench] == ["here"]
    assert groups[-1].first == "90"
    came_out_well(desk, lay_out_field_tags(desk, by_name["Lio"].codes, stock=SHEET))
    assert [group.supervisor for group in tags_to_print(desk)] == ["Bryn Hallo", ""]
    assert len(field_tags(desk).labels) == 3


def test_a_mark_says_its_lines_its_length_and_its_pieces(desk: Desk) -> None:
    code = dry_container(desk, 131, 20)
    add_group(desk, code, ware="QRS", part="rim", pieces=3)
    add_group(desk, code, ware="QRS", part="body", pieces=7)
    put_mending = 2
    add_group(desk, code, ware="TGY", part="body", pieces=put_mending, decision="mend", reason="")
    add_group(desk, code, ware="MBU", part="body", pieces=8, decision="discard", reason="no diagnostic value")
    settle(desk, code)
    put_container(desk, 132)
    (mark,) = mark_lines(desk)
    assert mark.lines == ("VE-26-014", "2017-131")
    # 9 characters of 1.5 mm less the last gap of 0.5 mm: 13 mm (common practice, no source).
    assert mark.length_tenths == 130
    assert (mark.diagnostic, mark.others, mark.tally.kept) == (3, 9, 12)
    assert mark_lines(desk, "2003") == ()


def test_bone_metal_and_glass_are_not_inked(desk: Desk) -> None:
    for number, material in enumerate(("bone", "metal", "glass", "shell"), 200):
        put_container(desk, number, material=material)
    assert mark_lines(desk) == ()


def test_the_marking_list_carries_the_solvent_caution_and_where_to_write(desk: Desk) -> None:
    put_settled(desk, 104)
    put_settled(desk, 106, deposit="2003")
    made = marking_sheet(desk)
    assert made.rows == 2
    text = _text(made.pdf)
    for said in ("VE-26-014 / 2017-104", "13 mm", "Acetone and white spirit", "never on a break", "Context 2003"):
        assert said in text, said
    assert "Total 44 44" in " ".join(text.split()), "sherds kept, and those to mark"
    page = Sheet(made.pdf)
    lines = sorted(box.top for box in page.boxes() if box.text.strip() in ("Context 2003", "104", "Total"))
    assert lines[1] - lines[0] > 3
    assert lines[2] - lines[1] >= 8, "a row is high enough to write who wrote and who checked"
    one = marking_sheet(desk, "2003")
    assert one.rows == 1
    write_marks(desk, "106", who="Lio")
    assert "22 of 22 marked, 0 checked" in _text(marking_sheet(desk, "2003").pdf)
    check_marks(desk, "106")
    assert marking_sheet(desk).rows == 1
    assert marking_sheet(desk, all_lines=True).rows == 2
    assert "2017" not in _text(one.pdf)


def test_the_marking_list_of_an_unknown_deposit_is_refused(desk: Desk) -> None:
    with refused(desk, "unknown_deposit"):
        marking_sheet(desk, "4711")


@pytest.mark.parametrize("deposit", [None, "2017"])
def test_an_empty_marking_list_says_so(desk: Desk, deposit: str | None) -> None:
    assert "No sorted bucket has kept sherds to mark." in _text(marking_sheet(desk, deposit).pdf)


def _text(pdf: bytes) -> str:
    document = pypdfium2.PdfDocument(pdf)
    try:
        pages = [document[page].get_textpage().get_text_bounded() for page in range(len(document))]
    finally:
        document.close()
    return " ".join(" ".join(pages).split())


def test_a_scanned_label_says_which_bag_it_was(desk: Desk) -> None:
    (packed,) = bag(desk, put_settled(desk, 104))
    by_label, by_number = find(desk, packed.code), find(desk, "104")
    assert isinstance(by_label, Dossier)
    assert isinstance(by_number, Dossier)
    assert (by_label.number, by_label.scanned_bag) == ("104", packed.code)
    assert by_number.scanned_bag == ""


def test_packing_plays_by_name(desk: Desk) -> None:
    put_settled(desk, 104)
    codes = [put_settled(desk, number) for number in (106, 108)]
    do(desk, "bag-settled", {"tags": ",".join(codes)})
    assert [one.number for one in settled_to_bag(desk)] == ["104"]
