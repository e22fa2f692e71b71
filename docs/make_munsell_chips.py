"""Make findsdesk/domain/munsell_chips.py from the Munsell renotation, as the library colour-science carries it.

Run by hand, with colour-science 0.4.7 in an environment of its own (it is needed here only):
``python docs/make_munsell_chips.py > findsdesk/domain/munsell_chips.py``.
"""

from __future__ import annotations

import warnings

import numpy as np

warnings.simplefilter("ignore")  # the library names optional parts that are missing

import colour  # noqa: E402

REALISED = colour.notation.MUNSELL_COLOURS["Munsell Colours Real"]
ILLUMINANT_C = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["C"]
WARM_STEPS = ("2.5", "5", "7.5", "10")
COOL_STEPS = ("5", "10")
FAMILIES: dict[str, tuple[str, ...]] = {"R": WARM_STEPS, "YR": WARM_STEPS, "Y": WARM_STEPS}
FAMILIES |= dict.fromkeys(("GY", "G", "BG", "B", "PB", "P", "RP"), COOL_STEPS)
VALUES = ("1", "2", "2.5", "3", "4", "5", "6", "7", "8", "9")
CHROMAS = (1, 2, 3, 4, 6, 8, 10, 12)

HEAD = '''"""Colours of Munsell chips for the screen, made by docs/make_munsell_chips.py; not edited by hand.

Renotation of Newhall, Nickerson and Judd 1943 as carried by the library colour-science 0.4.7, under illuminant C, taken
to sRGB by the Bradford adaptation. Each line: hue, value, highest chroma of the renotation, then red, green and blue in
hexadecimal for the chromas 1 2 3 4 6 8 10 12 as far as they go; ``!`` marks what lies outside sRGB and was cut. A line
of N goes by value alone.
"""

CHROMAS = (1, 2, 3, 4, 6, 8, 10, 12)

TABLE = """\\'''


def chip(notation: str) -> str:
    """Return the chip's colour as six hexadecimal digits, with ``!`` where sRGB does not hold it."""
    tristimulus = colour.xyY_to_XYZ(colour.munsell_colour_to_xyY(notation))
    rgb = colour.XYZ_to_sRGB(tristimulus, illuminant=ILLUMINANT_C, chromatic_adaptation_transform="Bradford")
    held = bool(((rgb > -0.002) & (rgb < 1.002)).all())
    return "".join(f"{part:02x}" for part in np.round(np.clip(rgb, 0, 1) * 255).astype(int)) + "!" * (not held)


def highest_chroma(hue: str, value: str) -> int:
    """Return the highest chroma the renotation lists; between two values, the lower of theirs."""
    around = {np.floor(float(value)), np.ceil(float(value))}
    return min(int(max(c for (h, v, c), _xyY in REALISED if h == hue and v == one)) for one in around)


print(HEAD)
for family, steps in FAMILIES.items():
    for step in steps:
        for value in VALUES:
            most = highest_chroma(step + family, value)
            chips = [chip(f"{step}{family} {value}/{chroma}") for chroma in CHROMAS if chroma <= most]
            print(step + family, value, most, *chips)
for half in range(1, 20):
    print("N", f"{half / 2:g}", 0, chip(f"N{half / 2:g}"))
print('"""')
