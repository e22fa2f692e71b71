"""What one station gave up while another laid something into it stays, and a person is told."""

from __future__ import annotations

from pathlib import Path

from sqlalchemy import select

from findsdesk.desk.bagging import bag_settled
from findsdesk.desk.boxes import add_box, give_up_box
from findsdesk.desk.boxing import put_into_box
from findsdesk.desk.clashes import clashes, decide_clash
from findsdesk.desk.desk import Desk
from findsdesk.desk.store_places import add_place, give_up_place
from findsdesk.domain.shelving import PlaceKind
from findsdesk.store.models import Box, Place
from tests.desk.two_stores import TRENCH, alike, both_ways, parted, refused, sound
from tests.yard import put_settled


def test_a_box_and_a_place_given_up_in_one_store_and_used_in_the_other_stay(tmp_path: Path) -> None:
    codes: dict[str, str] = {}

    def furnish(desk: Desk) -> None:
        codes["room"] = add_place(desk, name="Yard room", kind=PlaceKind.ROOM).code
        codes["shelf"] = add_place(desk, name="Shelf 1", kind=PlaceKind.SHELF, within=codes["room"]).code
        codes["box"] = add_box(desk, kind="sherds")[0].code
        put_settled(desk, 101)
        codes["bag"] = bag_settled(desk, ["101"])[0].code

    with parted(tmp_path, furnish) as (home, trench):
        give_up_box(home, codes["box"])
        put_into_box(trench, codes["box"], [codes["bag"]])
        give_up_place(trench, codes["shelf"])
        give_up_place(trench, codes["room"])
        add_box(home, kind="sherds", place=codes["shelf"])
        both_ways(home, trench, tmp_path)
        alike(home, trench)
        with home.reading() as reading:
            assert reading.session.execute(select(Box.gone_at)).scalars().all() == [None, None]
            assert reading.session.execute(select(Place.gone_at)).scalars().all() == [None, None]
        found = clashes(home)
        assert sorted((one.kind, one.stands) for one in found) == [
            ("box", TRENCH),
            ("place", "first"),
            ("place", "first"),
        ]
        box = next(one for one in found if one.kind == "box")
        refused("cannot_stand_together", lambda: decide_clash(home, box.id, keep="first"))
        for one in found:
            decide_clash(home, one.id, keep=one.stands)
        sound(home)
        both_ways(home, trench, tmp_path)
        alike(home, trench)
        assert clashes(trench) == ()
