"""``findsdesk figures``: the figures of sorted pottery, the rows behind one, the plot, a sheet or a spreadsheet."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Any

from findsdesk.cli.calls import DONE, add_json, add_store
from findsdesk.cli.saying import plain, say, say_json, say_table
from findsdesk.cli.seat import reading_seat
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, CountOf, _

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.figure_scopes import Scope
    from findsdesk.desk.sherd_figures import SherdFigures

EXAMPLE = (
    "findsdesk figures quay                            (the whole excavation)",
    "findsdesk figures quay --deposit 2017 --weigh eve --years 25",
    "findsdesk figures quay --container 131 --rows rim_eve      (the rows behind a figure)",
    "findsdesk figures quay --season 2026 --rows fewest --ware QRS",
    "findsdesk figures quay --deposit 2017 --plot profile.svg --pdf figures.pdf --file figures.xlsx",
    "findsdesk figures quay --compare                  (deposits in the order of their wares)",
)
_WEIGHED = ("count", "grams", "eve")
_SHOWN = ("sherds", "grams", "mean_weight", "rim_eve", "fewest")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    which = parser.add_mutually_exclusive_group()
    which.add_argument("--container", metavar="TAG", help=_("of a container: its tag as scanned, or its number"))
    which.add_argument("--deposit", metavar="NUMBER", help=_("of a deposit, also by a number it once had"))
    which.add_argument("--square", metavar="NAME", help=_("of a square"))
    which.add_argument("--season", metavar="NAME", help=_("of a season"))
    which.add_argument("--compare", action="store_true", help=_("deposits compared by their wares"))
    parser.add_argument("--weigh", choices=_WEIGHED, default="count", help=_("what its date profile adds") + " [count]")
    parser.add_argument("--years", type=int, default=50, metavar="N", help=_("years a span of the profile") + " [50]")
    parser.add_argument("--rows", metavar="FIGURE", help=_("the rows behind a figure, by its key (--json names them)"))
    parser.add_argument("--ware", metavar="CODE", help=_("with --rows: of this ware alone"))
    parser.add_argument("--form", metavar="CODE", help=_("with --rows: of this form alone"))
    parser.add_argument("--plot", type=Path, metavar="FILE", help=_("write the date profile as SVG, PNG or PDF"))
    parser.add_argument("--pdf", type=Path, metavar="PDF", help=_("print the figures"))
    parser.add_argument("--file", type=Path, metavar="FILE", help=_("write wares and forms as XLSX or CSV"))
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Show the figures, or what is asked of them."""
    with reading_seat(call) as desk:
        if call.compare:
            return _compare(call, desk)
        scope = _scope(call, desk)
        if call.rows:
            return _rows(call, desk, scope)
        from findsdesk.desk.sherd_figures import figures_of
        from findsdesk.domain.date_profiles import WeighedBy

        figures = figures_of(desk, scope, by=WeighedBy[call.weigh.upper()], years=call.years)
        if _written(call, desk, figures):
            return DONE
        if call.json:
            say_json(_as_plain(desk, figures))
        else:
            _say(desk, figures)
    return DONE


def _scope(call: argparse.Namespace, desk: Desk) -> Scope:
    from findsdesk.desk.figure_scopes import Of, scope_of

    for of in (Of.CONTAINER, Of.DEPOSIT, Of.SQUARE, Of.SEASON):
        which = getattr(call, of.value)
        if which is not None:
            return scope_of(desk, of, which)
    return scope_of(desk, Of.EXCAVATION)


def _written(call: argparse.Namespace, desk: Desk, figures: SherdFigures) -> bool:
    from findsdesk.desk.figure_papers import figures_sheet, write_figures
    from findsdesk.desk.kept_sheets import write_paper
    from findsdesk.desk.profile_drawing import profile_plot
    from findsdesk.desk.register_columns import wording

    if call.plot is not None:
        kind = call.plot.suffix.lower().lstrip(".")
        if kind not in ("svg", "png", "pdf"):
            text = N_("{file} is neither .svg nor .png nor .pdf. Give it one of these endings.")
            raise Refusal("unknown_ending", text, file=call.plot.name)
        picture = profile_plot(figures.scope, figures.dates, wording(desk), kind)
        say(N_("Date profile: {file}"), None, file=write_paper(picture, call.plot))
    if call.pdf is not None:
        printed = figures_sheet(desk, figures)
        say(N_("{title}: {file}"), None, title=printed.title, file=write_paper(printed.pdf, call.pdf))
    if call.file is not None:
        rows = write_figures(desk, figures, call.file)
        say(N_("Wares and forms written, {rows} in all: {file}"), None, rows=rows, file=call.file)
    return any(path is not None for path in (call.plot, call.pdf, call.file))


def _say(desk: Desk, figures: SherdFigures) -> None:
    from findsdesk.desk.figure_words import figure_lines, value_of
    from findsdesk.desk.profile_drawing import scope_in_words
    from findsdesk.desk.register_columns import wording
    from findsdesk.desk.sherd_figures import FIGURE_IN_WORDS

    words = wording(desk)
    print(scope_in_words(figures.scope, words))
    lines = figure_lines(figures, words)
    width = max(len(line.name) for line in lines)
    for line in lines:
        print(f"  {line.name:<{width}}  {line.whole}" + (f"  ({line.note})" if line.note else ""))
    if figures.types:
        print()
        heads = (N_("Ware"), N_("Form"), N_("Years"), *(FIGURE_IN_WORDS[key] for key in _SHOWN))
        rows = [
            (
                *(one.ware or "–", one.form, one.years.in_words() if one.years else ""),
                *(value_of(one.named(key)) for key in _SHOWN),
            )
            for one in figures.types
        ]
        say_table([words(head) for head in heads], rows)


def _as_plain(desk: Desk, figures: SherdFigures) -> dict[str, Any]:
    from findsdesk.desk.figure_words import figure_lines
    from findsdesk.desk.register_columns import wording

    dates = figures.dates
    return {
        "of": plain(figures.scope),
        "figures": [plain(line) for line in figure_lines(figures, wording(desk))],
        "profile": {"by": dates.by.name.lower(), "years": dates.years, "bars": [plain(bar) for bar in dates.bars]},
        "undated": [plain(one) for one in dates.undated],
        "late": [plain(one) for one in dates.late],
        "types": [
            {
                "ware": one.ware,
                "form": one.form,
                "figures": {
                    said.key: None if said.figure is None else float(said.figure.value) for said in one.figures
                },
            }
            for one in figures.types
        ],
    }


def _rows(call: argparse.Namespace, desk: Desk, scope: Scope) -> int:
    from findsdesk.desk.rows_behind import behind_named, rows_behind

    behind = behind_named(desk, call.rows, ware=call.ware, form=call.form)
    found = rows_behind(desk, scope, behind, how_many=100_000)
    if call.json:
        say_json(found)
        return DONE
    heads = (N_("{Container}"), N_("Row"), N_("Kind"), N_("Ware"), N_("Form"), N_("Part"), N_("Count"), N_("Grams"))
    rows = [
        (row.container, row.place, row.kind, row.ware, row.form, row.part, row.pieces, _grams(row.tenths))
        for row in found.rows
    ]
    from findsdesk.desk.register_columns import wording

    say_table([wording(desk)(head) for head in heads], rows)
    say(N_("{rows}, {pieces}"), None, rows=CountOf("{n} row", "{n} rows", found.total),
        pieces=CountOf("{n} piece", "{n} pieces", found.pieces))  # fmt: skip
    return DONE


def _grams(tenths: int | None) -> str:
    return "" if tenths is None else f"{tenths // 10}.{tenths % 10}"


def _compare(call: argparse.Namespace, desk: Desk) -> int:
    from findsdesk.desk.comparing import compare_deposits, nearest
    from findsdesk.desk.figure_papers import comparison_sheet
    from findsdesk.desk.kept_sheets import write_paper
    from findsdesk.desk.register_columns import wording

    found = compare_deposits(desk)
    if call.pdf is not None:
        printed = comparison_sheet(desk, found)
        say(N_("{title}: {file}"), None, title=printed.title, file=write_paper(printed.pdf, call.pdf))
    elif call.json:
        say_json({"order": [row.deposit for row in found.deposits], "alike": found.alike, "left_out": found.left_out})
    else:
        words = wording(desk)
        heads = (N_("{Deposit}"), N_("{Square}"), N_("Sherds"), N_("Most alike (0 to 200)"))
        rows = [
            (row.deposit, row.square, sum(row.pieces), ", ".join(nearest(found, place)))
            for place, row in enumerate(found.deposits)
        ]
        say_table([words(head) for head in heads], rows)
        if found.left_out:
            say(N_("Too few sherds of known wares: {numbers}."), None, numbers=", ".join(found.left_out))
    return DONE
