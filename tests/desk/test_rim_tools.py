"""The rim tool gives whole millimetres and per mille, and says how it came to them."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from findsdesk.desk.desk import Desk
from findsdesk.desk.joins import join_pieces
from findsdesk.desk.photo_folders import where_photos_lie
from findsdesk.desk.piece_pages import drawings_wanted, piece_page
from findsdesk.desk.playing import do
from findsdesk.desk.rim_tools import rim_by_chord, rim_by_points, share_by_arc
from findsdesk.domain.pieces import DiameterMethod
from findsdesk.domain.refusals import Refusal
from tests.desk.test_joins_and_vessels import put_pieces
from tests.desk.test_piece_registers import put_some_of_each


def test_a_chord_of_62_and_a_height_of_five_and_a_half() -> None:
    """OWN, from the formula: 5.5 + 62² ÷ 22 = 180.2 mm, ± 15.4 for half a millimetre, 11.2 % of the circle."""
    rim = rim_by_chord(620, 55)
    assert (rim.method, rim.diameter_mm, rim.uncertainty_mm, rim.share_permille) == (DiameterMethod.CHORD, 180, 15, 112)
    assert rim.offered
    assert not rim.more_than_half


def test_points_on_a_circle_of_180() -> None:
    angles = [math.radians(degrees) for degrees in (60, 70, 80, 90, 100)]
    rim = rim_by_points([(30 + 90 * math.cos(a), 40 + 90 * math.sin(a)) for a in angles])
    assert (rim.method, rim.diameter_mm, rim.share_permille) == (DiameterMethod.POINTS, 180, 111)
    assert rim.circle is not None
    assert rim.circle == pytest.approx((30, 40, 90))
    assert rim.radius_mm == pytest.approx(90)


def test_a_share_by_the_length_along_the_rim() -> None:
    """OWN: 62.8 mm of 2π × 100 mm is a tenth."""
    assert share_by_arc(200, 628) == 100
    with pytest.raises(Refusal) as caught:
        share_by_arc(100, 5000)
    assert caught.value.code == "arc_range"


def test_the_page_of_a_piece_holds_all_that_hangs_on_it(desk: Desk, tmp_path: Path) -> None:
    put_some_of_each(desk, tmp_path)
    page = piece_page(desk, "131.1")
    assert page.vessel is not None
    assert (page.vessel.number, len(page.joins), len(page.samples)) == (1, 2, 1)
    assert [bool(small) for _photo, small in page.photos] == [True]
    assert drawings_wanted(desk) == 1


def test_a_photograph_that_is_gone_does_not_hide_the_piece(desk: Desk, tmp_path: Path) -> None:
    folder = where_photos_lie(desk)
    assert folder is not None
    put_some_of_each(desk, tmp_path)
    for file in folder.rglob("*.jpg"):
        file.unlink()
    ((_photo, small),) = piece_page(desk, "131.1").photos
    assert small == b""


def test_a_page_changes_with_its_piece(desk: Desk) -> None:
    one, other = put_pieces(desk, 131)
    assert piece_page(desk, one.code).joins == ()
    join_pieces(desk, one.id, other.id)
    do(desk, "describe", {"drawing_wanted": "yes"}, ("131.1",))
    assert (len(piece_page(desk, "131.1").joins), drawings_wanted(desk)) == (1, 1)
