"""What a call returns: 0 done, 1 refused, 2 wrong call, 3 store fault, 4 prove found something; and never a trace."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Mapping
from contextlib import closing
from importlib import import_module
from pathlib import Path

import pytest

from findsdesk.cli.command_names import COMMANDS
from findsdesk.cli.main import main
from tests.cli.conftest import Terminal
from tests.yard import new_yard, put_containers

NAMES = [command.name for command in COMMANDS]

DONE = {
    "deposits": ("deposits", "{store}"),
    "tags": ("tags", "{store}", "--issue", "2", "--for", "bryn"),
    "import": ("import", "{store}", "{list}", "--dry-run"),
    "answer": ("answer", "{store}"),
    "check-in": ("check-in", "{store}", "--end-of-day"),
    "look": ("look", "{store}", "1", "2"),
    "soak": ("soak", "{store}", "9", "--tub", "2"),
    "count": ("count", "{store}", "1", "12"),
    "dry": ("dry", "{store}", "10"),
    "sort": ("sort", "{store}", "11"),
    "explain": ("explain", "{store}", "11", "found more", "2", "--why", "in the neck"),
    "pieces": ("pieces", "{store}", "11"),
    "photos": ("photos", "{store}"),
    "settle": ("settle", "{store}", "11"),
    "types": ("types", "{store}", "--write", "{folder}/series.zip"),
    "policy": ("policy", "{store}", "start"),
    "discards": ("discards", "{store}"),
    "pin": ("pin", "{store}"),
    "marks": ("marks", "{store}"),
    "bag": ("bag", "{store}", "--all"),
    "pack": ("pack", "{store}"),
    "loans": ("loans", "{store}"),
    "hand-over": ("hand-over", "{store}"),
    "courier": ("courier", "{store}"),
    "labels": ("labels", "{store}", "--wash", "--stock", "roll-57x32", "--out", "{folder}/w.pdf"),
    "layouts": ("layouts", "{store}", "show", "bag"),
    "stocks": ("stocks",),
    "printer": ("printer", "list"),
    "figures": ("figures", "{store}", "--container", "11"),
    "day": ("day", "{store}"),
    "sheets": ("sheets", "{store}", "yard", "--out", "{folder}/yard.pdf"),
    "find": ("find", "{store}", "1"),
    "search": ("search", "{store}", "TQT000001", "--json"),
    "registers": ("registers", "{store}", "containers"),
    "export": ("export", "{store}", "--as", "geopackage", "--into", "{folder}/out"),
    "do": ("do", "{store}", "hold", "2", "reason=painted"),
    "play": ("play", "{store}", "{acts}"),
    "prove": ("prove", "{store}"),
    "copy": ("copy", "{store}"),
}
REFUSED = {
    "new": (("new", "{store}", "--name", "Tannery", "--code", "TQ"), "There is already a store"),
    "open": (("open", "{store}"), "There is no screen here"),
    "deposits": (("deposits", "{store}", "close", "9999"), "There is no context 9999"),
    "tags": (("tags", "{store}", "--issue", "0"), "Issue between 1 and"),
    "import": (("import", "{store}", "{folder}/none.csv"), "There is no file"),
    "answer": (("answer", "{store}", "none.csv", "3"), "No row of none.csv, line 3"),
    "check-in": (("check-in", "{store}", "1"), "Bucket 1 is checked in already. Has more of it come? Add --sure"),
    "look": (("look", "{store}", "1", "--seen", "blue"), "blue"),
    "soak": (("soak", "{store}", "4", "--tub", "1"), "Put bucket 4 in the bone crate"),
    "count": (("count", "{store}", "1", "12.5"), "is not a whole number"),
    "dry": (("dry", "{store}", "1"), "Bucket 1 is not washed yet"),
    "sort": (("sort", "{store}", "11", "QQQ", "rim", "3"), "There is no ware QQQ"),
    "explain": (("explain", "{store}", "1", "not a sherd", "1"), "was not counted yet"),
    "pieces": (("pieces", "{store}", "9999"), "9999"),
    "photos": (("photos", "{store}", "--folder", "{folder}"), "No other folder is needed"),
    "settle": (("settle", "{store}", "1"), "has not been sorted"),
    "types": (("types", "{store}", "--take-back", "--sure"), "No such file of the type series was taken in"),
    "policy": (("policy", "{store}", "move", "Nobody's", "1"), "The policy has no rule “Nobody's”"),
    "discards": (("discards", "{store}", "make"), "Nothing settled is decided as discard"),
    "pin": (("pin", "{store}", "nobody"), "A PIN is asked for"),
    "marks": (("marks", "{store}", "written", "1"), "is not settled"),
    "bag": (("bag", "{store}", "1"), "is not settled"),
    "pack": (("pack", "{store}", "--do"), "No bag waits for a box there"),
    "loans": (("loans", "{store}", "show", "9"), "There is no loan 9"),
    "hand-over": (("hand-over", "{store}", "rows", "unpainted"), "There is no line unpainted"),
    "courier": (("courier", "{store}", "--take", "{folder}/none"), "There is no file"),
    "labels": (("labels", "{store}", "--out", "{folder}/l.pdf"), "There is nothing to print"),
    "layouts": (("layouts", "{store}", "show", "pot"), "is no kind of label"),
    "stocks": (("stocks", "take-away", "none"), "No stock none was measured here"),
    "printer": (("printer", "set", "Laser", "--measured", "20", "190", "20", "270"), "has no test page yet"),
    "figures": (("figures", "{store}", "--deposit", "9999"), "There is no context 9999"),
    "day": (("day", "{store}", "yesterday"), "yesterday is no day"),
    "sheets": (("sheets", "{store}", "deposit", "--out", "{folder}/x.pdf"), "Say which context the sheet is of"),
    "find": (("find", "{store}", "TQT000001X"), "its last character does not fit"),
    "search": (("search", "{store}", "amphora"), "stands nowhere"),
    "registers": (("registers", "{store}", "bags", "--sort", "colour"), "is not sorted by colour"),
    "export": (("export", "{store}", "--as", "csv", "--into", "{store}.findsdesk"), "cannot be written"),
    "do": (("do", "{store}", "swop-tags", "1", "2"), "Near it: swap-tags"),
    "play": (("play", "{store}", "{folder}/none.acts"), "There is no file"),
    "prove": (("prove", "{folder}/none"), "There is no store"),
    "copy": (("copy", "{folder}/none", "--restore", "newest"), "There is no copy"),
    "screens": (("screens", "{store}", "{folder}", "--size", "wide"), "wide is no size"),
    "demo": (("demo", "--into", "{foreign}", "--again", "--no-window"), "is not an example and stays"),
}
NEEDS_NO_STORE = ("stocks", "printer")


ACTS = """\
2026-07-13T06:00 tessa@awning list-container 9 deposit=2017 collected_on=2026-07-12
06:00 tessa@awning list-container 10 deposit=2017 collected_on=2026-07-12
06:00 tessa@awning list-container 11 deposit=2019 collected_on=2026-07-12
06:01 tessa@awning check-in 9
06:01 tessa@awning check-in 10
06:01 tessa@awning check-in 11
06:02 tessa@awning look 9
06:03 tessa@awning count 10 7
06:03 tessa@awning count 11 5
20:00 oren@trestle sort 11 QRS rim 5 80 keep
20:05 oren@trestle explain 11 "found more" pieces=1
20:06 oren@trestle sort 11 "" other 1 "" keep
"""


@pytest.fixture(scope="module")
def template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Make a folder once with a store that has work at every bench, and files to bring to it."""
    folder = tmp_path_factory.mktemp("template")
    desk = new_yard(folder)
    put_containers(desk, (1, 2, 3))
    put_containers(desk, (4,), material="bone")
    desk.close()
    (folder / "list.csv").write_text("Bucket,Context,Date,Material\n8,2017,2026-07-13,pottery\n", encoding="utf-8")
    (folder / "more.acts").write_text("2026-07-14T07:00 tessa@awning look 3\n", encoding="utf-8")
    (folder / "before.acts").write_text(ACTS, encoding="utf-8")
    assert main(["play", str(folder / "tannery"), str(folder / "before.acts")]) == 0
    assert main(["new", str(folder / "foreign" / "tannery-quay"), "--name", "Other", "--code", "OT"]) == 0
    return folder


@pytest.fixture
def filled(template: Path, tmp_path: Path) -> dict[str, object]:
    """Return the names of a copy of that folder."""
    folder = tmp_path / "filled"
    shutil.copytree(template, folder)
    names = {"list": folder / "list.csv", "acts": folder / "more.acts", "foreign": folder / "foreign"}
    return {"store": folder / "tannery", "folder": folder, **names}


def put_in(words: tuple[str, ...], names: Mapping[str, object]) -> list[str]:
    return [word.format(**names) for word in words]


def test_every_command_has_its_cases() -> None:
    assert set(NAMES) == {*DONE, "demo", "new", "open", "screens"}, "these four have tests of their own"
    assert {*REFUSED, *NEEDS_NO_STORE} == set(NAMES)


@pytest.mark.parametrize("name", DONE)
def test_done_is_0(name: str, filled: dict[str, object], terminal: Terminal) -> None:
    said = terminal(*put_in(DONE[name], filled))
    assert (said.code, said.err) == (0, "")
    if name != "labels":
        assert said.out


@pytest.mark.parametrize("name", REFUSED)
def test_refused_is_1_with_a_plain_sentence(name: str, filled: dict[str, object], terminal: Terminal) -> None:
    words, sentence = REFUSED[name]
    said = terminal(*put_in(words, filled))
    assert said.code == 1, said
    assert sentence in said.err
    assert "Traceback" not in said.err
    assert "{" not in said.err


@pytest.mark.parametrize("name", NAMES)
def test_a_wrong_call_is_2(name: str, terminal: Terminal) -> None:
    said = terminal(name, "--no-such-option")
    assert said.code == 2
    assert "usage: findsdesk" in said.err


@pytest.mark.parametrize("name", [name for name in NAMES if name not in (*NEEDS_NO_STORE, "new", "open", "demo")])
def test_a_damaged_store_is_3(name: str, tmp_path: Path, terminal: Terminal) -> None:
    (tmp_path / "broken.findsdesk").write_bytes(b"no store at all " * 400)
    words = [*DONE.get(name, (name, "{store}", "{folder}"))]
    names = {"store": tmp_path / "broken", "folder": tmp_path, "list": tmp_path / "l.csv", "acts": tmp_path / "a.acts"}
    said = terminal(*put_in(tuple(words), names))
    assert said.code == 3, said
    assert "damaged" in said.err
    assert "Traceback" not in said.err


def test_a_folder_that_takes_nothing_is_3(tmp_path: Path, terminal: Terminal) -> None:
    (tmp_path / "file").write_text("a file, no folder", encoding="utf-8")
    said = terminal("new", tmp_path / "file" / "quay", "--name", "Quay", "--code", "QY")
    assert (said.code, "Nothing can be written in" in said.err) == (3, True)


def test_a_store_of_another_build_is_1_and_left_as_it_is(store: str, terminal: Terminal) -> None:
    file = Path(f"{store}.findsdesk")
    with closing(sqlite3.connect(file)) as connection:
        connection.execute("PRAGMA user_version=7")
        connection.execute("PRAGMA journal_mode=DELETE")
    before = file.read_bytes()
    for words in (("day", store), ("count", store, "1", "12"), ("prove", store)):
        said = terminal(*words)
        assert (said.code, "was made by another build before the first release" in said.err) == (1, True)
        assert file.read_bytes() == before


def test_what_prove_finds_is_4(store: str, terminal: Terminal) -> None:
    with closing(sqlite3.connect(f"{store}.findsdesk")) as file:
        file.execute("UPDATE container SET standing = 'bagged' WHERE number = '2'")
        file.commit()
    said = terminal("prove", store)
    assert said.code == 4
    assert "Bucket 2" in said.out
    found = terminal("prove", store, "--json")
    assert (found.code, found.json()["sound"]) == (4, False)


def test_help_says_what_a_command_is_for_with_an_example(terminal: Terminal) -> None:
    overview = terminal("--help")
    assert overview.code == 0
    for command in COMMANDS:
        assert f"  {command.name} " in overview.out
        said = terminal(command.name, "--help")
        assert said.code == 0
        assert f"findsdesk {command.name}" in said.out.split("example:")[1]
        assert "exit codes: 0 done, 1 refused, 2 wrong call, 3 store fault, 4 prove found something" in said.out
        assert import_module(f"findsdesk.cli.{command.module}").EXAMPLE


def test_nothing_named_or_something_else(terminal: Terminal) -> None:
    assert terminal().code == 2
    said = terminal("cuont", "x")
    assert (said.code, "Was count meant?" in said.err) == (2, True)
    assert terminal("--version").out.startswith("FindsDesk ")


def test_of_several_the_others_go_on(store: str, terminal: Terminal) -> None:
    said = terminal("look", store, "1", "77", "2", "--json")
    assert said.code == 1
    assert [one["number"] for one in said.json()["done"]] == ["1", "2"]
    assert [one["code"] for one in said.json()["refused"]] == ["unknown_number"]


def test_a_later_entry_keeps_the_true_time(store: str, terminal: Terminal) -> None:
    late = terminal("look", store, "1", "--at", "2026-07-14T06:30")
    assert late.code == 0, late.err
    life = terminal("find", store, "1", "--json").json()["life"]
    looked = next(step for step in life if step["kind"] == "looked at")
    assert looked["entered_later"]
    assert looked["happened_at"] == "2026-07-14T04:30:00+00:00", "06:30 in the excavation's own zone, Etc/GMT-2"
    assert terminal("look", store, "2", "--at", "2100-01-01T00:00").code == 1
    assert "is no moment" in terminal("look", store, "2", "--at", "noonish").err
