"""The registers of pieces, objects, vessels, joins, photographs and samples: searched, narrowed, written out."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

import pytest
from PIL import Image

from findsdesk.desk.changing_pieces import describe_piece
from findsdesk.desk.desk import Desk
from findsdesk.desk.joins import join_named
from findsdesk.desk.named_photos import add_photo_named
from findsdesk.desk.objects import Leaves, know_of_objects, register_object
from findsdesk.desk.register_columns import fields_of, wording
from findsdesk.desk.register_files import value_in_words, write_register
from findsdesk.desk.registers import Register, RegisterQuery, count, filters_of, page
from findsdesk.desk.samples import change_sample, take_sample
from findsdesk.desk.vessels import gather_named
from findsdesk.domain.refusals import Refusal
from tests.desk.test_joins_and_vessels import put_pieces
from tests.yard import earlier_season

OURS = (
    Register.PIECES,
    Register.OBJECTS,
    Register.VESSELS,
    Register.JOINS,
    Register.PHOTOS,
    Register.SAMPLES,
)


def put_some_of_each(desk: Desk, folder: Path) -> None:
    """Put a few pieces, objects, vessels, joins, samples and photographs into a yard."""
    put_pieces(desk, 131, 3)
    put_pieces(desk, 87, deposit="2019", ware="CSJ")
    describe_piece(desk, "131.1", rim_diameter_mm=180, rim_permille=110, drawing_wanted=True, note="fine lip")
    describe_piece(desk, "131.3", drawing="sheet 4")
    describe_piece(desk, "131.2", rim_permille=80, photo_wanted=True)
    join_named(desk, "131.1", "131.2")
    join_named(desk, "131.1", "87.1", certain=False, sure=True)
    gather_named(desk, ("131.1", "87.1"), for_mending=True)
    register_object(desk, "131", what="coin", material="coin", leaves=Leaves.NOT_COUNTED, number=31)
    register_object(desk, "87", what="bead of glass", material="bead", leaves=Leaves.NOT_COUNTED)
    know_of_objects(desk, [page(desk, Register.OBJECTS)[0].id])
    take_sample(desk, "131.1", what_for="thin section", taken_tenths=5)
    take_sample(desk, "87.1", what_for="residues", taken_tenths=5)
    change_sample(desk, 1, laboratory="Kiln House", permit="VE-26-031", sent_on=desk.now().date())
    Image.new("RGB", (40, 30)).save(folder / "rim.jpg")
    for of in ("131.1", "object 31"):
        add_photo_named(desk, folder / "rim.jpg", of)


@pytest.fixture
def full(desk: Desk, tmp_path: Path) -> Desk:
    """Return a yard with a few of each."""
    put_some_of_each(desk, tmp_path)
    return desk


def shown(desk: Desk, register: Register, query: RegisterQuery, column: str) -> list[str]:
    """Return what stands in a column of the rows that a query finds."""
    say = wording(desk)
    field = next(one for one in fields_of(register, for_file=True) if one.key == column)
    return [value_in_words(field.value(row, say), desk) for row in page(desk, register, query)]


def narrowed(*filters: tuple[str, str], text: str = "") -> RegisterQuery:
    return RegisterQuery(text, filters)


@pytest.mark.parametrize(
    ("register", "query", "column", "found"),
    [
        (Register.PIECES, narrowed(), "name", ["131.1", "131.2", "131.3", "87.1", "87.2"]),
        (Register.PIECES, narrowed(text="FINE"), "name", ["131.1"]),
        (Register.PIECES, narrowed(text="csj"), "name", ["87.1", "87.2"]),
        (Register.PIECES, narrowed(text="131.2"), "name", ["131.2"]),
        (Register.PIECES, narrowed(text="31.2"), "name", []),
        (Register.PIECES, narrowed(text="CSJ rim"), "name", ["87.1", "87.2"]),
        (Register.PIECES, narrowed(text="CSJ base"), "name", []),
        (Register.PIECES, narrowed(("ware", "CSJ")), "name", ["87.1", "87.2"]),
        (Register.PIECES, narrowed(("deposit", "2019")), "name", ["87.1", "87.2"]),
        (Register.PIECES, narrowed(("wants", "drawing"), ("wants", "photo")), "name", ["131.1", "131.2"]),
        (Register.PIECES, narrowed(("wants", "drawing")), "wanted", ["drawing"]),
        (Register.PIECES, narrowed(("vessel", "1")), "name", ["131.1", "87.1"]),
        (Register.PIECES, narrowed(("part", "base")), "name", []),
        (Register.PIECES, narrowed(("container", "87")), "name", ["87.1", "87.2"]),
        (Register.PIECES, narrowed(("wants", "drawing")), "diameter", ["180"]),
        (
            Register.PIECES,
            narrowed(("wants", "photo")),
            "doubts",
            ["The share of the rim was read without a diameter. Write the diameter of the chart too."],
        ),
        (Register.OBJECTS, narrowed(), "number", ["31", "32"]),
        (Register.OBJECTS, narrowed(("known", "no")), "what", ["bead of glass"]),
        (Register.OBJECTS, narrowed(("material", "metal")), "what", ["coin"]),
        (Register.OBJECTS, narrowed(text="glass"), "met_in", ["87"]),
        (Register.VESSELS, narrowed(), "deposits", ["2017, 2019"]),
        (Register.VESSELS, narrowed(("mending", "no")), "number", []),
        (Register.VESSELS, narrowed(("deposit", "2019")), "pieces", ["2"]),
        (Register.JOINS, narrowed(("certain", "no")), "other", ["87.1 (context 2019)"]),
        (Register.JOINS, narrowed(("across", "no")), "other", ["131.2 (context 2017)"]),
        (Register.JOINS, narrowed(("deposit", "2019")), "one", ["131.1 (context 2017)"]),
        (Register.SAMPLES, narrowed(("away", "yes")), "laboratory", ["Kiln House"]),
        (Register.SAMPLES, narrowed(("for", "residues")), "of", ["87.1"]),
        (Register.SAMPLES, narrowed(text="kiln"), "number", ["1"]),
    ],
)
def test_what_is_found(full: Desk, register: Register, query: RegisterQuery, column: str, found: Sequence[str]) -> None:
    assert shown(full, register, query, column) == found
    assert count(full, register, query) == len(found)


def test_a_number_that_may_be_given_again_stands_beside_its_season(desk: Desk) -> None:
    earlier_season(desk)
    for season in ("2024", "2026"):
        put_pieces(desk, 6, 1, season=season, deposit=None)
    take_sample(desk, "2024/6.1", what_for="residues", taken_tenths=5)
    for register in (Register.PIECES, Register.DRAWINGS, Register.OBJECTS, Register.SAMPLES):
        assert "season" in [one.key for one in fields_of(register)]
    assert sorted(zip(*(shown(desk, Register.PIECES, narrowed(), key) for key in ("name", "season")), strict=True)) == [
        ("6.1", "2024"),
        ("6.1", "2026"),
    ]
    assert shown(desk, Register.SAMPLES, narrowed(), "season") == ["2024"]


def test_photographs_say_what_they_show(full: Desk) -> None:
    assert shown(full, Register.PHOTOS, narrowed(), "of") == ["object 31", "piece 131.1"]
    assert shown(full, Register.PHOTOS, narrowed(("of", "piece")), "size") == ["40 × 30"]


@pytest.mark.parametrize(
    ("register", "name", "value", "code"),
    [
        (Register.PIECES, "wants", "tea", "unknown_want"),
        (Register.PIECES, "ware", "XXX", "unknown_ware"),
        (Register.PIECES, "vessel", "9", "unknown_vessel"),
        (Register.PHOTOS, "of", "tea", "unknown_subject"),
        (Register.SAMPLES, "for", "tea", "unknown_word"),
    ],
)
def test_what_no_filter_can_be(full: Desk, register: Register, name: str, value: str, code: str) -> None:
    with pytest.raises(Refusal) as caught:
        page(full, register, narrowed((name, value)))
    assert caught.value.code == code


@pytest.mark.parametrize("register", OURS)
def test_each_goes_out_whole(full: Desk, tmp_path: Path, register: Register) -> None:
    path = tmp_path / f"{register}.csv"
    assert write_register(full, register, path=path) == count(full, register)
    lines = path.read_text("utf-8-sig").splitlines()
    assert len(lines[0].split(",")) >= len(fields_of(register))


@pytest.mark.parametrize("register", OURS)
def test_a_value_is_offered_for_each_filter_that_is_chosen(full: Desk, register: Register) -> None:
    from findsdesk.ui.benches.registers.filter_values import filter_values
    from findsdesk.ui.benches.registers.lists import LISTS

    (kind,) = [one for one in LISTS if one.register is register]
    assert {one.name for one in kind.filters} <= set(filters_of(register))
    for name, values in filter_values(full, kind).items():
        for value, words in values:
            assert words
            count(full, register, narrowed((name, value)))


def test_a_number_with_its_season_finds_the_pieces_of_that_season(desk: Desk) -> None:
    """As a piece of an older season is named where it is joined: 2024/87.3."""
    earlier_season(desk)
    put_pieces(desk, 87, deposit="2019")
    put_pieces(desk, 87, deposit=None, season="2024", collected_on=date(2024, 7, 12), ware="MBU")
    put_pieces(desk, 8, 1, deposit=None, season="2024", collected_on=date(2024, 7, 12))
    for text, found in (
        ("2024/", ["8.1", "87.1", "87.2"]),
        ("2024/8", ["8.1", "87.1", "87.2"]),
        ("2024/87", ["87.1", "87.2"]),
        ("2024/87.", ["87.1", "87.2"]),
        ("2024/87.2", ["87.2"]),
        ("2024/ QRS", ["8.1"]),
        ("2025/", []),
        ("024/87.1", []),
    ):
        assert sorted(shown(desk, Register.PIECES, narrowed(text=text), "name")) == found, text
    assert count(desk, Register.PIECES, narrowed(text="2026/87")) == 2
