"""The pen reaches into the PDF writer at a few places; these tests fail when a new version of it moves them."""

import re
from datetime import datetime, timedelta, timezone

import pypdfium2
import pytest

from findsdesk.paper.fonts import BOLD, MONO, PLAIN
from findsdesk.paper.pen import About, Pen
from findsdesk.paper.shaping import width_mm
from tests.printed import MOMENT, Sheet


def written(moment=MOMENT, language="en", draw=None):
    pen = Pen(100, 50, About("Bag labels, TQ 2026", language, moment))
    if draw:
        draw(pen)
    return pen.finish()


def test_operators_go_into_the_page_as_one_string_in_the_order_they_were_drawn():
    pen = Pen(100, 50, About("x", "en", MOMENT))
    before = len(pen._canvas._code)
    pen.draw_operators("0 0 2 1 re\n3 0 1 1 re", 10, 30, 0.25, 8)
    pen.text(1, 5, "after", PLAIN, 8)
    added = pen._canvas._code[before:]
    assert len(added) == 2
    assert added[0].startswith("q 0 g 0.70866 0 0 22.67717 28.3465 56.6929 cm\n0 0 2 1 re")
    assert added[0].endswith("f Q")
    assert added[1].startswith("BT ")


def test_rectangles_come_out_where_they_were_drawn():
    dark = Sheet(written(draw=lambda pen: pen.draw_operators("0 0 2 1 re\n4 0 2 1 re", 20, 30, 5, 10))).dark(254)
    assert dark[202:298, 202:298].all()
    assert not dark[200:300, 305:395].any()
    assert dark[205:295, 405:495].all()
    assert dark.sum() == pytest.approx(2 * 100 * 100, rel=0.03)


@pytest.mark.parametrize("text", ["2017 (a)", "back\\slash", "Ταμπακαριό", "керамика", "½ × ≥ — “quoted”"])
def test_text_can_be_copied_out_of_the_file_again(text):
    pdf = written(draw=lambda pen: pen.text(5, 10, text, PLAIN, 9))
    assert Sheet(pdf).text().strip() == text


def test_more_letters_than_one_part_of_a_font_holds_still_come_out():
    text = "".join(chr(place) for place in range(0x400, 0x400 + 250)) + "".join(chr(p) for p in range(0x3B1, 0x3C9))
    pdf = written(draw=lambda pen: [pen.text(2, 4 + 4 * at, text[at * 40 : at * 40 + 40], PLAIN, 6) for at in range(8)])
    said = re.sub(r"\s", "", Sheet(pdf).text())
    assert said == re.sub(r"\s", "", text)


@pytest.mark.parametrize(("align", "left"), [("left", 50.0), ("middle", 50.0 - 0.5), ("right", 50.0 - 1.0)])
def test_text_is_aligned_by_its_width(align, left):
    pdf = written(draw=lambda pen: pen.text(50, 20, "HHHH", BOLD, 12, align))
    box = Sheet(pdf).boxes()[0]
    width = width_mm("HHHH", BOLD, 12)
    shift = {"left": 0, "middle": width / 2, "right": width}[align]
    assert box.left == pytest.approx(50 - shift, abs=0.6)
    assert box.bottom == pytest.approx(20, abs=0.3)
    assert left <= 50


def test_only_our_own_fonts_are_named_and_all_of_them_are_in_the_file():
    def draw(pen):
        for place, font in enumerate((PLAIN, BOLD, MONO)):
            pen.text(5, 10 + 5 * place, "TQ 2026", font, 9)

    pdf = written(draw=draw)
    names = set(re.findall(rb"/BaseFont /(?:\w+\+)?([\w-]+)", pdf))
    assert names == {b"DejaVuSans", b"DejaVuSans-Bold", b"DejaVuSansMono"}
    assert pdf.count(b"/FontFile2") == 3


def test_the_file_says_title_language_actual_size_and_moment():
    pdf = written(MOMENT.astimezone(timezone(timedelta(hours=3))), "el")
    about = pypdfium2.PdfDocument(pdf).get_metadata_dict()
    assert about["Title"] == "Bag labels, TQ 2026"
    assert about["CreationDate"] == "D:20260714203248+03'00'"
    assert about["Creator"] == "FindsDesk"
    assert b"/PrintScaling /None" in pdf
    assert re.search(rb"/Lang \(el\)", pdf)


def test_a_moment_without_zone_is_not_put_on_paper():
    with pytest.raises(ValueError, match="time zone"):
        written(datetime(2026, 7, 14, 17, 32))  # noqa: DTZ001


def test_the_page_has_the_size_asked_for():
    sheet = Sheet(written())
    assert (sheet.width, sheet.height) == (pytest.approx(100, abs=0.01), pytest.approx(50, abs=0.01))
