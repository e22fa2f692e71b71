"""Spoiled papers: they lie about, so they stand in the register and their copy is never given to another paper."""

from sqlalchemy import select

from findsdesk.desk.bagging import bags_of, bags_to_label
from findsdesk.desk.counting import log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.printing import (
    PrintKind,
    came_out_well,
    gather,
    gather_again,
    lay_out,
    lay_out_bag_labels,
    reprint,
)
from findsdesk.desk.registers import Register, page
from findsdesk.desk.tags import issue_tags
from findsdesk.desk.washing import dip_and_look
from findsdesk.store.models import Container
from tests.desk.at_the_table import refused
from tests.desk.test_printing import SHEET, bagged, printed, text_of
from tests.yard import put_container


def test_a_spoiled_paper_stands_in_the_register_and_its_number_is_not_given_again(desk: Desk) -> None:
    """A sheet jams twice: copy 1 and copy 2 lie about, so what waits comes as copy 3, whoever lays it out."""
    codes = bagged(desk, 131)
    done = came_out_well(desk, lay_out_bag_labels(desk, stock=SHEET), codes=codes[:1], spoiled="jammed")
    assert (done.codes, done.left_over) == (codes[:1], codes[1:])
    assert [row.code for row in bags_to_label(desk)] == [codes[1]]
    again = lay_out_bag_labels(desk, stock=SHEET)
    assert [(one.code, one.copy) for one in again.placed] == [(codes[1], 2)], "left and come back to: still copy 2"
    none = came_out_well(desk, again, codes=[], spoiled="jammed")
    assert (none.printing_id, none.codes, none.left_over) == (None, (), codes[1:])
    with refused(desk, "printed_meanwhile"):
        came_out_well(desk, again)
    third = lay_out_bag_labels(desk, stock=SHEET)
    came_out_well(desk, third)
    assert [one.label_copy for one in bags_of(desk, "131")] == [1, 3]
    rows = [(row.code, row.copy, row.reason, row.spoiled) for row in page(desk, Register.PRINTS)]
    assert sorted(rows) == [
        (codes[0], 1, "", ""),
        (codes[1], 1, "", "jammed"),
        (codes[1], 2, "jammed", "jammed"),
        (codes[1], 3, "jammed", ""),
    ]


def test_a_spoiled_reprint_comes_again_as_the_copy_after_it(desk: Desk) -> None:
    codes = bagged(desk, 131)
    came_out_well(desk, lay_out_bag_labels(desk, stock=SHEET))
    changed = reprint(desk, codes, reason="changed", stock=SHEET)
    came_out_well(desk, changed, codes=codes[:1], spoiled="jammed")
    again = reprint(desk, codes[1:], reason="jammed", stock=SHEET)
    assert [one.copy for one in again.placed] == [3]
    came_out_well(desk, again)
    of_it = [(row.copy, row.reason, row.spoiled) for row in page(desk, Register.PRINTS) if row.code == codes[1]]
    assert sorted(of_it) == [(1, "", ""), (2, "changed", "jammed"), (3, "jammed", "")]
    with refused(desk, "unknown_reason"):
        came_out_well(desk, again, codes=[], spoiled="prettier")


def test_spoiled_tags_and_slips_wait_as_their_next_copy(desk: Desk) -> None:
    codes = bagged(desk, 131)
    block = issue_tags(desk, how_many=1)
    put_on_tray = put_container(desk, 140)
    dip_and_look(desk, put_on_tray)
    log_count(desk, put_on_tray, pieces=12)
    kinds = {PrintKind.TAG: (block.tags[0].code,), PrintKind.SLIP: codes[:1], PrintKind.WASH: (put_on_tray,)}
    for kind, named in kinds.items():
        sheets = lay_out(desk, gather(desk, kind, named), stock=SHEET)
        came_out_well(desk, sheets, codes=[], spoiled="jammed")
        again = gather(desk, kind, named)
        assert [one.copy for one in again.labels] == [2], kind
        came_out_well(desk, lay_out(desk, again, stock=SHEET))
        assert [one.copy for one in gather_again(desk, kind, named, "lost or unreadable").labels] == [3], kind
    with desk.reading() as reading:
        wanted = select(Container.tag_copy).where(Container.code == block.tags[0].code)
        assert reading.session.execute(wanted).scalar_one() == 2


def test_the_first_paper_of_a_label_is_copy_1_though_it_was_asked_for_as_a_reprint(desk: Desk) -> None:
    """What is in no register was never printed; a tag lies with finds that came in, whoever wrote it."""
    code = bagged(desk, 131)[0]
    (tag,) = issue_tags(desk, how_many=1).tags
    first = reprint(desk, [code], reason="jammed", stock=SHEET)
    assert [one.copy for one in first.placed] == [1]
    assert "copy" not in text_of(first.pdf)
    assert [one.copy for one in reprint(desk, [tag.code], reason="lost", stock=SHEET).placed] == [1]
    assert [one.copy for one in reprint(desk, ["131"], reason="lost", stock=SHEET).placed] == [2]
    came_out_well(desk, first)
    assert bags_of(desk, "131")[0].label_copy == 1
    assert printed(desk) == [("bag labels", code, 1, 1, 1, "jammed")]
    assert reprint(desk, [code], reason="lost", stock=SHEET).placed[0].copy == 2
