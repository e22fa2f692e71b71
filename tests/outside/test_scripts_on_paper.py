"""Scripts on paper, against another shaper, another reader of PDF and the PDF standard's own list of checks.

Independent: Pillow with libraqm and FriBiDi sets each text from the same font file; the ink must lie where ours does.
Poppler's pdftotext reads the text back (where it is installed; pdfium does everywhere). Words: ours, but for the names
of the letters.
"""

import shutil
import subprocess
import unicodedata

import numpy
import pytest
from PIL import Image, ImageDraw, ImageFont, features

from findsdesk import places
from findsdesk.paper.fonts import BOLD, NARROW, PLAIN
from findsdesk.paper.pen import About, Pen
from tests.printed import MOMENT, Sheet

FILES = {PLAIN: "DejaVuSans.ttf", BOLD: "DejaVuSans-Bold.ttf", NARROW: "DejaVuSansCondensed.ttf"}
TEXTS = {
    "Latin": "Ḥaṭṭīn, Çatal, Łódź",
    "Latin with loose marks": "x̱ ā̱ ṯ̣ ḫī",
    "Latin with raised marks": "j̄ x̄ i̱",
    "Greek": "Ταμπακαριό",
    "Greek with all accents": "ᾄδω Ἑλλάς ῥῆμα",
    "Cyrillic": "керамика, обжиг, ґанок",
    "Hebrew": "שברי כלים (שטח א) 2017",
    "Hebrew with points": "שָׁלוֹם בְּרֵאשִׁית",
    "Arabic": "فخار من الموقع القديم",
    "Arabic with vowels": "فَخَّار لِلطَّبْخ",
    "Arabic ligature": "سلال وألواح لا",
    "Arabic figures": "صندوق ١٢٣ من ٤٥",
    "Persian": "پاره‌های سفال گچ ۱۲۳",
    "Hebrew in Latin": "Square חפירה, layer 12",
    "Latin in Arabic": "موقع TQ-2026 (B2) طبقة",
}
POINTS, DPI = 24, 300


def ours(text, font):
    pen = Pen(180, 40, About("x", "en", MOMENT))
    pen.text(20, 25, text, font, POINTS)
    return pen.finish()


def box_of(dark):
    rows, columns = dark.any(axis=1).nonzero()[0], dark.any(axis=0).nonzero()[0]
    return dark[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]


def theirs(text, font):
    face = ImageFont.truetype(
        str(places.resource("fonts", FILES[font])), POINTS * DPI / 72, layout_engine=ImageFont.Layout.RAQM
    )
    picture = Image.new("L", (2200, 500), 255)
    ImageDraw.Draw(picture).text((200, 150), text, font=face, fill=0, features=["-kern", "-liga"])
    return numpy.asarray(picture) < 128


def grown(dark, dots):
    """Return dark dots with everything up to so many dots around them."""
    out = numpy.zeros((dark.shape[0] + 2 * dots, dark.shape[1] + 2 * dots), bool)
    for down in range(2 * dots + 1):
        for right in range(2 * dots + 1):
            out[down : down + dark.shape[0], right : right + dark.shape[1]] |= dark
    return out[dots:-dots, dots:-dots]


@pytest.mark.skipif(not features.check("raqm"), reason="Pillow without libraqm shapes nothing")
@pytest.mark.parametrize("font", FILES)
@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_the_ink_lies_where_another_shaper_puts_it(text, font):
    mine, other = box_of(Sheet(ours(text, font)).dark(DPI)), box_of(theirs(text, font))
    assert mine.shape == pytest.approx(other.shape, abs=4)
    height, width = (min(one, two) for one, two in zip(mine.shape, other.shape, strict=True))
    mine, other = mine[:height, :width], other[:height, :width]
    assert (mine & ~grown(other, 4)).sum() <= 0.002 * mine.sum()
    assert (other & ~grown(mine, 4)).sum() <= 0.002 * other.sum()


def as_read(text):
    kept = [letter for letter in unicodedata.normalize("NFKC", text) if unicodedata.category(letter) != "Cf"]
    return " ".join("".join(kept).split())


# pdfium takes a mark high above its letter for a line of its own; poppler below reads these too.
RAISED = ("Latin with raised marks", "Arabic with vowels")
EVEN = {name: text for name, text in TEXTS.items() if name not in RAISED}
ONE_WAY = {name: text for name, text in EVEN.items() if " in " not in name}


@pytest.mark.parametrize("text", ONE_WAY.values(), ids=ONE_WAY)
def test_the_text_is_read_back_in_the_order_in_which_it_was_written(text):
    assert as_read(Sheet(ours(text, PLAIN)).text()) == as_read(text)


@pytest.mark.parametrize("text", EVEN.values(), ids=EVEN)
def test_every_word_is_read_back_where_two_directions_meet(text):
    assert sorted(letters(Sheet(ours(text, PLAIN)).text())) == sorted(letters(text))


def letters(text):
    return [word.strip("(),") for word in as_read(text).split()]


@pytest.mark.skipif(not shutil.which("pdftotext"), reason="poppler-utils is not installed")
@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_another_reader_finds_the_same_letters(text, tmp_path):
    file = tmp_path / "text.pdf"
    file.write_bytes(ours(text, PLAIN))
    said = subprocess.run(["pdftotext", str(file), "-"], capture_output=True, text=True, check=True).stdout
    assert sorted(as_read(said).replace(" ", "")) == sorted(as_read(text).replace(" ", ""))


@pytest.mark.skipif(not shutil.which("qpdf"), reason="qpdf is not installed")
def test_a_checker_of_pdf_files_finds_nothing_wrong(tmp_path):
    pen = Pen(210, 297, About("Scripts", "he", MOMENT))
    for place, text in enumerate(TEXTS.values()):
        pen.text(20, 20 + 12 * place, text, PLAIN, 14)
        pen.outline(text, 15 + 12 * place)
    file = tmp_path / "scripts.pdf"
    file.write_bytes(pen.finish())
    assert subprocess.run(["qpdf", "--check", str(file)], capture_output=True, check=False).returncode == 0
