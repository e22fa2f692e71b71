"""The symbols of every kind of label on every stock that ships, as a worn print shows them to a decoder.

Reader: zxing-cpp, which drew none of them. Rendered at the dots of label and office printers (203, 300, 600 an inch:
printers' data sheets, FROM MEMORY), black and white, the edges blurred by a tenth of a module and more, turned by 3°
(how straight a hand holds a label; common practice, no source). No paper was printed.
"""

import pypdfium2
import pytest
from PIL import Image, ImageFilter

from findsdesk.paper.dots import dot_of
from findsdesk.paper.label_kinds import LabelKind
from findsdesk.paper.labels import lay_out
from findsdesk.paper.reading_back import symbols_in
from findsdesk.paper.stocks import stocks
from tests.printed import ALL_KINDS, MOMENT, TERMS

EVERY_DPI = (203, 300, 600)
TURNED = 3  # degrees
BLUR_MM = 0.05  # a fifth of the narrowest bar


def picture_of(stock, kind, dpi):
    """Return one label as the printer sets it, cut out of its page with a white border."""
    pdf = lay_out([ALL_KINDS[kind]], stock, moment=MOMENT, title="x", terms=TERMS, dpi=dpi).pdf
    right = stock.page_width - stock.left - stock.label_width
    bottom = stock.page_height - stock.top - stock.label_height
    around = tuple(edge / 100 * 72 / 25.4 for edge in (stock.left, bottom, right, stock.top))
    document = pypdfium2.PdfDocument(pdf)
    picture = document[0].render(scale=1 / 72 * 25.4 / dot_of(dpi), grayscale=True, crop=around).to_pil()
    label = picture.point(lambda light: 255 if light > 127 else 0)
    border = round(4 * dpi / 25.4)
    out = Image.new("L", (label.width + 2 * border, label.height + 2 * border), 255)
    out.paste(label, (border, border))
    return out


@pytest.mark.parametrize("dpi", EVERY_DPI)
@pytest.mark.parametrize("stock", stocks().values(), ids=stocks())
def test_each_kind_of_label_reads_blurred_and_turned(stock, dpi):
    for kind in LabelKind:
        straight = picture_of(stock, kind, dpi)
        worn = straight.filter(ImageFilter.GaussianBlur(BLUR_MM * dpi / 25.4))
        worn = worn.rotate(TURNED, Image.Resampling.BICUBIC, expand=True, fillcolor=255)
        wanted = ALL_KINDS[kind].code
        drawn = symbols_in(straight)
        assert drawn, kind
        assert set(drawn) == {wanted}, kind
        assert symbols_in(worn) == [wanted] * len(drawn), kind


def test_a_label_that_lies_upside_down_reads_too():
    upside_down = picture_of(stocks()["a4-3x8-70x37"], LabelKind.BAG, 203).rotate(180)
    assert symbols_in(upside_down) == [ALL_KINDS[LabelKind.BAG].code] * 2
