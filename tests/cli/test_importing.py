"""Field lists from the terminal: the invented excavation's own, with what each asks and how it is answered."""

from __future__ import annotations

from pathlib import Path

import pytest

from findsdesk import places
from tests.cli.conftest import Terminal

LISTS = places.demo_file("lists")


@pytest.fixture
def quay(tmp_path: Path, terminal: Terminal) -> str:
    """Return the invented excavation as set up, on the 14th at 14:00 with all its contexts open."""
    store = str(tmp_path / "quay")
    assert terminal("new", store, "--from", places.demo_file("excavation.toml")).code == 0
    acts = places.demo_file("season.acts").read_text("utf-8").splitlines()
    opened = [
        f"2026-07-14T14:00 {line[17:].strip()} opened=2026-07-06 sure=yes" for line in acts if " open-deposit " in line
    ]
    (tmp_path / "open.acts").write_text("\n".join(opened) + "\n", "utf-8")
    played = terminal("play", store, tmp_path / "open.acts")
    assert played.code == 0, played.err
    return store


def test_of_the_nineteen_rows_of_the_14th_seventeen_go_in(quay: str, terminal: Terminal) -> None:
    assert terminal("import", quay, *sorted(LISTS.glob("2026-07-13*"))).code == 0
    files = sorted(LISTS.glob("2026-07-14*"))
    assert len(files) == 3
    said = terminal("import", quay, *files)
    assert said.code == 0
    assert said.out.count("went in") == 3
    assert "line 4: Written as “ctx 2017”. Is context 2017 meant?" in said.out
    assert "line 8: Bucket 118 exists already" in said.out
    waiting = terminal("answer", quay, "--json").json()
    assert [row["number"] for row in waiting] == ["129", "118"]
    total = terminal("registers", quay, "containers", "--search", "2026-07-14", "--json").json()["total"]
    listed = terminal("registers", quay, "containers", "--rows", "0", "--json").json()["rows"]
    assert sum(row["collected_on"] == "2026-07-14" for row in listed) == 17, total
    answered = terminal("answer", quay, files[0].name, "4", "--deposit", "2017", "--by", "bryn")
    assert "bucket 129 went in" in answered.out
    left_out = terminal("answer", quay, files[1].name, "8", "--leave-out", "yesterday's bucket", "--by", "joren")
    assert left_out.code == 0
    assert terminal("answer", quay).out == "No row waits for an answer.\n"


def test_a_question_says_how_it_is_answered(quay: str, tmp_path: Path, terminal: Terminal) -> None:
    asked = terminal("import", quay, LISTS / "2026-07-09_pela.csv", "--dry-run")
    assert asked.code == 1
    assert "Answer with --encoding cp1252" in asked.err
    told = terminal("import", quay, LISTS / "2026-07-09_pela.csv", "--dry-run", "--encoding", "cp1252", "--json")
    assert told.code == 0
    (tmp_path / "two.csv").write_text(
        "Bucket,Context,Date,Material\n8,2017,07/08/26,pottery\n9,2017,08/07/26,pottery\n", encoding="utf-8"
    )
    both = terminal("import", quay, tmp_path / "two.csv", "--dry-run", "--season", "2026")
    assert (both.code, "--day-order" in both.err) in ((0, False), (1, True))
    assert terminal("import", quay, tmp_path / "two.csv", "--dry-run", "--day-order", "dmy").code == 0


def test_columns_and_values_told_by_hand(quay: str, tmp_path: Path, terminal: Terminal) -> None:
    (tmp_path / "odd.csv").write_text("Topf;Ctx;Tag\n8;2017;2026-07-13\n", encoding="utf-8")
    missing = terminal("import", quay, tmp_path / "odd.csv", "--dry-run")
    assert (missing.code, "Topf" in missing.err) == (1, True)
    told = terminal(
        "import", quay, tmp_path / "odd.csv", "--column", "Topf=number", "--column", "Tag=date",
        "--given", "material=pottery", "--json",
    )  # fmt: skip
    assert told.json()[0]["in"] == ["8"], told.err
    wrong = terminal("import", quay, tmp_path / "odd.csv", "--column", "Topf=colour")
    assert (wrong.code, "A list has no column colour" in wrong.err) == (1, True)
    assert terminal("import", quay, tmp_path / "odd.csv", "--column", "Topf").code == 1
