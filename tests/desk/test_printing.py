"""Mika's evening: bag labels on a half-used sheet, looked at, read back, a jam, copy 2; tags for trench and trays."""

from dataclasses import replace
from io import BytesIO

import pypdfium2
import pytest
from PIL import Image
from sqlalchemy import select

from findsdesk.desk.bagging import bag, bags_of, bags_to_label
from findsdesk.desk.correcting import correct_container
from findsdesk.desk.counting import count_again, log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.listed_containers import list_container
from findsdesk.desk.printing import (
    PrintKind,
    bag_labels,
    came_out_well,
    field_tags,
    labels_to_redo,
    lay_out,
    lay_out_bag_labels,
    lay_out_field_tags,
    lay_out_wash_tags,
    preview_page,
    print_labels,
    read_back,
    reprint,
    stocks,
    wash_tags,
)
from findsdesk.desk.redoing import Written, redo_done, things_to_redo
from findsdesk.desk.renumbering import renumber_deposit
from findsdesk.desk.sorting import add_group, change_group, explain, reopen, settle
from findsdesk.desk.tags import issue_tags, void_tag
from findsdesk.desk.washing import dip_and_look
from findsdesk.domain.balance import Entry
from findsdesk.domain.refusals import Refusal
from findsdesk.paper.label_kinds import BagLabel, TagLabel, WashTag
from findsdesk.store.models import Container, PrintedLabel, Printing
from tests.desk.at_the_table import dry_container, refused
from tests.yard import acts, advance, put_container, put_settled

SHEET = "a4-3x8-70x37"


def bagged(desk: Desk, number: int, deposit: str = "2017") -> tuple[str, ...]:
    """Sort and bag a container: 3 rims of 60 g and 7 body sherds; returns the codes of its two bags."""
    code = dry_container(desk, number, 10, deposit=deposit)
    add_group(desk, code, ware="QRS", part="rim", pieces=3, tenths=600)
    add_group(desk, code, ware="QRS", part="body", pieces=7)
    settle(desk, code)
    return tuple(row.code for row in bag(desk, code))


def text_of(pdf: bytes, page: int = 1) -> str:
    document = pypdfium2.PdfDocument(pdf)
    try:
        return str(document[page - 1].get_textpage().get_text_bounded())
    finally:
        document.close()


def printed(desk: Desk) -> list[tuple[str, str, int, int, int, str]]:
    with desk.reading() as reading:
        rows = reading.session.execute(
            select(
                Printing.kind,
                PrintedLabel.code,
                PrintedLabel.page,
                PrintedLabel.place,
                PrintedLabel.copy,
                Printing.reason,
            )
            .join(Printing)
            .order_by(PrintedLabel.id)
        )
        return [(row[0], row[1], row[2], row[3], row[4], row[5]) for row in rows]


# --- bag labels ---------------------------------------------------------------------------------------------------


def test_all_bags_without_a_label_are_laid_out_in_natural_order(desk: Desk) -> None:
    late, early = bagged(desk, 131, "2019"), bagged(desk, 12)
    before = acts(desk)
    sheets = lay_out_bag_labels(desk, stock=SHEET, first_place=23)
    assert sheets.codes == (*early, *late)
    assert [(one.page, one.place, one.copy) for one in sheets.placed] == [(1, 23, 1), (1, 24, 1), (2, 1, 1), (2, 2, 1)]
    assert sheets.pages == 2
    assert acts(desk) == before
    assert [row.label_copy for row in bags_to_label(desk)] == [0, 0, 0, 0]


def test_a_label_says_what_the_bag_holds(desk: Desk) -> None:
    codes = bagged(desk, 131)
    first = bag_labels(desk, codes).labels[0].label
    assert first == BagLabel(
        code=codes[0],
        deposit="2017",
        container="131",
        mark_lines=("VE-26-014", "2017-131"),
        site="Tannery Quay",
        season="2026",
        permit="VE-26-014",
        square="A1",
        collected_on=first.collected_on if isinstance(first, BagLabel) else None,
        material="Pottery",
        what="diagnostic",
        pieces=3,
        tenths=600,
        copy=1,
    )
    said = text_of(lay_out_bag_labels(desk, stock=SHEET).pdf)
    for words in (codes[0], "2017", "131", "VE-26-014", "2026-07-13"):
        assert words in said


def test_every_symbol_on_the_sheet_is_read_back(desk: Desk) -> None:
    codes = (*bagged(desk, 131), *bagged(desk, 132))
    sheets = lay_out_bag_labels(desk, stock=SHEET, used_places={1, 3})
    answer = read_back(sheets)
    assert (answer.read, answer.of, answer.missing, answer.strange) == (4, 4, (), ())
    assert answer.all_well
    assert [one.place for one in sheets.placed] == [2, 4, 5, 6]
    assert set(sheets.codes) == set(codes)


def test_a_label_that_is_not_on_its_page_is_missed(desk: Desk) -> None:
    bagged(desk, 131)
    sheets = lay_out_bag_labels(desk, stock=SHEET)
    moved = replace(sheets, placed=(replace(sheets.placed[0], code="TQB000999X"), sheets.placed[1]))
    answer = read_back(moved)
    assert (answer.read, answer.of, answer.missing) == (1, 2, ("TQB000999X",))
    assert answer.strange == (sheets.codes[0],)
    assert not answer.all_well


def test_only_what_came_out_well_is_printed(desk: Desk) -> None:
    bagged(desk, 131)
    sheets = lay_out_bag_labels(desk, stock=SHEET, first_place=5)
    done = came_out_well(desk, sheets, codes=sheets.codes[:1])
    assert (done.codes, done.left_over, done.redone) == (sheets.codes[:1], sheets.codes[1:], 0)
    assert printed(desk) == [("bag labels", sheets.codes[0], 1, 5, 1, "")]
    assert [row.code for row in bags_to_label(desk)] == list(sheets.codes[1:])
    with refused(desk, "printed_meanwhile"):
        came_out_well(desk, sheets)
    with refused(desk, "already_labelled"):
        lay_out_bag_labels(desk, sheets.codes[:1], stock=SHEET)
    with refused(desk, "not_on_the_sheets"):
        came_out_well(desk, sheets, codes=["TQB000999X"])
    with refused(desk, "nothing_came_out"):
        came_out_well(desk, sheets, codes=[])


def test_a_reprint_says_copy_2_and_why(desk: Desk) -> None:
    codes = bagged(desk, 131)
    came_out_well(desk, lay_out_bag_labels(desk, stock=SHEET))
    with refused(desk, "unknown_reason"):
        reprint(desk, codes[:1], reason="prettier", stock=SHEET)
    sheets = reprint(desk, codes[:1], reason="jammed", stock=SHEET)
    assert "copy 2" in text_of(sheets.pdf)
    assert bags_of(desk, "131")[0].label_copy == 1
    came_out_well(desk, sheets)
    assert bags_of(desk, "131")[0].label_copy == 2
    assert printed(desk)[-1] == ("bag labels", codes[0], 1, 1, 2, "jammed")
    assert reprint(desk, codes[:1], reason="lost or unreadable", stock=SHEET).placed[0].copy == 3


def test_what_jammed_comes_again_as_copy_2(desk: Desk) -> None:
    """The spoilt paper of a jam may lie about: six reprints, copy 2 on each."""
    codes = bagged(desk, 131)
    sheets = lay_out_bag_labels(desk, stock=SHEET)
    came_out_well(desk, sheets, codes=codes[:1], spoiled="jammed")
    again = reprint(desk, codes[1:], reason="jammed", stock=SHEET)
    assert [one.copy for one in again.placed] == [2]
    came_out_well(desk, again)
    assert bags_to_label(desk) == ()


def test_a_bag_packed_again_wants_a_new_label(desk: Desk) -> None:
    code = dry_container(desk, 131, 10)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=10)
    settle(desk, code)
    (first,) = bag(desk, code)
    came_out_well(desk, lay_out_bag_labels(desk, stock=SHEET))
    reopen(desk, code, reason="look again")
    change_group(desk, row.id, seen=row.version, pieces=8)
    count_again(desk, code, pieces=8, why="two joined")
    settle(desk, code)
    (again,) = bag(desk, code)
    assert (again.code, again.pieces) == (first.code, 8)
    (thing,) = labels_to_redo(desk, PrintKind.BAG)
    assert (thing.bag_code, thing.said, thing.says_now) == (first.code, "10", "8")
    done = came_out_well(desk, reprint(desk, [thing.bag_code], reason="changed", stock=SHEET))
    assert done.redone == 1
    assert labels_to_redo(desk, PrintKind.BAG) == ()


def test_a_renumbered_deposit_is_printed_anew(desk: Desk) -> None:
    codes = bagged(desk, 131)
    came_out_well(desk, lay_out_bag_labels(desk, stock=SHEET))
    renumber_deposit(desk, "2017", to="2031", reason="the same floor")
    assert {thing.bag_code for thing in labels_to_redo(desk, PrintKind.BAG)} == set(codes)
    sheets = reprint(desk, codes, reason="changed", stock=SHEET)
    assert "2031" in text_of(sheets.pdf)
    assert came_out_well(desk, sheets).redone == 2
    assert labels_to_redo(desk, PrintKind.BAG) == ()
    (tag,) = labels_to_redo(desk, PrintKind.TAG)
    tags = reprint(desk, [tag.code], reason="changed", stock=SHEET)
    assert tags.kind is PrintKind.TAG
    assert came_out_well(desk, tags).redone == 1


def test_an_empty_bag_has_no_label(desk: Desk) -> None:
    code = dry_container(desk, 131, 2)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=2)
    settle(desk, code)
    (rims,) = bag(desk, code)
    reopen(desk, code, reason="body after all")
    change_group(desk, row.id, seen=row.version, part="body")
    settle(desk, code)
    bag(desk, code)
    with refused(desk, "empty_bag"):
        lay_out_bag_labels(desk, [rims.code], stock=SHEET)


def test_nothing_is_laid_out_of_nothing(desk: Desk) -> None:
    with refused(desk, "nothing_to_print"):
        lay_out_bag_labels(desk, stock=SHEET)
    codes = bagged(desk, 131)
    with refused(desk, "unknown_stock"):
        lay_out_bag_labels(desk, stock="a4-9x9")
    with refused(desk, "mixed_labels"):
        reprint(desk, [codes[0], "131"], reason="lost", stock=SHEET)


# --- field tags and wash tags -------------------------------------------------------------------------------------


def test_issued_tags_are_printed_once(desk: Desk) -> None:
    block = issue_tags(desk, how_many=3, supervisor="Bryn Hallo")
    void_tag(desk, block.tags[1].code, reason="spoilt")
    sheets = lay_out_field_tags(desk, stock="a4-2x4-97x67")
    assert sheets.codes == (block.tags[0].code, block.tags[2].code)
    assert read_back(sheets).all_well
    first = field_tags(desk).labels[0].label
    assert isinstance(first, TagLabel)
    assert (first.supervisor, first.material, first.deposit, first.permit) == ("Bryn Hallo", "", "", "VE-26-014")
    came_out_well(desk, sheets)
    assert field_tags(desk).labels == ()
    with refused(desk, "tag_printed"):
        field_tags(desk, [block.tags[0].code])
    with refused(desk, "printed_meanwhile"):
        came_out_well(desk, sheets)


def test_a_damaged_tag_is_printed_again_from_its_code(desk: Desk) -> None:
    block = issue_tags(desk, how_many=1)
    came_out_well(desk, lay_out_field_tags(desk, stock="a4-2x4-97x67"))
    came_out_well(desk, reprint(desk, [block.tags[0].code], reason="lost", stock="a4-2x4-97x67"))
    with desk.reading() as reading:
        assert reading.session.execute(select(Container.tag_copy)).scalar_one() == 2
    assert printed(desk)[-1][4:] == (2, "lost")


def test_a_count_asks_for_its_wash_tag(desk: Desk) -> None:
    code = put_container(desk, 131)
    with refused(desk, "not_counted_yet"):
        wash_tags(desk, [code])
    dip_and_look(desk, code)
    log_count(desk, code, pieces=132)
    label = wash_tags(desk).labels[0].label
    assert isinstance(label, WashTag)
    assert (label.pieces, label.tray, label.deposit, label.container) == (132, "1", "2017", "131")
    assert label.washed_on == desk.now().date()
    sheets = lay_out_wash_tags(desk, [code], stock="roll-57x32")
    assert read_back(sheets).all_well
    advance(desk, minutes=1)
    came_out_well(desk, sheets)
    assert wash_tags(desk).labels == ()
    assert reprint(desk, [code], reason="jammed", stock="roll-57x32", kind=PrintKind.WASH).placed[0].copy == 2
    advance(desk, minutes=1)
    count_again(desk, code, pieces=133)
    (again,) = wash_tags(desk).labels
    assert (again.copy, again.label.pieces if isinstance(again.label, WashTag) else 0) == (1, 133)


def test_the_tag_in_a_tray_waits_again_when_its_context_is_renumbered_or_it_is_corrected(desk: Desk) -> None:
    code = put_container(desk, 131)
    dip_and_look(desk, code)
    log_count(desk, code, pieces=132)
    came_out_well(desk, lay_out_wash_tags(desk, [code], stock="roll-57x32"))
    advance(desk, minutes=1)
    assert wash_tags(desk).labels == ()
    renumber_deposit(desk, "2017", to="2041", reason="misread")
    advance(desk, minutes=1)
    (again,) = wash_tags(desk).labels
    assert isinstance(again.label, WashTag)
    assert again.label.deposit == "2041"
    came_out_well(desk, lay_out_wash_tags(desk, stock="roll-57x32"))
    advance(desk, minutes=1)
    assert wash_tags(desk).labels == ()
    correct_container(desk, code, square="B2", reason="asked the field", sure=True)
    advance(desk, minutes=1)
    assert [one.code for one in wash_tags(desk).labels] == [code]


def test_paper_speaks_its_own_words(desk: Desk) -> None:
    bagged(desk, 131)
    said = text_of(lay_out(desk, bag_labels(desk), stock="a4-2x4-97x67").pdf)
    assert "context" in said
    assert "bucket" in said


def test_a_file_of_acts_prints_in_one_act(desk: Desk) -> None:
    codes = bagged(desk, 131)
    before = acts(desk)
    assert print_labels(desk, stock=SHEET).codes == codes
    assert acts(desk) == before + 1
    assert [one.copy for one in print_labels(desk, stock=SHEET, codes=codes, reason="lost").placed] == [2, 2]
    assert bags_to_label(desk) == ()
    with refused(desk, "nothing_to_print"):
        print_labels(desk, PrintKind.WASH, stock="roll-57x32")


# --- stocks and pictures ------------------------------------------------------------------------------------------


def test_the_stocks_are_there_with_their_places(desk: Desk) -> None:
    known = {stock.name: stock for stock in stocks()}
    assert {SHEET, "a4-3x7-63x38", "letter-3x10-67x25", "roll-57x32"} <= set(known)
    assert "a4-plain" not in known
    sheet = known[SHEET]
    assert (sheet.page_width, sheet.label_width, sheet.label_height) == (21000, 7000, 3700)
    assert [place.number for place in sheet.places] == list(range(1, 25))


@pytest.mark.parametrize("width", [300, 900])
def test_the_preview_is_the_page_that_is_printed(desk: Desk, width: int) -> None:
    bagged(desk, 131)
    sheets = lay_out_bag_labels(desk, stock=SHEET)
    picture = Image.open(BytesIO(preview_page(sheets, 1, width)))
    assert picture.format == "PNG"
    assert abs(picture.width - width) <= 1
    assert picture.convert("L").histogram()[0] > 0


def test_the_file_says_what_it_is(desk: Desk) -> None:
    bagged(desk, 131)
    document = pypdfium2.PdfDocument(lay_out_bag_labels(desk, stock=SHEET).pdf)
    try:
        assert document.get_metadata_dict()["Title"] == "Bag labels, Tannery Quay"
    finally:
        document.close()


def test_what_changed_between_the_drawing_and_the_word_that_it_came_out_well_is_asked_for_again(desk: Desk) -> None:
    code = put_settled(desk, 131, deposit="2017", kept=3)
    bag(desk, code)
    sheets = lay_out_bag_labels(desk, stock=SHEET)
    advance(desk, minutes=5)
    renumber_deposit(desk, "2017", to="2018", reason="misread")
    redo_done(desk, [one.id for one in things_to_redo(desk)])
    came_out_well(desk, sheets)
    (again,) = things_to_redo(desk)
    assert (again.what, again.said[:4], again.says_now[:4]) == (Written.LABEL, "2017", "2018")


def test_a_bag_packed_anew_since_its_label_was_drawn_gets_no_such_label(desk: Desk) -> None:
    code = put_settled(desk, 131, kept=3)
    bag(desk, code)
    sheets = lay_out_bag_labels(desk, stock=SHEET)
    advance(desk, minutes=5)
    reopen(desk, code, reason="one more")
    explain(desk, code, Entry.FOUND_MORE, pieces=1)
    add_group(desk, code, ware="QRS", part="rim", pieces=1)
    settle(desk, code)
    bag(desk, code)
    with pytest.raises(Refusal) as caught:
        came_out_well(desk, sheets)
    assert caught.value.code == "packed_meanwhile"


def test_a_tag_that_left_the_material_open_is_not_wrong_when_it_is_known(desk: Desk) -> None:
    issue_tags(desk, how_many=1)
    sheets = lay_out_field_tags(desk, stock="a4-2x4-97x67")
    advance(desk, minutes=5)
    list_container(desk, "1", deposit="2017", material="bone")
    came_out_well(desk, sheets)
    assert things_to_redo(desk) == ()
