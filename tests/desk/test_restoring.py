"""Going back to a copy: it becomes a new store, nothing is written over, a bad copy is refused."""

import os
from datetime import timedelta
from pathlib import Path

import pytest

from findsdesk.desk.at_the_desk import at_the_desk
from findsdesk.desk.dossiers import Dossier, find
from findsdesk.desk.opening import open_store
from findsdesk.desk.restoring import kept_copies, proposed_name, restore
from findsdesk.desk.setting_up import season_now
from findsdesk.domain.refusals import Refusal, StoreFault
from findsdesk.domain.settings import Role
from tests.yard import MORNING, advance, new_yard, put_container

pytestmark = pytest.mark.skipif(
    "FINDSDESK_TEST_SERVER" in os.environ, reason="a store on a server is copied there, by whoever looks after it"
)


@pytest.fixture
def closed_yard(tmp_path: Path) -> Path:
    """Return the file of a yard that was closed twice: after bucket 118 and after bucket 119."""
    desk = new_yard(tmp_path)
    put_container(desk, 118)
    desk.copy()
    advance(desk, minutes=5)
    put_container(desk, 119)
    desk.close()
    return tmp_path / "tannery.findsdesk"


def test_copies_are_listed_newest_first(closed_yard: Path) -> None:
    copies = kept_copies(closed_yard)
    assert [copy.made_at for copy in copies] == [MORNING + timedelta(minutes=5), MORNING]
    assert len({copy.head for copy in copies}) == 2
    assert kept_copies("postgresql://host/base") == ()


def test_a_copy_becomes_a_new_store_with_what_was_in_it(closed_yard: Path) -> None:
    older = kept_copies(closed_yard)[-1]
    into = proposed_name(older.path)
    assert into == closed_yard.parent / "tannery-restored.findsdesk"
    desk = open_store(restore(older.path, into))
    found = find(desk, "118")
    assert isinstance(found, Dossier)
    with pytest.raises(Refusal, match="unknown_number"):
        find(desk, "119")
    desk.close()
    assert proposed_name(older.path).name == "tannery-restored-2.findsdesk"


def test_nothing_is_written_over(closed_yard: Path) -> None:
    before = closed_yard.read_bytes()
    with pytest.raises(Refusal, match="store_exists"):
        restore(kept_copies(closed_yard)[0].path, closed_yard)
    assert closed_yard.read_bytes() == before


def test_a_bad_copy_is_refused_and_leaves_nothing(closed_yard: Path) -> None:
    copy = kept_copies(closed_yard)[0].path
    copy.write_bytes(b"water got in" * 1000)
    into = closed_yard.parent / "again.findsdesk"
    with pytest.raises(StoreFault, match="bad_copy"):
        restore(copy, into)
    assert not into.exists()


def test_other_files_in_the_folder_are_no_copies(closed_yard: Path) -> None:
    folder = closed_yard.with_suffix(".backups")
    (folder / "notes.findsdesk").write_bytes(b"")
    (folder / "a-b-c.findsdesk").write_bytes(b"")
    assert len(kept_copies(closed_yard)) == 2
    assert proposed_name(folder / "notes.findsdesk").name == "notes-restored.findsdesk"


def test_the_foot_knows_who_sits_and_what_is_written(tmp_path: Path) -> None:
    desk = new_yard(tmp_path, by="Tessa", station="hut")
    here = at_the_desk(desk)
    assert (here.person, here.role, here.station) == ("Tessa Quill", Role.WASH_LEAD, "hut")
    assert (here.written, here.copied, here.unaccounted, here.read_only) == (None, None, 0, False)
    put_container(desk, 118)
    desk.copy()
    here = at_the_desk(desk)
    assert (here.written, here.copied) == (MORNING, MORNING)
    season = season_now(desk)
    assert season is not None
    assert season.permit == "VE-26-014"
    desk.close()
