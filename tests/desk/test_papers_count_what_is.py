"""What papers count is what there is: bags that hold something, the count that stands, boxes of one moment."""

from __future__ import annotations

import re
from datetime import timedelta

from sqlalchemy import select

from findsdesk.desk.all_papers import make_paper
from findsdesk.desk.bagging import bag
from findsdesk.desk.balances import MaterialBalance, Unsettled
from findsdesk.desk.bone_list import bone_list
from findsdesk.desk.certificate import balance_certificate, certificate_parts
from findsdesk.desk.container_sheet import container_table
from findsdesk.desk.counting import log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.ledgers import NOT_COUNTED, write_count
from findsdesk.desk.moving import take_out
from findsdesk.desk.season_facts import season_counts
from findsdesk.desk.sheets import Wording
from findsdesk.desk.sorting import add_group, change_group, reopen, settle
from findsdesk.desk.washing import hold_back
from findsdesk.desk.whole_papers import Asked
from findsdesk.desk.yard_sheet import yard_sheet
from findsdesk.domain.balance import Ledger
from findsdesk.domain.routes import Hold, StepKind
from findsdesk.paper.list_kinds import Section
from findsdesk.paper.report_kinds import Words
from findsdesk.store.models import Container, Season
from tests.desk.at_the_table import dry_container
from tests.desk.test_figure_papers import text_of
from tests.yard import ARRIVED, put_container


def test_an_emptied_bag_counts_on_no_paper(desk: Desk) -> None:
    code = dry_container(desk, 131, 10)
    row = add_group(desk, code, ware="QRS", part="body", pieces=6)
    add_group(desk, code, ware="QRS", part="rim", pieces=4)
    settle(desk, code)
    assert len(bag(desk, code)) == 2
    reopen(desk, code, reason="look again")
    change_group(desk, row.id, seen=row.version, part="rim")
    settle(desk, code)
    assert len(bag(desk, code)) == 1
    table = container_table(Wording(desk), "2026")
    assert [line[10] for line in table.rows() if not isinstance(line, Section)] == ["1"]
    assert table.totals is not None
    assert table.totals[10] == "1"
    with desk.reading() as reading:
        season = reading.session.execute(select(Season)).scalar_one()
        assert season_counts(reading.session, season.id).bags == 1


def test_bone_taken_out_of_another_bucket_is_counted_on_the_bone_list(desk: Desk) -> None:
    """It came in counted with the sherds it lay among; a total of nothing measured is a dash."""
    put_container(desk, 140, material="bone", steps=ARRIVED)
    assert "Total – – 0" in " ".join(text_of(bone_list(desk, Asked()).pdf).split())
    code = put_container(desk, 131, steps=ARRIVED)
    log_count(desk, code, pieces=40)
    taken = take_out(desk, code, pieces=7, material="bone")
    said = " ".join(text_of(bone_list(desk, Asked()).pdf).split())
    assert "Total 7 – 0" in said
    assert f"{taken.tag.code} 2026" in said


def test_the_bone_list_says_the_count_that_was_made_last(desk: Desk) -> None:
    """A count that reached the store late, from another station, was made before the one that stands."""
    code = put_container(desk, 131, material="bone", steps=ARRIVED)
    with desk.deed("log_count") as deed:
        container = deed.session.execute(select(Container).where(Container.code == code)).scalar_one()
        write_count(deed, container, 777, "first", tenths=50)
    with desk.deed("log_count") as deed:
        late = deed.happened_at - timedelta(hours=3)
        deed.happened_at = late
        write_count(deed, container, 555, "first", tenths=40)
    said = text_of(bone_list(desk, Asked()).pdf)
    assert "777" in said
    assert "555" not in said
    with desk.deed("log_count") as deed:
        deed.happened_at = deed.happened_at + timedelta(hours=1)
        write_count(deed, container, 0, NOT_COUNTED)
    assert "777" not in text_of(bone_list(desk, Asked()).pdf)


def test_what_is_over_is_named_and_never_set_off_against_what_is_left(desk: Desk) -> None:
    """10 came in each: 12 of one are sorted and 4 of the other; 6 are left, 2 are too many, and each says where."""
    for number, pieces in ((131, 12), (132, 4)):
        code = dry_container(desk, number, 10)
        add_group(desk, code, ware="QRS", part="body", pieces=pieces)
    said = " ".join(text_of(balance_certificate(desk, Asked()).pdf).split())
    assert "More is sorted than came in: 131 (−2). Count again before you sign." in said
    assert "not yet sorted 6 " in said
    assert "sorted beyond what came in −2 " in said
    assert "by bucket: 131 (−2), 132 (+6)" in said
    left = (Unsettled("7", "2024", 3), Unsettled("7", "2026", 9))
    of_two = MaterialBalance("pottery", Ledger(counted=20), 0, 0, 2, left)
    (words,) = (one.text for one in list(certificate_parts(Wording(desk), of_two))[-1:] if isinstance(one, Words))
    assert words.endswith("2024/7 (+3), 2026/7 (+9)"), "two seasons have a bucket 7"


def test_what_waits_for_water_is_washed_and_not_held_back(desk: Desk) -> None:
    put_container(desk, 131, steps=ARRIVED)
    put_container(desk, 140, material="bone", steps=ARRIVED)
    hold_back(desk, put_container(desk, 132, steps=ARRIVED), reason=Hold.PAINTED)
    said = " ".join(text_of(yard_sheet(desk, Asked()).pdf).split())
    assert "Checked in and waiting 2" in said
    assert "Of those for water 1" in said


def test_the_season_report_names_sources_apart_and_says_nothing_of_what_nobody_sorted(desk: Desk) -> None:
    """A dash is not a nought; a tag nobody used is no bucket; where a formula stands is said below, in plain words."""
    code = dry_container(desk, 131, 10)
    add_group(desk, code, ware="QRS", part="rim", pieces=4, rim_permille=500)
    put_container(desk, 101, deposit="2003")
    put_container(desk, 199, steps=(StepKind.ISSUED,))
    said = " ".join(text_of(make_paper(desk, "season", Asked()).pdf).split())
    assert re.search(r"2003 B2 .{0,40} 1 – –", said), "nothing of 2003 is sorted"
    assert "2 buckets of the season are not at their end" in said
    assert "1 tag is issued and nothing came in with it." in said
    assert re.search(r"Sources\. .{0,80}: Internet Archaeology 27/2; .{0,80}: Orton, Tyers and Vince 1993, p\.", said)
    assert "Where none is named, the table itself says how it is counted." in said
    for words in ("from memory", "our own", "ours", "not looked up"):
        assert words not in said, words
