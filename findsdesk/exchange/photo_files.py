"""Photographs as files: what one is, whether it is whole, and a small picture of it. JPEG, PNG and TIFF only."""

from __future__ import annotations

import hashlib
import io
import struct
from dataclasses import dataclass
from datetime import datetime, tzinfo
from pathlib import Path

from PIL import Image, ImageOps, UnidentifiedImageError

from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

MOST_MEGAPIXELS = 100
SUFFIXES = {"jpeg": ".jpg", "png": ".png", "tiff": ".tif"}
"""Kinds that are taken in, and how their files end in the store's folder."""
THUMBNAIL_PX = 320
"""The longer side of a small picture."""
_KINDS = {"JPEG": "jpeg", "MPO": "jpeg", "PNG": "png", "TIFF": "tiff"}
_FORMATS = ("JPEG", "PNG", "TIFF")
_DECODER_FAULTS = (
    OSError,
    ValueError,
    SyntaxError,
    MemoryError,
    TypeError,
    LookupError,
    ArithmeticError,
    AttributeError,
    EOFError,
    struct.error,
)
"""What Pillow was seen to raise over bytes that are no whole photograph, or may: none of it is a fault of ours."""
_EXIF_IFD, _TAKEN, _OFFSET = 0x8769, 0x9003, 0x9011

# The number of pixels is looked at here before any is read; Pillow's own limit would refuse earlier, in its own words.
Image.MAX_IMAGE_PIXELS = None


@dataclass(frozen=True, slots=True)
class PhotoFile:
    """A photograph as it came: its bytes with their SHA-256, kind, size in pixels, a small picture as JPEG.

    ``taken_on`` is what the camera says (its clock may be wrong), None where it says nothing.
    """

    content: bytes
    sha256: str
    file_name: str
    kind: str
    width: int
    height: int
    taken_on: datetime | None
    thumbnail: bytes


def read_photo(path: Path, zone: tzinfo) -> PhotoFile:
    """Read a photograph and prove that all of it can be seen; moments without an offset are of ``zone``.

    Refusals: ``no_photo_file`` (gone, or cannot be read), ``not_a_photo``, ``photo_too_large`` (above 100 megapixels),
    ``photo_damaged``.
    """
    try:
        content = path.read_bytes()
    except OSError as error:
        raise Refusal(
            "no_photo_file", N_("{file} is not there or cannot be read. Choose the photograph again."), file=path.name
        ) from error
    return photo_from(content, path.name, zone)


def photo_from(content: bytes, file_name: str, zone: tzinfo) -> PhotoFile:
    """Return what bytes show as a photograph. Refusals: those of ``read_photo`` except ``no_photo_file``."""
    image = _opened(content, file_name)
    width, height = image.size
    if width * height > MOST_MEGAPIXELS * 1_000_000:
        raise Refusal(
            "photo_too_large",
            N_("{file} has {megapixels} megapixels; {most} is the most. Save it smaller and take that in."),
            file=file_name,
            megapixels=round(width * height / 1_000_000),
            most=MOST_MEGAPIXELS,
        )
    try:
        image.load()
        small = _small(image)
        taken_on = _taken_on(image, zone)
    except _DECODER_FAULTS as error:
        raise _damaged(file_name) from error
    return PhotoFile(
        content,
        hashlib.sha256(content).hexdigest(),
        file_name,
        _KINDS[str(image.format)],
        width,
        height,
        taken_on,
        small,
    )


def thumbnail_of(content: bytes, file_name: str) -> bytes:
    """Return the small picture of a photograph as JPEG. Refusals: ``not_a_photo``, ``photo_damaged``."""
    try:
        return _small(_opened(content, file_name))
    except _DECODER_FAULTS as error:
        raise _damaged(file_name) from error


def _opened(content: bytes, file_name: str) -> Image.Image:
    try:
        return Image.open(io.BytesIO(content), formats=_FORMATS)
    except UnidentifiedImageError as error:
        raise Refusal(
            "not_a_photo",
            N_("{file} is no JPEG, PNG or TIFF. Save the photograph as one of them and take that in."),
            file=file_name,
        ) from error
    except _DECODER_FAULTS as error:
        raise _damaged(file_name) from error


def _damaged(file_name: str) -> Refusal:
    return Refusal(
        "photo_damaged",
        N_("{file} is damaged: not all of it can be seen. Copy it from the camera once more."),
        file=file_name,
    )


def _small(image: Image.Image) -> bytes:
    upright = ImageOps.exif_transpose(image)
    upright.thumbnail((THUMBNAIL_PX, THUMBNAIL_PX))
    out = io.BytesIO()
    upright.convert("RGB").save(out, "JPEG", quality=82)
    return out.getvalue()


def _taken_on(image: Image.Image, zone: tzinfo) -> datetime | None:
    said = image.getexif().get_ifd(_EXIF_IFD)
    moment, offset = (str(said.get(tag, "")).strip("\0 ") for tag in (_TAKEN, _OFFSET))
    try:
        if offset:
            return datetime.strptime(f"{moment} {offset}", "%Y:%m:%d %H:%M:%S %z")
        return datetime.strptime(moment, "%Y:%m:%d %H:%M:%S").replace(tzinfo=zone)
    except ValueError:
        return None
