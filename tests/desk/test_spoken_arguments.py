"""Arguments of a use case as text: read by the types it declares."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from pathlib import Path
from typing import Literal, TypedDict, Unpack

import pytest

from findsdesk.desk.bagging import bag
from findsdesk.desk.deeds_by_name import DEEDS
from findsdesk.desk.spoken_arguments import read_arguments, spoken_arguments
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Hold, StepKind


class Said(TypedDict, total=False):
    """What is gathered under one name."""

    rim_diameter_mm: int | None
    wall_tenths_mm: int | None


def deed(
    desk: object,
    tag: str,
    pieces: int,
    *,
    tenths: int | None = None,
    opening_mm: int | None = None,
    day: date | None = None,
    reason: Hold = Hold.OTHER,
    how: StepKind | None = None,
    codes: Iterable[str] = (),
    given: Mapping[str, str] | None = None,
    order: Literal["dmy", "mdy"] | None = None,
    file: Path | None = None,
    sure: bool = False,
    **said: Unpack[Said],
) -> None:
    """A use case with a parameter of each kind."""


def test_each_kind_is_read() -> None:
    texts = {
        "grams": "12,5",
        "opening": "4.188",
        "day": "2026-07-14",
        "reason": "painted",
        "how": "left-unwashed",
        "codes": "1, 2,3",
        "given": "material=pottery, square=B2",
        "order": "dmy",
        "file": "lists/a.csv",
        "sure": "yes",
        "rim_diameter": "18 cm",
        "wall": "6,5",
    }
    assert read_arguments(deed, texts, ("131", "132"), folder=Path("there")) == {
        "tag": "131",
        "pieces": 132,
        "tenths": 125,
        "opening_mm": 4188,
        "day": date(2026, 7, 14),
        "reason": Hold.PAINTED,
        "how": StepKind.LEFT_UNWASHED,
        "codes": ("1", "2", "3"),
        "given": {"material": "pottery", "square": "B2"},
        "order": "dmy",
        "file": Path("there/lists/a.csv"),
        "sure": True,
        "rim_diameter_mm": 180,
        "wall_tenths_mm": 65,
    }


def test_nothing_said_of_what_may_be_missing() -> None:
    assert read_arguments(deed, {"grams": "", "day": "-"}, ("131", "0")) == {
        "tag": "131", "pieces": 0, "tenths": None, "day": None,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("arguments", "positional", "code"),
    [
        ({}, ("131",), "argument_missing"),
        ({"colour": "red"}, ("131", "1"), "unknown_argument"),
        ({"day": "14 July"}, ("131", "1"), "argument_unreadable"),
        ({"reason": "blue"}, ("131", "1"), "argument_unreadable"),
        ({"sure": "perhaps"}, ("131", "1"), "argument_unreadable"),
        ({"rim_diameter": "180.5"}, ("131", "1"), "too_fine"),
        ({"wall": "6.55"}, ("131", "1"), "too_fine"),
        ({"wall": "-6"}, ("131", "1"), "negative"),
        ({"rim_diameter": "0.18 m"}, ("131", "1"), "wrong_unit"),
        ({"opening": "4188 mm"}, ("131", "1"), "wrong_unit"),
        ({"order": "ymd"}, ("131", "1"), "argument_unreadable"),
        ({"given": "pottery"}, ("131", "1"), "argument_unreadable"),
        ({}, ("131", "12.5"), "fraction"),
        ({}, ("131", *"12345678901234"), "too_many_arguments"),
    ],
)
def test_what_cannot_be_read_is_refused(arguments: dict[str, str], positional: tuple[str, ...], code: str) -> None:
    with pytest.raises(Refusal) as caught:
        read_arguments(deed, arguments, positional)
    assert caught.value.code == code
    assert "{" not in caught.value.in_words()


def test_what_cannot_be_said_in_text_is_not_offered() -> None:
    assert [one.name for one in spoken_arguments(bag)] == ["tag"]


@pytest.mark.parametrize("name", DEEDS)
def test_every_deed_can_be_said(name: str) -> None:
    spoken = spoken_arguments(DEEDS[name])
    assert all(one.name.isidentifier() for one in spoken)
