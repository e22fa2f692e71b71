"""Figures that go out: a sheet with the plot, a file for spreadsheets, with what each figure rests on."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from findsdesk.desk.comparing import Comparison, nearest
from findsdesk.desk.desk import Desk
from findsdesk.desk.figure_words import figure_lines, rests_on_rims, value_of
from findsdesk.desk.profile_drawing import ON_PAPER, profile_plot, scope_in_words
from findsdesk.desk.register_columns import Say, wording
from findsdesk.desk.sheets import A4, PrintedList, Wording, printed
from findsdesk.desk.sherd_figures import FIGURE_IN_WORDS, SherdFigures, TypeFigures
from findsdesk.domain.figures import UNIT_IN_WORDS, Figure, Unit
from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.writing import Sheet, write_csv, write_xlsx
from findsdesk.paper.list_kinds import Column, ListRow, Picture, Section
from findsdesk.words import N_, grouped

_ON_SHEET = ("sherds", "grams", "mean_weight", "rim_eve", "base_eve", "by_rims", "fewest", "most")


def figures_sheet(desk: Desk, figures: SherdFigures, *, paper: str = A4) -> PrintedList:
    """Return the figures of a thing on paper: its date profile, each figure with its formula, wares and forms."""
    say = Wording(desk)
    plot = profile_plot(figures.scope, figures.dates, say, "png", ON_PAPER)
    return printed(
        say,
        paper,
        title=say(N_("Figures of the pottery")),
        filter_words=scope_in_words(figures.scope, say),
        columns=(
            Column(say(N_("Figure")), 1.6),
            Column(say(N_("Value")), 1.1, "right"),
            Column(say(N_("Unit")), 1.2),
            Column(say(N_("How it comes about")), 3.2),
            Column(say(N_("Note")), 2.2),
        ),
        rows=tuple(_sheet_rows(figures, say)),
        when_empty=say(N_("No sherd is sorted yet.")),
        turned=False,
        picture=Picture(plot, ON_PAPER.width_mm, ON_PAPER.height_mm),
    )


def _sheet_rows(figures: SherdFigures, say: Wording) -> Iterator[ListRow]:
    for line in figure_lines(figures, say):
        yield (line.name, line.value, line.unit, line.formula, line.note)
    for ware in (one for one in figures.types if not one.form):
        yield Section(f"{ware.ware} {ware.ware_name}".strip() or say(N_("no ware said")), _years(ware))
        for one in (ware, *(form for form in figures.types if form.form and form.ware == ware.ware)):
            form = f"{one.form} {one.form_name}".strip()
            name = say(N_("of these {form}"), form=form) if form else say(N_("together"))
            yield (name, "", "", _in_a_line(one, say), rests_on_rims(one.sums, say))


def _in_a_line(one: TypeFigures, say: Say) -> str:
    said = {figure.key: figure.figure for figure in one.figures}
    figures = ((key, said[key]) for key in _ON_SHEET if said.get(key) is not None)
    return "; ".join(
        f"{say(FIGURE_IN_WORDS[key])} {value_of(figure)} {_unit(figure, say)}".strip() for key, figure in figures
    )


def _unit(figure: Figure | None, say: Say) -> str:
    """Return the unit, where the name of the figure does not say what is counted: Sherds 1, Rim EVE 0.15 vessel …"""
    counts = (Unit.SHERDS, Unit.VESSELS)
    return say(UNIT_IN_WORDS[figure.unit]) if figure is not None and figure.unit not in counts else ""


def _years(one: TypeFigures) -> str:
    return one.years.in_words() if one.years else ""


def write_figures(desk: Desk, figures: SherdFigures, path: Path) -> int:
    """Write the figures by ware and form into a file, XLSX or CSV by its ending; returns how many rows.

    An XLSX file has two more sheets: the figures of the whole with their formulas, and the date profile. Refusals:
    ``unknown_ending``, those of writing.
    """
    say = wording(desk)
    types = Sheet(say(N_("By ware and form")), _type_heads(say), [_type_row(one) for one in figures.types])
    ending = path.suffix.lower()
    if ending == ".csv":
        return write_csv(types.headers, types.rows, path, for_spreadsheet=True)
    if ending != ".xlsx":
        raise Refusal(
            "unknown_ending",
            N_("{file} is neither .xlsx nor .csv. Give it one of these endings."),
            file=path.name,
        )
    write_xlsx([_whole(figures, say), types, _profile(figures, say)], path)
    return len(figures.types)


def _type_heads(say: Say) -> list[str]:
    named = [say(FIGURE_IN_WORDS[key]) for key in FIGURE_IN_WORDS]
    heads = (N_("Ware"), N_("Name"), N_("Form"), N_("Name of the form"), N_("From"), N_("Until"))
    return [*(say(head) for head in heads), *named]


def _type_row(one: TypeFigures) -> list[str | int | float | None]:
    begin, end = (one.years.begin, one.years.end) if one.years else (None, None)
    said = {figure.key: figure.figure for figure in one.figures}
    return [
        one.ware,
        one.ware_name,
        one.form,
        one.form_name,
        begin,
        end,
        *(_plain(said.get(key)) for key in FIGURE_IN_WORDS),
    ]


def _plain(figure: Figure | None) -> int | float | None:
    if figure is None:
        return None
    return int(figure.value) if float(figure).is_integer() else float(figure)


def _whole(figures: SherdFigures, say: Say) -> Sheet:
    rows = [(line.name, line.value, line.unit, line.formula, line.note) for line in figure_lines(figures, say)]
    heads = (N_("Figure"), N_("Value"), N_("Unit"), N_("How it comes about"), N_("Note"))
    return Sheet(say(N_("Figures")), [say(head) for head in heads], rows)


def _profile(figures: SherdFigures, say: Say) -> Sheet:
    rows = [(bar.begin, bar.until, bar.share, bar.late) for bar in figures.dates.bars]
    heads = (N_("From (astronomical year)"), N_("Until"), N_("Falls into it"), N_("of that looks late"))
    return Sheet(say(N_("Date profile")), [say(head) for head in heads], rows)


def comparison_sheet(desk: Desk, found: Comparison, *, paper: str = A4) -> PrintedList:
    """Return the comparison of deposits on paper: in the order of the first axis, each with its nearest and wares."""
    say = Wording(desk)
    return printed(
        say,
        paper,
        title=say(N_("{Deposits} compared by their wares")),
        filter_words=say(N_("In the order of the first axis; which end is early it cannot say")),
        columns=(
            Column(say(N_("{Deposit}")), 0.7),
            Column(say(N_("{Square}")), 0.6),
            Column(say(N_("Sherds")), 0.6, "right"),
            Column(say(N_("Most alike (0 to 200)")), 2.2),
            Column(say(N_("Wares")), 4.0),
        ),
        rows=tuple(_compared_rows(found)),
        when_empty=say(N_("Nothing can be compared.")),
    )


def _compared_rows(found: Comparison) -> Iterator[ListRow]:
    for place, row in enumerate(found.deposits):
        wares = (f"{ware} {grouped(n)}" for ware, n in zip(found.wares, row.pieces, strict=True) if n)
        yield (row.deposit, row.square, grouped(sum(row.pieces)), ", ".join(nearest(found, place)), ", ".join(wares))
