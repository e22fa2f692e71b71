"""Munsell colours as they are read off a chart: hue, value and chroma, checked, and written in one way.

Written ``10YR 6/4``; between chips ``7.5YR 6.5/3.5``; over two chips ``2.5YR 5/6-8``; grey ``N 2.5/``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from findsdesk.domain.munsell_chips import TABLE
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

FAMILIES = ("R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP")
"""The five principal and five intermediate hues in their order round the circle, each ten steps wide."""
HIGHEST_VALUE = 10

_NUMBER = r"([0-9]{1,2}(?:\.[0-9]+)?)"
_SPAN = rf"{_NUMBER}(?:[-–]{_NUMBER})?"
_HUE = r"([0-9]{1,3}(?:\.[0-9]+)?) ?(yr|gy|bg|pb|rp|r|y|g|b|p)"
_CHROMATIC = re.compile(rf"{_HUE} ?{_SPAN} ?/ ?{_SPAN}(\+?)")
_GREY = re.compile(rf"(?:{_HUE} ?)?n ?/? ?{_SPAN}(?: ?/ ?(?:0(?:\.0+)?)?)?")
_GREY_SPAN = re.compile(rf"(?:{_HUE} ?)?n ?{_NUMBER} ?/ ?n ?{_NUMBER}/?")

HIGHEST_CHROMA: dict[tuple[str, Fraction], int] = {
    (hue, Fraction(value)): int(most)
    for hue, value, most in (line.split()[:3] for line in TABLE.splitlines())
    if hue != "N"
}
"""The highest chroma the renotation of 1943 lists, by hue and value."""


@dataclass(frozen=True, slots=True)
class Span:
    """A value or a chroma: one number, or two where the colour lies over several chips."""

    low: Fraction
    high: Fraction

    @property
    def middle(self) -> Fraction:
        """Return the middle, which stands for the whole."""
        return (self.low + self.high) / 2

    def __str__(self) -> str:
        low, high = f"{float(self.low):g}", f"{float(self.high):g}"
        return low if self.low == self.high else f"{low}-{high}"


@dataclass(frozen=True, slots=True)
class Munsell:
    """A colour: hue steps (0 < steps ≤ 10) within a family, "N" for greys; ``more`` where the chroma was read as 2+."""

    steps: Fraction
    family: str
    value: Span
    chroma: Span
    more: bool = False

    @property
    def is_grey(self) -> bool:
        """Return whether the colour has no hue."""
        return self.family == "N"

    @property
    def hue_degree(self) -> Fraction:
        """Return the hue on the circle of a hundred steps: 5R is 5, 10R is 10, 10RP is 100."""
        return 10 * FAMILIES.index(self.family) + self.steps

    def __str__(self) -> str:
        if self.is_grey:
            return f"N {self.value}/"
        return f"{float(self.steps):g}{self.family} {self.value}/{self.chroma}{'+' if self.more else ''}"


def read_munsell(text: str) -> Munsell:
    """Read a Munsell notation as people write it: ``5YR6/8``, ``10r 5/4``, ``2.5YR 5/6-8``, ``N2.5/``, ``2.5YRN5``.

    A hue before a grey names the chart's page and is left out, 0YR is 10R. Refusals: ``not_munsell``, ``hue_range``,
    ``value_range``, ``span_reversed``, ``chroma_without_light`` (black and white have none), ``chroma_range`` (stronger
    than any colour listed at that hue and value).
    """
    said = " ".join(text.split())[:40]
    plain = re.sub(r" ?([-–/]) ?", r"\1", said.lower().replace(",", "."))
    if grey := _GREY_SPAN.fullmatch(plain) or _GREY.fullmatch(plain):
        value = _span(grey[3], grey[4], said)
        _check_value(value, said)
        return Munsell(Fraction(0), "N", value, Span(Fraction(0), Fraction(0)))
    found = _CHROMATIC.fullmatch(plain)
    if found is None:
        raise _not_munsell(said)
    steps, family = _turned(Fraction(found[1]), found[2].upper(), said)
    value, chroma = _span(found[3], found[4], said), _span(found[5], found[6], said)
    colour = Munsell(steps, family, value, chroma, bool(found[7]))
    _check_value(colour.value, said)
    _check_chroma(colour, said)
    return colour


def _not_munsell(said: str) -> Refusal:
    return Refusal(
        "not_munsell",
        N_("“{said}” is no Munsell colour. Write hue, value, chroma like 10YR 6/4, a grey like N 5/."),
        said=said,
    )


def _span(low: str, high: str | None, said: str) -> Span:
    span = Span(Fraction(low), Fraction(high or low))
    if span.high < span.low:
        raise Refusal("span_reversed", N_("“{said}” runs backwards. Write the smaller number first."), said=said)
    return span


def _turned(steps: Fraction, family: str, said: str) -> tuple[Fraction, str]:
    """Return the hue with its number in (0, 10]: step 0 of a family is step 10 of the one before."""
    if steps > 10:
        raise Refusal(
            "hue_range",
            N_("“{said}”: the number of a hue lies between 0 and 10. Read the page of the chart again."),
            said=said,
        )
    if steps == 0:
        return Fraction(10), FAMILIES[FAMILIES.index(family) - 1]
    return steps, family


def _check_value(value: Span, said: str) -> None:
    if value.high > HIGHEST_VALUE:
        raise Refusal(
            "value_range",
            N_("“{said}”: value lies between 0 (black) and 10 (white). Read the row of the chart again."),
            said=said,
        )


def _check_chroma(colour: Munsell, said: str) -> None:
    if colour.chroma.high == 0:
        return
    if colour.value.low == 0 or colour.value.high == HIGHEST_VALUE:
        raise Refusal(
            "chroma_without_light",
            N_("“{said}”: black and white have no chroma. Write N 0/ or N 10/, or another value."),
            said=said,
        )
    most = highest_chroma(colour)
    if colour.chroma.high > most:
        raise Refusal(
            "chroma_range",
            N_("“{said}” is stronger than any colour listed: at most /{most} at that hue and value. Read it again."),
            said=said,
            most=most,
        )


def highest_chroma(colour: Munsell) -> int:
    """Return the highest chroma listed around this hue and value, generous between the hues of the table.

    Source: the chromas listed in the renotation of Newhall, Nickerson and Judd 1943 (docs/sources.md, "Munsell").
    """
    hues = sorted(
        {hue for hue, _value in HIGHEST_CHROMA}, key=lambda hue: hues_apart(colour.hue_degree, degree_of(hue))
    )
    around = [
        value
        for value in {value for _hue, value in HIGHEST_CHROMA}
        if colour.value.low - 1 < value < colour.value.high + 1
    ]
    return max(HIGHEST_CHROMA[hue, value] for hue in hues[:2] for value in around)


def degree_of(hue: str) -> Fraction:
    """Return a hue of the table, such as ``7.5YR``, on the circle of a hundred steps."""
    family = hue.lstrip("0123456789.")
    return 10 * FAMILIES.index(family) + Fraction(hue.removesuffix(family))


def hues_apart(one: Fraction, other: Fraction) -> Fraction:
    """Return how many of the hundred steps two hues lie apart, the shorter way round."""
    apart = abs(one - other)
    return min(apart, 100 - apart)
