"""The date profile as a picture: the same bytes on screen and on paper.

matplotlib is loaded when the first picture is drawn and never through its session-wide interface: a figure is an object
here, so that two threads can draw at once.
"""

from __future__ import annotations

import io
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any, Literal

from findsdesk import places
from findsdesk.domain.years import named_on_an_axis, year_in_words

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

Format = Literal["svg", "png", "pdf"]

BLUE, ORANGE = "#0072B2", "#D55E00"
"""Of Okabe and Ito's set; what looks late is hatched as well, for the two are one grey on paper."""
MM_PER_INCH = 25.4
_MOST_TICKS = 10
_LONG_STEP = 5
"""Years between two marks of the axis from which on they stand at years that people round to."""
_WORDS_SHARE = 0.25
"""So much of the width the words beside a line take at most."""
_LEGEND_SHARE = 0.2
"""So much of it what explains the hatching takes at the right."""
_PARTED_MM = 2.0
"""Bars narrower than this stand side by side with no ground between them."""


@dataclass(frozen=True, slots=True)
class ProfileBar:
    """What falls into the years [begin, until), and the part of it that looks late."""

    begin: int
    until: int
    share: float
    late: float = 0.0


@dataclass(frozen=True, slots=True)
class YearLine:
    """A year marked by a line with its words; ``dashed`` tells a mean from a boundary."""

    year: float
    words: str
    dashed: bool = False


@dataclass(frozen=True, slots=True)
class ProfilePicture:
    """A date profile as it is drawn; all texts are in words. ``unit`` names the upright axis, ``late`` the hatching.

    ``strong`` draws all of it in the ink, with bold letters and thicker lines.
    """

    bars: tuple[ProfileBar, ...]
    unit: str
    lines: tuple[YearLine, ...] = ()
    late: str = ""
    title: str = ""
    when_empty: str = ""
    ink: str = "#1F2A44"
    ground: str = "#FFFFFF"
    strong: bool = False


@dataclass(frozen=True, slots=True)
class StoodLine:
    """A line, and whether its words run to the left of it."""

    line: YearLine
    runs_left: bool


@dataclass(frozen=True, slots=True)
class DrawnProfile:
    """A picture with where its bars stand: left, top, right and bottom of the plot as shares of width and height."""

    content: bytes
    box: tuple[float, float, float, float]


def draw_profile(
    picture: ProfilePicture, kind: Format = "svg", *, width_mm: float = 160, height_mm: float = 80, dpi: int = 200
) -> bytes:
    """Return a date profile as SVG, PNG or PDF of a size in millimetres; ``dpi`` is of the PNG."""
    return drawn_profile(picture, kind, width_mm=width_mm, height_mm=height_mm, dpi=dpi).content


def drawn_profile(
    picture: ProfilePicture, kind: Format = "svg", *, width_mm: float = 160, height_mm: float = 80, dpi: int = 200
) -> DrawnProfile:
    """Return the same with where its bars stand, for a screen on which they can be pressed."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=(width_mm / MM_PER_INCH, height_mm / MM_PER_INCH), layout="constrained")
    figure.set_facecolor(picture.ground)
    axes = figure.add_subplot()
    axes.set_facecolor(picture.ground)
    if picture.bars:
        _draw_bars(axes, picture, width_mm / len(picture.bars))
        _draw_lines(axes, picture)
        _label(axes, picture)
    else:
        axes.set_axis_off()
        axes.text(
            0.5,
            0.5,
            picture.when_empty,
            ha="center",
            va="center",
            wrap=True,
            color=picture.ink,
            fontproperties=_letters(9, picture.strong),
        )
    content = _written(figure, kind, dpi)
    # Read after it was written: only then is everything laid out.
    place = axes.get_position()
    return DrawnProfile(content, (place.x0, 1 - place.y1, place.x1, 1 - place.y0))


def _draw_bars(axes: Axes, picture: ProfilePicture, wide_mm: float) -> None:
    """Draw the bars; the ground between them gives way where so narrow a bar would be nothing but its edges."""
    edge = picture.ground
    sure = [(bar.begin, bar.until - bar.begin, bar.share - bar.late) for bar in picture.bars]
    begins, widths, heights = zip(*sure, strict=True)
    axes.bar(
        begins,
        heights,
        widths,
        align="edge",
        color=picture.ink if picture.strong else BLUE,
        edgecolor=edge,
        linewidth=0.6 if wide_mm > _PARTED_MM else 0,
    )
    late = [bar for bar in picture.bars if bar.late > 0]
    if late:
        axes.bar(
            [bar.begin for bar in late],
            [bar.late for bar in late],
            [bar.until - bar.begin for bar in late],
            bottom=[bar.share - bar.late for bar in late],
            align="edge",
            color=edge,
            edgecolor=picture.ink if picture.strong else ORANGE,
            hatch="////",
            linewidth=0.8,
            label=picture.late,
        )
        axes.legend(loc="upper right", frameon=False, labelcolor=picture.ink, prop=_letters(7.5, picture.strong))


def _draw_lines(axes: Axes, picture: ProfilePicture) -> None:
    top = max(bar.share for bar in picture.bars) or 1.0
    axes.set_ylim(0, top * (1.08 + 0.13 * len(picture.lines)))
    for place, stood in enumerate(stand_words(picture)):
        line, high = stood.line, top * (1.12 + 0.13 * place)
        style = (0, (4, 2)) if line.dashed else "solid"
        if picture.strong:
            # On bars of the same ink the line would not be seen.
            axes.plot([line.year, line.year], [0, high], color=picture.ground, linewidth=4.5)
        width = 2.0 if picture.strong else 1.2
        axes.plot([line.year, line.year], [0, high], color=picture.ink, linewidth=width, linestyle=style)
        left = stood.runs_left
        axes.annotate(
            line.words, (line.year, high), (-3 if left else 3, 0), textcoords="offset points", va="top",
            ha="right" if left else "left", color=picture.ink, fontproperties=_letters(8, picture.strong),
        )  # fmt: skip


def stand_words(picture: ProfilePicture) -> tuple[StoodLine, ...]:
    """Return the two lines, or one, lowest first, so that words run over the line beside them only above that one.

    Words run to the right of their line, earlier lines higher; where there is no room behind the latest line they run
    to the left, later lines higher, but for a line so early that it has its room before it for itself.
    """
    first, last = picture.bars[0].begin, picture.bars[-1].until
    room = (last - first) * _WORDS_SHARE
    behind = room + (last - first) * (_LEGEND_SHARE if any(bar.late for bar in picture.bars) else 0)
    lines = sorted(picture.lines, key=lambda line: line.year)
    if not lines or lines[-1].year <= last - behind:
        return tuple(StoodLine(line, runs_left=False) for line in reversed(lines))
    return tuple(StoodLine(line, runs_left=line.year >= first + room) for line in lines)


def _label(axes: Axes, picture: ProfilePicture) -> None:
    first, last = picture.bars[0].begin, picture.bars[-1].until
    span = picture.bars[0].until - first
    step = span * max(1, -(-len(picture.bars) // _MOST_TICKS))
    years = [named_on_an_axis(year) if step >= _LONG_STEP else year for year in range(first, last + 1, step)]
    axes.set_xlim(first, last)
    axes.set_xticks(years, [year_in_words(year, with_era=first <= 0) for year in years])
    axes.set_ylabel(picture.unit, color=picture.ink, fontproperties=_letters(8, picture.strong))
    axes.set_title(picture.title, loc="left", color=picture.ink, fontproperties=_letters(9, picture.strong))
    for text in (*axes.get_xticklabels(), *axes.get_yticklabels()):
        text.set_fontproperties(_letters(7.5, picture.strong))
    axes.tick_params(colors=picture.ink, length=2.5, pad=5, width=1.4 if picture.strong else 0.8)
    for name, spine in axes.spines.items():
        spine.set_visible(name in ("left", "bottom"))
        spine.set_color(picture.ink)
        spine.set_linewidth(1.6 if picture.strong else 0.8)


@cache
def _letters(size: float, strong: bool = False) -> Any:
    from matplotlib.font_manager import FontProperties

    name = "DejaVuSans-Bold.ttf" if strong else "DejaVuSans.ttf"
    return FontProperties(fname=str(places.resource("fonts", name)), size=size * (1.1 if strong else 1))


def _written(figure: Figure, kind: Format, dpi: int) -> bytes:
    out = io.BytesIO()
    figure.savefig(out, format=kind, dpi=dpi, metadata=_SAID_OF_A_FILE[kind], facecolor=figure.get_facecolor())
    return out.getvalue()


_SAID_OF_A_FILE: dict[str, dict[str, Any]] = {
    "svg": {"Date": None, "Creator": "FindsDesk"},
    "png": {"Software": "FindsDesk"},
    "pdf": {"CreationDate": None, "Creator": "FindsDesk"},
}
"""No clock in them: the same profile gives the same bytes."""
