"""A thing's date profile put into words and drawn: one picture for the screen, for files and for paper."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from findsdesk.desk.figure_dates import Dates
from findsdesk.desk.figure_scopes import OF_IN_WORDS, Scope
from findsdesk.desk.figure_words import value_of
from findsdesk.desk.register_columns import Say
from findsdesk.domain.date_profiles import WeighedBy
from findsdesk.paper.profile_plot import DrawnProfile, ProfileBar, ProfilePicture, YearLine, drawn_profile
from findsdesk.words import N_, CountOf

WEIGHED_IN_WORDS: dict[WeighedBy, str] = {
    WeighedBy.COUNT: N_("sherds"),
    WeighedBy.GRAMS: N_("grams"),
    WeighedBy.EVE: N_("vessel equivalents"),
}
"""What the upright axis of a profile counts."""


NOTHING_IN_WORDS: dict[WeighedBy, str] = {
    WeighedBy.COUNT: N_("Nothing here has a date yet. Give the wares or the pieces their years."),
    WeighedBy.GRAMS: N_("No weight was written here, so no grams add up. Weigh the sherds, or choose sherds."),
    WeighedBy.EVE: N_("No share of a rim was read here, so no EVE adds up. Read the rims, or choose sherds."),
}
"""What stands in the place of a profile in which nothing adds up."""


def scope_in_words(scope: Scope, say: Say) -> str:
    """Return what a thing is called: Bucket 131."""
    return say(OF_IN_WORDS[scope.of], name=scope.name)


@dataclass(frozen=True, slots=True)
class Look:
    """How a picture looks: its size in millimetres, the dots an inch of a PNG, the colours of letters and ground.

    ``strong`` is for a screen in the sun: everything in the ink, letters bold.
    """

    width_mm: float = 160
    height_mm: float = 80
    dpi: int = 200
    ink: str = "#1F2A44"
    ground: str = "#FFFFFF"
    strong: bool = False


ON_PAPER = Look(width_mm=180, height_mm=72, dpi=300, ink="#000000")


def profile_plot(
    scope: Scope, dates: Dates, say: Say, kind: Literal["svg", "png", "pdf"] = "svg", look: Look = Look()
) -> bytes:  # fmt: skip
    """Return the picture of a date profile; it takes a while the first time, so never on the window's thread."""
    return _drawn(scope, dates, say, kind, look).content


@dataclass(frozen=True, slots=True)
class PlacedPlot:
    """A PNG with where its bars stand: left, top, right and bottom of the plot as shares of width and height."""

    png: bytes
    box: tuple[float, float, float, float]


def placed_plot(scope: Scope, dates: Dates, say: Say, look: Look) -> PlacedPlot:
    """Return the same picture with where its bars stand, so that they can be pressed on a screen."""
    drawn = _drawn(scope, dates, say, "png", look)
    return PlacedPlot(drawn.content, drawn.box)


def _drawn(scope: Scope, dates: Dates, say: Say, kind: Literal["svg", "png", "pdf"], look: Look) -> DrawnProfile:
    adds_up = dates.profile is not None and float(dates.profile.total) > 0
    nothing = NOTHING_IN_WORDS[WeighedBy.COUNT if dates.profile is None else dates.by]
    title = say(
        N_("{what}, spans of {years}"),
        what=scope_in_words(scope, say),
        years=CountOf("{n} year", "{n} years", dates.years),
    )
    picture = ProfilePicture(
        bars=tuple(ProfileBar(bar.begin, bar.until, bar.share, bar.late) for bar in dates.bars) if adds_up else (),
        unit=say(WEIGHED_IN_WORDS[dates.by]),
        lines=year_lines(dates, say),
        late=say(N_("looks late")),
        title=title,
        when_empty=say(nothing),
        ink=look.ink,
        ground=look.ground,
        strong=look.strong,
    )
    return drawn_profile(picture, kind, width_mm=look.width_mm, height_mm=look.height_mm, dpi=look.dpi)


def year_lines(dates: Dates, say: Say) -> tuple[YearLine, ...]:
    """Return the years marked in the profile, with their words: terminus post quem and mean date."""
    lines = []
    if dates.terminus is not None:
        year = float(dates.terminus.year)
        lines.append(YearLine(year, say(N_("TPQ {year}"), year=value_of(dates.terminus.year))))
    if dates.mean is not None:
        year = float(dates.mean.year)
        lines.append(YearLine(year, say(N_("mean {year}"), year=value_of(dates.mean.year)), dashed=True))
    return tuple(lines)
