"""Photographs: taken in under their hash before the row is written, refused in words, missed by ``prove`` when gone."""

from __future__ import annotations

import hashlib
import io
import zlib
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from PIL import Image

from findsdesk.desk.changing_pieces import change_piece
from findsdesk.desk.desk import Desk
from findsdesk.desk.discards import make_list
from findsdesk.desk.objects import Leaves, register_object
from findsdesk.desk.opening import open_store
from findsdesk.desk.photo_folders import where_photos_lie
from findsdesk.desk.photos import (
    add_photo,
    change_photo,
    photo_path,
    photos_of,
    take_off_photo,
    thumbnail_of,
)
from findsdesk.desk.piece_rows import PieceRow
from findsdesk.desk.pieces import lay_back, lift_pieces, pieces_of
from findsdesk.desk.playing import do
from findsdesk.desk.proving import FindingKind, prove
from findsdesk.desk.restoring import restore
from findsdesk.desk.setting_up import wares
from findsdesk.desk.sorting import add_group
from findsdesk.domain.refusals import StoreFault
from tests.desk.at_the_table import dry_container, refused
from tests.yard import put_settled, sitting

ZONE = ZoneInfo("Etc/GMT-2")


@pytest.fixture
def piece(desk: Desk) -> PieceRow:
    code = dry_container(desk, 131, 1)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=1)
    return lift_pieces(desk, row.id, seen=row.version).pieces[0]


def folder_of(desk: Desk) -> Path:
    """Return where the photographs of a desk lie: beside its file, or where the yard told it on a server."""
    folder = where_photos_lie(desk)
    assert folder is not None
    return folder


def drawn(folder: Path, name: str = "rim.jpg", size: tuple[int, int] = (800, 600), colour: str = "#B5653A") -> Path:
    """Write a picture of one colour as a photograph."""
    path = folder / name
    Image.new("RGB", size, colour).save(path)
    return path


@pytest.mark.parametrize(("name", "kind"), [("a.jpg", "jpeg"), ("a.png", "png"), ("a.tif", "tiff")])
def test_a_photograph_is_copied_in_under_its_hash(
    desk: Desk, piece: PieceRow, tmp_path: Path, name: str, kind: str
) -> None:
    file = drawn(tmp_path, name)
    photo = add_photo(desk, file, of=("piece", piece.id), note="with the tag")
    content = file.read_bytes()
    assert photo.sha256 == hashlib.sha256(content).hexdigest()
    assert (photo.kind, photo.width, photo.height, photo.size_bytes) == (kind, 800, 600, len(content))
    kept = photo_path(desk, photo)
    assert kept.read_bytes() == content
    assert kept.is_relative_to(folder_of(desk))
    file.unlink()
    assert photos_of(desk, ("piece", piece.id)) == (photo,)
    assert pieces_of(desk, "131")[0].photos == 1
    assert prove(desk).sound


def test_the_small_picture_stands_upright_and_is_made_again(desk: Desk, piece: PieceRow, tmp_path: Path) -> None:
    path = tmp_path / "turned.jpg"
    exif = Image.Exif()
    exif[0x0112] = 6  # the camera was turned by a quarter (EXIF orientation)
    Image.new("RGB", (800, 600)).save(path, exif=exif)
    photo = add_photo(desk, path, of=("piece", piece.id))
    small = thumbnail_of(desk, photo)
    assert Image.open(io.BytesIO(small)).size == (240, 320)
    for made in photo_path(desk, photo).parent.parent.glob("thumbnails/*"):
        made.unlink()
    assert thumbnail_of(desk, photo) == small


def test_what_the_camera_says_of_the_moment_is_kept(desk: Desk, piece: PieceRow, tmp_path: Path) -> None:
    path = tmp_path / "dated.jpg"
    exif = Image.Exif()
    exif.get_ifd(0x8769)[0x9003] = "2026:07:14 15:30:00"
    Image.new("RGB", (40, 30)).save(path, exif=exif)
    assert add_photo(desk, path, of=("piece", piece.id)).taken_on == datetime(2026, 7, 14, 15, 30, tzinfo=ZONE)


def test_one_picture_of_two_things_lies_there_once(desk: Desk, piece: PieceRow, tmp_path: Path) -> None:
    file = drawn(tmp_path)
    one = add_photo(desk, file, of=("piece", piece.id))
    other = add_photo(desk, file, of=("container", piece.container_id))
    assert photo_path(desk, one) == photo_path(desk, other)
    with refused(desk, "photo_there"):
        add_photo(desk, file, of=("piece", piece.id))


def test_a_piece_that_waited_for_a_photograph_waits_no_longer(desk: Desk, piece: PieceRow, tmp_path: Path) -> None:
    change_piece(desk, piece.id, seen=piece.version, photo_wanted=True)
    add_photo(desk, drawn(tmp_path), of=("piece", piece.id))
    assert not pieces_of(desk, "131")[0].photo_wanted


def test_a_photograph_is_taken_off_and_its_file_stays(desk: Desk, piece: PieceRow, tmp_path: Path) -> None:
    photo = add_photo(desk, drawn(tmp_path), of=("piece", piece.id))
    with refused(desk, "piece_in_use"):
        lay_back(desk, piece.id, seen=pieces_of(desk, "131")[0].version)
    noted = change_photo(desk, photo.id, seen=photo.version, note="outside")
    with refused(desk, "changed_meanwhile"):
        take_off_photo(desk, photo.id, seen=photo.version)
    take_off_photo(desk, photo.id, seen=noted.version)
    assert photos_of(desk, ("piece", piece.id)) == ()
    assert photo_path(desk, photo).exists()
    with refused(desk, "photo_off"):
        change_photo(desk, photo.id, seen=1, note="x")


def broken(folder: Path) -> Path:
    path = drawn(folder, "broken.png")
    path.write_bytes(path.read_bytes()[:-600])
    return path


def large(folder: Path) -> Path:
    """Return the beginning of a PNG of 300 megapixels: its size stands in its head (PNG specification, IHDR)."""
    path = drawn(folder, "large.png", (10, 10))
    content = bytearray(path.read_bytes())
    content[16:24] = (20_000).to_bytes(4, "big") + (15_000).to_bytes(4, "big")
    content[29:33] = zlib.crc32(content[12:29]).to_bytes(4, "big")
    path.write_bytes(content)
    return path


def text(folder: Path) -> Path:
    path = folder / "notes.jpg"
    path.write_text("no photograph")
    return path


def gif(folder: Path) -> Path:
    return drawn(folder, "moving.gif")


def gone(folder: Path) -> Path:
    return folder / "gone.jpg"


@pytest.mark.parametrize(
    ("make", "code"),
    [
        (broken, "photo_damaged"),
        (large, "photo_too_large"),
        (text, "not_a_photo"),
        (gif, "not_a_photo"),
        (gone, "no_photo_file"),
    ],
)
def test_what_is_no_photograph(desk: Desk, piece: PieceRow, tmp_path: Path, make: object, code: str) -> None:
    assert callable(make)
    with refused(desk, code):
        add_photo(desk, make(tmp_path), of=("piece", piece.id))
    assert not list(folder_of(desk).rglob("*"))


def test_a_picture_of_nothing(desk: Desk, tmp_path: Path) -> None:
    with refused(desk, "nothing_pictured"):
        add_photo(desk, drawn(tmp_path), of=("piece", 12))


def test_a_file_that_is_gone_or_changed_is_told(desk: Desk, piece: PieceRow, tmp_path: Path) -> None:
    photo = add_photo(desk, drawn(tmp_path), of=("piece", piece.id))
    path = photo_path(desk, photo)
    content = path.read_bytes()
    path.write_bytes(content[:-1] + b"x")
    with pytest.raises(StoreFault) as caught:
        photo_path(desk, photo)
    assert caught.value.code == "photo_changed"
    assert [finding.kind for finding in prove(desk).findings] == [FindingKind.PHOTO]
    path.unlink()
    with pytest.raises(StoreFault) as caught:
        photo_path(desk, photo)
    assert caught.value.code == "photo_gone"
    (finding,) = prove(desk).findings
    assert finding.in_words() == "The file of the photograph rim.jpg is gone from the folder of the photographs."
    again = tmp_path / "again.jpg"
    again.write_bytes(content)
    add_photo(desk, again, of=("container", piece.container_id))
    assert prove(desk).sound


def test_a_restored_copy_has_its_photographs(desk: Desk, piece: PieceRow, tmp_path: Path) -> None:
    if desk.store.path is None:
        pytest.skip("a store on a server is copied there, by whoever looks after it")
    add_photo(desk, drawn(tmp_path), of=("piece", piece.id))
    copy = desk.copy()
    assert copy is not None
    again = open_store(restore(copy.path, tmp_path / "elsewhere" / "again"))
    try:
        assert prove(again).sound
        assert len(photos_of(again, ("piece", piece.id))) == 1
    finally:
        again.close()


def test_a_folder_that_cannot_be_written_is_told_and_nothing_is_kept(
    desk: Desk, piece: PieceRow, tmp_path: Path
) -> None:
    folder_of(desk).mkdir(exist_ok=True)
    (folder_of(desk) / "thumbnails").write_text("in the way")
    head = desk.head()
    with pytest.raises(StoreFault) as caught:
        add_photo(desk, drawn(tmp_path), of=("piece", piece.id))
    assert caught.value.code == "photo_not_kept"
    assert desk.head() == head


def test_by_name(desk: Desk, piece: PieceRow, tmp_path: Path) -> None:
    register_object(desk, "131", what="coin", material="coin", leaves=Leaves.NOT_COUNTED)
    file = str(drawn(tmp_path))
    for of in ("131.1", piece.code, "131", "object 1", "deposit 2017", "ware QRS"):
        if of != piece.code:
            do(desk, "photograph", {}, (file, of))
    with refused(desk, "photo_there"):
        do(desk, "photograph", {}, (file, piece.code))
    (ware,) = [one for one in wares(desk) if one.code == "QRS"]
    assert len(photos_of(desk, ("ware", ware.id))) == 1
    with refused(desk, "unknown_vessel"):
        do(desk, "photograph", {}, (file, "vessel 9"))
    put_settled(desk, 140, discarded=10)
    made = make_list(sitting(desk, "Oren"))
    do(desk, "photograph", {}, (file, "list 1"))
    assert len(photos_of(desk, ("discard_list", made.facts.id))) == 1
    with refused(desk, "photo_there"):
        do(desk, "photograph", {}, (file, "list 2026/1"))
    with refused(desk, "unknown_list_number"):
        do(desk, "photograph", {}, (file, "list 7"))
