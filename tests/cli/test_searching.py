"""Search, saved views and chosen columns from the terminal."""

from pathlib import Path

from findsdesk.desk.correcting import correct_container
from tests.cli.conftest import Terminal
from tests.yard import new_yard, put_containers


def test_what_is_found_is_listed_by_kind_and_find_falls_back_on_it(terminal: Terminal, tmp_path: Path) -> None:
    desk = new_yard(tmp_path, by="Mika")
    put_containers(desk, (1, 2, 3))
    correct_container(desk, "1", description="Stopper of an Étagère", reason="looked")
    desk.close()
    quay = tmp_path / "tannery"

    found = terminal("search", quay, "etag", "STOPPER")
    assert found.out.splitlines()[0] == "Bucket: 1"
    assert "Stopper of an Étagère" in found.out
    assert terminal("find", quay, "stopp").out == terminal("search", quay, "stopp").out
    data = terminal("find", quay, "stopp", "--json").json()
    assert [(one["kind"], one["count"], one["more"]) for one in data["kinds"]] == [
        ("container", 1, False),
        ("step", 1, False),
    ]
    assert terminal("find", quay, "4711").code == 1
    for command in ("search", "find"):
        assert "“zeppelin” stands nowhere" in terminal(command, quay, "zeppelin").err
    assert terminal("search", quay, "()*").code == 1
    assert terminal("search", quay, "--anew", "--by", "Mika", "--json").json()["rows"] > 5
    assert terminal("search", quay, "etag", "STOPPER").out == found.out

    said = ("registers", quay, "containers")
    kept = terminal(*said, "--search", "TQT", "--sort", "day", "--columns", "Tag, number", "--save-view", "mine")
    assert kept.out == "Saved as the view mine.\n"
    assert terminal(*said, "--view", "MINE", "--rows", "1").out.split()[:2] == ["Tag", "Bucket"]
    assert terminal(*said, "--view", "mine", "--search", "stopper", "--json").json()["total"] == 1
    assert [one["name"] for one in terminal(*said, "--views", "--json").json()] == ["mine"]
    assert terminal(*said, "--drop-view", "mine").code == 0
    assert "has no view mine" in terminal(*said, "--view", "mine").err
    assert "has no column colour" in terminal(*said, "--columns", "colour").err
