"""The picture of a date profile: what is drawn where, in the bundled letters, without the session-wide interface."""

from __future__ import annotations

import io
import subprocess
import sys

import numpy
import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from findsdesk.paper.profile_plot import (
    BLUE,
    ORANGE,
    ProfileBar,
    ProfilePicture,
    YearLine,
    draw_profile,
    drawn_profile,
    stand_words,
)

BARS = tuple(ProfileBar(50 * n, 50 * (n + 1), float(10 - n), 2.0 if n == 8 else 0.0) for n in range(9))
PICTURE = ProfilePicture(
    BARS, "sherds", (YearLine(330, "TPQ 330"), YearLine(210.4, "mean 210", dashed=True)), "looks late", "Bucket 131"
)


def pixels(picture: ProfilePicture, **size: float) -> numpy.ndarray:
    return numpy.asarray(Image.open(io.BytesIO(draw_profile(picture, "png", **size))).convert("RGB")).astype(int)  # type: ignore[arg-type]


def share_of(image: numpy.ndarray, colour: str) -> float:
    wanted = [int(colour[place : place + 2], 16) for place in (1, 3, 5)]
    return float((numpy.abs(image - wanted).sum(axis=2) < 24).mean())


def test_the_picture_has_the_size_that_is_asked_for() -> None:
    height, width, _ = pixels(PICTURE, width_mm=127, height_mm=63.5, dpi=100).shape
    assert (width, height) == (500, 250)


def test_what_looks_late_is_hatched_in_another_colour() -> None:
    late = pixels(PICTURE)
    plain = pixels(ProfilePicture(tuple(ProfileBar(b.begin, b.until, b.share) for b in BARS), "sherds"))
    assert share_of(late, BLUE) > 0.1
    assert share_of(late, ORANGE) > 0.001
    assert share_of(plain, ORANGE) == 0


def test_where_the_bars_stand_is_told_to_the_pixel() -> None:
    plain = ProfilePicture(BARS[:8], "sherds", PICTURE.lines, title="Bucket 131")
    drawn = drawn_profile(plain, "png", dpi=200)
    assert drawn.content == draw_profile(plain, "png", dpi=200)
    image = numpy.asarray(Image.open(io.BytesIO(drawn.content)).convert("RGB")).astype(int)
    high, wide, _ = image.shape
    left, top, right, bottom = drawn.box
    blue = (numpy.abs(image - [0x00, 0x72, 0xB2]).sum(axis=2) < 24).nonzero()
    assert blue[1].min() == pytest.approx(left * wide, abs=5)
    assert blue[1].max() == pytest.approx(right * wide, abs=5)
    assert blue[0].max() == pytest.approx(bottom * high, abs=5)
    assert blue[0].min() > top * high


def test_bars_are_as_high_as_their_shares() -> None:
    one, half = (pixels(ProfilePicture((ProfileBar(0, 50, 4), ProfileBar(50, 100, share)), "g")) for share in (4, 2))
    assert share_of(half, BLUE) == pytest.approx(0.75 * share_of(one, BLUE), rel=0.03)


@pytest.mark.parametrize("bars", [10, 100, 450, 2000])
def test_narrow_bars_are_as_dark_as_wide_ones(bars: int) -> None:
    """However many spans the years are cut into, a profile of one height covers the plot."""
    flat = ProfilePicture(tuple(ProfileBar(year, year + 1, 5) for year in range(bars)), "g")
    assert share_of(pixels(flat), BLUE) > 0.45


def test_lines_titles_and_years_stand_in_words_on_paper() -> None:
    page = pypdfium2.PdfDocument(draw_profile(PICTURE, "pdf"))[0]
    text = page.get_textpage().get_text_bounded()
    for words in ("TPQ 330", "mean 210", "looks late", "Bucket 131", "sherds", "100"):
        assert words in text
    assert page.get_width() == pytest.approx(160 / 25.4 * 72, abs=0.5)


@given(
    st.lists(st.integers(-300, 900), min_size=2, max_size=2).map(sorted),
    st.lists(st.floats(0, 1), min_size=1, max_size=2),
    st.booleans(),
)
def test_no_words_are_crossed_by_the_line_beside_them(years: list[int], shares: list[float], late: bool) -> None:
    first, last = years[0], years[1] + 1
    bar = ProfileBar(first, last, 2.0, 1.0 if late else 0.0)
    lines = tuple(YearLine(first + share * (last - first), f"line {n}") for n, share in enumerate(shares))
    stood = stand_words(ProfilePicture((bar,), "sherds", lines))
    assert sorted(one.line.words for one in stood) == sorted(line.words for line in lines)
    # The words of a line take up to a fifth of the width beside it; a line that reaches higher crosses them.
    reach = 0.2 * (last - first)
    for low, one in enumerate(stood):
        assert one.line.year - reach >= first if one.runs_left else one.line.year + reach <= last
        for higher in stood[low + 1 :]:
            ahead = one.line.year - higher.line.year if one.runs_left else higher.line.year - one.line.year
            assert not 0 < ahead < reach


def test_years_before_the_era_say_so() -> None:
    picture = ProfilePicture((ProfileBar(-50, 0, 1), ProfileBar(0, 50, 1)), "sherds")
    text = pypdfium2.PdfDocument(draw_profile(picture, "pdf"))[0].get_textpage().get_text_bounded()
    assert "50 BCE" in text
    assert "1 CE" in text
    assert "50 CE" in text
    short = ProfilePicture((ProfileBar(-2, -1, 1), ProfileBar(-1, 0, 1)), "sherds")
    text = pypdfium2.PdfDocument(draw_profile(short, "pdf"))[0].get_textpage().get_text_bounded()
    assert [words in text for words in ("3 BCE", "2 BCE", "1 BCE")] == [True, True, True]


def test_nothing_dated_is_said() -> None:
    text = (
        pypdfium2.PdfDocument(draw_profile(ProfilePicture((), "g", when_empty="Nothing is dated."), "pdf"))[0]
        .get_textpage()
        .get_text_bounded()
    )
    assert "Nothing is dated." in text


def test_the_same_picture_is_the_same_bytes_and_is_svg() -> None:
    assert draw_profile(PICTURE, "png") == draw_profile(PICTURE, "png")
    assert draw_profile(PICTURE, "svg").lstrip().startswith(b"<?xml")


def test_loading_it_loads_no_plotting_library_and_drawing_no_session_state() -> None:
    program = (
        "import sys, findsdesk.desk.profile_drawing as d; assert 'matplotlib' not in sys.modules;"
        "from findsdesk.paper.profile_plot import *; draw_profile(ProfilePicture((ProfileBar(0, 50, 1),), 'g'));"
        "assert 'matplotlib.pyplot' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", program], check=True, timeout=120)
