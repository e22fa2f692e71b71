"""Figures where it is tight: pots known through other containers, sherds that analysis used up. All values OWN."""

from datetime import date
from fractions import Fraction

import pytest

from findsdesk.desk.changing_pieces import describe_piece
from findsdesk.desk.deposits import change_deposit
from findsdesk.desk.desk import Desk
from findsdesk.desk.figure_scopes import Of, scope_of
from findsdesk.desk.joins import join_pieces
from findsdesk.desk.pieces import lift_pieces
from findsdesk.desk.renumbering import merge_deposits
from findsdesk.desk.rows_behind import Behind, rows_behind
from findsdesk.desk.samples import take_sample
from findsdesk.desk.setting_up import add_ware, open_season
from findsdesk.desk.sherd_figures import SherdFigures, TypeFigures, figures_of
from findsdesk.desk.sherd_groups import add_group
from findsdesk.desk.simulating import simulate
from findsdesk.desk.type_series import add_form
from findsdesk.desk.vessels import gather_vessel
from findsdesk.domain.date_ranges import DateRange
from tests.desk.at_the_table import dry_container


def of(desk: Desk, kind: Of, which: str = "") -> SherdFigures:
    return figures_of(desk, scope_of(desk, kind, which))


def numbers(found: SherdFigures | TypeFigures, *keys: str) -> list[object]:
    return [figure and figure.value for figure in map(found.named, keys)]


def rims(desk: Desk, code: str, how_many: int, form: str = "") -> list[int]:
    """Sort rims of 20 % and 30 g each in a row of their own and lift them; returns the pieces' ids."""
    row = add_group(
        desk, code, ware="QRS", form=form, part="rim", pieces=how_many,
        tenths=300 * how_many, rim_permille=200 * how_many,
    )  # fmt: skip
    return [one.id for one in lift_pieces(desk, row.id, seen=row.version, how_many=how_many).pieces]


def test_a_pot_that_hangs_together_through_another_container_is_one(desk: Desk) -> None:
    """One rim joins a sherd of another bucket, the other is gathered with that sherd into a vessel."""
    here, there = dry_container(desk, 131, 2), dry_container(desk, 132, 1, deposit="2019")
    one, two = rims(desk, here, 2)
    (third,) = rims(desk, there, 1)
    join_pieces(desk, one, third)
    gather_vessel(desk, [two, third])
    for kind, which in ((Of.CONTAINER, "131"), (Of.DEPOSIT, "2017"), (Of.EXCAVATION, "")):
        assert numbers(of(desk, kind, which), "by_rims", "fewest", "most") == [1, 1, 1]


def test_rims_of_a_form_that_join_over_a_sherd_of_none_are_one_pot_of_the_form(desk: Desk) -> None:
    """The sherd between them was lifted first, and nobody can say its form."""
    add_form(desk, code="QRS1", ware="QRS")
    code = dry_container(desk, 131, 3)
    (between,) = rims(desk, code, 1)
    one, two = rims(desk, code, 2, form="QRS1")
    join_pieces(desk, between, one)
    join_pieces(desk, between, two)
    ware, form = of(desk, Of.CONTAINER, "131").types
    assert numbers(ware, "by_rims", "fewest", "most") == [1, 1, 1]
    assert numbers(form, "by_rims", "fewest", "most") == [1, 1, 1]


def test_a_sherd_that_analysis_used_up_is_in_no_figure(desk: Desk) -> None:
    """Of three rims one is ground whole, and its grams were not written: nothing of it stands in any sum."""
    code = dry_container(desk, 131, 3)
    used, other, _third = rims(desk, code, 3)
    join_pieces(desk, used, other)
    gather_vessel(desk, [used])
    take_sample(desk, "131.1", what_for="thin_section", pieces_used=1)
    for kind, which in ((Of.CONTAINER, "131"), (Of.EXCAVATION, "")):
        figures = of(desk, kind, which)
        assert numbers(figures, "sherds", "grams", "mean_weight", "rim_eve") == [2, 60, 30, Fraction(4, 10)]
        assert numbers(figures, "by_rims", "fewest", "most", "brokenness") == [2, 2, 2, 5]
        for key in ("sherds", "grams", "rim_eve", "by_rims", "most", "mean", "terminus"):
            assert (found := rows_behind(desk, figures.scope, Behind(key))).pieces == found.total == 2


def test_a_container_whose_only_sherd_was_used_up_has_no_vessel(desk: Desk) -> None:
    """Fewest ≤ most ≤ sherds always (our definition); and no profile of nothing."""
    (used,) = rims(desk, dry_container(desk, 131, 1), 1)
    (other,) = rims(desk, dry_container(desk, 132, 1), 1)
    join_pieces(desk, used, other)
    take_sample(desk, "131.1", what_for="thin_section", pieces_used=1, taken_tenths=300)
    figures = of(desk, Of.CONTAINER, "131")
    assert numbers(figures, "sherds", "by_rims", "fewest", "most", "rim_eve") == [0, 0, 0, 0, None]
    assert (figures.dates.bars, figures.dates.terminus, figures.types) == ((), None, ())


@pytest.mark.parametrize(("kind", "here", "there"), [(Of.SQUARE, "A1", "A2"), (Of.SEASON, "2026", "2027")])
def test_a_sealed_context_over_two_squares_or_seasons_is_judged_whole(
    desk: Desk, kind: Of, here: str, there: str
) -> None:
    """Three late sherds of forty are few: they look late where only they lie, and give no terminus there either."""
    apart = {"deposit": "2019"} if kind is Of.SQUARE else {"season": there}
    if kind is Of.SEASON:
        open_season(desk, name="2027", permit="VE-27-003", starts=date(2027, 7, 5), ends=date(2027, 8, 15))
    add_group(desk, dry_container(desk, 131, 37), ware="QRS", part="body", pieces=37)
    add_group(desk, dry_container(desk, 132, 3, **apart), ware="GGL", part="body", pieces=3)
    if kind is Of.SQUARE:
        merge_deposits(desk, "2019", into="2017", reason="one fill", sure=True)
    change_deposit(desk, "2017", security="sealed")
    for one, which in ((Of.DEPOSIT, "2017"), (kind, there), (Of.CONTAINER, "132")):
        figures = of(desk, one, which)
        assert [(late.said, late.pieces, late.end_of_bulk) for late in figures.dates.late] == [("GGL", 3, 320)]
        assert rows_behind(desk, figures.scope, Behind("late")).pieces == 3
    assert (figures.dates.terminus, of(desk, kind, there).dates.terminus) == (None, None)
    assert numbers(of(desk, kind, there), "sherds", "most") == [3, 3]
    assert [one.said for one in of(desk, kind, here).dates.given_by] == ["QRS"]


def test_a_ware_of_which_only_the_first_year_is_known_gives_the_terminus(desk: Desk) -> None:
    """As with a coin: it says when the context was open still, and never by when; in no profile and no mean date.

    The context is sealed, but a third of its sherds are too many to look late.
    """
    add_ware(desk, code="LPW", name="Lead-glazed, made ever since", earliest=800)
    code = dry_container(desk, 131, 6)
    add_group(desk, code, ware="QRS", part="body", pieces=4)
    add_group(desk, code, ware="LPW", part="body", pieces=2)
    figures = of(desk, Of.CONTAINER, "131")
    dates = figures.dates
    assert dates.terminus
    assert (dates.terminus.year.value, [(one.said, one.pieces) for one in dates.given_by]) == (800, [("LPW", 2)])
    assert dates.mean
    assert (dates.mean.year.value, [(one.said, one.pieces) for one in dates.undated]) == (250, [("LPW", 2)])
    assert sum(bar.share for bar in dates.bars) == pytest.approx(4)
    assert rows_behind(desk, figures.scope, Behind("mean")).pieces == 4
    (row,) = rows_behind(desk, figures.scope, Behind("terminus")).rows
    assert (row.ware, row.years, row.open_ended) == ("LPW", DateRange(800, 800), True)
    (row,) = rows_behind(desk, figures.scope, Behind("undated")).rows
    assert row.ware == "LPW"
    assert not rows_behind(desk, figures.scope, Behind("bar", begin=750, until=850)).rows
    told = simulate(desk).sorted
    assert told.terminus
    assert told.mean_date
    assert (told.terminus.year.value, told.mean_date.year.value, told.undated) == (800, 250, 2)


def test_a_ware_without_an_end_looks_late_and_ends_no_bulk(desk: Desk) -> None:
    add_ware(desk, code="LPW", name="Lead-glazed, made ever since", earliest=800)
    code = dry_container(desk, 131, 40)
    add_group(desk, code, ware="QRS", part="body", pieces=36)
    add_group(desk, code, ware="LPW", part="body", pieces=4)
    change_deposit(desk, "2017", security="sealed")
    figures = of(desk, Of.CONTAINER, "131")
    assert [(one.said, one.pieces, one.end_of_bulk) for one in figures.dates.late] == [("LPW", 4, 320)]
    assert rows_behind(desk, figures.scope, Behind("late")).pieces == 4
    assert [one.said for one in figures.dates.given_by] == ["QRS"]


def test_the_year_that_a_piece_does_not_say_is_that_of_its_form_and_its_ware(desk: Desk) -> None:
    """QRS is of 180–320, its form of 200 on: a piece of 290 on is of 290–320, one until 250 of 200–250."""
    add_form(desk, code="QRS1", ware="QRS", earliest=200)
    rims(desk, dry_container(desk, 131, 3), 3, form="QRS1")
    describe_piece(desk, "131.1", earliest=290)
    describe_piece(desk, "131.2", latest=250)
    figures = of(desk, Of.CONTAINER, "131")
    rows = rows_behind(desk, figures.scope).rows
    assert [row.years for row in rows] == [DateRange(290, 320), DateRange(200, 250), DateRange(200, 320)]
    assert figures.dates.terminus
    assert figures.dates.mean
    assert (figures.dates.terminus.year.value, figures.dates.mean.year.value) == (290, Fraction(305 + 225 + 260, 3))
    assert [row.place for row in rows_behind(desk, figures.scope, Behind("terminus")).rows] == [1]
