"""Set-up files: what is wrong is said by key and value, and then nothing is left behind."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Terminal

GOOD = """\
[excavation]
name = "Alder Weir"
code = "AWR"
time_zone = "UTC"

[settings]
tubs = 2

[grid]
squares = ["North"]

[[people]]
name = "Rue"
role = "wash lead"

[[seasons]]
name = "third"
starts = 2026-07-01
ends = 2026-08-01
"""

WRONG = [
    ('code = "AWR"', 'code = "ALDER"', "ALDER"),
    ('code = "AWR"', "", "[excavation] lacks code"),
    ('time_zone = "UTC"', 'time_zone = "Weir"', "time_zone in [excavation] is “Weir”"),
    ("tubs = 2", "tubs = true", "tubs in [settings] is True"),
    ("tubs = 2", "tubz = 2", "nothing is known of tubz in [settings]"),
    ("tubs = 2", "soak_shortest_h = 50", "50"),
    ('squares = ["North"]', 'squares = "North"', "squares in [grid] is “North”"),
    ('role = "wash lead"', 'role = "cook"', "role in [[people]] 1 is “cook”. Choose one of: wash lead"),
    ("starts = 2026-07-01", 'starts = "1 July"', "starts in [[seasons]] 1 is “1 July”"),
    ("starts = 2026-07-01", "starts = 2026-09-01", "A season cannot end"),
    ("ends = 2026-08-01", "", "[[seasons]] 1 lacks ends"),
    ("[[seasons]]", "[seasons]", "seasons is"),
    ("[grid]", "grid", "set-up.toml cannot be read"),
]


@pytest.mark.parametrize(("good", "wrong", "said"), WRONG, ids=[said for _good, _wrong, said in WRONG])
def test_what_is_wrong_is_named_and_nothing_is_left(
    good: str, wrong: str, said: str, tmp_path: Path, terminal: Terminal
) -> None:
    (tmp_path / "set-up.toml").write_text(GOOD.replace(good, wrong, 1), encoding="utf-8")
    answer = terminal("new", tmp_path / "store" / "weir", "--from", tmp_path / "set-up.toml")
    assert answer.code == 1
    assert said in answer.err
    assert [file for file in tmp_path.rglob("*") if "weir" in file.name] == []


def test_a_deposit_that_cannot_be_opened_leaves_no_store(tmp_path: Path, terminal: Terminal) -> None:
    wrong = GOOD + '\n[[deposits]]\nnumber = "7"\nsquare = "West"\nopened = 2026-07-02\n'
    (tmp_path / "set-up.toml").write_text(wrong, encoding="utf-8")
    answer = terminal("new", tmp_path / "weir", "--from", tmp_path / "set-up.toml")
    assert (answer.code, "There is no square West" in answer.err) == (1, True)
    assert not list(tmp_path.glob("weir*"))


def test_the_good_file_makes_the_store(tmp_path: Path, terminal: Terminal) -> None:
    (tmp_path / "set-up.toml").write_text(GOOD, encoding="utf-8")
    made = terminal("new", tmp_path / "weir", "--from", tmp_path / "set-up.toml", "--json")
    assert made.json()["code"] == "AWR"
    assert terminal("prove", tmp_path / "weir").code == 0
