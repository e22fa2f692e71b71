"""Munsell notations met in published records, and chips against the published renotation.

PUBLISHED: chromaticities of Newhall, Nickerson and Judd 1943 as carried by the library colour-science 0.4.7, luminance
of values 1 to 9 after ASTM D1535. DERIVED: their colour in sRGB, computed here apart from the program (illuminant C,
Bradford adaptation, D65, sRGB of IEC 61966-2-1; matrices from memory).
"""

from __future__ import annotations

import numpy as np
import pytest

from findsdesk.domain.munsell import read_munsell
from findsdesk.domain.swatches import swatch

# PUBLISHED, ASTM D1535: luminance factor of values 1 to 9, in percent.
LUMINANCE = (1.18, 3.05, 6.39, 11.70, 19.27, 29.30, 41.99, 57.62, 76.70)

# PUBLISHED, renotation of 1943: chromaticity x, y under illuminant C.
RENOTATION = {
    ("10YR", 6, 4): (0.3861, 0.3767),
    ("2.5YR", 5, 6): (0.4365, 0.3640),
    ("10YR", 7, 2): (0.3443, 0.3454),
    ("10R", 4, 8): (0.4995, 0.3557),
    ("5YR", 6, 8): (0.4592, 0.3900),
    ("7.5YR", 3, 2): (0.3771, 0.3549),
    ("2.5Y", 8, 4): (0.3684, 0.3751),
    ("5Y", 7, 6): (0.4009, 0.4198),
    ("10YR", 9, 2): (0.3392, 0.3430),
    ("5GY", 5, 4): (0.3482, 0.4097),
    ("5BG", 4, 2): (0.2799, 0.3208),
    ("5B", 6, 2): (0.2842, 0.3063),
    ("10PB", 3, 6): (0.2511, 0.2031),
    ("5RP", 6, 4): (0.3371, 0.3001),
    ("2.5R", 3, 10): (0.5191, 0.2811),
    ("7.5R", 2, 4): (0.4335, 0.3169),
    ("5Y", 1, 2): (0.4230, 0.4265),
}
ILLUMINANT_C = (0.31006, 0.31616)
D65 = (0.3127, 0.3290)
BRADFORD = np.array([[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]])
TO_SRGB = np.array([[3.2406, -1.5372, -0.4986], [-0.9689, 1.8758, 0.0415], [0.0557, -0.2040, 1.0570]])


def tristimulus(x: float, y: float, luminance: float) -> np.ndarray:
    return np.array([x / y, 1, (1 - x - y) / y]) * luminance


def on_screen(x: float, y: float, luminance: float) -> np.ndarray:
    """Return red, green, blue (0 to 255, cut to what a screen can show) of a chromaticity under illuminant C."""
    scale = (BRADFORD @ tristimulus(*D65, 1)) / (BRADFORD @ tristimulus(*ILLUMINANT_C, 1))
    adapted = np.linalg.inv(BRADFORD) @ (scale * (BRADFORD @ tristimulus(x, y, luminance)))
    linear = np.clip(TO_SRGB @ adapted, 0, 1)
    return 255 * np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055)


@pytest.mark.parametrize("chip", RENOTATION, ids=lambda chip: "{} {}/{}".format(*chip))
def test_a_chip_has_the_colour_of_its_renotation(chip: tuple[str, int, int]) -> None:
    hue, value, chroma = chip
    found = swatch(read_munsell(f"{hue} {value}/{chroma}"))
    expected = on_screen(*RENOTATION[chip], LUMINANCE[value - 1] / 100)
    assert [found.red, found.green, found.blue] == pytest.approx(expected, abs=1.01)
    assert found.exact


@pytest.mark.parametrize("value", range(1, 10))
def test_greys_have_the_luminance_of_their_value(value: int) -> None:
    found = swatch(read_munsell(f"N {value}/"))
    expected = on_screen(*ILLUMINANT_C, LUMINANCE[value - 1] / 100)
    assert [found.red, found.green, found.blue] == pytest.approx(expected, abs=1.01)


def test_a_chip_as_the_library_gives_it() -> None:
    """Independent library, colour-science 0.4.7: 10YR 6/4 is 172 143 103 in sRGB."""
    found = swatch(read_munsell("10YR 6/4"))
    assert (found.red, found.green, found.blue) == (172, 143, 103)


@pytest.mark.parametrize(
    ("written", "read"),
    # PUBLISHED spellings, met in records of finds and soils (docs/sources.md, "Munsell").
    [
        ("2.5YR 5/6-8", "2.5YR 5/6-8"),
        ("5YR6/8", "5YR 6/8"),
        ("2.5YRN5", "N 5/"),
        ("N2.5/", "N 2.5/"),
        ("N4/", "N 4/"),
        ("10r 5/4", "10R 5/4"),
        ("7.5yr n2/n3", "N 2-3/"),
        ("2.5Y N/2", "N 2/"),
        ("7.5YR 7/4", "7.5YR 7/4"),
        ("10YR 4/2.2", "10YR 4/2.2"),
        ("10YR 4/2+", "10YR 4/2+"),
    ],
)
def test_notations_met_in_records(written: str, read: str) -> None:
    assert str(read_munsell(written)) == read
