"""The dates beside the sorting table: of the deposit whose container is read, as they stand after each row."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from findsdesk.desk.desk import Desk
from findsdesk.desk.figure_dates import DateBar, Dates
from findsdesk.desk.figure_scopes import Of, Scope, container_scope
from findsdesk.desk.figure_words import METHOD_OF, method_in_words, types_in_words, value_of
from findsdesk.desk.held_as_late import held_as_late
from findsdesk.desk.profile_drawing import WEIGHED_IN_WORDS, scope_in_words, year_lines
from findsdesk.desk.register_columns import Say, wording
from findsdesk.desk.sherd_figures import dates_in
from findsdesk.domain.date_profiles import DATE_PROFILE, WeighedBy
from findsdesk.paper.profile_plot import YearLine
from findsdesk.store.models import Deposit
from findsdesk.words import N_, CountOf, grouped


@dataclass(frozen=True, slots=True)
class LiveDates:
    """What stands beside the table, in words; ``late_types`` are the codes of ware and form that look late.

    ``how_profile`` and ``how_years`` are told under the pointer: units, formulas and their sources.
    ``scope`` is what the dates are of, so that the rows behind a bar can be found.

    ``late_head`` and ``late_rest`` are empty where nothing looks late.
    """

    scope: Scope
    heading: str
    unit: str
    bars: tuple[DateBar, ...]
    lines: tuple[YearLine, ...]
    terminus: str
    mean: str
    how_profile: str
    how_years: str
    undated: str
    late_head: str
    late_rest: str
    late_types: frozenset[str]
    late_from: int | None = None
    """What begins in this year or later looks late here; None where the deposit is not sealed."""


def live_dates(desk: Desk, container_id: int) -> LiveDates:
    """Return the dates of the deposit a container is from, all its sorted sherds together, else of the container."""
    with desk.reading() as reading:
        scope = container_scope(reading.session, container_id)
        if scope.deposit_id is not None:
            number = reading.session.get_one(Deposit, scope.deposit_id).number
            scope = Scope(Of.DEPOSIT, scope.deposit_id, number, scope.deposit_id)
        dates = dates_in(reading.session, scope)
        held = held_as_late(reading.session, scope) if dates.given_by else Counter[str]()
    return _in_words(desk, scope, dates, held)


def _in_words(desk: Desk, scope: Scope, dates: Dates, held: Mapping[str, int]) -> LiveDates:
    say = wording(desk)
    undated = sum(one.pieces for one in dates.undated)
    dated = int(dates.profile.total.value) if dates.profile else 0
    heading = N_("{what}: {sherds} dated, {left} not") if undated else N_("{what}: {sherds} dated")
    terminus, mean = _terminus(dates, held, say), ""
    if dates.mean is not None:
        mean = say(N_("mean date {year}"), year=value_of(dates.mean.year))
    end = dates.late[0].end_of_bulk if dates.late else None
    late = types_in_words(dates.late, say)
    rest = N_("Their years begin after {year}, when nine tenths of the others have ended; the {deposit} is sealed.")
    return LiveDates(
        scope=scope,
        heading=say(
            heading,
            what=scope_in_words(scope, say),
            sherds=CountOf("{n} sherd", "{n} sherds", dated),
            left=grouped(undated),
        ),
        unit=say(WEIGHED_IN_WORDS[WeighedBy.COUNT]),
        bars=dates.bars,
        lines=year_lines(dates, say),
        terminus=terminus,
        mean=mean,
        how_profile=method_in_words(DATE_PROFILE[WeighedBy.COUNT], say),
        how_years=_how(dates, say),
        undated=say(N_("Not dated: {types}."), types=types_in_words(dates.undated, say)) if undated else "",
        late_head=say(N_("{types} look late."), types=late) if late else "",
        late_rest=say(rest, year=end) if late else "",
        late_types=frozenset(one.said for one in dates.late if one.object_number is None),
        late_from=dates.bulk_ends,
    )


def _terminus(dates: Dates, held: Mapping[str, int], say: Say) -> str:
    """Return the terminus, what gives it, and how many of these sherds are held since they looked late."""
    if dates.terminus is None:
        return ""
    given = {one.said for one in dates.given_by if one.object_number is None}
    late = sum(pieces for said, pieces in held.items() if said in given)
    facts = {"year": value_of(dates.terminus.year), "types": types_in_words(dates.given_by, say), "late": late}
    if not late:
        return say(N_("TPQ {year}, by {types}"), **facts)
    if late >= sum(one.pieces for one in dates.given_by):
        return say(N_("TPQ {year}, by {types}, held as looking late"), **facts)
    return say(N_("TPQ {year}, by {types}, {late} of them held as looking late"), **facts)


def _how(dates: Dates, say: Say) -> str:
    """Return how the years beside the table come about: those that are there."""
    there = (("terminus", N_("Terminus post quem"), dates.terminus), ("mean", N_("Mean date"), dates.mean))
    return "\n\n".join(f"{say(name)}\n{method_in_words(METHOD_OF[key], say)}" for key, name, found in there if found)
