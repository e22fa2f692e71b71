"""The data package taken in where no store is yet gives the same store; whatever is wrong with it is refused."""

from __future__ import annotations

import csv
import hashlib
import json
import os
import uuid
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from sqlalchemy import func, select

from findsdesk.desk.desk import Desk
from findsdesk.desk.exporting import FileForm, export
from findsdesk.desk.opening import open_store
from findsdesk.desk.package_import import take_in_package
from findsdesk.desk.pins import set_pin
from findsdesk.desk.proving import prove
from findsdesk.domain.refusals import Refusal, StoreFault
from findsdesk.store.models import Container, Note, PersonPin, RowSetAside
from findsdesk.store.whole_tables import LEFT_OUT, kept_apart, together
from tests.desk.handed_over import everything_in, fresh, full_yard, gone_out
from tests.yard import put_container, put_deposit

ODD = ("=1+1", "'=1", "\\", "\\\\", "two\r\nlines", "a\rb", '"so", he said', " blanks ", "Κεραμίδι חרס 陶片", "\t", "")


@pytest.mark.parametrize("form", [FileForm.DATA_PACKAGE, FileForm.BUNDLE])
def test_the_same_store_comes_back_record_by_record(tmp_path: Path, form: FileForm) -> None:
    desk, made = full_yard(), gone_out(form)
    taken = take_in_package(made.path, tmp_path / "again")
    again = open_store(tmp_path / "again", read_only=True)
    try:
        before, after = everything_in(desk), everything_in(again)
        assert before.keys() == after.keys()
        for table, rows in before.items():
            assert after[table] == rows, table
        assert taken.rows == sum(len(rows) for table, rows in before.items() if table not in LEFT_OUT)
        assert again.head() == desk.head() == taken.head[:12]
        proof = prove(again)
        gone = [one for one in proof.findings if one.kind != "photo"]
        assert not gone
        # Only the hand-over brings the photographs along.
        assert proof.sound is (form is FileForm.BUNDLE)
    finally:
        again.let_go()


def test_work_goes_on_in_the_store_that_came_back(tmp_path: Path) -> None:
    take_in_package(gone_out(FileForm.BUNDLE).path, tmp_path / "again")
    again = open_store(tmp_path / "again")
    put_deposit(again, "2099")
    put_container(again, 199, deposit="2099")
    assert [one.kind for one in prove(again).findings] == []
    again.close()


def test_any_text_comes_back_and_pins_stay_behind(desk: Desk, tmp_path: Path) -> None:
    code = put_container(desk, 7)
    with desk.reading() as reading:
        container_id = reading.session.execute(select(Container.id).where(Container.code == code)).scalar_one()
    for text in ODD:
        with desk.deed("odd") as deed:
            facts = {"said": list(ODD), text: None}
            row = Note(container_id=container_id, kind=text, facts=facts, happened_at=deed.happened_at, answer=text)
            deed.add(row)
            deed.said = text
            set_aside = {"file_name": text, "line_number": 1, "row": {}, "doubts": facts, "answer": text}
            deed.add(RowSetAside(digest=text, answered_at=None, **set_aside))
    set_pin(desk, "Ilo Marr", pin="4711")
    made = export(desk, FileForm.DATA_PACKAGE, tmp_path / "out")
    assert not (made.path / "data" / "person_pin.csv").exists()
    assert b"argon2" not in b"".join(file.read_bytes() for file in made.path.rglob("*.csv"))
    take_in_package(made.path, tmp_path / "again")
    again = open_store(tmp_path / "again", read_only=True)
    try:
        assert everything_in(again) == everything_in(desk)
        assert prove(again).sound
        with again.reading() as reading:
            assert reading.session.execute(select(func.count()).select_from(PersonPin)).scalar_one() == 0
    finally:
        again.let_go()


@pytest.mark.parametrize("text", ["", "\\", "\\\\", "x", "\\x", "x\\", "'="])
def test_a_text_that_could_be_taken_for_nothing_comes_back(text: str) -> None:
    assert kept_apart(text)
    assert together(kept_apart(text)) == text


# --- what is refused ----------------------------------------------------------------------------------------------

Spoil = Callable[[Path], None]


def described_again(package: Path, change: Callable[[dict], None]) -> None:
    """Change what a package says of itself, and let its hashes be those of its files."""
    said = json.loads((package / "datapackage.json").read_text("utf-8"))
    change(said)
    for resource in said["resources"]:
        file = package / resource["path"]
        if file.is_file():
            resource["hash"] = f"sha256:{hashlib.sha256(file.read_bytes()).hexdigest()}"
    (package / "datapackage.json").write_text(json.dumps(said), "utf-8")


def resource_of(said: dict, name: str) -> dict:
    return next(one for one in said["resources"] if one["name"] == name)


def newer(package: Path) -> None:
    described_again(package, lambda said: said["findsdesk"].update(schema="9999"))


def another_table(package: Path) -> None:
    described_again(package, lambda said: said["resources"].append({**said["resources"][0], "name": "spaceship"}))


def another_column(package: Path) -> None:
    def change(said: dict) -> None:
        resource_of(said, "square")["schema"]["fields"][0]["name"] = "altitude"

    described_again(package, change)


def a_table_less(package: Path) -> None:
    described_again(package, lambda said: said["resources"].remove(resource_of(said, "square")))


def cell_changed(package: Path, table: str, column: str, value: str, line: int = 0) -> None:
    file = package / "data" / f"{table}.csv"
    with file.open(encoding="utf-8", newline="") as stream:
        head, *rows = csv.reader(stream)
    rows[line][head.index(column)] = value
    with file.open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream, lineterminator="\r\n").writerows([head, *rows])
    described_again(package, lambda said: None)


def broken_reference(package: Path) -> None:
    cell_changed(package, "sherd_group", "container_id", "17")


def no_number(package: Path) -> None:
    cell_changed(package, "sherd_group", "pieces", "many")


def no_number_of_ours(package: Path) -> None:
    cell_changed(package, "sherd_group", "id", "9" * 30)


def no_json(package: Path) -> None:
    cell_changed(package, "excavation", "settings", "{")


def no_moment(package: Path) -> None:
    cell_changed(package, "step", "happened_at", "2026-07-14T06:50:00")


def twice(package: Path) -> None:
    with (package / "data" / "square.csv").open(encoding="utf-8", newline="") as stream:
        head, first, *_rest = csv.reader(stream)
    cell_changed(package, "square", "id", first[head.index("id")], line=1)


def other_head(package: Path) -> None:
    cell_changed(package, "station", "head", "0" * 64)


def changed_after(package: Path) -> None:
    file = package / "data" / "square.csv"
    file.write_bytes(file.read_bytes().replace(b"A1", b"Z1"))


def gone(package: Path) -> None:
    (package / "data" / "square.csv").unlink()


def path_outside(package: Path) -> None:
    described_again(package, lambda said: resource_of(said, "square").update(path="../../square.csv"))


def cut(package: Path) -> None:
    (package / "datapackage.json").write_bytes((package / "datapackage.json").read_bytes()[:500])


def row_too_short(package: Path) -> None:
    file = package / "data" / "square.csv"
    file.write_bytes(file.read_bytes() + b"C4\r\n")
    described_again(package, lambda said: None)


def somebody_elses(package: Path) -> None:
    described_again(package, lambda said: said.pop("findsdesk"))


WRONG: tuple[tuple[Spoil, str], ...] = (
    (newer, "package_newer"),
    (another_table, "package_unknown_table"),
    (another_column, "package_unknown_column"),
    (a_table_less, "package_incomplete"),
    (broken_reference, "package_broken_reference"),
    (no_number, "package_value"),
    (no_number_of_ours, "package_value"),
    (no_json, "package_value"),
    (no_moment, "package_value"),
    (twice, "package_row_refused"),
    (other_head, "package_other_head"),
    (changed_after, "package_changed"),
    (gone, "package_file_gone"),
    (path_outside, "package_path_outside"),
    (cut, "package_unreadable"),
    (row_too_short, "package_row_broken"),
    (somebody_elses, "not_our_package"),
)


@pytest.mark.parametrize(("spoil", "code"), WRONG, ids=[spoil.__name__ for spoil, _code in WRONG])
def test_a_package_that_is_not_right_is_refused_and_leaves_nothing(tmp_path: Path, spoil: Spoil, code: str) -> None:
    package = fresh(FileForm.DATA_PACKAGE, tmp_path)
    spoil(package)
    with pytest.raises(Refusal) as caught:
        take_in_package(package, tmp_path / "again")
    assert caught.value.code == code
    assert caught.value.in_words()
    assert [one.name for one in tmp_path.iterdir()] == [package.name]


def test_a_store_that_is_there_takes_no_package(tmp_path: Path) -> None:
    there = tmp_path / "there.findsdesk"
    there.write_bytes(b"a store of two seasons")
    with pytest.raises(Refusal, match="store_not_empty"):
        take_in_package(gone_out(FileForm.DATA_PACKAGE).path, tmp_path / "there")
    assert there.read_bytes() == b"a store of two seasons"


@pytest.mark.skipif("FINDSDESK_TEST_SERVER" not in os.environ, reason="no server was named")
def test_a_package_becomes_a_store_on_a_server_record_by_record(tmp_path: Path) -> None:
    server = os.environ["FINDSDESK_TEST_SERVER"]
    where = f"{server}{'&' if '?' in server else '?'}schema=again_{uuid.uuid4().hex}"
    package = fresh(FileForm.DATA_PACKAGE, tmp_path)
    broken_reference(package)
    with pytest.raises(Refusal, match="package_broken_reference"):
        take_in_package(package, where)
    taken = take_in_package(gone_out(FileForm.DATA_PACKAGE).path, where)
    again = open_store(where)
    try:
        before, after = everything_in(full_yard()), everything_in(again)
        for table, rows in before.items():
            assert sorted(map(repr, after[table])) == sorted(map(repr, rows)), table
        assert again.head() == full_yard().head() == taken.head[:12]
        assert [one.kind for one in prove(again).findings if one.kind != "photo"] == []
        put_deposit(again, "2099")
        with pytest.raises(Refusal, match="store_not_empty"):
            take_in_package(gone_out(FileForm.DATA_PACKAGE).path, where)
        with pytest.raises(Refusal, match="no_photo_folder"):
            take_in_package(gone_out(FileForm.BUNDLE).path, f"{where}_2")
    finally:
        again.let_go()


@pytest.mark.skipif("FINDSDESK_TEST_SERVER" not in os.environ, reason="no server was named")
def test_a_hand_over_whose_files_cannot_be_kept_leaves_no_store_on_a_server(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    server = os.environ["FINDSDESK_TEST_SERVER"]
    where = f"{server}{'&' if '?' in server else '?'}schema=filled_{uuid.uuid4().hex}"
    full = Refusal("cannot_write", "The disk is full.")

    def no_room(*_told: object) -> int:
        raise full

    monkeypatch.setattr("findsdesk.desk.package_import.brings_files", lambda _payload: False)
    with monkeypatch.context() as patched:
        patched.setattr("findsdesk.desk.package_import.take_files_in", no_room)
        with pytest.raises(Refusal, match="cannot_write"):
            take_in_package(gone_out(FileForm.BUNDLE).path, where)
    # Two fill one schema at once: who comes second takes nothing of the first away.
    monkeypatch.setattr("findsdesk.desk.package_import.holds_tables", lambda _store: False)
    package = gone_out(FileForm.DATA_PACKAGE).path
    taken = take_in_package(package, where)
    with pytest.raises(Refusal, match="package_row_refused"):
        take_in_package(package, where)
    again = open_store(where)
    assert again.head() == taken.head[:12]
    again.let_go()


def test_a_server_that_is_not_there_is_said_so() -> None:
    with pytest.raises(StoreFault, match="server_gone"):
        take_in_package(gone_out(FileForm.DATA_PACKAGE).path, "postgresql://localhost:1/yard")


def test_a_folder_without_a_package_is_said_so(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="no_package"):
        take_in_package(tmp_path, tmp_path / "again")


def zip_of(package: Path, **others: bytes) -> Path:
    target = package.with_suffix(".zip")
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        for file in sorted(package.rglob("*")):
            archive.write(file, file.relative_to(package.parent))
        for name, content in others.items():
            archive.writestr(name, content)
    return target


def test_a_zip_of_a_package_is_taken_in(tmp_path: Path) -> None:
    archive = zip_of(fresh(FileForm.DATA_PACKAGE, tmp_path))
    taken = take_in_package(archive, tmp_path / "again")
    assert taken.head[:12] == full_yard().head()


@pytest.mark.parametrize("name", ["../outside.txt", "/tmp/outside.txt", "a/../../outside.txt", "C:\\outside.txt"])
def test_a_zip_with_paths_outside_is_not_opened(tmp_path: Path, name: str) -> None:
    archive = zip_of(fresh(FileForm.DATA_PACKAGE, tmp_path / "in"), **{name: b"x"})
    with pytest.raises(Refusal, match="zip_path_outside"):
        take_in_package(archive, tmp_path / "again")
    assert [one.name for one in tmp_path.iterdir()] == ["in"]


def test_a_zip_that_blows_up_is_not_opened(tmp_path: Path) -> None:
    archive = zip_of(fresh(FileForm.DATA_PACKAGE, tmp_path / "in"), bomb=b"0" * 60_000_000)
    with pytest.raises(Refusal, match="zip_too_large"):
        take_in_package(archive, tmp_path / "again")


def test_a_hand_over_that_was_changed_is_refused(tmp_path: Path) -> None:
    bundle = fresh(FileForm.BUNDLE, tmp_path)
    (bundle / "data" / "papers" / "balance.pdf").write_bytes(b"another certificate")
    with pytest.raises(Refusal, match="bag_changed"):
        take_in_package(bundle, tmp_path / "again")
    assert [one.name for one in tmp_path.iterdir()] == [bundle.name]
