"""A small yard with one of everything a sheet can speak of, made by the use cases."""

from __future__ import annotations

import os
from pathlib import Path

import pypdfium2
from PIL import Image

from findsdesk.desk.bagging import bag_settled
from findsdesk.desk.changing_pieces import describe_piece
from findsdesk.desk.desk import Desk
from findsdesk.desk.discards import make_list
from findsdesk.desk.joins import join_pieces
from findsdesk.desk.left_in_trench import left_in_trench
from findsdesk.desk.objects import register_object
from findsdesk.desk.photos import add_photo
from findsdesk.desk.pieces import lift_pieces
from findsdesk.desk.readings import read_container
from findsdesk.desk.renumbering import renumber_deposit
from findsdesk.desk.samples import take_sample
from findsdesk.desk.sheets import PrintedList
from findsdesk.desk.sorting import add_group, settle
from findsdesk.desk.tags import issue_tags, report_missing
from findsdesk.domain.balance import Decision
from findsdesk.domain.standings import StepKind
from tests.desk.at_the_table import dry_container
from tests.yard import REASON, new_yard, put_container, sitting

DESCRIPTION = "floor fill, burnt"
ON_A_FILE = "FINDSDESK_TEST_SERVER" not in os.environ


def pages_of(pdf: bytes) -> list[str]:
    """Return the words of each page as PDFium reads them."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [" ".join(page.get_textpage().get_text_bounded().split()) for page in document]
    finally:
        document.close()


def text_of(made: PrintedList) -> str:
    """Return all words of a paper."""
    return " ".join(pages_of(made.pdf))


def whole_yard(folder: Path, photo: bool = True) -> Desk:
    """Return the director's desk in that yard: two sorted buckets, one half sorted, bone, tags out, one missing."""
    desk = new_yard(folder, name="whole")
    oren = sitting(desk, "Oren")
    first = dry_container(desk, 131, 60)
    rims = add_group(oren, first, ware="QRS", part="rim", pieces=20, tenths=4000, rim_permille=1500)
    add_group(oren, first, ware="MBU", part="body", pieces=30, tenths=3300, decision=Decision.DISCARD, reason=REASON)
    add_group(oren, first, ware="CSJ", part="body", pieces=10, tenths=2000)
    lifted = lift_pieces(oren, rims.id, seen=rims.version, how_many=2).pieces
    describe_piece(
        oren,
        lifted[0].code,
        rim_diameter_mm=180,
        rim_permille=110,
        colour_surface="2.5YR 5/6",
        colour_inside="10YR 7/3",
        drawing_wanted=True,
        note=DESCRIPTION,
    )
    settle(oren, first)
    second = dry_container(desk, 132, 40, deposit="2003")
    group = add_group(oren, second, ware="QRS", part="rim", pieces=15, tenths=2500)
    other = lift_pieces(oren, group.id, seen=group.version).pieces[0]
    join_pieces(oren, lifted[0].id, other.id)
    register_object(oren, second, what="coin", material="bronze", earliest=310, latest=330)
    read_container(oren, first, main="II", line="floor fill")
    take_sample(
        oren, lifted[1].code, what_for="thin section", taken_tenths=15, laboratory="Kiln House", permit="VE-26-031"
    )
    left_in_trench(desk, "2017", what="roof tile", material="tile", pieces=230, why="counted in the square")
    make_list(oren)
    bag_settled(desk, [first])
    put_container(desk, 140, material="bone", deposit="2017")
    issue_tags(desk, how_many=3, supervisor="Bryn Hallo")
    report_missing(desk, put_container(desk, 122, steps=(StepKind.ISSUED, StepKind.LISTED)))
    renumber_deposit(desk, "2003", to="2031", reason="misread")
    if photo:
        picture = folder / "rim.jpg"
        Image.new("RGB", (800, 600), "#B5653A").save(picture)
        add_photo(desk, picture, of=("piece", lifted[0].id))
    return desk
