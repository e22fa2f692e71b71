"""The figures of sorted pottery: counts, weights, vessel equivalents, vessels, by ware and form, and their dates."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TypeVar

from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.figure_dates import Dates, dates_of
from findsdesk.desk.figure_scopes import Of, Scope
from findsdesk.desk.type_table import TypeTable, type_table
from findsdesk.desk.whole_figures import WHOLE_IN_WORDS, Soil, density_of, figures_of_wares, soil_in
from findsdesk.domain.date_profiles import WeighedBy
from findsdesk.domain.date_ranges import DateRange
from findsdesk.domain.figures import Figure
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.sherd_counts import diagnostic_share, grams, sherds
from findsdesk.domain.sherd_weight import mean_sherd_weight
from findsdesk.domain.vessel_elements import Carriers
from findsdesk.domain.vessel_equivalents import base_eve, brokenness, completeness, rim_eve
from findsdesk.domain.vessels import Element, Sherds, Vessels, vessels
from findsdesk.store.pots import LinkedSherds, Pots, linked_sherds, pots_among
from findsdesk.store.sherd_sums import Cell, dated_objects
from findsdesk.store.sums_in_spans import Follow, sums_of
from findsdesk.store.vessel_parts import carriers_in
from findsdesk.words import N_

T = TypeVar("T")

FIGURE_IN_WORDS: dict[str, str] = {
    "sherds": N_("Sherds"),
    "grams": N_("Weight"),
    "mean_weight": N_("Mean sherd weight"),
    "diagnostic": N_("Diagnostic share"),
    "rim_eve": N_("Rim EVE"),
    "base_eve": N_("Base EVE"),
    "by_rims": N_("Vessels by rims"),
    "fewest": N_("Fewest vessels"),
    "most": N_("Most vessels"),
    "brokenness": N_("Brokenness"),
    "complete_of_fewest": N_("Completeness, fewest"),
    "complete_of_most": N_("Completeness, most"),
}
"""Every figure that wares and forms have too, in its order, by the key under which its rows are opened."""
EVERY_FIGURE: dict[str, str] = FIGURE_IN_WORDS | WHOLE_IN_WORDS
"""Those, and the figures that only the whole has."""


@dataclass(frozen=True, slots=True)
class FigureSaid:
    """One figure by its key; where there is none, ``why_not`` says what is missing. ``doubt`` questions its value."""

    key: str
    figure: Figure | None
    why_not: Refusal | None = None
    doubt: str = ""


@dataclass(frozen=True, slots=True)
class Sums:
    """What is added up for figures; weights in tenths of a gram, shares in per mille, ``rows`` of groups and pieces.

    ``rims`` and ``bases`` are sherds that carry one, ``rims_read`` and ``bases_read`` those whose share was read.
    """

    rows: int = 0
    pieces: int = 0
    tenths: int = 0
    weighed: int = 0
    weighed_rows: int = 0
    diagnostic: int = 0
    rim: int = 0
    base: int = 0
    rims: int = 0
    bases: int = 0
    rims_read: int = 0
    bases_read: int = 0

    @property
    def not_weighed(self) -> int:
        """Return the sherds whose weight nobody wrote: they are in no weight and in no mean weight."""
        return self.pieces - self.weighed


@dataclass(frozen=True, slots=True)
class TypeFigures:
    """The figures of one ware (``form`` empty), or of those of its sherds that are said to be of one form."""

    ware: str
    ware_name: str
    form: str
    form_name: str
    years: DateRange | None
    sums: Sums
    vessels: Vessels

    @property
    def figures(self) -> tuple[FigureSaid, ...]:
        """Return its figures; made when they are looked at, which of most types nobody does while sherds are sorted."""
        return _figures(self.sums, self.vessels)

    def named(self, key: str) -> Figure | None:
        """Return one of its figures."""
        return next((one.figure for one in self.figures if one.key == key), None)


@dataclass(frozen=True, slots=True)
class SherdFigures:
    """All figures of a thing: its own, those of its wares and forms, and its dates."""

    scope: Scope
    sums: Sums
    figures: tuple[FigureSaid, ...]
    types: tuple[TypeFigures, ...]
    """Each ware and after it its forms, by code; sherds without a ware at the end."""
    dates: Dates
    soil: Soil = ()
    """Of a deposit: what soil was dug."""

    def named(self, key: str) -> Figure | None:
        """Return one of the figures of the whole."""
        return next((one.figure for one in self.figures if one.key == key), None)


def figures_of(
    desk: Desk,
    scope: Scope,
    *,
    by: WeighedBy = WeighedBy.COUNT,
    years: int = 50,
    origin: int = 0,
    follow: Follow | None = None,
) -> SherdFigures:
    """Return the figures of a thing as they stand now; ``by``, ``years`` and ``origin`` are of its date profile.

    Where very many groups are summed ``follow`` is told how far that is, and may raise to call it off. Refusals:
    ``bin_years``, ``too_many_bins``.
    """
    with desk.reading() as reading:
        return figures_in(reading.session, scope, by=by, years=years, origin=origin, follow=follow)


def figures_in(
    session: Session,
    scope: Scope,
    *,
    by: WeighedBy = WeighedBy.COUNT,
    years: int = 50,
    origin: int = 0,
    follow: Follow | None = None,
) -> SherdFigures:
    """Return the figures of a thing within a reading session."""
    within = scope.within()
    cells = sums_of(session, within, follow)
    mine = [cell for cell in cells if cell.mine]
    types = type_table(session)
    linked = linked_sherds(session, within) if any(cell.linked for cell in mine) else []
    pots = _Pots.among(session, [one.id for one in linked])
    by_ware = _by_code(mine, lambda cell: types.ware(cell.ware_id).code)
    linked_by_ware = _by_code(linked, lambda one: types.ware(one.ware_id).code)
    parted = [_of_ware(some, linked_by_ware.get(code, []), pots, types) for code, some in by_ware.items()]
    sums = _sums(mine)
    wares = [ware for ware, *_forms in parted]
    of_wares = figures_of_wares([ware.sums.pieces for ware in wares if ware.ware])
    soil = soil_in(session, scope.id) if scope.of is Of.DEPOSIT and scope.id is not None else ()
    measured = any(said for _number, said in soil)
    dense = [("density", lambda: density_of(sums.pieces, soil).a_cubic_metre)] if measured else []
    of_whole = tuple(_said(*one) for one in (*of_wares, *dense))
    return SherdFigures(
        scope,
        sums,
        (*_figures(sums, _together([ware.vessels for ware in wares])), *of_whole),
        tuple(one for ware in parted for one in ware),
        dates_of(session, cells, dated_objects(session, within), types, by=by, years=years, origin=origin),
        soil,
    )


def dates_in(session: Session, scope: Scope) -> Dates:
    """Return the dates of a thing by sherds and spans of 50 years alone, for what follows each row as it is left."""
    within = scope.within()
    cells = sums_of(session, within)
    return dates_of(session, cells, dated_objects(session, within), type_table(session))


def _by_code(things: Iterable[T], code: Callable[[T], str]) -> dict[str, list[T]]:
    parted: dict[str, list[T]] = {}
    for one in things:
        parted.setdefault(code(one), []).append(one)
    return dict(sorted(parted.items(), key=lambda pair: (not pair[0], pair[0])))


def _of_ware(
    cells: Sequence[Cell], linked: Sequence[LinkedSherds], pots: _Pots, types: TypeTable
) -> tuple[TypeFigures, ...]:
    """Return the figures of a ware and after it of its forms."""
    ware = types.ware(cells[0].ware_id)
    forms = _by_code((cell for cell in cells if cell.form_id is not None), lambda cell: types.form(cell.form_id).code)
    apart = _by_code((one for one in linked if one.form_id is not None), lambda one: types.form(one.form_id).code)
    whole = TypeFigures(ware.code, ware.name, "", "", ware.years, _sums(cells), _vessels(cells, linked, pots))
    return whole, *(_of_form(whole, some, apart.get(code, []), pots, types) for code, some in forms.items())


def _of_form(
    ware: TypeFigures, cells: Sequence[Cell], linked: Sequence[LinkedSherds], pots: _Pots, types: TypeTable
) -> TypeFigures:
    form = types.form(cells[0].form_id)
    counted = _vessels(cells, linked, pots)
    return TypeFigures(ware.ware, ware.ware_name, form.code, form.name, form.years, _sums(cells), counted)


def _sums(cells: Sequence[Cell]) -> Sums:
    return Sums(
        rows=sum(cell.rows for cell in cells),
        pieces=sum(cell.pieces for cell in cells),
        tenths=sum(cell.tenths for cell in cells),
        weighed=sum(cell.weighed for cell in cells),
        weighed_rows=sum(cell.weighed_rows for cell in cells),
        diagnostic=sum(cell.diagnostic for cell in cells),
        rim=sum(cell.rim for cell in cells),
        base=sum(cell.base for cell in cells),
        rims=sum(cell.with_rim for cell in cells),
        bases=sum(cell.with_base for cell in cells),
        rims_read=sum(cell.rims_read for cell in cells),
        bases_read=sum(cell.bases_read for cell in cells),
    )


@dataclass(frozen=True, slots=True)
class _Pots:
    """Sherds that hang together, by all joins and by the certain ones; which parts carry a rim or a base."""

    all: Pots
    certain: Pots
    parts: Carriers

    @classmethod
    def among(cls, session: Session, ids: Sequence[int]) -> _Pots:
        return cls(*pots_among(session, ids), carriers_in(session))


def _vessels(cells: Sequence[Cell], linked: Sequence[LinkedSherds], pots: _Pots) -> Vessels:
    """Count the vessels of one ware; a join in doubt makes one pot of two for the fewest alone."""
    counted = _vessels_by(cells, linked, pots.certain, pots.parts)
    if pots.all == pots.certain:
        return counted
    return replace(counted, fewest=_vessels_by(cells, linked, pots.all, pots.parts).fewest)


def _vessels_by(cells: Sequence[Cell], linked: Sequence[LinkedSherds], pots: Pots, parts: Carriers) -> Vessels:
    """Count the vessels of one ware: what is linked as one sherd each, everything else by what it carries."""
    apart = [cell for cell in cells if not cell.linked]
    both = sum(cell.with_both for cell in apart)
    rims = sum(cell.with_rim for cell in apart) - both
    bases = sum(cell.with_base for cell in apart) - both
    rest = sum(cell.pieces for cell in apart) - rims - bases - both
    unlinked = (
        Sherds("both", both, frozenset({Element.RIM, Element.BASE})),
        Sherds("rims", rims, frozenset({Element.RIM})),
        Sherds("bases", bases, frozenset({Element.BASE})),
        Sherds("rest", rest),
    )
    known = {one.id for one in linked}
    # Of a pot only the sherds of this ware are counted here; those between them may be of another or of none.
    pairs = [
        (str(one), str(other)) for pot in pots for one, other in pairwise(row_id for row_id in pot if row_id in known)
    ]
    single = [
        Sherds(str(one.id), 1, parts.elements_of(one.part, one.rim_permille, one.base_permille)) for one in linked
    ]  # fmt: skip
    return vessels([*(some for some in unlinked if some.pieces), *single], pairs)


def _together(counted: Sequence[Vessels]) -> Vessels:
    """Add the vessels of several wares, each convention for itself."""
    none = vessels(())

    def added(convention: str) -> Figure:
        values = [getattr(one, convention).value for one in counted]
        method = getattr(none, convention).method
        figure: Figure = method.gives(sum(values))
        return figure

    return Vessels(added("by_rims"), added("fewest"), added("most"))


def _figures(sums: Sums, counted: Vessels) -> tuple[FigureSaid, ...]:
    def of_vessels(represented: Figure) -> Figure:
        return completeness(rim_eve((_read(sums.rim),)), int(represented.value))

    made: tuple[tuple[str, Callable[[], Figure]], ...] = (
        ("sherds", lambda: sherds(sums.pieces)),
        ("grams", lambda: grams(_weighed(sums).tenths)),
        ("mean_weight", lambda: mean_sherd_weight(_weighed(sums).weighed, sums.tenths)),
        ("diagnostic", lambda: diagnostic_share(sums.diagnostic, sums.pieces)),
        ("rim_eve", lambda: rim_eve((_read(sums.rim),))),
        ("base_eve", lambda: base_eve((_read(sums.base),))),
        ("by_rims", lambda: counted.by_rims),
        ("fewest", lambda: counted.fewest),
        ("most", lambda: counted.most),
        ("brokenness", lambda: brokenness(sums.pieces, rim_eve((sums.rim,)))),
        ("complete_of_fewest", lambda: of_vessels(counted.fewest)),
        ("complete_of_most", lambda: of_vessels(counted.most)),
    )
    return tuple(_said(key, make) for key, make in made)


def _read(permille: int) -> int:
    """Refuse an equivalent of which nothing was read: 0 would say that there is none."""
    if not permille:
        raise Refusal(
            "no_share_read", N_("No percent of these circles was read, so it cannot be told. Enter it first.")
        )
    return permille


def _weighed(sums: Sums) -> Sums:
    if sums.pieces and not sums.weighed:
        raise Refusal("not_weighed", N_("No weight was written, so none can be told. Enter the grams first."))
    return sums


def _said(key: str, make: Callable[[], Figure]) -> FigureSaid:
    try:
        figure = make()
    except Refusal as refusal:
        return FigureSaid(key, None, refusal)
    over = key.startswith("complete") and figure.value > 1
    return FigureSaid(key, figure, doubt=N_("Above 1: a percent of a rim was misread.") if over else "")
