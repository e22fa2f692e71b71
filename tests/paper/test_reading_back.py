"""Labels read back the way a yard's print comes out: at the printers' dots, a little off in size, turned, worn."""

from concurrent.futures import ThreadPoolExecutor
from io import BytesIO

import pypdfium2
import pytest
from PIL import Image, ImageFilter

from findsdesk.paper.labels import lay_out
from findsdesk.paper.reading_back import page_count, page_image, read_back, symbols_in
from findsdesk.paper.stocks import stocks
from tests.printed import MAKERS, MOMENT, TERMS, bag, symbols_on

EVERY_DPI = (203, 300, 600)


def printed(labels, stock):
    return lay_out(labels, stock, moment=MOMENT, title="Labels", terms=TERMS).pdf


@pytest.mark.parametrize("dpi", EVERY_DPI)
@pytest.mark.parametrize("kind", MAKERS)
@pytest.mark.parametrize("stock", stocks().values(), ids=stocks())
def test_a_full_sheet_reads_back_label_for_label(stock, kind, dpi):
    labels = [MAKERS[kind](990 + number) for number in range(stock.labels_a_page)]
    read = read_back(printed(labels, stock), dpi)
    assert sorted(read) == sorted((1, label.code) for label in labels for _symbol in range(symbols_on(stock, kind)))


def test_every_page_is_read():
    read = read_back(printed([bag(number) for number in range(50)], stocks()["a4-3x8-70x37"]))
    assert {page for page, _code in read} == {1, 2, 3}
    assert len(set(read)) == 50


def rendered(labels, stock, dpi=203):
    page = pypdfium2.PdfDocument(printed(labels, stock))[0]
    return page.render(scale=dpi / 72, grayscale=True).to_pil()


def black_and_white(picture):
    return picture.point(lambda light: 255 if light > 127 else 0)


WEAR = {
    "printed at 97 %": lambda picture: black_and_white(picture.resize([round(side * 0.97) for side in picture.size])),
    "printed at 103 %": lambda picture: black_and_white(picture.resize([round(side * 1.03) for side in picture.size])),
    "turned by 1°": lambda picture: picture.rotate(1, Image.Resampling.BICUBIC, fillcolor=255),
    "blurred": lambda picture: black_and_white(picture).filter(ImageFilter.GaussianBlur(0.8)),
    "grey and thin": lambda picture: black_and_white(picture).point(lambda light: 255 if light else 120),
}


@pytest.mark.parametrize("wear", WEAR)
def test_a_sheet_that_was_printed_badly_still_reads(wear):
    labels = [bag(990 + number) for number in range(24)]
    picture = WEAR[wear](rendered(labels, stocks()["a4-3x8-70x37"], 300))
    assert {label.code for label in labels} <= set(symbols_in(picture))


def test_a_mud_splash_on_one_symbol_leaves_the_other():
    stock = stocks()["a4-3x8-70x37"]
    picture = rendered([bag(1)], stock, 300)
    dots = 300 / 25.4
    splash = Image.new("L", (round(70 * dots), round(14 * dots)), 128)
    over_bars, over_qr = picture.copy(), picture.copy()
    over_bars.paste(splash, (0, round(24 * dots)))
    over_qr.paste(splash, (round(50 * dots), round(1.5 * dots)))
    assert symbols_in(over_bars) == ["TQB000001X"]
    assert symbols_in(over_qr) == ["TQB000001X"]


def test_paper_without_symbols_has_nothing_to_read():
    assert symbols_in(Image.new("L", (400, 300), 255)) == []


def test_the_preview_is_a_picture_of_the_file_that_is_printed():
    pdf = printed([bag(1)], stocks()["roll-57x32"])
    picture = Image.open(BytesIO(page_image(pdf, 1, 700)))
    assert list(picture.size) == pytest.approx([700, 700 * 32 / 57], abs=1)
    assert set(symbols_in(picture.convert("L"))) == {"TQB000001X"}


def test_previews_and_reading_back_may_be_asked_for_at_the_same_time():
    pdf = printed([bag(number) for number in range(48)], stocks()["a4-3x8-70x37"])
    with ThreadPoolExecutor(6) as pool:
        pictures = [pool.submit(page_image, pdf, 1 + turn % 2, 300) for turn in range(10)]
        reads = [pool.submit(read_back, pdf) for _turn in range(4)]
    assert len({len(picture.result()) for picture in pictures}) == 2
    assert {len(read.result()) for read in reads} == {96}


def test_pages_are_counted():
    assert page_count(printed([bag(number) for number in range(50)], stocks()["a4-3x8-70x37"])) == 3
