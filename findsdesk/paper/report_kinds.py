"""What a paper of several parts is made of: plain values, gathered by the desk layer; all texts are in words already.

What may be long or heavy is a call: rows are asked for twice (to count the pages and to draw them), a picture when the
page with it is drawn.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from findsdesk.paper.list_kinds import CautionSlip, Column, ListRow, Picture, Signature
from findsdesk.paper.page_frame import PageHead

Colour = tuple[float, float, float]
"""Red, green and blue from 0 to 1."""


@dataclass(frozen=True, slots=True)
class Heading:
    """The title of a chapter (``level`` 0) or of a part of one; a chapter begins a page where ``fresh`` says so.

    ``after`` is the share of a page that may be filled before it all the same: 0.4 lets a chapter follow a short one.
    """

    text: str
    level: int = 0
    fresh: bool = False
    after: float = 0.0


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph; ``quiet`` sets it small, as a note.

    ``leads``: what comes after it stands on the same page; ``follows``: what comes before it does.
    """

    text: str
    quiet: bool = False
    leads: bool = False
    follows: bool = False


@dataclass(frozen=True, slots=True)
class Facts:
    """Short facts with their names, side by side in ``columns``."""

    pairs: tuple[tuple[str, str], ...]
    columns: int = 2


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under column titles. ``caption`` numbers it (Table 3); ``least`` mm a row and ``ruled`` make it a form.

    ``together`` keeps a short one on one page.
    """

    columns: tuple[Column, ...]
    rows: Callable[[], Iterable[ListRow]]
    totals: tuple[str, ...] = ()
    when_empty: str = ""
    caption: str = ""
    least: float = 0.0
    ruled: bool = False
    together: bool = False


@dataclass(frozen=True, slots=True)
class Figure:
    """A picture at its size in mm, with a numbered caption under it."""

    load: Callable[[], bytes]
    width: float
    height: float
    caption: str


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar of a chart: its name, the lengths of its parts in the order of the legend, and the figure at its end."""

    name: str
    parts: tuple[float, ...]
    figure: str


@dataclass(frozen=True, slots=True)
class Bars:
    """Bars beside one another from a common edge, each of parts; with a numbered caption under it."""

    legend: tuple[str, ...]
    bars: tuple[Bar, ...]
    caption: str


@dataclass(frozen=True, slots=True)
class Swatch:
    """A colour on paper with the words beside it: outside 2.5YR 5/6."""

    words: str
    colour: Colour


@dataclass(frozen=True, slots=True)
class CatalogueEntry:
    """A piece of a catalogue: name and code, facts by name, its colours, and its photograph.

    ``shape`` is the width and height of the photograph in any unit, ``load`` gives it as JPEG or PNG; None: there is
    none. Where ``load`` gives nothing, ``gone`` stands in its place. ``note`` stands under the facts.
    """

    title: str
    code: str
    facts: tuple[tuple[str, str], ...]
    swatches: tuple[Swatch, ...] = ()
    note: str = ""
    load: Callable[[], bytes | None] | None = None
    shape: tuple[int, int] = (1, 1)
    gone: str = ""


Part = Heading | Words | Facts | Table | Figure | Bars | CatalogueEntry | CautionSlip | Signature | Picture


@dataclass(frozen=True, slots=True)
class Cover:
    """The first page of a report: over its title whose it is, under it facts by name, and large figures."""

    over: str
    under: str
    facts: tuple[tuple[str, str], ...]
    figures: tuple[tuple[str, str], ...] = ()
    """Each a figure and what it counts."""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Report:
    """A paper of several parts. ``parts`` is called twice; a ``cover`` brings a table of contents with it."""

    head: PageHead
    parts: Callable[[], Iterable[Part]]
    cover: Cover | None = None
    turned: bool = False
