"""Figures in words: the value as people read it, its unit, the formula, where it stands and what it rests on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from findsdesk.desk.figure_dates import Dates, OfType
from findsdesk.desk.register_columns import Say
from findsdesk.desk.sherd_figures import EVERY_FIGURE, FigureSaid, SherdFigures, Sums
from findsdesk.desk.whole_figures import METHOD_OF_WHOLE, OF_WARES, density_of
from findsdesk.domain.figures import GROUNDS_IN_WORDS, UNIT_IN_WORDS, Figure, Grounds, Method, Unit
from findsdesk.domain.mean_dates import MEAN_CERAMIC_DATE
from findsdesk.domain.sherd_counts import DIAGNOSTIC_SHARE, GRAMS, SHERDS
from findsdesk.domain.sherd_weight import MEAN_SHERD_WEIGHT
from findsdesk.domain.terminus import TERMINUS_POST_QUEM
from findsdesk.domain.type_rows import said_once
from findsdesk.domain.vessel_equivalents import BASE_EVE, BROKENNESS, COMPLETENESS, RIM_EVE
from findsdesk.domain.vessels import FEWEST_VESSELS, MOST_VESSELS, VESSELS_BY_RIMS
from findsdesk.domain.years import year_in_words
from findsdesk.words import N_, CountOf, grouped

NONE = "–"
_WHOLE = frozenset({Unit.SHERDS, Unit.VESSELS})
_SMALL = 0.05
"""Below this, two places no longer tell shares apart."""
_TENTHS = frozenset({Unit.GRAMS, Unit.GRAMS_A_SHERD, Unit.PERCENT})


@dataclass(frozen=True, slots=True)
class FigureLine:
    """A figure as it is shown: key of its rows, name, value with unit, formula with source; ``note`` adds or doubts.

    ``value`` is a dash where there is none, and ``note`` says why; the formula is told all the same.
    """

    key: str
    name: str
    value: str
    unit: str
    formula: str
    note: str = ""

    def told(self, say: Say) -> str:
        """Return what is told of it under the pointer: unit, formula with its source, and what it rests on."""
        method = METHOD_OF.get(self.key)
        how = method_in_words(method, say) if method else f"{say(N_('Unit: {unit}'), unit=self.unit)}\n{self.formula}"
        return "\n".join(part for part in (how, self.note) if part)

    @property
    def whole(self) -> str:
        """Return the value with its unit."""
        return f"{self.value} {self.unit}".strip()


def value_of(figure: Figure | None) -> str:
    """Return a value rounded as it is read: whole sherds and years, grams to a tenth, ratios to two places.

    A half goes up in every figure: 1.345 is 1.35 and 2.435 is 2.44, whatever binary numbers they are kept in. A ratio
    too small for two places is given to its first two digits that say something: a share is never shown as 0.
    """
    if figure is None:
        return NONE
    if figure.unit is Unit.YEAR:
        return year_in_words(int(_half_up(figure, 0)))
    if figure.unit in _WHOLE:
        return grouped(int(figure.value))
    value = float(figure)
    places = 1 if figure.unit in _TENTHS else 2
    if places > 1 and 0 < abs(value) < _SMALL:
        return f"{value:.2g}"
    whole, _, rest = f"{_half_up(figure, places):f}".partition(".")
    return f"{grouped(int(whole))}.{rest}"


def _half_up(figure: Figure, places: int) -> Decimal:
    """Return a value rounded to so many decimal places; what is kept in binary counts as the shortest decimal of it."""
    value = figure.value
    if isinstance(value, Fraction):
        exact = Decimal(value.numerator) / Decimal(value.denominator)
    else:
        exact = Decimal(str(value))
    return exact.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)


def formula_of(figure: Figure | Method, say: Say) -> str:
    """Return how a figure is worked out, with its source and what that rests on, as anybody may read it.

    How sure we are of a source that could not be looked up is for docs/sources.md.
    """
    grounds = "" if figure.source and figure.grounds in _SOURCE_ALONE else say(GROUNDS_IN_WORDS[figure.grounds])
    return f"{say(figure.formula)} ({'; '.join(part for part in (say(figure.source), grounds) if part)})"


_SOURCE_ALONE = frozenset({Grounds.PUBLISHED, Grounds.FROM_MEMORY})
"""Grounds of which the source says enough."""


METHOD_OF: dict[str, Method] = {
    "sherds": SHERDS,
    "grams": GRAMS,
    "mean_weight": MEAN_SHERD_WEIGHT,
    "diagnostic": DIAGNOSTIC_SHARE,
    "rim_eve": RIM_EVE,
    "base_eve": BASE_EVE,
    "by_rims": VESSELS_BY_RIMS,
    "fewest": FEWEST_VESSELS,
    "most": MOST_VESSELS,
    "brokenness": BROKENNESS,
    "complete_of_fewest": COMPLETENESS,
    "complete_of_most": COMPLETENESS,
    **METHOD_OF_WHOLE,
    "terminus": TERMINUS_POST_QUEM,
    "mean": MEAN_CERAMIC_DATE,
}
"""How each figure comes about, by its key, told also where it has no value."""


def method_in_words(method: Method, say: Say) -> str:
    """Return what is told of a figure under the pointer: its unit, its formula, the source, what that rests on."""
    unit = say(UNIT_IN_WORDS[method.unit]) or say(N_("a ratio without a unit"))
    return f"{say(N_('Unit: {unit}'), unit=unit)}\n{formula_of(method, say)}"


def figure_lines(figures: SherdFigures, say: Say) -> tuple[FigureLine, ...]:
    """Return the figures of a thing and its dates as lines, in their order."""
    left = figures.sums.not_weighed
    note = (
        say(N_("without {sherds} of which no weight was written"), sherds=CountOf("{n} sherd", "{n} sherds", left))
        if left
        else ""
    )
    notes = {"grams": note, "mean_weight": note} | dict.fromkeys(BY_RIMS, rests_on_rims(figures.sums, say))
    notes["base_eve"] = _rests_on(figures.sums.bases_read, figures.sums.bases, (ON_BASES, ON_FEW_BASES), say)
    notes |= dict.fromkeys(OF_WARES, _of_wares(figures, say)) | {"density": _of_soil(figures, say)}
    said = [line_of(one, say, notes.get(one.key, "")) for one in figures.figures]
    return (*said, *_dates(figures.dates, say))


BY_RIMS = ("rim_eve", "brokenness", "complete_of_fewest", "complete_of_most")
"""The figures that rest on the shares of the rim that were read."""
FEW = 3
"""Where fewer than one in so many of the rims was read, the figure says too little of the others (ours)."""
ON_RIMS = N_("{read} of {all} rims read")
ON_FEW_RIMS = N_("only {read} of {all} rims read: too few to speak for the others; read more of them first")
ON_BASES = N_("{read} of {all} bases read")
ON_FEW_BASES = N_("only {read} of {all} bases read: too few to speak for the others; read more of them first")


def rests_on_rims(sums: Sums, say: Say) -> str:
    """Return on how many of how many rims vessel equivalents rest, '' where none was read."""
    return _rests_on(sums.rims_read, sums.rims, (ON_RIMS, ON_FEW_RIMS), say)


def rests_on_few(sums: Sums) -> bool:
    """Return whether so few rims were read that they say too little of the others."""
    return 0 < sums.rims_read * FEW < sums.rims


def _rests_on(read: int, of: int, texts: tuple[str, str], say: Say) -> str:
    some, few = texts
    return say(few if read * FEW < of else some, read=grouped(read), all=grouped(of)) if read else ""


def _of_wares(figures: SherdFigures, say: Say) -> str:
    """Return how many wares a figure of them compares, and how many sherds have none."""
    counts = {one.ware: one.sums.pieces for one in figures.types if not one.form}
    without = counts.pop("", 0)
    if not counts:
        return ""
    wares = CountOf("{n} ware", "{n} wares", len(counts))
    if not without:
        return say(N_("of {wares}"), wares=wares)
    sherds = CountOf("{n} sherd", "{n} sherds", without)
    return say(N_("of {wares}, without {sherds} of which none is said"), wares=wares, sherds=sherds)


def _of_soil(figures: SherdFigures, say: Say) -> str:
    """Return what soil a density is of, and how many sherds were in a litre of it; '' where it is not known."""
    said = [said for _number, said in figures.soil if said]
    if not said or len(said) < len(figures.soil):
        return ""
    litre = value_of(density_of(figures.sums.pieces, figures.soil).a_litre)
    return say(N_("{litre} a litre; soil dug: {soil}"), litre=litre, soil=" + ".join(said))


_OF_ONE = {Unit.SHERDS: N_("sherd"), Unit.VESSELS: N_("vessel")}


def _unit_of(value: str, unit: Unit | None, say: Say) -> str:
    """Return the unit as it stands beside a value: 40 sherds, 1 sherd."""
    if unit is None:
        return ""
    return say(_OF_ONE[unit] if value == "1" and unit in _OF_ONE else UNIT_IN_WORDS[unit])


def line_of(said: FigureSaid, say: Say, note: str = "") -> FigureLine:
    """Return one figure as a line."""
    name, figure = say(EVERY_FIGURE[said.key]), said.figure
    if figure is None:
        why = say(said.why_not.text, **said.why_not.facts) if said.why_not else ""
        return FigureLine(said.key, name, NONE, "", formula_of(METHOD_OF[said.key], say), why)
    unit = _unit_of(value_of(figure), figure.unit, say)
    both = " ".join(part for part in (say(said.doubt) if said.doubt else "", note) if part)
    return FigureLine(said.key, name, value_of(figure), unit, formula_of(figure, say), both)


def _dates(dates: Dates, say: Say) -> Iterator[FigureLine]:
    if dates.terminus is not None:
        given = say(N_("given by {types}"), types=types_in_words(dates.given_by, say))
        notes = (given, _with_late(dates.terminus_with_late, dates, say))
        yield _date("terminus", say(N_("Terminus post quem")), dates.terminus.year, notes, say)
    if dates.mean is not None:
        notes = (_without_dates(dates.undated, say), _with_late(dates.mean_with_late, dates, say))
        yield _date("mean", say(N_("Mean date")), dates.mean.year, notes, say)
    for key, name, formula, types in (
        (
            "undated",
            N_("Not dated"),
            N_("sherds of which piece, form and ware do not say both a first and a last year"),
            dates.undated,
        ),
        ("late", N_("Looks late"), LATE, dates.late),
    ):
        if types:
            pieces = grouped(sum(one.pieces for one in types))
            unit = _unit_of(pieces, Unit.SHERDS, say)
            yield FigureLine(key, say(name), pieces, unit, say(formula), types_in_words(types, say))


LATE = N_("in a sealed {deposit}: years that begin when those of 90 % of its dated sherds have ended, or later")


def _date(key: str, name: str, year: Figure, notes: Sequence[str], say: Say) -> FigureLine:
    return FigureLine(key, name, value_of(year), "", formula_of(year, say), "; ".join(part for part in notes if part))


def _without_dates(undated: Sequence[OfType], say: Say) -> str:
    if not undated:
        return ""
    sherds = CountOf("{n} sherd", "{n} sherds", sum(one.pieces for one in undated))
    return say(N_("without {sherds} of unknown date: {types}"), sherds=sherds, types=types_in_words(undated, say))


def _with_late(found: object, dates: Dates, say: Say) -> str:
    """Return what a date would be with the finds that look late; nothing where none does."""
    year = getattr(found, "year", None)
    if year is None:
        return ""
    types = types_in_words(dates.late, say)
    return say(N_("with what looks late ({types}) it would be {year}"), types=types, year=value_of(year))


def types_in_words(types: Sequence[OfType], say: Say) -> str:
    """Return types and objects with their numbers: 3 of CSJ, coin (object 31)."""
    return ", ".join(_type(one, say) for one in types)


def _type(one: OfType, say: Say) -> str:
    if one.object_number is not None:
        return say(N_("{what} (object {number})"), what=one.said, number=one.object_number)
    text = N_("{n} of {type}") if one.said else N_("{n} without a ware")
    told = say(text, n=grouped(one.pieces), type=said_once(*one.said.partition(" ")[::2]))
    return say(N_("{sherds} ({deposit} {number})"), sherds=told, number=one.deposit) if one.deposit else told
