"""When pottery is of: the date profile, terminus post quem, mean date, what nobody could date, what looks late."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.figure_scopes import securities
from findsdesk.desk.type_table import TypeTable
from findsdesk.domain.date_profiles import DateProfile, WeighedBy, date_profile
from findsdesk.domain.date_ranges import DateRange
from findsdesk.domain.dated_finds import DatedFind
from findsdesk.domain.intrusions import look_intrusive
from findsdesk.domain.mean_dates import MeanDate, mean_ceramic_date
from findsdesk.domain.natural_order import sort_key
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.terminus import TerminusPostQuem, terminus_post_quem
from findsdesk.store.models import Deposit
from findsdesk.store.sherd_sums import Cell, DatedObject

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class OfType:
    """Sherds of one type, or an object, as dates are told of them; ``grams_tenths`` and ``rim`` add up.

    ``said`` is the code of ware and form, or what the object is; ``years`` is None where nobody could date them.
    """

    said: str
    years: DateRange | None
    pieces: int
    tenths: int
    rim: int
    object_number: int | None = None
    end_of_bulk: int | None = None
    """Of what looks late: the year in which the bulk of its deposit ends."""
    deposit: str = ""
    """Of what looks late in several deposits: the number of its own."""


@dataclass(frozen=True, slots=True)
class DateBar:
    """The years [begin, until) and what falls into them; ``late`` is the part of it that looks late."""

    begin: int
    until: int
    share: float
    late: float


@dataclass(frozen=True, slots=True)
class Dates:
    """The dates of a thing. What looks late in a sealed deposit is in the profile, marked, and in nothing else.

    ``terminus`` and ``mean`` are None where nothing is dated. ``terminus_with_late`` and ``mean_with_late`` say what
    they would be if what looks late belonged there; None where nothing looks late.
    """

    by: WeighedBy
    years: int
    bars: tuple[DateBar, ...]
    profile: DateProfile | None
    terminus: TerminusPostQuem | None
    given_by: tuple[OfType, ...]
    mean: MeanDate | None
    terminus_with_late: TerminusPostQuem | None
    mean_with_late: MeanDate | None
    undated: tuple[OfType, ...]
    late: tuple[OfType, ...]
    bulk_ends: int | None = None
    """The year from which on what begins looks late, where all of it is from one sealed deposit."""


def dates_of(
    session: Session,
    cells: Sequence[Cell],
    objects: Sequence[DatedObject],
    types: TypeTable,
    *,
    by: WeighedBy = WeighedBy.COUNT,
    years: int = 50,
    origin: int = 0,
) -> Dates:
    """Return the dates of the thing's own sherds and objects, what looks late told by each sealed deposit as a whole.

    Refusals: ``bin_years``, ``too_many_bins``.
    """
    found = [*(_Found.of_cell(cell, types) for cell in cells), *map(_Found.of_object, objects)]
    bulks = _bulks(session, found)
    ends = _with_late(found, bulks)
    late = {id(one): ends[one.deposit_id] for one in found if one.begins_at_or_after(ends.get(one.deposit_id))}
    mine = [one for one in found if one.mine]
    sherds = [one for one in mine if one.object_number is None]
    bars, profile = _profile(sherds, late, by, years, origin)
    terminus = _or_none(lambda: terminus_post_quem(_finds(mine, late)))
    own_late = [one for one in mine if id(one) in late]
    return Dates(
        by=by,
        years=years,
        bars=bars,
        profile=profile,
        terminus=terminus,
        given_by=_added(mine[int(find.key)] for find in terminus.given_by) if terminus else (),
        mean=_mean([one for one in sherds if id(one) not in late]),
        terminus_with_late=_or_none(lambda: terminus_post_quem(_finds(mine, {}))) if own_late else None,
        mean_with_late=_mean(sherds) if own_late else None,
        undated=_added(one for one in sherds if one.range is None),
        late=_added(own_late, late, _numbers_of_several(session, own_late)),
        bulk_ends=next(iter(bulks.values())) if len({one.deposit_id for one in found}) == len(bulks) == 1 else None,
    )


@dataclass(frozen=True, slots=True)
class _Found:
    """Sherds of one type in one deposit, or one object."""

    said: str
    years: DateRange | None
    pieces: int
    tenths: int
    rim: int
    deposit_id: int | None
    mine: bool
    object_number: int | None = None
    open_ended: bool = False
    """Only its first year is known: it says when a deposit was open still, and never by when."""

    @property
    def range(self) -> DateRange | None:
        """Return its years where first and last are known: only then it has a place in a profile and a mean date."""
        return None if self.open_ended else self.years

    @classmethod
    def of_cell(cls, cell: Cell, types: TypeTable) -> _Found:
        said = " ".join(part for part in (types.ware(cell.ware_id).code, types.form(cell.form_id).code) if part)
        of_it = types.said_of(cell)
        return cls(
            said,
            of_it.years,
            cell.pieces,
            cell.tenths,
            cell.rim,
            cell.deposit_id,
            bool(cell.mine),
            open_ended=of_it.open_ended,
        )

    @classmethod
    def of_object(cls, found: DatedObject) -> _Found:
        of_it = found.said
        return cls(
            found.what, of_it.years, 1, 0, 0, found.deposit_id, bool(found.mine), found.number, of_it.open_ended
        )  # fmt: skip

    def begins_at_or_after(self, year: int | None) -> bool:
        """Return whether its range begins in a year or later."""
        return year is not None and self.years is not None and self.years.begin >= year

    def weight(self, by: WeighedBy) -> int:
        """Return what it weighs in the profile, in the stored unit."""
        return {WeighedBy.COUNT: self.pieces, WeighedBy.GRAMS: self.tenths, WeighedBy.EVE: self.rim}[by]


def ends_of_bulk(
    session: Session, cells: Sequence[Cell], objects: Sequence[DatedObject], types: TypeTable
) -> dict[int | None, int]:
    """Return, for each sealed deposit in which something looks late, the year in which its bulk ends."""
    found = [*(_Found.of_cell(cell, types) for cell in cells), *map(_Found.of_object, objects)]
    return _with_late(found, _bulks(session, found))


def bulks_of(
    session: Session, cells: Sequence[Cell], objects: Sequence[DatedObject], types: TypeTable
) -> dict[int, int]:
    """Return, for each sealed deposit of which anything is dated, the year in which its bulk ends."""
    return _bulks(session, [*(_Found.of_cell(cell, types) for cell in cells), *map(_Found.of_object, objects)])


def _with_late(found: Sequence[_Found], bulks: Mapping[int, int]) -> dict[int | None, int]:
    """Return the ends of those deposits in which something begins at the end of the bulk or later."""
    late = {one.deposit_id for one in found if one.begins_at_or_after(bulks.get(one.deposit_id or 0))}
    return {deposit_id: end for deposit_id, end in bulks.items() if deposit_id in late}


def _bulks(session: Session, found: Sequence[_Found]) -> dict[int, int]:
    """Return the year in which the bulk of each sealed deposit ends, where anything of it is dated."""
    by_deposit: dict[int, list[_Found]] = {}
    for one in found:
        if one.deposit_id is not None:
            by_deposit.setdefault(one.deposit_id, []).append(one)
    bulks: dict[int, int] = {}
    for deposit_id, security in securities(session, set(by_deposit)).items():
        looked = look_intrusive(_finds(by_deposit[deposit_id], {}), security)
        if looked is not None:
            bulks[deposit_id] = int(looked.end_of_bulk.value)
    return bulks


def _finds(found: Sequence[_Found], late: Mapping[int, int]) -> list[DatedFind]:
    """Return finds as the domain dates them, keyed by their place."""
    return [
        DatedFind(str(place), one.years, one.pieces, intrusive=id(one) in late, open_ended=one.open_ended)
        for place, one in enumerate(found)
        if one.pieces > 0
    ]


def _profile(
    sherds: Sequence[_Found], late: Mapping[int, int], by: WeighedBy, years: int, origin: int
) -> tuple[tuple[DateBar, ...], DateProfile | None]:
    def of(some: Sequence[_Found]) -> DateProfile | None:
        weights = [(one.range, one.weight(by)) for one in some]
        return _or_none(lambda: date_profile(weights, years=years, origin=origin, by=by))

    whole = of(sherds)
    if whole is None:
        return (), None
    of_late = of([one for one in sherds if id(one) in late])
    shares = {one.begin: float(one.share) for one in of_late.bins} if of_late else {}
    bars = (DateBar(one.begin, one.until, float(one.share), shares.get(one.begin, 0.0)) for one in whole.bins)
    return tuple(bars), whole


def _mean(sherds: Sequence[_Found]) -> MeanDate | None:
    counts: dict[str, int] = {}
    ranges: dict[str, DateRange | None] = {}
    for one in sherds:
        key = f"{one.said} {one.range.in_words()}" if one.range else one.said
        counts[key] = counts.get(key, 0) + one.pieces
        ranges[key] = one.range
    return _or_none(lambda: mean_ceramic_date(counts, ranges))


def _or_none(make: Callable[[], T]) -> T | None:
    """Return what is made, or None where nothing is dated."""
    try:
        return make()
    except Refusal as refusal:
        if refusal.code == "nothing_dated":
            return None
        raise


def _numbers_of_several(session: Session, found: Sequence[_Found]) -> dict[int, str]:
    """Return the numbers of the deposits finds are from, by their ids; none where all are from one."""
    wanted = {one.deposit_id for one in found if one.deposit_id is not None}
    if len(wanted) < 2:
        return {}
    numbers = session.execute(select(Deposit.id, Deposit.number).where(Deposit.id.in_(wanted)))
    return {row.id: row.number for row in numbers}


def _added(
    found: Iterable[_Found], late: Mapping[int, int] | None = None, deposits: Mapping[int, str] | None = None
) -> tuple[OfType, ...]:
    """Add up what is of one type and one range, sherds by their codes and then objects by their numbers.

    What looks ``late`` is added up by the end of the bulk of its deposit, and by the deposit where several are named.
    """
    sums: dict[tuple[str, DateRange | None, int | None, int | None, str], list[int]] = {}
    for one in found:
        end = None if late is None else late[id(one)]
        deposit = (deposits or {}).get(one.deposit_id or 0, "")
        added = sums.setdefault((one.said, one.years, one.object_number, end, deposit), [0, 0, 0])
        for place, number in enumerate((one.pieces, one.tenths, one.rim)):
            added[place] += number
    rows = [
        OfType(said, years, pieces, tenths, rim, number, end, deposit)
        for (said, years, number, end, deposit), (pieces, tenths, rim) in sums.items()
    ]
    return tuple(sorted(rows, key=lambda row: (row.object_number or 0, row.said, sort_key(row.deposit))))
