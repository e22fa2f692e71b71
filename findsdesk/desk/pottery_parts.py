"""Parts of papers that speak of sorted pottery: readings, wares, figures with their grounds, dates with their plot."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from findsdesk.desk.figure_words import METHOD_OF, FigureLine, figure_lines, types_in_words, value_of
from findsdesk.desk.profile_drawing import ON_PAPER, profile_plot, scope_in_words
from findsdesk.desk.reading_rows import ReadingFacts, period_names
from findsdesk.desk.sheets import Wording
from findsdesk.desk.sherd_figures import SherdFigures, TypeFigures
from findsdesk.desk.whole_papers import NONE, grams
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.years import year_in_words
from findsdesk.paper.list_kinds import Column, ListRow
from findsdesk.paper.report_kinds import Bar, Bars, Figure, Part, Table, Words
from findsdesk.words import N_, grouped

MOST_BARS = 24


def dates_parts(say: Wording, figures: SherdFigures) -> Iterator[Part]:
    """Yield the date profile with a sentence of what it gives; a sentence alone where nothing is dated."""
    dates = figures.dates
    if not dates.bars:
        yield Words(say(N_("Nothing here has a date yet.")))
        return
    said = []
    if dates.terminus is not None:
        year, types = value_of(dates.terminus.year), types_in_words(dates.given_by, say)
        said.append(say(N_("Terminus post quem {year}, given by {types}."), year=year, types=types))
    if dates.mean is not None:
        said.append(say(N_("Mean date {year}."), year=value_of(dates.mean.year)))
    if dates.late:
        said.append(say(N_("Looks late and counts in neither: {types}."), types=types_in_words(dates.late, say)))
    yield Words(" ".join(said))
    yield Figure(
        lambda: profile_plot(figures.scope, dates, say, "png", ON_PAPER),
        ON_PAPER.width_mm,
        ON_PAPER.height_mm,
        say(N_("Date profile of {what}"), what=scope_in_words(figures.scope, say)),
    )


def wares_of(figures: SherdFigures) -> list[TypeFigures]:
    """Return the wares of figures, without their forms."""
    return [one for one in figures.types if not one.form]


def ware_figures_table(say: Wording, figures: SherdFigures, caption: str = "") -> Table:
    """Return wares with their forms: sherds, grams, mean weight, vessel equivalents, vessels."""
    rows: list[ListRow] = []
    for one in figures.types:
        named = {said.key: said.figure for said in one.figures}
        name = f"– {one.form} {one.form_name}".rstrip() if one.form else f"{one.ware} {one.ware_name}".strip()
        rows.append(
            (
                name or say(N_("no ware said")),
                _years(one),
                grouped(one.sums.pieces),
                grams(one.sums.tenths) if one.sums.weighed else NONE,
                *(value_of(named.get(key)) for key in ("mean_weight", "rim_eve", "base_eve")),
                *("" if one.form else value_of(named.get(key)) for key in ("by_rims", "fewest", "most")),
            )
        )
    columns = (
        Column(say(N_("Ware and form")), 2.3),
        Column(say(N_("Years")), 1.35),
        Column(say(N_("Sherds")), 0.75, "right"),
        Column(say(N_("Grams")), 0.95, "right"),
        Column(say(N_("Mean weight")), 0.75, "right"),
        Column(say(N_("Rim EVE")), 0.65, "right"),
        Column(say(N_("Base EVE")), 0.65, "right"),
        Column(say(N_("Vessels by rims")), 0.75, "right"),
        Column(say(N_("Fewest vessels")), 0.75, "right"),
        Column(say(N_("Most vessels")), 0.75, "right"),
    )
    sums = figures.sums
    totals = (say(N_("Total")), "", grouped(sums.pieces), grams(sums.tenths) if sums.weighed else NONE, *[""] * 6)
    return Table(columns, lambda: rows, totals, say(N_("No sherd is sorted yet.")), caption)


def _years(one: TypeFigures) -> str:
    if one.years is None:
        return ""
    return f"{year_in_words(one.years.begin)}–{year_in_words(one.years.end)}"


def ware_bars(say: Wording, figures: SherdFigures, caption: str) -> Iterator[Part]:
    """Yield the wares as bars of diagnostic and other sherds, the most frequent first."""
    wares = sorted(wares_of(figures), key=lambda one: -one.sums.pieces)[:MOST_BARS]
    if not wares:
        return
    bars = tuple(
        Bar(
            f"{one.ware} {one.ware_name}".strip() or say(N_("no ware said")),
            (float(one.sums.diagnostic), float(one.sums.pieces - one.sums.diagnostic)),
            grouped(one.sums.pieces),
        )
        for one in wares
    )
    yield Bars((say(N_("diagnostic")), say(N_("other sherds"))), bars, caption)


def figures_parts(say: Wording, figures: SherdFigures, caption: str = "") -> Iterator[Part]:
    """Yield each figure with how it comes about and on what it rests; then the sources of the formulas."""
    lines = figure_lines(figures, say)
    rows = [(one.name, one.value, one.unit, "; ".join(filter(None, (_formula(one, say), one.note)))) for one in lines]
    columns = (
        Column(say(N_("Figure")), 1.4),
        Column(say(N_("Value")), 0.9, "right"),
        Column(say(N_("Unit")), 0.8),
        Column(say(N_("How it comes about")), 5.8),
    )
    yield Table(columns, lambda: rows, when_empty=say(N_("No sherd is sorted yet.")), caption=caption)
    sources = _sources(lines, say)
    if sources:
        text = N_("Sources. {sources}. Where none is named, the table itself says how it is counted.")
        yield Words(say(text, sources=sources), quiet=True)


def _formula(line: FigureLine, say: Wording) -> str:
    method = METHOD_OF.get(line.key)
    return say(method.formula) if method else line.formula


def _sources(lines: Sequence[FigureLine], say: Wording) -> str:
    """Return which formulas stand where: Rim EVE, Base EVE: Orton, Tyers and Vince 1993, p. 172."""
    of: dict[str, list[str]] = {}
    for line in lines:
        method = METHOD_OF.get(line.key)
        if method and method.source:
            of.setdefault(say(method.source), []).append(line.name)
    return "; ".join(f"{', '.join(names)}: {source}" for source, names in of.items())


def readings_table(say: Wording, found: Sequence[ReadingFacts], caption: str = "") -> Table:
    """Return readings of pottery: of what, which periods, how sure, in a line, who and when."""
    confidences = words_of(say.desk)["confidences"]
    rows = [
        (
            one.container or say(N_("all")),
            period_names(one.periods),
            say(confidences.called(one.confidence)),
            "; ".join(part for part in (one.line, one.look_again_why, one.looked_again_says) if part),
            one.who,
            say.moment(one.read_at)[:10],
        )
        for one in found
    ]
    columns = (
        Column(say(N_("{Container}")), 0.8),
        Column(say(N_("Periods")), 2.0),
        Column(say(N_("How sure")), 0.9),
        Column(say(N_("In a line")), 2.6),
        Column(say(N_("Who")), 1.1),
        Column(say(N_("Read")), 1.0),
    )
    return Table(columns, lambda: rows, when_empty=say(N_("Nobody has read it yet.")), caption=caption)
