import re
from dataclasses import replace
from datetime import datetime, timedelta, timezone

import pypdfium2
import pytest

from findsdesk import __version__
from findsdesk.paper.fonts import PLAIN
from findsdesk.paper.lists import CautionSlip, Column, ListSheet, Section, Signature, print_list
from findsdesk.paper.pen import About, Pen
from findsdesk.paper.stocks import plain_paper
from tests.printed import MOMENT, TERMS, Sheet, overlapping

A4 = plain_paper()["a4-plain"]
MISSING = ListSheet(
    title="Missing buckets",
    excavation="Tannery Quay (TQ)",
    permit="VE-26-014",
    filter_words="Listed on 14 July, not checked in",
    columns=(Column("Bucket", 1, "right"), Column("Context", 1), Column("Remarks", 4)),
    rows=(("122", "2017", "last seen at the sieve"),),
    totals=("1", "", ""),
    person="Tessa Quill",
    moment=datetime(2026, 7, 14, 20, 5, tzinfo=timezone(timedelta(hours=3))),
    head="9f86d081884c7d659a2feaa0c55ad015",
    terms=TERMS,
)


def pages_of(pdf):
    document = pypdfium2.PdfDocument(pdf)
    return [str(page.get_textpage().get_text_bounded()) for page in document]


def many(number, words="pottery from the floor"):
    return tuple((str(place), "2017", words) for place in range(1, number + 1))


def test_every_page_says_whose_what_which_when_who_and_which_page_of_how_many():
    pages = pages_of(print_list(replace(MISSING, rows=many(120)), A4))
    assert len(pages) == 3
    for number, text in enumerate(pages, 1):
        for said in (
            "Missing buckets",
            "Tannery Quay (TQ) · VE-26-014",
            "Listed on 14 July, not checked in",
            "printed 2026-07-14 20:05 +03:00 by Tessa Quill",
            "store 9f86d081884c ·",
            __version__,
            f"page {number} of 3",
            "Bucket",
            "Remarks",
        ):
            assert said in text
        assert "9f86d081884c7" not in text


def test_every_row_stands_once_and_the_totals_after_the_last():
    text = "\n".join(pages_of(print_list(replace(MISSING, rows=many(300), totals=("300", "", "in all")), A4)))
    rows = [int(row) for row in re.findall(r"^(\d+) 2017", text, re.MULTILINE)]
    assert rows == list(range(1, 301))
    assert text.index("in all") > text.index("\n300 2017")


@pytest.mark.parametrize("paper", plain_paper().values(), ids=plain_paper())
@pytest.mark.parametrize("turned", [False, True])
def test_rows_of_all_heights_are_never_broken_and_nothing_leaves_the_margins(paper, turned):
    rows = tuple((str(place), "2017a/North", "word " * (place * 7 % 60)) for place in range(1, 90))
    pdf = print_list(replace(MISSING, rows=rows, turned=turned), paper)
    wide = paper.page_height if turned else paper.page_width
    margin = (paper.top if turned else paper.left) / 100
    words = 0
    for number in range(1, len(pages_of(pdf)) + 1):
        sheet = Sheet(pdf, number)
        assert sheet.width == pytest.approx(wide / 100, abs=0.01)
        boxes = sheet.boxes()
        assert not overlapping(boxes)
        assert min(box.left for box in boxes) >= margin - 0.1
        assert max(box.right for box in boxes) <= sheet.width - margin + 0.1
        ends = [box.bottom for box in boxes]
        assert max(ends) <= sheet.height - 13.9
        words += sheet.text().count("word")
    assert words == sum(place * 7 % 60 for place in range(1, 90))


def test_a_section_never_stands_last_on_a_page():
    rows = []
    for square in range(40):
        rows += [Section(f"Square {square}", "in 2 · washed 1"), *many(square % 7 + 1)]
    for text in pages_of(print_list(replace(MISSING, rows=tuple(rows), totals=()), A4)):
        before_foot = text.split("printed")[0].strip().splitlines()
        assert "Square" not in before_foot[-1]
        assert "washed" not in before_foot[-1]


def test_sections_are_in_the_outline():
    pdf = print_list(replace(MISSING, rows=(Section("Square A1"), *many(1), Section("Square Β2"), *many(1))), A4)
    titles = [entry.get_title() for entry in pypdfium2.PdfDocument(pdf).get_toc()]
    assert titles == ["Square A1", "Square Β2"]


def test_a_caution_stands_over_the_rows_on_the_first_page_only():
    caution = CautionSlip("Bottles of solvent stand open.", "Open air, gloves, no flame; follow the local rules.")
    first, second = pages_of(print_list(replace(MISSING, rows=many(60), caution=caution), A4))
    assert first.index("Bottles of solvent") < first.index("Remarks")
    assert "solvent" not in second


def test_signatures_stand_after_the_totals_with_lines_of_seventy_millimetres():
    signed = replace(MISSING, signatures=(Signature("released by", "Ilo Marr"), Signature("received by")))
    pdf = print_list(signed, A4)
    text = pages_of(pdf)[0]
    assert "released by" in text
    assert "Ilo Marr" in text
    assert text.count("signature") == 2
    dark = Sheet(pdf).dark(254)
    longest = max(longest_run(row[140:860]) for row in dark if row[140:860].sum() < 705)
    assert longest == pytest.approx(700, abs=4)


def longest_run(dots):
    best = now = 0
    for dot in dots:
        now = now + 1 if dot else 0
        best = max(best, now)
    return best


def test_a_list_of_nothing_says_so():
    assert "Nothing stands on this list." in pages_of(print_list(replace(MISSING, rows=(), totals=()), A4))[0]
    quiet = replace(MISSING, rows=(), totals=(), when_empty="All tags of the day are accounted for.")
    assert "All tags of the day are accounted for." in pages_of(print_list(quiet, A4))[0]


def test_a_cell_taller_than_a_page_is_cut_not_lost():
    text = pages_of(print_list(replace(MISSING, rows=(("1", "2017", "word " * 5000),)), A4))
    assert len(text) == 1
    assert "…" in text[0]


def test_the_work_is_told_of_and_can_be_stopped():
    told = []
    print_list(replace(MISSING, rows=many(120)), A4, lambda page, pages: told.append((page, pages)))
    assert told == [(0, 2), (0, 3), (1, 3), (2, 3), (3, 3)]

    class StoppedError(Exception):
        pass

    for last in ((0, 2), (2, 3)):

        def stop(*at, last=last):
            if at == last:
                raise StoppedError

        with pytest.raises(StoppedError):
            print_list(replace(MISSING, rows=many(120)), A4, stop)


def test_a_list_says_title_language_and_author_and_has_its_sections_in_the_outline():
    rows = (Section("Square A1"), *many(60), Section("Square B2"), *many(60))
    pdf = print_list(replace(MISSING, rows=rows, language="he"), A4)
    document = pypdfium2.PdfDocument(pdf)
    about = document.get_metadata_dict()
    assert (about["Title"], about["Author"]) == ("Missing buckets", "Tessa Quill")
    assert b"/Lang (he)" in pdf
    marks = [(mark.get_title(), mark.get_dest().get_index()) for mark in document.get_toc()]
    assert marks == [("Square A1", 0), ("Square B2", 1)]
    fonts = set(re.findall(rb"/BaseFont /(?:\w+\+)?([\w-]+)", pdf))
    assert pdf.count(b"/FontFile2") == len(fonts)


def test_a_list_in_hebrew_reads_from_the_right():
    """Its columns run from right to left, and so do head, foot, sections and signatures; units stand under units."""
    words = "שברי כלים מן השכבה התחתונה של החפירה, נשטפו ונספרו לפני המיון ונארזו בשקיות לפי סוג החומר שלהם בלבד"
    rows = (Section("A1", "7 g"), ("9", "2017", words), ("122", "2017", words))
    hebrew = replace(MISSING, rows=rows, language="he", totals=(), signatures=(Signature("Director"),))
    sheet = Sheet(print_list(hebrew, A4))
    right, left = 196.0, 14.0
    by_text = {box.text.strip(): box for box in sheet.boxes()}
    bucket, nine, context = by_text["122"], by_text["9"], by_text["2017"]
    lines = [box for box in sheet.boxes() if "ש" in box.text]
    assert bucket.right == pytest.approx(right, abs=0.5)
    assert nine.right == pytest.approx(bucket.right, abs=0.3)
    assert bucket.left > context.right > max(line.right for line in lines) > left + 60
    assert len({round(line.bottom) for line in lines}) > 2
    for text in ("Missing buckets", "Bucket", "A1", "Director"):
        assert by_text[text].right == pytest.approx(right, abs=1.6), text
    for text in ("page 1 of 1", "7 g", "Tannery Quay (TQ) · VE-26-014"):
        assert by_text[text].left == pytest.approx(left, abs=1.6), text
    assert not overlapping(sheet.boxes())


def test_no_more_is_kept_of_a_page_than_its_packed_operators():
    pen = Pen(210, 297, About("x", "en", MOMENT))
    for page in range(3):
        if page:
            pen.next_page()
        for place in range(60):
            pen.text(20, 20 + 4 * place, f"row {place} of page {page}", PLAIN, 8)
    pen.next_page()
    for page in pen._canvas._doc.Pages.pages:
        assert page.stream is None
        assert len(page.Contents.content) < 1200


def test_the_same_list_is_the_same_bytes():
    assert print_list(MISSING, A4) == print_list(MISSING, A4)
    assert print_list(MISSING, A4) != print_list(replace(MISSING, moment=MISSING.moment + timedelta(minutes=1)), A4)
