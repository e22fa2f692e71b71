"""Figures of more containers than are summed in one go: the same numbers, followed, called off, remembered."""

import pytest

from findsdesk.desk.desk import Desk
from findsdesk.desk.figure_scopes import Of, scope_of
from findsdesk.desk.pieces import lift_pieces
from findsdesk.desk.rows_behind import Behind, rows_behind
from findsdesk.desk.sherd_figures import SherdFigures, figures_of
from findsdesk.desk.sherd_groups import add_group
from findsdesk.domain.date_profiles import WeighedBy
from findsdesk.store import sums_in_spans
from tests.desk.at_the_table import dry_container
from tests.yard import statements_of

WIDE = ((Of.SQUARE, "A1"), (Of.SEASON, "2026"), (Of.EXCAVATION, ""))


@pytest.fixture
def yard(desk: Desk) -> Desk:
    """Return the yard with five buckets of two contexts on the table, and a rim lifted out of each."""
    for number, deposit in enumerate(("2017", "2003", "2017", "2003", "2017"), 1):
        code = dry_container(desk, number, 60, deposit=deposit)
        row = add_group(desk, code, ware="QRS", part="rim", pieces=9, tenths=1800, rim_permille=700)
        add_group(desk, code, ware="MBU", part="body", pieces=10 * number)
        lift_pieces(desk, row.id, seen=row.version, how_many=1, tenths=200, rim_permille=90)
    return desk


def figures(desk: Desk, of: Of, which: str, by: WeighedBy = WeighedBy.COUNT) -> SherdFigures:
    return figures_of(desk, scope_of(desk, of, which), by=by)


def said(figures: SherdFigures) -> tuple[object, ...]:
    """Return all that figures say but why some are not there: two refusals are never one."""
    types = [(one.ware, one.form, one.sums, one.vessels) for one in figures.types]
    dates = figures.dates
    years = [dates.terminus and dates.terminus.year, dates.given_by, dates.mean and dates.mean.year, dates.bars]
    return figures.sums, [one.figure for one in figures.figures], types, years


@pytest.mark.parametrize("each", [1, 2, 3, 5])
def test_spans_add_up_to_the_whole(yard: Desk, monkeypatch: pytest.MonkeyPatch, each: int) -> None:
    whole = [said(figures(yard, of, which)) for of, which in WIDE]
    monkeypatch.setattr(sums_in_spans, "SPAN_CONTAINERS", each)
    assert [said(figures(yard, of, which)) for of, which in WIDE] == whole


def test_who_waits_is_told_how_far_it_is_and_can_call_it_off(yard: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sums_in_spans, "SPAN_CONTAINERS", 2)
    scope, heard = scope_of(yard, Of.EXCAVATION), list[tuple[int, int]]()

    def enough(done: int, _of: int) -> None:
        if done == 1:
            raise TimeoutError

    with pytest.raises(TimeoutError):
        figures_of(yard, scope, follow=enough)
    whole = figures_of(yard, scope, follow=lambda done, of: heard.append((done, of)))
    assert heard == [(0, 3), (1, 3), (2, 3), (3, 3)]
    assert whole.sums.pieces == 5 * 9 + 150


def test_sums_are_kept_until_something_is_written(yard: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sums_in_spans, "SPAN_CONTAINERS", 2)
    before = figures(yard, Of.EXCAVATION, "")
    with statements_of(yard, reading=True) as heard:
        again = figures(yard, Of.EXCAVATION, "", WeighedBy.EVE)
        rows = rows_behind(yard, scope_of(yard, Of.EXCAVATION), Behind("bar", begin=200, until=250))
    assert heard
    assert not [one for one in heard if "GROUP BY" in one]
    assert (again.sums, rows.pieces) == (before.sums, before.sums.pieces)
    add_group(yard, "1", ware="QRS", part="body", pieces=7)
    assert figures(yard, Of.EXCAVATION, "").sums.pieces == before.sums.pieces + 7
    assert figures(yard, Of.SEASON, "2026").sums.pieces == before.sums.pieces + 7
