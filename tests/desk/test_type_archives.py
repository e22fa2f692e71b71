"""Type series with their pictures: out and in again the same, all or nothing, twice adds nothing, taken back whole."""

from __future__ import annotations

import csv
import hashlib
import io
import zipfile
import zlib
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PIL import Image
from sqlalchemy import select

from findsdesk.desk.changing_set_up import change_ware
from findsdesk.desk.desk import Desk
from findsdesk.desk.named_photos import subject_named
from findsdesk.desk.photo_folders import where_photos_lie
from findsdesk.desk.photos import PhotoFacts, add_photo, photo_path, photos_of, take_off_photo
from findsdesk.desk.proving import prove
from findsdesk.desk.setting_up import add_ware, wares
from findsdesk.desk.type_files import WrittenTypes, take_in_types, write_types
from findsdesk.desk.type_series import add_form, forms, merge_wares, remove_form, remove_ware
from findsdesk.desk.types_taken_back import take_back_types
from findsdesk.domain.refusals import Question
from findsdesk.domain.type_pictures import PICTURE_COLUMNS
from findsdesk.exchange.writing import Sheet, write_xlsx
from findsdesk.store.models import Photo
from tests.desk.at_the_table import refused
from tests.yard import new_yard

ROWS = (
    "kind,code,name,ware,from,to,source,note\nware,IPA,Island Painted,,151 BCE,100,Vade 2025,\nform,IPA1,jug,IPA,,,,\n"
)


def drawn(colour: str = "#a9542f", kind: str = "PNG") -> bytes:
    """Return a small picture of one colour."""
    out = io.BytesIO()
    Image.new("RGB", (40, 30), colour).save(out, kind)
    return out.getvalue()


def pictures(desk: Desk, of: str) -> tuple[PhotoFacts, ...]:
    """Return the pictures of a ware or form by its name."""
    return photos_of(desk, subject_named(desk, of))


def listed(*lines: tuple[str, ...]) -> str:
    """Return a list of pictures as it is written by hand."""
    out = io.StringIO()
    csv.writer(out).writerows((PICTURE_COLUMNS, *lines))
    return out.getvalue()


def packed(folder: Path, lines: str, files: dict[str, bytes], rows: str = ROWS, name: str = "series.zip") -> Path:
    """Write an archive by hand."""
    with zipfile.ZipFile(folder / name, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("type-series.csv", rows)
        archive.writestr("pictures.csv", lines)
        for file, content in files.items():
            archive.writestr(file, content)
    return folder / name


@pytest.fixture
def series(desk: Desk, tmp_path: Path) -> Path:
    """Return the series of a yard with pictures of two wares and a form, one of them of two codes, as an archive."""
    add_ware(desk, code="IPA", name="Island Painted", earliest=-150, latest=100, source="Vade 2025")
    add_form(desk, code="IPA1", name="jug, tall", ware="IPA", earliest=-50, latest=50, note="=odd")
    for name, kind, of in (
        ("rim.png", "PNG", "ware IPA"),
        ("jug.jpg", "JPEG", "form IPA1"),
        ("rim.png", "PNG", "ware QRS"),
    ):
        (tmp_path / name).write_bytes(drawn(kind=kind))
        add_photo(desk, tmp_path / name, of=subject_named(desk, of), note=f"{of}, drawn")
    path = tmp_path / "series.zip"
    assert write_types(desk, path) == WrittenTypes(rows=len(wares(desk)) + 1, pictures=3)
    return path


@pytest.fixture
def other(tmp_path: Path) -> Iterator[Desk]:
    """Return a store without wares, forms and pictures."""
    away = tmp_path / "other"
    away.mkdir()
    empty = new_yard(away, name="other")
    for ware in wares(empty):
        remove_ware(empty, ware.code)
    yield empty
    empty.let_go()


def series_of(desk: Desk) -> tuple[object, ...]:
    """Return what a store says of its wares, forms and their pictures, without ids and moments."""
    said = [(one.code, one.name, one.earliest, one.latest, one.source, one.note) for one in wares(desk)]
    of_forms = [(f.code, f.name, f.ware, f.earliest, f.latest, f.source, f.note) for f in forms(desk)]
    names = [*(f"ware {one.code}" for one in wares(desk)), *(f"form {one.code}" for one in forms(desk))]
    shown = {
        name: [(one.sha256, one.file_name, one.kind, one.width, one.note) for one in pictures(desk, name)]
        for name in names
    }
    return said, of_forms, shown


def test_a_series_with_pictures_comes_back_the_same_in_an_empty_store(desk: Desk, series: Path, other: Desk) -> None:
    taken = take_in_types(other, series)
    assert (len(taken.added), taken.changed, taken.same, taken.pictures) == (len(wares(desk)) + 1, (), 0, 3)
    assert series_of(other) == series_of(desk)
    (jug,) = pictures(other, "form IPA1")
    content = photo_path(other, jug).read_bytes()
    assert hashlib.sha256(content).hexdigest() == jug.sha256 == hashlib.sha256(drawn(kind="JPEG")).hexdigest()
    assert prove(other).sound
    before = other.head()
    again = take_in_types(other, series)
    assert (again.added, again.changed, again.same, again.pictures) == ((), (), len(wares(desk)) + 1, 0)
    assert other.head() == before, "twice adds nothing, not even an act"


def test_the_archive_is_plain_and_open(desk: Desk, series: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(series) as archive:
        assert archive.testzip() is None
        names = archive.namelist()
        lines = list(csv.DictReader(io.StringIO(archive.read("pictures.csv").decode("utf-8-sig"))))
        for line in lines:
            assert hashlib.sha256(archive.read(line["file"])).hexdigest() == line["sha256"]
    assert [(line["kind"], line["code"], line["name"]) for line in lines] == [
        ("ware", "IPA", "rim.png"), ("ware", "QRS", "rim.png"), ("form", "IPA1", "jug.jpg"),
    ]  # fmt: skip
    assert len(names) == 4, "a picture of two codes lies there once"
    alone = tmp_path / "alone.csv"
    assert write_types(desk, alone).pictures == 0
    with zipfile.ZipFile(series) as archive:
        assert archive.read("type-series.csv") == alone.read_bytes()


def test_a_folder_and_a_plain_table_come_in_too(desk: Desk, series: Path, other: Desk, tmp_path: Path) -> None:
    write_types(desk, tmp_path / "alone.csv")
    assert take_in_types(other, tmp_path / "alone.csv").pictures == 0
    with zipfile.ZipFile(series) as archive:
        archive.extractall(tmp_path / "brought" / "series")
    taken = take_in_types(other, tmp_path / "brought" / "series")
    assert (taken.added, taken.changed, taken.pictures) == ((), (), 3), "codes that were there get their pictures"
    assert series_of(other) == series_of(desk)


def test_a_list_made_by_hand_needs_no_hashes(desk: Desk, tmp_path: Path) -> None:
    lines = listed(
        ("", "ipa", "./drawings\\jug.png", "", "", ""), ("form", "IPA1", "drawings/jug.png", "", "a/b.png", "x")
    )
    path = packed(tmp_path, lines, {"drawings/jug.png": drawn()})
    assert take_in_types(desk, path).pictures == 2
    assert [photo.file_name for photo in pictures(desk, "ware IPA")] == ["jug.png"]
    assert [(photo.file_name, photo.note) for photo in pictures(desk, "form IPA1")] == [("b.png", "x")]


def test_a_picture_whose_file_is_gone_is_named_and_left_out(desk: Desk, series: Path, tmp_path: Path) -> None:
    (jug,) = pictures(desk, "form IPA1")
    photo_path(desk, jug).unlink()
    written = write_types(desk, tmp_path / "again.zip")
    assert (written.pictures, written.missing) == (2, ("jug.jpg",))


def test_a_table_corrected_in_a_spreadsheet_and_an_archive_of_another_name(desk: Desk, tmp_path: Path) -> None:
    brought = tmp_path / "brought"
    brought.mkdir()
    rows = [line.split(",") for line in ROWS.splitlines()]
    write_xlsx([Sheet("types", rows[0], rows[1:])], brought / "type-series.xlsx")
    (brought / "pictures.csv").write_text(listed(("ware", "IPA", "a.png", "", "", "")), "utf-8")
    (brought / "a.png").write_bytes(drawn())
    taken = take_in_types(desk, brought)
    assert (len(taken.added), taken.pictures) == (2, 1)
    renamed = packed(tmp_path, listed(("ware", "IPA", "a.png", "", "", "")), {"a.png": drawn()}, name="series.2026")
    taken = take_in_types(desk, renamed)
    assert (taken.added, taken.same, taken.pictures) == ((), 2, 0)


def test_a_picture_of_too_many_bytes_is_not_read_whole(
    desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("findsdesk.exchange.type_archives.LARGEST_FILE", len(drawn()) - 1)
    with refused(desk, "picture_too_large"):
        take_in_types(desk, packed(tmp_path, listed(("ware", "IPA", "a.png", "", "", "")), {"a.png": drawn()}))


SHA = hashlib.sha256(drawn()).hexdigest()


def large() -> bytes:
    """Return the beginning of a PNG of 400 megapixels: its size stands in its head (PNG specification, IHDR)."""
    content = bytearray(drawn())
    content[16:24] = (20_000).to_bytes(4, "big") * 2
    content[29:33] = zlib.crc32(content[12:29]).to_bytes(4, "big")
    return bytes(content)


WRONG: dict[str, tuple[tuple[str, ...], dict[str, bytes]]] = {
    "picture_missing": (("ware", "IPA", "pictures/gone.png", "", "", ""), {}),
    "picture_changed": (("ware", "IPA", "a.png", SHA, "", ""), {"a.png": drawn("#112233")}),
    "not_a_photo": (("ware", "IPA", "a.png", "", "", ""), {"a.png": b"a note"}),
    "photo_damaged": (("ware", "IPA", "a.jpg", "", "", ""), {"a.jpg": drawn(kind="JPEG")[:300]}),
    "photo_too_large": (("ware", "IPA", "a.png", "", "", ""), {"a.png": large()}),
    "unknown_type": (("form", "IPA", "a.png", "", "", ""), {"a.png": drawn()}),
    "code_merged": (("ware", "TGY", "a.png", "", "", ""), {"a.png": drawn()}),
    "type_picture_unreadable": (("pot", "IPA", "a.png", "", "", ""), {"a.png": drawn()}),
}


@pytest.mark.parametrize("code", WRONG)
def test_a_wrong_picture_is_named_by_its_line_and_nothing_is_taken_in(desk: Desk, tmp_path: Path, code: str) -> None:
    merge_wares(desk, "TGY", "CSJ", sure=True)
    wrong, files = WRONG[code]
    lines = listed(("ware", "IPA", "good.png", "", "", ""), wrong)
    path = packed(tmp_path, lines, {"good.png": drawn("#445566")} | files)
    with refused(desk, code) as caught:
        take_in_types(desk, path)
    if code != "code_merged":
        assert caught.value.in_words().startswith("Line 3 of the list of pictures: ")
    folder = where_photos_lie(desk)
    assert folder is not None
    assert not list(folder.rglob("*.png")), "no file is left either"


def test_all_wrong_pictures_are_told_at_once(desk: Desk, tmp_path: Path) -> None:
    named = ("picture_missing", "not_a_photo", "unknown_type", "type_picture_unreadable")
    lines = listed(*((*WRONG[code][0][:2], f"{n}.png", "", "", "") for n, code in enumerate(named)))
    files = {"1.png": b"a note", "2.png": drawn(), "3.png": drawn()}
    with refused(desk, "type_file_faulty") as caught:
        take_in_types(desk, packed(tmp_path, lines, files))
    for line in (2, 3, 4, 5):
        assert f"Line {line} of the pictures: " in caught.value.in_words()


@pytest.mark.parametrize(
    "line",
    [("ware", "IPA", "", "", "", ""), ("ware", "", "a.png", "", "", ""), ("ware", "IPA", "a.png", "abc", "", "")],
)
def test_a_line_that_lacks_something(desk: Desk, tmp_path: Path, line: tuple[str, ...]) -> None:
    with refused(desk, "type_picture_unreadable"):
        take_in_types(desk, packed(tmp_path, listed(line), {"a.png": drawn()}))


@pytest.mark.parametrize(
    "name", ["../secret.png", "{there}", "pictures/../../secret.png", "C:/secret.png", "\\secret.png"]
)
def test_a_list_reads_nothing_outside_its_archive(desk: Desk, tmp_path: Path, name: str) -> None:
    (tmp_path / "secret.png").write_bytes(drawn())
    lines = listed(("ware", "IPA", name.format(there=tmp_path / "secret.png"), "", "", ""))
    for brought in (packed(tmp_path, lines, {}), tmp_path / "brought"):
        if not brought.exists():
            brought.mkdir()
            with zipfile.ZipFile(tmp_path / "series.zip") as archive:
                archive.extractall(brought)
        with refused(desk, "picture_missing"):
            take_in_types(desk, brought)


def outside(folder: Path) -> Path:
    """Return an archive of which one name leads out."""
    return packed(folder, listed(), {"../../outside.png": drawn()})


def bomb(folder: Path) -> Path:
    """Return an archive that unpacks to far more than it holds."""
    return packed(folder, listed(), {"pictures/zeros.png": bytes(30_000_000)})


def cut(folder: Path) -> Path:
    """Return an archive that was cut off on the way."""
    path = packed(folder, listed(), {"a.png": drawn()})
    path.write_bytes(path.read_bytes()[:-40])
    return path


def without_table(folder: Path) -> Path:
    """Return an archive that holds pictures alone."""
    with zipfile.ZipFile(folder / "pictures.zip", "w") as archive:
        archive.writestr("a.png", drawn())
    return folder / "pictures.zip"


def nothing(folder: Path) -> Path:
    """Return a file of no bytes."""
    (folder / "empty.zip").touch()
    return folder / "empty.zip"


ARCHIVES: list[tuple[Callable[[Path], Path], str]] = [
    (outside, "zip_path_outside"),
    (bomb, "zip_too_large"),
    (cut, "file_damaged"),
    (without_table, "no_type_series"),
    (nothing, "file_empty"),
]


@pytest.mark.parametrize(("made", "code"), ARCHIVES, ids=[code for _made, code in ARCHIVES])
def test_an_archive_that_is_not_what_it_should_be(
    desk: Desk, tmp_path: Path, made: Callable[[Path], Path], code: str
) -> None:
    with refused(desk, code):
        take_in_types(desk, made(tmp_path))


def test_a_file_is_taken_back_with_the_links_of_its_pictures(desk: Desk, series: Path, other: Desk) -> None:
    add_ware(other, code="QRS", name="Red", latest=300)
    before = series_of(other)
    take_in_types(other, series, sure=True)
    (jug,) = pictures(other, "form IPA1")
    kept = photo_path(other, jug)
    with pytest.raises(Question) as asked:
        take_back_types(other)
    assert asked.value.code == "types_go_out"
    assert "6 codes and 3 pictures would go out again; 1 changed code would" in asked.value.in_words()
    assert take_back_types(other, sure=True).file_name == "series.zip"
    assert series_of(other) == before
    with other.reading() as reading:
        assert reading.session.execute(select(Photo)).first() is None
    assert kept.exists(), "the journal names it"
    assert prove(other).sound
    with refused(other, "no_types_taken"):
        take_back_types(other, sure=True)
    assert take_in_types(other, series, sure=True).pictures == 3


def test_pictures_alone_are_taken_back_alone(desk: Desk, tmp_path: Path) -> None:
    take_in_types(desk, packed(tmp_path, listed(), {}))
    before = series_of(desk)
    lines = listed(("ware", "IPA", "a.png", "", "", ""))
    take_in_types(desk, packed(tmp_path, lines, {"a.png": drawn()}, name="more.zip"))
    assert len(pictures(desk, "ware IPA")) == 1
    take_back_types(desk, "more.zip", sure=True)
    assert series_of(desk) == before


def test_what_was_used_or_changed_since_is_not_taken_back(desk: Desk, tmp_path: Path) -> None:
    lines = listed(("ware", "IPA", "a.png", "", "", ""))
    path = packed(tmp_path, lines, {"a.png": drawn()}, ROWS + "ware,QRS,Red,,180,320,,\n")
    take_in_types(desk, path, sure=True)
    later = add_form(desk, code="IPA2", ware="IPA")
    with refused(desk, "used_since"):
        take_back_types(desk, sure=True)
    remove_form(desk, later.code)
    change_ware(desk, "QRS", note="rare")
    with refused(desk, "changed_since") as caught:
        take_back_types(desk, sure=True)
    assert caught.value.facts["deed"] == "ware changed"


def test_a_picture_taken_off_since_keeps_the_file_from_being_taken_back(desk: Desk, tmp_path: Path) -> None:
    take_in_types(desk, packed(tmp_path, listed(("ware", "IPA", "a.png", "", "", "")), {"a.png": drawn()}))
    (photo,) = pictures(desk, "ware IPA")
    take_off_photo(desk, photo.id, seen=photo.version)
    with refused(desk, "changed_since"):
        take_back_types(desk, sure=True)


def test_a_form_does_not_go_back_to_a_ware_that_is_gone(desk: Desk, tmp_path: Path) -> None:
    add_ware(desk, code="OLD", name="Old")
    add_form(desk, code="F1", ware="OLD")
    rows = "kind,code,name,ware,from,to,source,note\nform,F1,,QRS,,,,\n"
    take_in_types(desk, packed(tmp_path, listed(), {}, rows), sure=True)
    remove_ware(desk, "OLD")
    with refused(desk, "ware_gone_since"):
        take_back_types(desk, sure=True)
