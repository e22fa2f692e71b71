"""``findsdesk courier`` from making a store for the trench to deciding what both said differently."""

from pathlib import Path

from tests.cli.conftest import Terminal


def test_a_laptop_goes_out_and_its_courier_file_comes_back(terminal: Terminal, store: str, tmp_path: Path) -> None:
    away, stick = tmp_path / "away" / "quay", tmp_path / "14-july"
    assert terminal("courier", store, "--make-for", "laptop").code == 1
    made = terminal("courier", store, "--make-for", "laptop", "--into", away)
    assert (made.code, "is the store of laptop; its own numbers are" in made.out) == (0, True)
    assert "laptop" in terminal("do", away, "open-deposit", "2044", "square=C1", "kind=layer").err
    for where, station, said in ((store, "terminal", "floor"), (away, "laptop", "floor fill")):
        done = terminal("do", where, "change-deposit", "2017", f"description={said}", "--station", station)
        assert done.code == 0, done.err
    written = terminal("courier", away, "--station", "laptop", "--write", stick, "--to", "first", "--json").json()
    assert (written["acts"], written["files"]) == (2, 0)
    taken = terminal("courier", store, "--take", stick.with_suffix(".courier"))
    assert "From laptop: 1 act appended" in taken.out
    assert "1 clash waits" in taken.out
    again = terminal("courier", store, "--take", stick.with_suffix(".courier"))
    assert "is here already; nothing was written. From: laptop." in again.out
    listed = terminal("courier", store)
    assert "2017: changed in both stores" in listed.out
    assert "description floor fill" in listed.out
    number = terminal("courier", store, "--json").json()[0]["id"]
    assert terminal("courier", store, "--decide", number).code == 1
    decided = terminal("courier", store, "--decide", number, "--keep", "laptop")
    assert "decided: laptop" in decided.out
    assert "No clash waits" in terminal("courier", store).out
    assert "decided: laptop" in terminal("courier", store, "--decided").out
    back = terminal("courier", store, "--call-back", "laptop")
    assert "laptop writes here again" in back.out
    assert terminal("prove", store).code == 0
