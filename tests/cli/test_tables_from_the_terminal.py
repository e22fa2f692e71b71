"""Tables from the terminal: of what, which header holds what, a trial, the questions as a file, and as JSON."""

from __future__ import annotations

from pathlib import Path

from findsdesk.cli.import_list import KINDS
from findsdesk.domain.table_kinds import TableKind
from tests.cli.conftest import Terminal

HEAD = "SU,Sector,Begun on,Notes\n"
ROWS = "3001,A1,2026-07-06,silt\n3002,Z9,2026-07-06,\n"


def test_a_table_is_tried_taken_in_corrected_and_brought_again(tmp_path: Path, store: str, terminal: Terminal) -> None:
    assert tuple(TableKind) == KINDS
    table, questions = tmp_path / "contexts.csv", tmp_path / "questions.csv"
    table.write_text(HEAD + ROWS, encoding="utf-8")
    call = ("import", store, table, "--of", "deposits")
    missing = terminal(*call)
    assert (missing.code, "No column for opened on" in missing.err) == (1, True)
    matched = (*call, "--columns", "opened=Begun on", "description=Notes")
    tried = terminal(*matched, "--try")
    assert tried.out.splitlines()[0] == "contexts.csv: 1 row would go in, 1 has a question."
    assert "line 3, square: There is no square Z9." in tried.out
    taken = terminal(*matched, "--questions-to", questions, "--json").json()[0]
    assert (taken["in"], taken["same"], [one["line"] for one in taken["questions"]]) == (1, 0, [3])
    assert taken["columns"]["opened"] == "Begun on"
    questions.write_text(questions.read_text("utf-8-sig").replace("Z9", "B1", 1), encoding="utf-8")
    again = terminal("import", store, questions, "--of", "deposits")
    assert "1 row went in" in again.out, "the columns are remembered, also for the list of questions"
    twice = terminal("import", store, table, "--of", "deposits")
    assert twice.out.splitlines()[0] == "contexts.csv: 0 rows went in, 1 was here already, 1 has a question."
    assert terminal("prove", store).code == 0


def test_what_cannot_be_meant_is_said_plainly(tmp_path: Path, store: str, terminal: Terminal) -> None:
    table = tmp_path / "season.csv"
    table.write_text("Bucket,Context,Ware,Part,Pieces\n99,2017,QRS,rim,3\n", encoding="utf-8")
    refused = {
        ("--of", "season"): "Say which season the table is of. Seasons here: 2026.",
        ("--of", "deposits", "--columns", "depth=Ware"): "Such a table has no column depth.",
        ("--of", "season", "--season", "2026", "--columns", "ware=Wares"): "has no column “Wares”.",
        ("--of", "season", "--columns", "ware"): "ware is no pair.",
        ("--columns", "ware=Ware"): "Say what the table holds with --of",
        ("--of", "season", str(table), "--questions-to", "x.csv"): "A list of questions is of one table.",
    }
    for words, said in refused.items():
        answer = terminal("import", store, table, *words)
        assert (answer.code, said in answer.err) == (1, True), answer.err
    done = terminal("do", store, "import-table", table, "of=season", "season=2026")
    assert done.code == 0, done.err
    assert terminal("registers", store, "groups", "--json").json()["total"] == 1
