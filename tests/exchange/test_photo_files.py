"""Photographs as files: whatever bytes come, they are a photograph or they are refused in words."""

from __future__ import annotations

import io
import warnings
from zoneinfo import ZoneInfo

import pytest
from PIL import Image

from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.photo_files import photo_from, thumbnail_of

UTC = ZoneInfo("UTC")
ORIENTATION, MOMENT, EXIF_IFD, TAKEN = 0x0112, 0x0132, 0x8769, 0x9003


def picture(kind: str, **how: object) -> bytes:
    """Return a small picture that a camera held upright, with the moment it was taken at."""
    said = Image.Exif()
    said[ORIENTATION], said[MOMENT] = 6, "2026:07:14 10:00:00"
    said.get_ifd(EXIF_IFD)[TAKEN] = "2026:07:14 10:00:00"
    out = io.BytesIO()
    Image.linear_gradient("L").resize((24, 16)).convert("RGB").save(out, kind, exif=said, **how)
    return out.getvalue()


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "TIFF"])
def test_no_byte_of_the_head_can_bring_more_than_a_refusal(kind: str, capfd: pytest.CaptureFixture[str]) -> None:
    whole = picture(kind)
    refused: list[str] = []
    for place in range(2, min(len(whole), 200)):
        for value in (0, 3, 255):
            content = whole[:place] + bytes([value]) + whole[place + 1 :]
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")
                try:
                    photo_from(content, "rim", UTC)
                except Refusal as refusal:
                    refused.append(refusal.code)
    assert refused
    assert set(refused) <= {"not_a_photo", "photo_damaged", "photo_too_large"}
    capfd.readouterr()


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "TIFF"])
def test_a_photograph_cut_short_is_damaged_wherever_it_is_cut(kind: str, capfd: pytest.CaptureFixture[str]) -> None:
    whole = picture(kind)
    for share in (0.2, 0.5, 0.8):
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            for look in (lambda cut: photo_from(cut, "rim", UTC), lambda cut: thumbnail_of(cut, "rim")):
                with pytest.raises(Refusal) as caught:
                    look(whole[: int(len(whole) * share)])
                assert caught.value.code in ("photo_damaged", "not_a_photo")
    capfd.readouterr()


def of_300_megapixels(kind: str) -> bytes:
    """Return a picture that says 20,000 × 15,000 pixels: a TIFF of one bit each, or a JPEG's changed head."""
    out = io.BytesIO()
    if kind == "TIFF":
        Image.new("1", (20_000, 15_000)).save(out, kind, compression="group4")
        return out.getvalue()
    Image.new("L", (16, 16)).save(out, kind)
    content = bytearray(out.getvalue())
    frame = content.index(b"\xff\xc0")
    content[frame + 5 : frame + 9] = (15_000).to_bytes(2, "big") + (20_000).to_bytes(2, "big")
    return bytes(content)


@pytest.mark.parametrize("kind", ["JPEG", "TIFF"])
def test_300_megapixels_are_refused_by_their_head(kind: str) -> None:
    with pytest.raises(Refusal) as caught:
        photo_from(of_300_megapixels(kind), "pit.tif", UTC)
    assert caught.value.code == "photo_too_large"
    assert "pit.tif has 300 megapixels" in caught.value.in_words()
