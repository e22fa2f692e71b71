"""What the bench says of figures, worked out from the desk's; no window needed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from findsdesk.desk.columns_in_words import value_in_words
from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import DepositDossier, Dossier
from findsdesk.desk.figure_scopes import Of, Scope, scope_of
from findsdesk.desk.figure_words import (
    BY_RIMS,
    METHOD_OF,
    FigureLine,
    figure_lines,
    method_in_words,
    rests_on_few,
    rests_on_rims,
    types_in_words,
    value_of,
)
from findsdesk.desk.profile_drawing import scope_in_words
from findsdesk.desk.register_columns import Say, wording
from findsdesk.desk.rows_behind import Behind, RowBehind
from findsdesk.desk.sherd_figures import EVERY_FIGURE, FIGURE_IN_WORDS, SherdFigures, TypeFigures, figures_of
from findsdesk.desk.word_lists import WordLists
from findsdesk.domain.date_profiles import WeighedBy
from findsdesk.domain.natural_order import folded
from findsdesk.domain.similarity import BRAINERD_ROBINSON
from findsdesk.domain.type_rows import said_once
from findsdesk.ui.models.cells import Cell, Column, TableRow
from findsdesk.words import N_, grouped

if TYPE_CHECKING:
    from findsdesk.desk.comparing import Comparison

TYPE_KEYS = ("sherds", "grams", "mean_weight", "diagnostic", "rim_eve", "base_eve", "by_rims", "fewest", "most")
"""The figures of the table of wares and forms, in its order."""
_BEFORE_FIGURES = 3
"""Columns of that table before its figures: ware, name, years."""
BEHIND_IN_WORDS: dict[str, str] = {
    **EVERY_FIGURE,
    "terminus": N_("Terminus post quem"),
    "mean": N_("Mean date"),
    "undated": N_("Not dated"),
    "late": N_("Looks late"),
    "bar": N_("Of these years"),
    "not_weighed": N_("Not weighed"),
}
"""What the rows behind a figure are called, by its key."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing whose figures can be shown: its kind, the code or number it is found by, what it is called."""

    of: Of
    which: str
    words: str


def choices(in_hand: object, say: Say) -> tuple[Choice, ...]:
    """Return what can be chosen: what is in hand, where it is from, the season, the excavation."""
    found: list[Choice] = []
    if isinstance(in_hand, Dossier):
        found.append(Choice(Of.CONTAINER, in_hand.code, say(N_("{Container} {n}"), n=in_hand.number)))
        if in_hand.deposit:
            found.append(Choice(Of.DEPOSIT, in_hand.deposit, say(N_("{Deposit} {n}"), n=in_hand.deposit)))
    if isinstance(in_hand, DepositDossier):
        found.append(Choice(Of.DEPOSIT, in_hand.number, say(N_("{Deposit} {n}"), n=in_hand.number)))
    if isinstance(in_hand, Dossier | DepositDossier) and in_hand.square:
        found.append(Choice(Of.SQUARE, in_hand.square, say(N_("{Square} {n}"), n=in_hand.square)))
    found.append(Choice(Of.SEASON, "", say(N_("this season"))))
    found.append(Choice(Of.EXCAVATION, "", say(N_("the whole excavation"))))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Shown:
    """The figures of a thing as the bench shows them; ``name`` is what the thing is called."""

    scope: Scope
    figures: SherdFigures
    name: str
    lines: tuple[FigureLine, ...]
    types: tuple[TableRow, ...]
    undated: str
    late: str
    rests: str
    """On how many rims the vessel equivalents rest, '' where no rim was read."""

    def is_doubtful(self, key: str) -> bool:
        """Return whether a figure is marked: what looks late, and what rests on few of the rims."""
        return key == "late" or (key in BY_RIMS and rests_on_few(self.figures.sums))


def read_figures(
    desk: Desk, choice: Choice, by: WeighedBy, follow: Callable[[int, int], None] | None = None
) -> Shown:  # fmt: skip
    """Read the figures of what is chosen; runs on the reading lane, long work followed. Refusals: of finding it."""
    scope, say = scope_of(desk, choice.of, choice.which), wording(desk)
    figures = figures_of(desk, scope, by=by, follow=follow)
    dates = figures.dates
    undated = say(N_("Not dated: {types}."), types=types_in_words(dates.undated, say)) if dates.undated else ""
    late = say(N_("Looks late in a sealed {deposit}: {types}."), types=types_in_words(dates.late, say))
    return Shown(
        scope,
        figures,
        scope_in_words(scope, say),
        figure_lines(figures, say),
        tuple(type_row(one, say) for one in figures.types),
        undated,
        late if dates.late else "",
        _rests(figures, say),
    )


def _rests(figures: SherdFigures, say: Say) -> str:
    rests = rests_on_rims(figures.sums, say)
    return say(N_("Rim EVE, brokenness and completeness: {rests}."), rests=rests) if rests else ""


def type_columns(say: Say) -> tuple[Column, ...]:
    """Return the columns of the table of wares and forms."""
    heads = (Column(say(N_("Ware"))), Column(say(N_("Name")), grows=True), Column(say(N_("Years"))))
    tips = {key: method_in_words(METHOD_OF[key], say) for key in TYPE_KEYS}
    return (*heads, *(Column(say(FIGURE_IN_WORDS[key]), figures=True, tip=tips[key]) for key in TYPE_KEYS))


def figure_at(column: int) -> str:
    """Return the key of the figure in a column of the table of wares and forms, '' where none stands."""
    place = column - _BEFORE_FIGURES
    return TYPE_KEYS[place] if 0 <= place < len(TYPE_KEYS) else ""


def type_row(one: TypeFigures, say: Say) -> TableRow:
    """Return a ware, or one of its forms, as a row; its id opens the sherds behind it."""
    ware = one.ware or say(N_("none said"))
    years = one.years.in_words() if one.years else "–"
    said = {figure.key: figure.figure for figure in one.figures}
    cells = (
        Cell(say(N_("of these")), "muted") if one.form else Cell(ware, strong=True),
        Cell(f"{one.form} {one.form_name}".strip() if one.form else one.ware_name),
        Cell(years, "" if one.years else "muted"),
        *(Cell(value_of(said[key]), "muted" if one.form else "") for key in TYPE_KEYS),
    )
    return TableRow(Behind("sherds", one.ware, one.form or None), cells, said=ware)


def found_types(rows: Sequence[TableRow], text: str) -> tuple[TableRow, ...]:
    """Return the rows that hold every word of a search; a form is found by its ware too."""
    words = folded(text).split()
    return tuple(
        row
        for row in rows
        if all(word in folded(f"{row.said} {' '.join(c.text for c in row.cells)}") for word in words)
    )


def behind_title(behind: Behind, name: str, say: Say) -> str:
    """Return what the rows behind a figure are called, with the thing they are of."""
    said = say(BEHIND_IN_WORDS[behind.figure])
    types = said_once(behind.ware or "", behind.form or "")
    if behind.figure == "bar":
        said = say(N_("Can be of {begin} to {until}"), begin=behind.begin, until=behind.until)
    return ", ".join(part for part in (name, types, said) if part)


def behind_columns(say: Say) -> tuple[Column, ...]:
    """Return the columns of the rows behind a figure."""
    heads = (N_("{Container}"), N_("{Deposit}"), N_("Row"), N_("Ware"), N_("Form"), N_("Part"), N_("Count"),
             N_("Grams"), N_("Rim %"), N_("Base %"), N_("Years"))  # fmt: skip
    numbers = (N_("Count"), N_("Grams"), N_("Rim %"), N_("Base %"))
    return tuple(Column(say(head), figures=head in numbers, grows=head == N_("Part")) for head in heads)


def behind_row(row: RowBehind, lists: WordLists, say: Say) -> TableRow:
    """Return a group, a piece or an object behind a figure; its id is its container's."""
    place = {
        # The sorting table numbers no rows: what tells two alike ones apart there is what is decided of them.
        "group": say(N_("row, {decision}"), decision=value_in_words("decision", row.decision)),
        "piece": say(N_("piece {n}"), n=f"{row.container}.{row.place}"),
        "object": say(N_("object {n}"), n=row.place),
    }[row.kind]
    part = lists["parts"].keyed(row.part)
    texts = (
        row.container,
        row.deposit,
        place,
        row.ware or "–",
        row.form,
        say(part.name) if part else row.part,
        grouped(row.pieces),
        "" if row.tenths is None else f"{row.tenths / 10:.1f}",
        "" if row.rim_permille is None else f"{row.rim_permille / 10:g}",
        "" if row.base_permille is None else f"{row.base_permille / 10:g}",
        f"{row.years.in_words()}{'–' if row.open_ended else ''}" if row.years else "–",
    )
    return TableRow(row.container_id, tuple(Cell(text, strong=place == 0) for place, text in enumerate(texts)))


def compared_columns(found: Comparison, say: Say) -> tuple[Column, ...]:
    """Return the columns of a comparison: the deposit, its square, its nearest, then each deposit in order."""
    heads = (
        Column(say(N_("{Deposit}"))),
        Column(say(N_("{Square}"))),
        Column(say(N_("Sherds")), figures=True, tip=method_in_words(METHOD_OF["sherds"], say)),
        Column(say(N_("Most alike")), tip=method_in_words(BRAINERD_ROBINSON, say)),
    )
    tip = method_in_words(BRAINERD_ROBINSON, say)
    return (*heads, *(Column(row.deposit, figures=True, tip=tip) for row in found.deposits))


def compared_rows(found: Comparison) -> tuple[TableRow, ...]:
    """Return the deposits in the order of the first axis with their coefficients; the strongest are bold."""
    # Loaded by whoever compared: numpy would hold up the window when the bench is built.
    from findsdesk.desk.comparing import nearest

    rows = []
    for place, row in enumerate(found.deposits):
        alike = found.alike[place]
        best = max((one for at, one in enumerate(alike) if at != place), default=0.0)
        cells = (
            Cell(row.deposit, strong=True),
            Cell(row.square),
            Cell(grouped(sum(row.pieces))),
            Cell(", ".join(nearest(found, place, 1))),
            *(
                Cell(
                    "·" if at == place else f"{one:.0f}", "muted" if one < best / 2 else "", at != place and one == best
                )
                for at, one in enumerate(alike)
            ),
        )
        rows.append(TableRow(row.deposit, cells))
    return tuple(rows)


def compared_words(found: Comparison, say: Say) -> str:
    """Return what the comparison says in a few sentences: the order, the shares of the axes, what was left out."""
    share = f"{found.correspondence.percents[0] if found.correspondence.inertias else 0:.0f} %"
    order = N_("In the order of the first axis ({share} of the inertia); which end is early it cannot say.")
    parts = [
        say(order, share=share),
        say(N_("Coefficients of Brainerd and Robinson: 0 shares no ware, 200 has the same shares of each.")),
    ]
    if found.association.thin:
        parts.append(say(N_("Many of the counts are too small for this to be trusted.")))
    if found.left_out:
        parts.append(say(N_("Too few sherds of known wares: {numbers}."), numbers=", ".join(found.left_out)))
    return " ".join(parts)
