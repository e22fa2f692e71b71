"""What cannot be meant, point by point: each refused by its code, with nothing written of it.

Sherds, shares of a circle, lengths, colours, years, codes in use, scans, pasted columns, photographs.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import update

from findsdesk.desk.changing_objects import change_object
from findsdesk.desk.changing_pieces import change_piece
from findsdesk.desk.changing_set_up import change_period
from findsdesk.desk.counting import log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.discards import make_list
from findsdesk.desk.finding import container_of
from findsdesk.desk.objects import register_object
from findsdesk.desk.pasted_columns import read_rows
from findsdesk.desk.photo_folders import where_photos_lie
from findsdesk.desk.photos import add_photo, photo_path, photos_of, thumbnail_of
from findsdesk.desk.pieces import lift_pieces, pieces_of
from findsdesk.desk.playing import do
from findsdesk.desk.proving import prove
from findsdesk.desk.sorting import GroupFacts, NewGroup, add_group, add_groups, change_group, settle, table_of
from findsdesk.desk.type_series import add_form, change_form, remove_form, remove_ware
from findsdesk.desk.vessels import gather_vessel, vessel_of
from findsdesk.domain.balance import Decision
from findsdesk.domain.refusals import StoreFault
from findsdesk.store.models import SherdGroup
from tests.desk.at_the_table import dry_container, refused
from tests.desk.test_photos import drawn, gone, large, text
from tests.yard import put_container, sitting


@pytest.fixture
def bucket(desk: Desk) -> str:
    """Return a bucket of 12 with a row of two rims on the table, a third of a rim together."""
    code = dry_container(desk, 131, 12)
    add_group(desk, code, ware="QRS", part="rim", pieces=2, tenths=400, rim_permille=330)
    return code


def new(desk: Desk, code: str, **said: Any) -> None:
    add_group(desk, code, **{"ware": "QRS", "part": "rim", "pieces": 2, **said})


def changed(desk: Desk, code: str, **said: Any) -> None:
    row = table_of(desk, code).groups[0]
    change_group(desk, row.id, seen=row.version, **said)


def pasted(desk: Desk, code: str, **said: Any) -> None:
    pieces = said.pop("pieces", 2)
    add_groups(desk, code, [NewGroup(GroupFacts("QRS", "rim", 1)), NewGroup(GroupFacts("QRS", "rim", pieces, **said))])


@pytest.mark.parametrize(
    ("deed", "code"), [(new, "rim_out_of_range"), (changed, "rim_out_of_range"), (pasted, "pasted_row")]
)
@pytest.mark.parametrize(
    "said", [{"rim_permille": -1}, {"rim_permille": 2001}, {"base_permille": 2001}, {"pieces": 1, "rim_permille": 1001}]
)
def test_rims_and_bases_of_a_row_outside_the_circle(
    desk: Desk, bucket: str, deed: Callable[..., None], code: str, said: dict[str, int]
) -> None:
    with refused(desk, code):
        deed(desk, bucket, **said)
    assert [row.facts.rim_permille for row in table_of(desk, bucket).groups] == [330]


def test_fewer_sherds_than_their_rims_need_are_refused(desk: Desk) -> None:
    code = dry_container(desk, 131, 12)
    add_group(desk, code, ware="QRS", part="rim", pieces=3, rim_permille=2500)
    with refused(desk, "rim_out_of_range"):
        changed(desk, code, pieces=2)


def test_shares_of_one_vessel_over_a_whole_are_asked_about_and_nothing_is_gathered(desk: Desk, bucket: str) -> None:
    row = table_of(desk, bucket).groups[0]
    pieces = lift_pieces(desk, row.id, seen=row.version, how_many=2).pieces
    for piece in pieces:
        change_piece(desk, piece.id, seen=piece.version, rim_permille=600)
    with refused(desk, "rim_over_whole"):
        gather_vessel(desk, [piece.id for piece in pieces])
    assert {piece.vessel for piece in pieces_of(desk, bucket)} == {None}
    gather_vessel(desk, [piece.id for piece in pieces], sure=True)
    assert vessel_of(desk, 1).rim_permille == 1200


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ({"rim_permille": -1}, "rim_out_of_range"),
        ({"rim_permille": 1001}, "rim_out_of_range"),
        ({"rim_diameter_mm": 61, "chord_tenths_mm": 620}, "diameter_below_chord"),
        ({"colour_surface": "5GR 5/4"}, "not_munsell"),
        ({"colour_inside": "10YR 11/2"}, "value_range"),
        ({"colour_core": "10YR 6/90"}, "chroma_range"),
        ({"colour_slip": "12.5YR 6/4"}, "hue_range"),
        ({"earliest": 320, "latest": 180}, "range_reversed"),
        ({"earliest": 0, "latest": -1}, "range_reversed"),
    ],
)
def test_what_cannot_be_said_of_a_piece_leaves_it_as_it_was(desk: Desk, bucket: str, said: Any, code: str) -> None:
    row = table_of(desk, bucket).groups[0]
    lift_pieces(desk, row.id, seen=row.version, rim_permille=110)
    (piece,) = pieces_of(desk, bucket)
    with refused(desk, code):
        change_piece(desk, piece.id, seen=piece.version, note="said in the same breath", **said)
    assert pieces_of(desk, bucket) == (piece,)


def test_a_diameter_as_long_as_its_chord_is_half_a_circle(desk: Desk, bucket: str) -> None:
    row = table_of(desk, bucket).groups[0]
    lift_pieces(desk, row.id, seen=row.version)
    (piece,) = pieces_of(desk, bucket)
    said = change_piece(desk, piece.id, seen=piece.version, rim_permille=500, rim_diameter_mm=62, chord_tenths_mm=620)
    assert said.doubts == ()


def test_one_year_said_later_does_not_turn_a_range_round(desk: Desk, bucket: str) -> None:
    row = table_of(desk, bucket).groups[0]
    lift_pieces(desk, row.id, seen=row.version)
    (piece,) = pieces_of(desk, bucket)
    piece = change_piece(desk, piece.id, seen=piece.version, latest=180, dated_by="its form")
    with refused(desk, "range_reversed"):
        change_piece(desk, piece.id, seen=piece.version, earliest=320)


def test_years_and_days_the_wrong_way_round(desk: Desk, bucket: str) -> None:
    add_form(desk, code="F1", earliest=200)
    with refused(desk, "years_reversed"):
        change_form(desk, "F1", latest=100)
    with refused(desk, "years_reversed"):
        change_period(desk, "II", latest=100)
    with refused(desk, "range_reversed"):
        register_object(desk, bucket, what="coin", material="bronze", earliest=348, latest=330)
    coin = register_object(desk, bucket, what="coin", material="bronze", latest=330).found
    with refused(desk, "range_reversed"):
        change_object(desk, coin.id, seen=coin.version, earliest=348)


def test_a_ware_or_form_that_anything_says_stays(desk: Desk) -> None:
    add_form(desk, code="F1", ware="TGY")
    code = dry_container(desk, 131, 3)
    row = add_group(desk, code, ware="MBU", form="F1", part="rim", pieces=1)
    lift_pieces(desk, row.id, seen=row.version)
    add_group(desk, code, ware="CSJ", part="body", pieces=2, decision=Decision.DISCARD, reason="modern")
    settle(desk, code)
    make_list(sitting(desk, "Oren"))
    with desk.deed("merge_by_hand") as deed:
        # A line of a discard list names the ware even where no row does any more.
        deed.session.execute(update(SherdGroup).values(ware_id=None))
    for taken_away in (
        lambda: remove_ware(desk, "TGY"),
        lambda: remove_ware(desk, "MBU"),
        lambda: remove_ware(desk, "CSJ"),
        lambda: remove_form(desk, "F1"),
    ):
        with refused(desk, "code_in_use"):
            taken_away()


def test_a_scan_is_no_number_of_sherds_grams_or_percent(desk: Desk, bucket: str) -> None:
    arrived = put_container(desk, 132)
    with refused(desk, "code_in_number_field"):
        do(desk, "count", {"pieces": bucket}, (arrived,))
    for said in ({"pieces": arrived}, {"pieces": "2", "grams": arrived}, {"pieces": "2", "rim": arrived}):
        with refused(desk, "code_in_number_field"):
            do(desk, "sort", {"ware": "QRS", "part": "rim", **said}, (bucket,))
    with refused(desk, "pieces_out_of_range"):
        log_count(desk, arrived, pieces=2_026_131)


COLUMNS = ("ware", "part", "pieces", "tenths")
HEADINGS = {"ware": "ware", "part": "part", "count": "pieces", "grams": "tenths"}
NAMES = {"ware": "Ware", "part": "Part", "pieces": "Count", "grams": "Grams"}


@pytest.mark.parametrize(
    ("pasted_text", "code"),
    [
        ("QRS\trim\t11\t340\nMBU\tbody\t5", "pasted_cells"),
        ("QRS\trim\t11\t340\tred", "pasted_cells"),
        ("Ware\tPart\tColour\nQRS\trim\tred", "pasted_heading"),
        ("Ware\tPart\tWare\nQRS\trim\tMBU", "pasted_twice"),
        ("Part\tWare\tCount\tGrams\nQRS\trim\t11\t340", "pasted_row"),
    ],
)
def test_wrong_columns_paste_nothing(desk: Desk, bucket: str, pasted_text: str, code: str) -> None:
    before = table_of(desk, bucket)
    with refused(desk, code):
        rows = read_rows(pasted_text, COLUMNS, HEADINGS, NAMES).rows
        add_groups(desk, bucket, [NewGroup(GroupFacts(row["ware"], row["part"], int(row["pieces"]))) for row in rows])
    assert table_of(desk, bucket) == before


@pytest.mark.parametrize(("make", "code"), [(text, "not_a_photo"), (large, "photo_too_large"), (gone, "no_photo_file")])
def test_what_is_no_photograph_leaves_no_file_and_no_row(
    desk: Desk, bucket: str, tmp_path: Path, make: Callable[[Path], Path], code: str
) -> None:
    with desk.reading() as reading:
        of = ("container", container_of(reading.session, desk, bucket).id)
    with refused(desk, code):
        add_photo(desk, make(tmp_path), of=of)
    assert photos_of(desk, of) == ()
    folder = where_photos_lie(desk)
    assert folder is not None
    assert not list(folder.rglob("*"))


def test_a_photograph_gone_from_the_disk_is_said_and_its_row_stays(desk: Desk, bucket: str, tmp_path: Path) -> None:
    with desk.reading() as reading:
        of = ("container", container_of(reading.session, desk, bucket).id)
    photo = add_photo(desk, drawn(tmp_path), of=of)
    small = thumbnail_of(desk, photo)
    photo_path(desk, photo).unlink()
    with pytest.raises(StoreFault) as caught:
        photo_path(desk, photo)
    assert caught.value.code == "photo_gone"
    assert (photos_of(desk, of), thumbnail_of(desk, photo)) == ((photo,), small)
    assert [finding.kind.value for finding in prove(desk).findings] == ["photo"]
