"""Set-up files: what is wrong is said by key and value, and then nothing is left behind."""

from __future__ import annotations

from pathlib import Path

import pytest

from findsdesk.desk.opening import open_store
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.square_grid import GridPlace
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
square_m = 10
east = 500000
north = 4000000.5
turned = 12.5
epsg = 32636

[[words]]
list = "parts"
name = "handle"
to = "grip"
address = "https://thesaurus.example.org/id/handle"

[[words]]
list = "parts"
name = "lug"
counts_as = "handle"

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
    ("square_m = 10", "square_m = 0", "No grid can be laid out so"),
    ("epsg = 32636", "epsg = 4326", "counts in degrees"),
    ("east = 500000", 'east = "far"', "east in [grid] is “far”"),
    ("https://thesaurus", "ftp://thesaurus", "is no web address"),
    ('list = "parts"', 'list = "colours"', "There is no list of words colours"),
    ('counts_as = "handle"', "", "Say what sherds of “lug” count as"),
    ('counts_as = "handle"', 'counts_as = "foot"', "Choose one of"),
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
    desk = open_store(tmp_path / "weir", read_only=True)
    try:
        assert desk.facts.settings.grid == GridPlace(10.0, 500_000.0, 4_000_000.5, 12.5, 32636)
        parts = words_of(desk)["parts"]
        handle = parts.named("grip")
        assert handle is not None
        assert (handle.key, handle.address) == ("handle", "https://thesaurus.example.org/id/handle")
        assert (parts.in_use[-1].diagnostic, parts.in_use[-1].counts_as) == (True, "handle")
    finally:
        desk.let_go()
