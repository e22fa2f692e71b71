"""Archives whose bytes were spoiled on the way, however they were packed: refused in words, wherever they come in."""

from __future__ import annotations

import json
import zipfile
from pathlib import Path

import pytest

from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.courier_files import ACTS, FORM, HEAD, read_courier_file
from findsdesk.exchange.unpacking import unpack

WAYS = {"stored": zipfile.ZIP_STORED, "deflated": zipfile.ZIP_DEFLATED, "bzip2": zipfile.ZIP_BZIP2}


def spoiled(folder: Path, how: int) -> Path:
    """Return an archive with a whole head and acts of which the first packed bytes were overwritten."""
    path = folder / f"spoiled {how}.zip"
    acts = "\n".join(f"act {number * number}" for number in range(3000))
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr(HEAD, json.dumps({"program": "findsdesk", "courier": FORM, "acts_sha256": "", "files": []}))
        archive.writestr(ACTS, acts, compress_type=how)
        member = archive.getinfo(ACTS)
    content = bytearray(path.read_bytes())
    begins = member.header_offset + 30 + len(ACTS)
    content[begins : begins + 64] = b"\xff" * 64
    path.write_bytes(content)
    return path


@pytest.mark.parametrize("how", [*WAYS.values(), zipfile.ZIP_LZMA], ids=[*WAYS, "lzma"])
def test_a_spoiled_archive_is_refused(tmp_path: Path, how: int) -> None:
    path = spoiled(tmp_path, how)
    (tmp_path / "into").mkdir()
    for code, read in (
        ("file_damaged", lambda: unpack(path, tmp_path / "into")),
        ("courier_damaged", lambda: read_courier_file(path)),
    ):
        with pytest.raises(Refusal) as caught:
            read()
        assert caught.value.code == code


def test_what_a_computer_put_beside_the_folder_is_not_taken_for_its_contents(tmp_path: Path) -> None:
    """Some computers pack a second folder of their own, and hidden files, with the one that somebody packed."""
    file = tmp_path / "series.zip"
    with zipfile.ZipFile(file, "w") as archive:
        for name in ("series/type-series.csv", "__MACOSX/series/._type-series.csv", ".hidden"):
            archive.writestr(name, "code\nQRS\n")
    into = tmp_path / "into"
    into.mkdir()
    assert unpack(file, into) == into / "series"
