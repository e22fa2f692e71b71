"""A file of acts from the terminal: once each, refusals with their lines, stopping, an example's own time."""

from __future__ import annotations

from pathlib import Path

from tests.cli.conftest import Terminal

ACTS = """\
# a morning
2026-07-14T07:00  tessa@awning  look 1
07:01             tessa@awning  soak 4 tub=1      # bone
07:02             tessa@awning  soak 1 tub=1
07:03             lio@awning    count 2 31
"""


def test_twice_adds_nothing_and_refusals_have_their_lines(store: str, tmp_path: Path, terminal: Terminal) -> None:
    (tmp_path / "morning.acts").write_text(ACTS, encoding="utf-8")
    first = terminal("play", store, tmp_path / "morning.acts")
    assert first.code == 1
    assert "3 acts played" in first.out
    assert "1 was refused" in first.out
    assert first.err.startswith("morning.acts:3: soak: Bone is never soaked")
    head = terminal("prove", store, "--json").json()["head"]
    again = terminal("play", store, tmp_path / "morning.acts", "--json")
    assert (again.json()["done"], again.json()["already"], again.json()["refused"][0]["line"]) == (0, 3, 3)
    assert terminal("prove", store, "--json").json()["head"] == head


def test_it_stops_where_it_is_told_to(store: str, tmp_path: Path, terminal: Terminal) -> None:
    (tmp_path / "morning.acts").write_text(ACTS, encoding="utf-8")
    said = terminal("play", store, tmp_path / "morning.acts", "--stop-at-refusal", "--json").json()
    assert (said["done"], len(said["refused"])) == (1, 1)


def test_files_are_found_beside_the_acts(store: str, tmp_path: Path, terminal: Terminal) -> None:
    folder = tmp_path / "brought"
    folder.mkdir()
    (folder / "day.csv").write_text("Bucket,Context,Date\n8,2017,2026-07-13\n", encoding="utf-8")
    (folder / "day.acts").write_text(
        '2026-07-14T07:00 tessa@awning import-list day.csv given="material=pottery"\n', encoding="utf-8"
    )
    assert terminal("play", store, folder / "day.acts").code == 0
    assert terminal("find", store, "8", "--json").json()["material"] == "pottery"


def test_time_in_an_example_stands_where_its_acts_left_it(store: str, tmp_path: Path, terminal: Terminal) -> None:
    (tmp_path / "late.acts").write_text("2026-07-18T21:05 tessa@awning look 1\n", encoding="utf-8")
    assert terminal("play", store, tmp_path / "late.acts").code == 0
    assert terminal("day", store, "--json").json()["day"] == "2026-07-18"
    assert terminal("count", store, "2", "8", "--by", "lio").code == 0
    counted = terminal("find", store, "2", "--json").json()["counts"][0]
    assert counted["happened_at"].startswith("2026-07-18T19:05"), "21:05 in Etc/GMT-2"


def test_any_deed_is_reachable(store: str, terminal: Terminal) -> None:
    listed = terminal("do", store, "--list").out
    assert "swap-tags" in listed
    assert terminal("do", store, "hold", "2", "reason=painted", "--by", "tessa").code == 0
    refused = terminal("do", store, "release", "2", "reason=sound", "--by", "tessa")
    assert (refused.code, "Only the ceramicist or the director" in refused.err) == (1, True)
    released = terminal("do", store, "release", "2", "reason=sound", "--by", "oren", "--json")
    assert released.json()["standing"] == "arrived"
    assert "There must be" not in terminal("do", store, "release", "2").err
    assert "reason must be given, like this: reason=…" in terminal("do", store, "release", "2").err
