"""Terminus post quem of containers and deposits with the coins and other objects met in them.

The rule is docs/sources.md, "Terminus post quem" (DERIVED there); the finds are the invented yard's (OWN values).
"""

import pytest

from findsdesk.desk.correcting import move_container
from findsdesk.desk.desk import Desk
from findsdesk.desk.figure_dates import Dates, OfType
from findsdesk.desk.figure_scopes import Of, scope_of
from findsdesk.desk.figure_words import figure_lines, types_in_words
from findsdesk.desk.objects import Leaves, register_object
from findsdesk.desk.register_columns import wording
from findsdesk.desk.rows_behind import Behind, rows_behind
from findsdesk.desk.sherd_figures import figures_of
from findsdesk.desk.sherd_groups import add_group
from tests.desk.at_the_table import dry_container
from tests.yard import put_container


@pytest.fixture
def yard(desk: Desk) -> Desk:
    """Return the yard with two buckets of 2017 and one of 2003 on the table, of Quay Red Slip from 180 on."""
    for number, deposit in ((131, "2017"), (132, "2017"), (12, "2003")):
        add_group(desk, dry_container(desk, number, 50, deposit=deposit), ware="QRS", part="body", pieces=20)
    return desk


def dates(desk: Desk, of: Of, which: str = "") -> Dates:
    return figures_of(desk, scope_of(desk, of, which)).dates


def terminus(desk: Desk, of: Of, which: str = "") -> int:
    found = dates(desk, of, which).terminus
    assert found is not None
    return int(found.year.value)


def test_ware_and_form_are_not_said_twice_where_the_form_says_the_ware(yard: Desk) -> None:
    say = wording(yard)
    for said, shown in (
        ("CSJ CSJ1", "CSJ1"), ("CSJ CSJ-a", "CSJ-a"), ("CSJ B2", "CSJ B2"), ("C CSJ1", "C CSJ1"), ("CSJ", "CSJ"),
    ):  # fmt: skip
        assert types_in_words([OfType(said, None, 3, 0, 0)], say) == f"3 of {shown}"
    assert types_in_words([OfType("coin coin1", None, 1, 0, 0, 31)], say) == "coin coin1 (object 31)"


def coin(desk: Desk, tag: str = "131", **said: object) -> str:
    facts: dict[str, object] = {"what": "coin", "material": "bronze", "earliest": 200, "latest": 210, **said}
    return register_object(desk, tag, **facts).found.container  # type: ignore[arg-type]


def test_a_coin_taken_out_of_a_bucket_dates_the_bucket_and_its_context(yard: Desk) -> None:
    assert (terminus(yard, Of.CONTAINER, "131"), terminus(yard, Of.DEPOSIT, "2017")) == (180, 180)
    own = coin(yard)
    assert (terminus(yard, Of.CONTAINER, "131"), terminus(yard, Of.DEPOSIT, "2017")) == (200, 200)
    assert terminus(yard, Of.CONTAINER, own) == 200, "the coin's own container is dated by it too"
    assert terminus(yard, Of.CONTAINER, "132") == 180, "another bucket of the context is not"
    assert terminus(yard, Of.DEPOSIT, "2003") == 180
    assert {terminus(yard, of) for of in (Of.SEASON, Of.EXCAVATION)} == {200}


def test_it_is_named_and_opened_but_no_sherd_of_the_profile(yard: Desk) -> None:
    coin(yard)
    for of, which in ((Of.CONTAINER, "131"), (Of.DEPOSIT, "2017")):
        scope = scope_of(yard, of, which)
        figures = figures_of(yard, scope)
        line = next(one for one in figure_lines(figures, wording(yard)) if one.key == "terminus")
        assert line.note == "given by coin (object 1)"
        [row] = rows_behind(yard, scope, Behind("terminus")).rows
        assert (row.kind, row.part, row.place) == ("object", "coin", 1)
        assert figures.dates.profile is not None
        assert int(figures.dates.profile.total.value) == (20 if of is Of.CONTAINER else 40)


def test_an_object_that_is_its_whole_container_dates_its_context(yard: Desk) -> None:
    register_object(
        yard, put_container(yard, 140, material="bronze"), what="brooch", leaves=Leaves.ITSELF, earliest=220, latest=300
    )
    assert terminus(yard, Of.DEPOSIT, "2017") == 220
    assert terminus(yard, Of.CONTAINER, "140") == 220
    assert terminus(yard, Of.CONTAINER, "131") == 180


def test_an_object_without_years_gives_nothing_and_the_first_year_alone_is_enough(yard: Desk) -> None:
    coin(yard, earliest=None, latest=None)
    assert terminus(yard, Of.DEPOSIT, "2017") == 180
    coin(yard, latest=None)
    assert terminus(yard, Of.DEPOSIT, "2017") == 200


def test_a_late_coin_in_a_sealed_context_looks_late_and_gives_no_terminus(yard: Desk) -> None:
    coin(yard, earliest=1200, latest=1210)
    for of, which in ((Of.CONTAINER, "131"), (Of.DEPOSIT, "2017")):
        found = dates(yard, of, which)
        assert terminus(yard, of, which) == 180
        assert [(one.said, one.object_number) for one in found.late] == [("coin", 1)]
        assert found.terminus_with_late is not None
        assert found.terminus_with_late.year.value == 1200


def test_a_coin_follows_its_bucket_but_not_to_another_context(yard: Desk) -> None:
    coin(yard)
    move_container(yard, "131", to="2003", reason="misread tag", sure=True)
    assert terminus(yard, Of.CONTAINER, "131") == 200
    # Its own container has a tag of its own and is moved by itself.
    assert (terminus(yard, Of.DEPOSIT, "2017"), terminus(yard, Of.DEPOSIT, "2003")) == (200, 180)
