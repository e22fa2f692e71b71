"""What may be said of one piece, and what about it is worth a second look; never refused because it is unusual."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from findsdesk.domain.date_ranges import DateRange
from findsdesk.domain.doubts import Doubt
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.words import N_

WHOLE_PERMILLE = 1000
MOST_DIAMETER_MM = 3000
"""Three metres: no vessel is wider (ours, to catch a slip of the decimal sign)."""
SMALL_SHARE_PERMILLE = 50
"""Below about this share of a circle its diameter is doubtful (an analyst of Internet Archaeology 27/2 left it out)."""


class DiameterMethod(StrEnum):
    """How a diameter was found."""

    CHART = "chart"
    CHORD = "chord"
    POINTS = "points"


METHOD_IN_WORDS: dict[DiameterMethod, str] = {
    DiameterMethod.CHART: N_("by chart"),
    DiameterMethod.CHORD: N_("by chord and arc height"),
    DiameterMethod.POINTS: N_("by points"),
}


@dataclass(frozen=True, slots=True)
class Measures:
    """What was measured on a piece: shares of a circle in per mille, lengths in millimetres or tenths of one."""

    rim_permille: int | None = None
    base_permille: int | None = None
    rim_diameter_mm: int | None = None
    base_diameter_mm: int | None = None
    diameter_method: str = ""
    diameter_uncertainty_mm: int | None = None
    base_method: str = ""
    base_uncertainty_mm: int | None = None
    chord_tenths_mm: int | None = None
    sagitta_tenths_mm: int | None = None
    height_mm: int | None = None
    wall_tenths_mm: int | None = None


def check_measures(measures: Measures) -> None:
    """Refuse what no piece can measure.

    Refusals: ``percent_range``, ``not_a_length``, ``too_wide``, ``diameter_below_chord``, ``height_above_diameter``,
    ``method_without_diameter``.
    """
    for permille in (measures.rim_permille, measures.base_permille):
        if permille is not None and not 0 <= permille <= WHOLE_PERMILLE:
            raise Refusal(
                "percent_range",
                N_("One piece has 0 to 100 % of a circle, not {percent} %. Read the chart again."),
                percent=f"{permille / 10:g}",
            )
    _check_lengths(measures)
    _check_circle(measures)


def _check_lengths(measures: Measures) -> None:
    lengths = (
        measures.rim_diameter_mm,
        measures.base_diameter_mm,
        measures.chord_tenths_mm,
        measures.sagitta_tenths_mm,
        measures.height_mm,
        measures.wall_tenths_mm,
    )
    unsure = (measures.diameter_uncertainty_mm or 0, measures.base_uncertainty_mm or 0)
    if any(length is not None and length <= 0 for length in lengths) or min(unsure) < 0:
        raise Refusal("not_a_length", N_("A length is more than 0 mm. Measure again, or leave it out."))
    for diameter in (measures.rim_diameter_mm, measures.base_diameter_mm):
        if diameter is not None and diameter > MOST_DIAMETER_MM:
            raise Refusal(
                "too_wide",
                N_("{diameter} mm is wider than any vessel. Look at the unit: diameters are in millimetres."),
                diameter=diameter,
            )


def _check_circle(measures: Measures) -> None:
    diameter, chord, height = measures.rim_diameter_mm, measures.chord_tenths_mm, measures.sagitta_tenths_mm
    if diameter is not None and chord is not None and 10 * diameter < chord:
        raise Refusal(
            "diameter_below_chord",
            N_("A diameter of {diameter} mm is shorter than the chord of {chord} mm. Measure both again."),
            diameter=diameter,
            chord=f"{chord / 10:g}",
        )
    if diameter is not None and height is not None and 10 * diameter < height:
        raise Refusal(
            "height_above_diameter",
            N_("An arc {height} mm high does not fit into a diameter of {diameter} mm. Measure both again."),
            diameter=diameter,
            height=f"{height / 10:g}",
        )
    rim, base = measures.rim_diameter_mm, measures.base_diameter_mm
    if (measures.diameter_method and rim is None and base is None) or (measures.base_method and base is None):
        raise Refusal(
            "method_without_diameter", N_("A way of measuring belongs to a diameter. Enter the diameter too.")
        )


def check_years(earliest: int | None, latest: int | None) -> None:
    """Refuse a date range that runs backwards (``range_reversed``); one of the two alone is allowed."""
    if earliest is not None and latest is not None:
        DateRange(earliest, latest)


def doubts_of(measures: Measures, *, dated: bool, dated_by: str, shared: str = "") -> tuple[Doubt, ...]:
    """Return what about a piece is worth a second look: shown beside it, in nobody's way.

    ``shared`` names what nobody read of it, keys with a blank between them: its part of the row, divided at lifting.
    """
    return tuple(_doubts(measures, dated=dated, dated_by=dated_by, shared=shared.split()))


def _doubts(measures: Measures, *, dated: bool, dated_by: str, shared: Sequence[str]) -> Iterator[Doubt]:
    if measures.rim_permille and measures.rim_diameter_mm is None and "rim" not in shared:
        yield Doubt(
            "percent_without_diameter",
            N_("The share of the rim was read without a diameter. Write the diameter of the chart too."),
            column="rim_diameter_mm",
        )
    if measures.base_permille and measures.base_diameter_mm is None and "base" not in shared:
        yield Doubt(
            "percent_without_diameter",
            N_("The share of the base was read without a diameter. Write the diameter of the chart too."),
            column="base_diameter_mm",
        )
    if measures.rim_diameter_mm is not None and 0 < (measures.rim_permille or 0) < SMALL_SHARE_PERMILLE:
        yield Doubt(
            "small_share",
            N_("Less than 5 % of the rim is there: its diameter is little more than a guess."),
            column="rim_diameter_mm",
        )
    if dated and not dated_by.strip():
        yield Doubt(
            "date_without_ground", N_("Dated, but not said by what. Write the ground for it."), column="dated_by"
        )


def over_a_whole(name: str, permille: int, facts: Mapping[str, object]) -> Question | None:
    """Return the question to ask when pieces of one vessel have more than a whole rim or base between them.

    ``name`` is "rim" or "base". Warned, never refused: the shares are read on a chart (docs/sources.md, "Vessels").
    """
    if permille <= WHOLE_PERMILLE:
        return None
    told = {"percent": f"{permille / 10:g}", **facts}
    if name == "rim":
        return Question(
            "rim_over_whole",
            N_("The pieces of vessel {vessel} have {percent} % of a rim between them. Is it one vessel all the same?"),
            **told,
        )
    return Question(
        "base_over_whole",
        N_("The pieces of vessel {vessel} have {percent} % of a base between them. Is it one vessel all the same?"),
        **told,
    )


def even_shares(whole: int, how_many: int) -> tuple[int, ...]:
    """Return a whole number parted as evenly as can be; the first ones get one more where it does not come out."""
    each, left = divmod(whole, how_many)
    return tuple(each + (1 if number < left else 0) for number in range(how_many))
