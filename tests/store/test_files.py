"""A store's file: locked by one, copied and checked, refused when newer, damaged, cut short or out of reach."""

import json
import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from datetime import timedelta
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext

from findsdesk.desk.opening import NewExcavation, new_store, open_store
from findsdesk.domain.refusals import Refusal, StoreFault
from findsdesk.store.backup import KEPT, backups_folder, copies_of, copy_store, put_back
from findsdesk.store.every_table import every_table, whole_metadata
from findsdesk.store.lock import StoreLock
from findsdesk.store.schema import bring_up, check_revision, newest_state
from findsdesk.store.search_index import is_of_the_index
from findsdesk.store.session import Store
from tests.yard import MORNING, acts, new_yard, put_containers

HEAD = "0123456789abcdef" * 4


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the file of a store in which 300 containers stand, to be copied."""
    desk = new_yard(tmp_path_factory.mktemp("filled"))
    put_containers(desk, range(1, 301))
    desk.let_go()
    assert desk.store.path is not None
    return desk.store.path


@pytest.fixture
def file(filled: Path, tmp_path: Path) -> Path:
    """Return a store's file of one's own, open nowhere."""
    return Path(shutil.copyfile(filled, tmp_path / filled.name))


# The lock


def test_a_second_opener_is_told_who_has_the_store(file: Path) -> None:
    tessa = open_store(file, by="Tessa", station="awning")
    with pytest.raises(Refusal, match="store_in_use") as refused:
        open_store(file, by="Mika", station="office")
    assert (refused.value.facts["person"], refused.value.facts["station"]) == ("Tessa", "awning")
    looking = open_store(file, read_only=True)
    assert acts(looking) == acts(tessa)
    put_containers(tessa, (301,))
    assert acts(looking) == acts(tessa)
    looking.let_go()
    tessa.let_go()
    open_store(file, by="Mika", station="office").let_go()


def test_another_program_is_told_as_well(file: Path) -> None:
    desk = open_store(file, by="Tessa", station="awning")
    asking = (
        "import json, sys\n"
        "from findsdesk.domain.refusals import Refusal\n"
        "from findsdesk.desk.opening import open_store\n"
        "try:\n"
        "    open_store(sys.argv[1])\n"
        "except Refusal as refusal:\n"
        "    print(json.dumps([refusal.code, refusal.facts]))\n"
    )
    said = subprocess.run([sys.executable, "-c", asking, str(file)], capture_output=True, text=True, check=True)
    assert json.loads(said.stdout) == ["store_in_use", {"person": "Tessa", "station": "awning"}]
    desk.let_go()


def test_a_lock_that_was_left_behind_holds_nobody_up(file: Path) -> None:
    left = file.with_suffix(".lock")
    left.write_text("not what a lock says", encoding="utf-8")
    lock = StoreLock(file)
    lock.take(person="Mika", station="office")
    assert json.loads(left.read_text(encoding="utf-8"))["person"] == "Mika"
    lock.release()


# Copies


def test_a_copy_is_checked_and_named_by_moment_and_head(file: Path) -> None:
    copy = copy_store(file, MORNING, HEAD)
    assert copy.path == backups_folder(file) / "tannery-20260714T045000Z-0123456789ab.findsdesk"
    again = open_store(copy.path, read_only=True)
    assert acts(again) == copy.acts
    again.let_go()
    assert copies_of(file)[0] == copy.path


def test_an_open_store_is_copied_with_what_was_just_written(file: Path) -> None:
    desk = open_store(file)
    put_containers(desk, (301,))
    copy = desk.copy()
    assert copy is not None
    assert copy.acts == acts(desk)
    assert desk.copy() is not None
    assert len(copies_of(file)) == 1, "the same head is not copied twice"
    put_containers(desk, (302,))
    desk.close()
    assert len(copies_of(file)) == 2, "closing makes a copy"


def test_a_store_whose_copy_is_not_sound_is_said_to_have_none(file: Path) -> None:
    with closing(sqlite3.connect(file, isolation_level=None)) as connection:
        connection.execute("UPDATE step SET container_id = 77 WHERE id IN (SELECT id FROM step LIMIT 1)")
    with pytest.raises(StoreFault) as fault:
        copy_store(file, MORNING, HEAD)
    assert fault.value.code == "copy_failed"


def test_a_copy_that_went_bad_is_not_put_back(file: Path, tmp_path: Path) -> None:
    copy = copy_store(file, MORNING, HEAD)
    assert put_back(copy.path, tmp_path / "again.findsdesk") == copy.acts
    with pytest.raises(FileExistsError):
        put_back(copy.path, tmp_path / "again.findsdesk")
    cut_short(copy.path)
    with pytest.raises(StoreFault) as fault:
        put_back(copy.path, tmp_path / "third.findsdesk")
    assert fault.value.code == "bad_copy"
    assert not (tmp_path / "third.findsdesk").exists()


def test_the_oldest_copies_go(file: Path) -> None:
    folder = backups_folder(file)
    folder.mkdir()
    for number in range(KEPT + 3):
        shutil.copyfile(file, folder / f"tannery-20260101T{number:06d}Z-{number:012x}.findsdesk")
    newest = copy_store(file, MORNING + timedelta(days=1), HEAD).path
    left = copies_of(file)
    assert len(left) == KEPT
    assert left[0] == newest
    assert left[-1].name == "tannery-20260101T000004Z-000000000004.findsdesk"


# The schema


def test_the_migration_makes_what_the_models_say(tmp_path: Path) -> None:
    store = Store(tmp_path / "made")
    bring_up(store)
    with store.engine.connect() as connection:
        told = {"include_name": lambda name, kind, _parents: kind != "table" or not is_of_the_index(connection, name)}
        assert compare_metadata(MigrationContext.configure(connection, opts=told), whole_metadata()) == []
    assert not check_revision(store)
    store.close()


def test_a_store_of_an_earlier_state_is_refused_and_left_alone(file: Path) -> None:
    with closing(sqlite3.connect(file, isolation_level=None)) as connection:
        assert connection.execute("PRAGMA user_version").fetchone() == (newest_state(),)
        connection.execute("PRAGMA user_version=0")
    before = file.read_bytes()
    for read_only in (False, True):
        with pytest.raises(Refusal, match="other_state") as refused:
            open_store(file, read_only=read_only).let_go()
        assert "another build" in refused.value.in_words()
    assert file.read_bytes() == before
    put = put_back(file, file.with_name("put back.findsdesk"))
    assert put
    with pytest.raises(Refusal, match="other_state"):
        open_store(file.with_name("put back.findsdesk")).let_go()


def test_a_file_that_is_no_store_is_left_alone(tmp_path: Path) -> None:
    other = tmp_path / "other.findsdesk"
    with closing(sqlite3.connect(other)) as connection:
        connection.execute("CREATE TABLE pots (name)")
        connection.commit()
    before = other.read_bytes()
    with pytest.raises(StoreFault, match="not_a_store"):
        open_store(other)
    assert other.read_bytes() == before


def test_every_constraint_has_a_name() -> None:
    """SQLite can rebuild only what has a name (Alembic's documentation on batch migrations)."""
    for table in every_table():
        assert all(constraint.name for constraint in table.constraints), table.name
        assert all(index.name for index in table.indexes), table.name


def test_a_store_of_a_newer_version_is_refused_and_left_alone(file: Path) -> None:
    with closing(sqlite3.connect(file, isolation_level=None)) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
    before = file.read_bytes()
    with pytest.raises(Refusal, match="newer_store"):
        open_store(file)
    assert file.read_bytes() == before
    open_elsewhere = StoreLock(file)
    open_elsewhere.take(person="Mika", station="office")
    open_elsewhere.release()


# Damage


def garbage_in_the_middle(file: Path) -> None:
    size = file.stat().st_size
    with file.open("r+b") as handle:
        handle.seek(size // 8)
        handle.write(bytes(range(256)) * (size * 6 // 8 // 256))


def garbage_at_the_start(file: Path) -> None:
    with file.open("r+b") as handle:
        handle.write(b"\x07" * 200)


def cut_short(file: Path) -> None:
    with file.open("r+b") as handle:
        handle.truncate(file.stat().st_size * 2 // 5)


def something_else(file: Path) -> None:
    file.write_text("context;bucket;date\n2017;118;14/07/26\n" * 400, encoding="utf-8")


def work_in(file: Path, *, read_only: bool) -> None:
    desk = open_store(file, read_only=read_only)
    put_containers(desk, range(401, 500))


@pytest.mark.parametrize("damage", [garbage_in_the_middle, garbage_at_the_start, cut_short, something_else])
@pytest.mark.parametrize("read_only", [False, True])
def test_a_damaged_store_is_a_fault_that_names_the_way_out(
    file: Path, damage: Callable[[Path], None], *, read_only: bool
) -> None:
    damage(file)
    with pytest.raises(StoreFault) as fault:
        work_in(file, read_only=read_only)
    assert fault.value.code == "damaged"
    assert "copy" in fault.value.in_words()


def test_an_empty_file_is_no_store(file: Path) -> None:
    file.write_bytes(b"")
    with pytest.raises(StoreFault) as fault:
        open_store(file)
    assert fault.value.code == "not_a_store"


def test_a_database_of_another_program_is_no_store(file: Path) -> None:
    file.unlink()
    with closing(sqlite3.connect(file, isolation_level=None)) as connection:
        connection.execute("CREATE TABLE x (y)")
    with pytest.raises(StoreFault) as fault:
        open_store(file)
    assert fault.value.code == "not_a_store"


def test_a_store_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="no_store"):
        open_store(tmp_path / "nothing")
    assert list(tmp_path.iterdir()) == []


# Folders in which nothing may be written


@contextmanager
def as_somebody_without_rights() -> Iterator[None]:
    """Take the rights of the superuser off for a while: nothing is closed to it."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.fixture
def closed_folder(file: Path) -> Iterator[Path]:
    """Return a folder with a store in it that everybody may look into and nobody may write in."""
    folder = Path(tempfile.mkdtemp(prefix="findsdesk-closed-"))
    shutil.copyfile(file, folder / "closed.findsdesk")
    (folder / "closed.findsdesk").chmod(0o444)
    folder.chmod(0o555)
    yield folder
    folder.chmod(0o755)
    shutil.rmtree(folder)


@pytest.mark.skipif(sys.platform == "win32", reason="rights of folders work another way there")
def test_nothing_is_made_in_a_folder_that_is_closed(closed_folder: Path) -> None:
    excavation = NewExcavation("Tannery Quay", "TQ", "Ilo Marr", "Etc/GMT-2")
    with as_somebody_without_rights(), pytest.raises(StoreFault) as fault:
        new_store(closed_folder / "another", excavation)
    assert fault.value.code == "read_only"
    assert [path.name for path in closed_folder.iterdir()] == ["closed.findsdesk"]


@pytest.mark.skipif(sys.platform == "win32", reason="rights of folders work another way there")
def test_a_store_in_a_closed_folder_is_read_and_not_written(
    closed_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    where, state = closed_folder / "closed.findsdesk", newest_state()
    # The program may lie where only root looks in; its own files are not what is closed here.
    monkeypatch.setattr("findsdesk.store.schema.newest_state", lambda: state)
    with as_somebody_without_rights():
        with pytest.raises(StoreFault) as fault:
            open_store(where)
        assert fault.value.code == "read_only"
        desk = open_store(where, read_only=True)
        assert acts(desk) > 0
        with pytest.raises(Refusal, match="read_only"):
            put_containers(desk, (900,))
        desk.let_go()


@pytest.mark.skipif(sys.platform == "win32", reason="rights of folders work another way there")
def test_a_folder_that_may_not_be_entered_is_said_to_be_shut(closed_folder: Path) -> None:
    closed_folder.chmod(0o000)
    excavation = NewExcavation("Tannery Quay", "TQ", "Ilo Marr", "Etc/GMT-2")
    for attempt in (
        lambda: open_store(closed_folder / "closed"),
        lambda: new_store(closed_folder / "another", excavation),
    ):
        with as_somebody_without_rights(), pytest.raises(StoreFault) as fault:
            attempt()
        assert fault.value.code == "cannot_open"
