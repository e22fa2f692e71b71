"""The columns an excavation types at the sorting table, and which parts of a pot show some of its circles."""

import pytest

from findsdesk.desk.shipped import vocabulary
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.settings import Settings
from findsdesk.domain.sorting_columns import (
    BASE_PARTS,
    COLUMN_IN_WORDS,
    NO_CIRCLE,
    RIM_PARTS,
    USUAL,
    checked_columns,
    has_base,
    has_rim,
)


def test_the_usual_columns_hold_the_rim_percent() -> None:
    assert checked_columns(USUAL) == USUAL
    assert "rim" in USUAL
    assert checked_columns(COLUMN_IN_WORDS) == tuple(COLUMN_IN_WORDS)


@pytest.mark.parametrize(
    ("columns", "code"),
    [
        ((*USUAL, "colour"), "unknown_column"),
        ((*USUAL, "grams"), "column_twice"),
        (("ware", "part", "pieces", "decision"), "column_needed"),
        ((), "column_needed"),
    ],
)
def test_columns_that_cannot_be_meant_are_refused(columns: tuple[str, ...], code: str) -> None:
    with pytest.raises(Refusal) as caught:
        checked_columns(columns)
    assert caught.value.code == code
    assert caught.value.in_words()


def test_columns_are_kept_with_the_settings_and_one_of_a_later_version_is_left_out() -> None:
    own = Settings(sorting_columns=("part", "ware", "pieces", "decision", "reason"))
    assert Settings.from_plain(own.as_plain()) == own
    plain = own.as_plain() | {"sorting_columns": [*own.sorting_columns, "scent"]}
    assert Settings.from_plain(plain).sorting_columns == own.sorting_columns
    assert Settings.from_plain({}).sorting_columns == USUAL


def test_every_part_that_ships_is_known_to_show_a_rim_a_base_or_neither() -> None:
    shipped = {term.key for term in vocabulary("parts")}
    assert shipped == RIM_PARTS | BASE_PARTS | NO_CIRCLE
    assert [key for key in ("rim", "base", "profile", "body", "lug") if has_rim(key)] == ["rim", "profile", "lug"]
    assert [key for key in ("rim", "base", "profile", "body", "lug") if has_base(key)] == ["base", "profile", "lug"]


def test_a_part_of_the_excavations_own_stops_where_it_counts_as_a_rim_or_a_base() -> None:
    meant = ("rim", "base", "both", "handle", "neither", "")
    assert [one for one in meant if has_rim("lug", one)] == ["rim", "both", ""]
    assert [one for one in meant if has_base("lug", one)] == ["base", "both", ""]
    assert not has_rim("rim", "neither")
