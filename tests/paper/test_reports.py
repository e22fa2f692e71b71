"""Papers of several parts: contents with true page numbers, nothing alone on a page, any length, the same bytes."""

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from io import BytesIO
from itertools import pairwise

import pikepdf
import pypdfium2
import pytest
from PIL import Image

from findsdesk.paper.box_list import BagInBox, BoxOnList, box_list
from findsdesk.paper.flow import Item, lay_out
from findsdesk.paper.list_blocks import Block
from findsdesk.paper.list_kinds import CautionSlip, Column, Section, Signature
from findsdesk.paper.loan_form import LoanOnPaper, ThingOnLoan, loan_form, return_form
from findsdesk.paper.page_frame import PageHead
from findsdesk.paper.report_kinds import (
    Bar,
    Bars,
    CatalogueEntry,
    Cover,
    Facts,
    Figure,
    Heading,
    Part,
    Report,
    Swatch,
    Table,
    Words,
)
from findsdesk.paper.reports import print_report
from findsdesk.paper.stocks import plain_paper
from tests.printed import MOMENT, TERMS, Sheet, overlapping

A4 = plain_paper()["a4-plain"]
HEAD = PageHead(
    title="Report of season 2026",
    excavation="Tannery Quay",
    permit="VE-26-014",
    person="Mika Sool",
    moment=MOMENT,
    head="9f86d081884c7d659a2feaa0c55ad015",
    terms=TERMS,
)
COVER = Cover(
    over="Tannery Quay (invented example)",
    under="2026-07-06 to 2026-08-16",
    facts=(("Permit", "VE-26-014"), ("Director", "Ilo Marr")),
    figures=(("640", "buckets"), ("59,000", "sherds came in")),
    note="Every figure is that of the store.",
)
COLUMNS = (Column("Bucket", 1, "right"), Column("Context"), Column("What", 3))


def photo(width: int = 320, height: int = 240) -> bytes:
    out = BytesIO()
    Image.new("RGB", (width, height), "#B5653A").save(out, "JPEG")
    return out.getvalue()


def rows(number: int) -> list[tuple[str, ...]]:
    return [(str(place), "2017", "body sherds") for place in range(1, number + 1)]


def chapters() -> Iterator[Part]:
    yield Heading("The season in figures", fresh=True)
    yield Facts((("Buckets", "640"), ("Bags", "52"), ("Pieces", "1,450")), columns=3)
    yield Bars(("kept", "discarded"), (Bar("QRS", (20.0, 80.0), "100"), Bar("MBU", (5.0, 0.0), "5")), "Sherds by ware")
    yield Heading("Wares", fresh=True)
    yield Words("Wares of the season.", leads=True)
    yield Table(COLUMNS, lambda: rows(130), ("130", "", "in all"), caption="Sherds by context")
    yield Heading("Dates", fresh=True)
    yield Figure(photo, 180.0, 72.0, "Date profile")
    yield Heading("Samples")
    yield Words("No sample.")


def pages_of(pdf: bytes) -> list[str]:
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [" ".join(page.get_textpage().get_text_bounded().split()) for page in document]
    finally:
        document.close()


def test_the_contents_name_the_pages_on_which_chapters_tables_and_figures_truly_stand() -> None:
    pages = pages_of(print_report(Report(HEAD, chapters, COVER), A4))
    contents = pages[1]
    for words in ("The season in figures", "Wares", "Dates", "Samples", "Table 1. Sherds by context",
                  "Figure 1. Sherds by ware", "Figure 2. Date profile"):  # fmt: skip
        found = re.search(rf"{re.escape(words)} (\d+)", contents)
        assert found, words
        assert words in pages[int(found[1]) - 1]
    for number, text in enumerate(pages, 1):
        assert f"page {number} of {len(pages)}" in text
        assert "printed 2026-07-14 17:32 +00:00 by Mika Sool · store 9f86d081884c" in text
        assert "Tannery Quay" in text
        assert "VE-26-014" in text


def test_the_outline_and_the_contents_lead_to_the_same_places() -> None:
    pdf = pikepdf.open(BytesIO(print_report(Report(HEAD, chapters, COVER), A4)))
    with pdf.open_outline() as outline:
        named = [str(item.title) for item in outline.root]
    assert named == ["The season in figures", "Wares", "Dates", "Samples"]
    links = [note for note in pdf.pages[1].Annots if note.Subtype == "/Link"]
    assert len(links) == len(named)
    assert str(pdf.docinfo.Title) == "Report of season 2026"
    assert str(pdf.docinfo.Author) == "Mika Sool"
    assert str(pdf.Root.Lang) == "en"
    assert pdf.Root.ViewerPreferences.PrintScaling == "/None"


def test_a_paper_is_sound_for_another_library_and_has_its_faces_in_it() -> None:
    """qpdf's own check of structure and streams (through pikepdf), and each face embedded as TrueType."""
    pdf = pikepdf.open(BytesIO(print_report(Report(HEAD, chapters, COVER), A4)))
    assert pdf.check_pdf_syntax() == []
    fonts = [font for page in pdf.pages for font in page.Resources.Font.values()]
    assert fonts
    assert all("/FontFile2" in font.FontDescriptor for font in fonts)


def test_the_title_of_a_chapter_stands_over_each_of_its_pages() -> None:
    pages = pages_of(print_report(Report(HEAD, chapters, COVER), A4))
    of_wares = [text for text in pages[2:] if "body sherds" in text]
    assert len(of_wares) > 2
    assert all(text.split("Bucket")[0].count("Wares") >= 1 for text in of_wares)


@pytest.mark.parametrize("many", range(34, 46))
def test_neither_the_first_nor_the_last_row_nor_the_totals_stand_alone(many: int) -> None:
    def parts() -> Iterator[Part]:
        yield Words("Before the table.")
        yield Table(COLUMNS, lambda: rows(many), (str(many), "", "in all"))

    for text in pages_of(print_report(Report(HEAD, parts), A4)):
        standing = text.count("body sherds")
        assert standing == 0 or standing >= 2
        assert "in all" not in text or standing >= 2


def test_a_section_that_goes_on_says_so_on_its_next_page() -> None:
    def parts() -> Iterator[Part]:
        yield Table(COLUMNS, lambda: [Section("List 1", "80 pieces"), *rows(80), Section("List 2"), *rows(3)])

    first, second = pages_of(print_report(Report(HEAD, parts), A4))
    assert "List 1, continued" not in first
    assert second.index("Bucket") < second.index("List 1, continued") < second.index("2017")
    assert "List 2, continued" not in second


def test_a_short_table_that_stays_together_takes_its_heading_along() -> None:
    def parts() -> Iterator[Part]:
        yield Table(COLUMNS, lambda: rows(35))
        yield Heading("Pottery", 1)
        yield Words("All of it.", leads=True)
        yield Table(COLUMNS, lambda: rows(8), caption="Ledger", together=True)

    first, second = pages_of(print_report(Report(HEAD, parts), A4))
    assert "Pottery" not in first
    for words in ("Pottery", "All of it.", "Table 1. Ledger"):
        assert words in second


def test_blocks_that_together_are_taller_than_a_page_are_broken_all_the_same() -> None:
    items = [Item(Block(40.0, lambda *_at: None, leads=True)) for _ in range(10)]
    placed = list(lay_out(items, 100.0))
    assert [one.page for one in placed] == [1, 1, 2, 2, 3, 3, 4, 4, 5, 5]
    assert all(one.top + one.block.height <= 100.0 for one in placed)


@pytest.mark.parametrize(("before", "page"), [(8, 1), (30, 2)])
def test_a_chapter_may_follow_a_short_one_on_its_page(before: int, page: int) -> None:
    def parts() -> Iterator[Part]:
        yield Table(COLUMNS, lambda: rows(before))
        yield Heading("Samples", fresh=True, after=0.4)
        yield Words("No sample.")

    pages = pages_of(print_report(Report(HEAD, parts), A4))
    assert ["No sample." in text for text in pages].index(True) + 1 == page


def test_an_entry_has_its_photograph_beside_its_facts_and_its_swatches_in_their_colours() -> None:
    entry = CatalogueEntry(
        title="131.4 · QRS Quay Red Slip · rim",
        code="TQP000004R",
        facts=(("Measures", "rim 180 ± 15 mm; 11 %"), ("Years", "180–260")),
        swatches=(Swatch("outside 2.5YR 5/6", (168 / 255, 106 / 255, 79 / 255)),),
        load=photo,
        shape=(320, 240),
    )
    pdf = print_report(Report(HEAD, lambda: iter((entry, replace(entry, load=None)))), A4)
    sheet = Sheet(pdf)
    assert not overlapping(sheet.boxes())
    beside = next(box for box in sheet.boxes() if "131.4" in box.text)
    assert beside.left > 14 + 42
    document = pypdfium2.PdfDocument(pdf)
    picture = document[0].render(scale=4).to_pil()
    colours = {colour for _many, colour in picture.getcolors(maxcolors=200_000)}
    assert (168, 106, 79) in colours


def test_a_photograph_is_asked_for_once_and_only_when_its_page_is_drawn() -> None:
    asked: list[int] = []

    def load(number: int) -> bytes:
        asked.append(number)
        return photo()

    def parts() -> Iterator[Part]:
        for number in range(12):
            yield CatalogueEntry(f"131.{number}", "", (), load=lambda number=number: load(number))  # type: ignore[misc]

    print_report(Report(HEAD, parts), A4)
    assert asked == list(range(12))


def test_a_form_has_room_to_write_in() -> None:
    blank = Table(COLUMNS, lambda: [("", "", "")] * 20, least=9.0, ruled=True)
    dark = Sheet(print_report(Report(HEAD, lambda: iter((blank,))), A4)).dark(254)
    lines = [place for place in range(400, 2500) if dark[place, 160:1900].sum() > 1600]
    starts = [place for place in lines if place - 1 not in lines]
    gaps = [(after - before) / 10 for before, after in pairwise(starts)]
    assert gaps.count(pytest.approx(9.0, abs=0.2)) >= 18


def test_the_same_report_is_the_same_bytes_and_its_work_can_be_stopped() -> None:
    report = Report(HEAD, chapters, COVER)
    assert print_report(report, A4) == print_report(report, A4)
    told: list[tuple[int, int]] = []
    print_report(report, A4, lambda page, pages: told.append((page, pages)))
    pages = told[-1][1]
    assert [one for one in told if one[0]] == [(page, pages) for page in range(1, pages + 1)]

    class StoppedError(Exception):
        pass

    def stop(page: int, _pages: int) -> None:
        if page == 2:
            raise StoppedError

    with pytest.raises(StoppedError):
        print_report(report, A4, stop)


@pytest.mark.parametrize("paper", plain_paper().values(), ids=plain_paper())
def test_nothing_leaves_the_margins_or_lies_over_anything(paper: object) -> None:
    pdf = print_report(Report(HEAD, chapters, COVER), paper)  # type: ignore[arg-type]
    for number in range(1, len(pages_of(pdf)) + 1):
        sheet = Sheet(pdf, number)
        boxes = sheet.boxes()
        assert not overlapping(boxes), number
        assert min(box.left for box in boxes) >= paper.left / 100 - 0.1  # type: ignore[attr-defined]
        assert max(box.right for box in boxes) <= sheet.width - paper.left / 100 + 0.1  # type: ignore[attr-defined]


def test_a_word_wider_than_its_column_is_set_smaller_and_not_broken() -> None:
    narrow = (Column("Day", 0.55), Column("What", 9.0))
    table = Table(narrow, lambda: [("2026-07-14", "body sherds"), ("2026-07-15", "rims")])
    (text,) = pages_of(print_report(Report(HEAD, lambda: iter((table,))), A4))
    assert "2026-07-14" in text
    assert "2026-07-15" in text


BAG = BagInBox("TQB000012N", "2017", "131", "Pottery", "diagnostics", 38, 6642)
BOXES = (
    BoxOnList("31", "TQX000031A", "store room, shelf 3", 96_000, 100_000, (BAG, replace(BAG, code="TQB000013M"))),
    BoxOnList("32", "TQX000032B", "", None, None, ()),
)


def test_a_box_list_says_what_lies_in_each_and_how_heavy_it_is() -> None:
    (text,) = pages_of(
        print_report(box_list(HEAD, lambda: BOXES, CautionSlip("Weigh it.", "Then lift."), signed=True), A4)
    )
    for said in ("Box 31 · store room, shelf 3 · TQX000031A", "76 pieces · 9.6 of 10 kg", "TQB000012N", "664.2",
                 "Box 32 · –", "empty", "Weigh it.", "Handed over by", "Received by"):  # fmt: skip
        assert said in text


LOAN = LoanOnPaper(
    number="3",
    to="glass specialist",
    address="Harbour Road 4",
    purpose="cataloguing",
    since=date(2026, 7, 20),
    due=date(2026, 8, 17),
    permit="VE-26-031",
    things=(ThingOnLoan("TQB000040L", "2017", "131", "window glass", 22, 310, "sound", back=21),),
)


def test_a_loan_goes_out_on_a_form_that_both_sides_sign() -> None:
    (text,) = pages_of(print_report(loan_form(replace(HEAD, title="Loan 3"), LOAN), A4))
    for said in ("Loan 3", "glass specialist", "VE-26-031", "2026-08-17", "TQB000040L", "window glass", "22", "31.0",
                 "Nothing is cut, ground, drilled", "Lent by", "Received by"):  # fmt: skip
        assert said in text


def test_a_loan_comes_back_on_a_form_that_says_what_is_still_out() -> None:
    (text,) = pages_of(print_report(return_form(HEAD, LOAN), A4))
    assert "Pieces still out when this was printed: 1." in text
    assert text.index("Back before") < text.index("Back now")
    assert "Given back by" in text


def test_who_signs_never_stands_on_a_page_of_its_own() -> None:
    for many in range(36, 44):
        parts = (Table(COLUMNS, lambda many=many: rows(many)), Signature("Director"), Signature("Inspector"))  # type: ignore[misc]
        last = pages_of(print_report(Report(HEAD, lambda parts=parts: iter(parts)), A4))[-1]  # type: ignore[misc]
        assert last.count("body sherds") >= 2 or "Director" not in last
        summed = (parts[0], Words("Together 40 pieces.", follows=True), *parts[1:])
        last = pages_of(print_report(Report(HEAD, lambda parts=summed: iter(parts)), A4))[-1]  # type: ignore[misc]
        assert last.count("body sherds") >= 2 or "Together" not in last, "a sum stands under what it sums"
