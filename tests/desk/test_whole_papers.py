"""Sheets and reports: what stands on them is what the store says, read back from the PDF by another library.

No published source: that a list agrees with the records it was drawn from is common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import fields
from datetime import date
from io import BytesIO

import pikepdf
import pytest
from sqlalchemy import func, select

from findsdesk.desk.all_papers import MAKERS, make_paper
from findsdesk.desk.balances import CAME_IN, WENT, where_it_is
from findsdesk.desk.certificate import season_balances
from findsdesk.desk.desk import Desk
from findsdesk.desk.figure_scopes import Of, scope_of
from findsdesk.desk.joins import joins_between_deposits
from findsdesk.desk.paper_kinds import PAPERS
from findsdesk.desk.season_end import season_end
from findsdesk.desk.season_end_words import name_of_row
from findsdesk.desk.season_facts import ware_matrix
from findsdesk.desk.sheets import PrintedList, Wording
from findsdesk.desk.sherd_figures import figures_of
from findsdesk.desk.the_day import the_day
from findsdesk.desk.ware_table import ware_table
from findsdesk.desk.whole_papers import Asked
from findsdesk.domain.balance import Ledger
from findsdesk.domain.cross_joins import JOINS_SAY_IN_WORDS
from findsdesk.store.models import Container, Piece, Season
from findsdesk.words import grouped
from tests.desk.at_the_table import refused
from tests.desk.whole_yard import DESCRIPTION, ON_A_FILE, pages_of, text_of, whole_yard
from tests.yard import sitting

ASKED = Asked(deposit="2017")


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """Return a yard that nobody changes, with one of everything."""
    desk = whole_yard(tmp_path_factory.mktemp("whole"), photo=ON_A_FILE)
    yield sitting(desk, "Mika")
    desk.close()


@pytest.fixture(scope="module")
def printed(whole: Desk) -> Callable[[str], PrintedList]:
    """Return a call that makes a paper once and gives it again."""
    made: dict[str, PrintedList] = {}

    def make(key: str) -> PrintedList:
        if key not in made:
            made[key] = make_paper(whole, key, ASKED)
        return made[key]

    return make


def test_every_kind_of_paper_has_its_maker_and_a_sentence() -> None:
    assert list(MAKERS) == [one.key for one in PAPERS]
    for one in PAPERS:
        assert one.purpose.endswith(".")
        assert len(one.purpose.split()) >= 6


@pytest.mark.parametrize("key", list(MAKERS))
def test_every_page_says_whose_when_who_which_head_and_which_page(
    whole: Desk, printed: Callable[[str], PrintedList], key: str
) -> None:
    made = printed(key)
    pages = pages_of(made.pdf)
    assert len(pages) == made.pages
    for number, text in enumerate(pages, 1):
        for said in (
            made.title,
            "Tannery Quay (invented example)",
            "VE-26-014",
            f"{whole.now().astimezone(whole.facts.zone):%Y-%m-%d %H:%M} +02:00 by Mika Sool",
            whole.head(),
            f"page {number} of {len(pages)}",
        ):
            assert said in text, said


@pytest.mark.parametrize("key", list(MAKERS))
def test_every_paper_is_sound_for_another_library(printed: Callable[[str], PrintedList], key: str) -> None:
    """qpdf's check through pikepdf; title, language and author said; every face embedded."""
    made = printed(key)
    with pikepdf.open(BytesIO(made.pdf)) as pdf:
        assert pdf.check_pdf_syntax() == []
        assert (str(pdf.docinfo.Title), str(pdf.docinfo.Author), str(pdf.Root.Lang)) == (made.title, "Mika Sool", "en")
        fonts = [font for page in pdf.pages for font in page.Resources.Font.values()]
        assert fonts
        assert all("/FontFile2" in font.FontDescriptor for font in fonts)


def test_the_certificate_is_the_ledger_of_the_store_line_by_line(
    whole: Desk, printed: Callable[[str], PrintedList]
) -> None:
    pages = pages_of(printed("balance").pdf)
    balances = season_balances(whole)
    assert len(pages) == len(balances) == printed("balance").rows
    for text, one in zip(pages, balances, strict=True):
        came_in = [(name, words, getattr(one.ledger, name)) for name, words in CAME_IN]
        for name, words, pieces in (*came_in, *where_it_is(one.ledger, one.signed, one.over)):
            if name == "over":
                assert not pieces, "here nothing is over"
                continue
            line = words.format(containers="buckets")
            assert re.search(rf"{line} {pieces}\b", text), (one.material, name)
        assert f"Came in {one.ledger.expected}" in text
        assert "Ilo Marr" in text
    pottery = pages[0]
    assert "100 sherds of 2 buckets came in. Each can be pointed at; 24 not yet sorted." in pottery
    assert "Not yet sorted (+) or over (−), by bucket: 132 (+24)" in pottery


def test_the_balances_are_the_sums_of_the_containers_ledgers(whole: Desk) -> None:
    (pottery,) = season_balances(whole, material="pottery")
    day = the_day(whole)
    assert pottery.ledger == day.balance
    assert {field.name for field in fields(Ledger)} >= {name for name, _words in (*CAME_IN, *WENT)} - {
        "unsorted",
        "signed",
        "carried",
        "over",
    }


def test_the_register_names_every_tag_once_and_sums_what_the_store_holds(
    whole: Desk, printed: Callable[[str], PrintedList]
) -> None:
    text = text_of(printed("containers"))
    with whole.reading() as reading:
        codes = reading.session.execute(select(Container.code)).scalars().all()
    assert printed("containers").rows == len(codes)
    for code in codes:
        assert text.count(code) == 1
    # 100 sherds and the coin came in, 45 kept, 30 to discard.
    assert re.search(r"Total 101 45 30 \d", text)


def test_the_sheet_of_a_deposit_says_everything_that_is_known_of_it(
    whole: Desk, printed: Callable[[str], PrintedList]
) -> None:
    text = text_of(printed("deposit"))
    figures = figures_of(whole, scope_of(whole, Of.DEPOSIT, "2017"))
    for said in (
        "Context 2017",
        "layer",
        "Harbour II",
        "floor fill",
        "Terminus post quem 330, given by 10 of CSJ.",
        f"Total {grouped(figures.sums.pieces)} {figures.sums.tenths / 10:,.1f}",
        "Pottery 60 30 30",
        "settled",
        "thin section",
        "Kiln House",
        "roof tile",
        "230",
        "131.1 · QRS Quay Red Slip · rim",
        "rim 180 mm",
        "outside 2.5YR 5/6",
        DESCRIPTION,
        "132.1",
        "2031",
    ):
        assert said in text, said


def test_the_catalogue_has_each_piece_with_its_photograph(whole: Desk, printed: Callable[[str], PrintedList]) -> None:
    made = make_paper(whole, "pieces")
    text = text_of(made)
    with whole.reading() as reading:
        codes = reading.session.execute(select(Piece.code)).scalars().all()
    assert made.rows == len(codes) == 3
    assert all(text.count(code) == 1 for code in codes)
    assert "kept; joins 132.1 (2031)" in text, "a join names the other piece and its deposit, on the entries of both"
    assert "kept; joins 131.1 (2017)" in text
    with pikepdf.open(BytesIO(made.pdf)) as pdf:
        pictures = sum(len(page.get_images() if hasattr(page, "get_images") else page.images) for page in pdf.pages)
    assert pictures == (1 if ON_A_FILE else 0)


def test_the_season_report_has_the_stores_figures(whole: Desk, printed: Callable[[str], PrintedList]) -> None:
    pages = pages_of(printed("season").pdf)
    text = " ".join(pages)
    with whole.reading() as reading:
        season = reading.session.execute(select(Season).where(Season.name == "2026")).scalar_one()
        containers = reading.session.execute(select(func.count()).where(Container.season_id == season.id)).scalar_one()
        matrix = ware_matrix(reading.session, season.id)
    assert printed("season").rows == containers
    assert f"{containers} buckets 100 sherds came in 75 sherds sorted 3 pieces recorded 1 object 3 contexts" in pages[0]
    table = ware_table(whole)
    for row in table.rows:
        assert matrix.of_deposit(row.deposit_id) == sum(row.pieces)
        cells = " ".join(str(one) for one in row.pieces if one)
        assert f"{row.deposit} {cells} {sum(row.pieces)}" in text
    sums = [sum(row.pieces[place] for row in table.rows) for place in range(len(table.wares))]
    assert f"Total {' '.join(map(str, sums))} {sum(sums)}" in text
    day = the_day(whole)
    assert f"Total {sum(day.by_standing.values())}" in text


def test_the_season_report_has_its_chapters_where_the_contents_say(printed: Callable[[str], PrintedList]) -> None:
    pages = pages_of(printed("season").pdf)
    chapters = (
        "The season in figures",
        "Contexts",
        "Wares",
        "Dates",
        "Pieces",
        "Objects",
        "Samples",
        "Discards",
        "Balance certificate",
        "What is open",
        "Register of buckets",
    )
    for title in chapters:
        found = re.search(rf"{title} (\d+)", pages[1])
        assert found, title
        assert title in pages[int(found[1]) - 1]
    with pikepdf.open(BytesIO(printed("season").pdf)) as pdf, pdf.open_outline() as outline:
        assert [str(one.title) for one in outline.root] == list(chapters)


def test_the_yard_sheet_says_what_lies_where_and_what_needs_a_person(
    whole: Desk, printed: Callable[[str], PrintedList]
) -> None:
    text = text_of(printed("yard"))
    for said in ("Lift with two hands", "The tubs are empty.", "140 2017", "Animal bone", "122: on the field list",
                 "object 1, coin", "Local rules and the people licensed"):  # fmt: skip
        assert said in text


def test_day_sheets_have_what_is_in_the_yard_and_room_for_the_rest(whole: Desk) -> None:
    made = make_paper(whole, "day-sheets")
    text = text_of(made)
    assert "Day: ____" in text
    for said in (
        "Check-in",
        "Tubs",
        "Washed and counted",
        "Sorting",
        "140 2017 arrived",
        "QRS Quay Red Slip",
        "Entered by",
    ):
        assert said in text
    dated = make_paper(whole, "day-sheets", Asked(day=date(2026, 7, 16)))
    assert "2026-07-16" in text_of(dated)
    assert "Day: ____" not in text_of(dated)


def test_the_inspector_sees_the_state_of_the_day(whole: Desk, printed: Callable[[str], PrintedList]) -> None:
    text = text_of(printed("inspector"))
    (pottery,) = season_balances(whole, "2026", "pottery")
    ledger = pottery.ledger
    assert f"Pottery {ledger.expected} {ledger.kept} {ledger.to_discard} {ledger.moved_out} {ledger.unsorted}" in text
    other = text_of(make_paper(whole, "inspector", Asked(day=date(2026, 7, 13))))
    assert "2026-07-13, season 2026: what was washed is of that day, all else as it stands now" in other
    for said in (
        "day 9 of 42",
        "2017 A1 layer",
        "coin",
        "No sample.",
        "1 proposed",
        "not yet seen",
        "Director",
        "Inspector",
    ):
        assert said in text


def test_the_field_list_has_every_tag_that_is_out(whole: Desk, printed: Callable[[str], PrintedList]) -> None:
    text = text_of(printed("field"))
    assert printed("field").rows == 4
    assert "Bryn Hallo 4 tags" in text
    assert "122" in text
    assert "131" not in text.replace("TQT", "")


def test_the_register_of_discards_has_every_line_with_its_events(printed: Callable[[str], PrintedList]) -> None:
    text = text_of(printed("discards"))
    for said in ("List 1, season 2026", "proposed, listed", "Oren Vade", "131 2017 A1 MBU body 30 330.0",
                 "no diagnostic value 30", "Together 30 sherds, 330.0 g", "Broken sherds cut"):  # fmt: skip
        assert said in text


def test_the_bone_list_warns_of_human_bone(printed: Callable[[str], PrintedList]) -> None:
    text = text_of(printed("bone"))
    assert "If a bone may be human, stop." in text
    assert "Animal bone one bucket" in text
    assert "140" in text
    assert "Received by" in text


def test_the_joins_across_deposits_are_those_of_the_store(whole: Desk, printed: Callable[[str], PrintedList]) -> None:
    made = printed("joins")
    (pair,) = joins_between_deposits(whole)
    said = JOINS_SAY_IN_WORDS[pair.says]
    assert f"{pair.one} {pair.other} 1 1 {', '.join(pair.pieces)} " in text_of(made)
    assert said.split(":")[0] in text_of(made)
    assert made.rows == 1


def test_the_concordance_says_what_is_left_to_write_again(printed: Callable[[str], PrintedList]) -> None:
    text = text_of(printed("concordance"))
    assert "2003 2031" in text
    assert "tag 2" in text


def test_a_deposit_must_be_named_and_known(whole: Desk) -> None:
    with refused(whole, "no_deposit_asked"):
        make_paper(whole, "deposit")
    with refused(whole, "unknown_deposit"):
        make_paper(whole, "deposit", Asked(deposit="9999"))
    assert make_paper(whole, "deposit", Asked(deposit="2003")).title == "Context 2031"
    with refused(whole, "unknown_paper_kind"):
        make_paper(whole, "horoscope")
    with refused(whole, "unknown_paper"):
        make_paper(whole, "yard", Asked(paper="papyrus"))


def test_what_stays_open_names_each_thing_and_who_signs(whole: Desk, printed: Callable[[str], PrintedList]) -> None:
    end = season_end(whole, named=None)
    words = text_of(printed("open"))
    assert printed("open").rows == end.open
    for line in end.lines:
        for row in line.rows:
            assert name_of_row(row, Wording(whole)) in words
    for said in ("What stays open", "Director Ilo Marr", "Second person", "Nothing damp goes into"):
        assert said in words


def test_the_inspector_sees_where_the_boxes_lie_and_what_is_off_site(printed: Callable[[str], PrintedList]) -> None:
    words = text_of(printed("inspector"))
    assert "Where the boxes lie" in words
    assert "Off site and in hand" in words
