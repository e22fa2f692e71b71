"""Saved views of registers: written by an act, for everybody; columns chosen in their order, in files too."""

import csv
import subprocess
import sys
from pathlib import Path

import pytest

from findsdesk.desk.changing_words import change_word
from findsdesk.desk.desk import Desk
from findsdesk.desk.discards import make_list
from findsdesk.desk.proving import prove
from findsdesk.desk.register_columns import fields_chosen, fields_of, wording
from findsdesk.desk.register_files import print_register, write_register
from findsdesk.desk.registers import Register, RegisterQuery, page
from findsdesk.desk.saved_views import LONGEST_NAME, NEW, View, drop_view, save_view, view_named, views
from findsdesk.domain.refusals import Refusal
from tests.desk.at_the_table import refused
from tests.yard import last_said, put_containers, put_settled, sitting

DRYING = "what dries"


def saved(desk: Desk) -> View:
    return save_view(
        desk,
        Register.CONTAINERS,
        f" {DRYING} ",
        search=" TQT ",
        filters=["Stands=drying", "square=A1"],
        sort="day",
        descending=True,
        columns=["Tag", "number", "season"],
    )


def test_a_view_is_kept_for_everybody_and_found_by_its_name_in_any_case(desk: Desk) -> None:
    kept = saved(desk)
    assert (kept.name, kept.version, kept.columns) == (DRYING, 1, ("code", "number", "season"))
    assert kept.query == RegisterQuery("TQT", (("standing", "drying"), ("square", "A1")), "day", True)
    assert last_said(desk) == f"containers: {DRYING}"
    assert views(sitting(desk, "Mika"), Register.CONTAINERS) == (kept,)
    assert views(desk, Register.BAGS) == ()
    assert view_named(desk, Register.CONTAINERS, DRYING.upper()) == kept
    assert prove(desk).sound


def test_the_same_name_writes_it_anew_and_it_is_taken_away_by_an_act(desk: Desk) -> None:
    saved(desk)
    again = save_view(desk, Register.CONTAINERS, DRYING.title(), columns=["number"])
    assert (again.name, again.version, again.query, again.columns) == (DRYING, 2, RegisterQuery(), ("number",))
    assert len(views(desk)) == 1
    save_view(desk, Register.BAGS, DRYING)
    assert drop_view(desk, Register.CONTAINERS, DRYING) == again
    assert [one.register for one in views(desk)] == [Register.BAGS]
    assert prove(desk).sound


WRONG: tuple[tuple[str, dict[str, object]], ...] = (
    ("view_unnamed", {"name": "  "}),
    ("view_name_long", {"name": "x" * (LONGEST_NAME + 1)}),
    ("unknown_column", {"columns": ["colour"]}),
    ("unknown_filter", {"filters": ["colour=red"]}),
    ("pair_unreadable", {"filters": ["standing"]}),
    ("unknown_value", {"filters": ["standing=flying"]}),
    ("unknown_sort", {"sort": "colour"}),
    ("view_there", {"columns": ["number"], "seen": NEW}),
    ("changed_meanwhile", {"columns": ["number"], "seen": 1}),
    ("same_view", {"search": "a"}),
)


def test_what_is_no_view_is_refused_and_nothing_is_written(desk: Desk) -> None:
    save_view(desk, Register.CONTAINERS, "named")
    save_view(desk, Register.CONTAINERS, "named", search="a")
    before = views(desk)
    for code, said in WRONG:
        with refused(desk, code):
            save_view(desk, Register.CONTAINERS, **{"name": "named", **said})  # type: ignore[arg-type]
        assert views(desk) == before


def test_a_view_that_is_not_there_is_refused(desk: Desk) -> None:
    for ask in (view_named, drop_view):
        with pytest.raises(Refusal, match="unknown_view"):
            ask(desk, Register.CONTAINERS, "none")
    save_view(desk, Register.CONTAINERS, "named", search="a")
    with refused(desk, "changed_meanwhile"):
        drop_view(desk, Register.CONTAINERS, "named", seen=0)


def test_a_file_and_a_paper_hold_the_columns_wanted_in_their_order(desk: Desk, tmp_path: Path) -> None:
    put_containers(desk, (2, 1))
    query = RegisterQuery(sort="number", descending=True)
    wanted = ("season", "Bucket", "Tag")
    assert write_register(desk, Register.CONTAINERS, query, path=tmp_path / "b.csv", columns=wanted) == 2
    with (tmp_path / "b.csv").open(encoding="utf-8-sig", newline="") as file:
        head, *rows = list(csv.reader(file))
    assert head == ["Season", "Bucket", "Tag"]
    assert [row[:2] for row in rows] == [["2026", "2"], ["2026", "1"]]
    assert print_register(desk, Register.CONTAINERS, query, columns=wanted).pdf[:4] == b"%PDF"
    with refused(desk, "unknown_column"):
        write_register(desk, Register.CONTAINERS, path=tmp_path / "c.csv", columns=["colour"])
    assert not (tmp_path / "c.csv").exists()


def test_every_column_is_named_by_its_key_and_none_is_named_twice(desk: Desk) -> None:
    for register in Register:
        keys = [field.key for field in fields_of(register, for_file=True)]
        assert len(set(keys)) == len(keys), register
        assert [field.key for field in fields_chosen(desk, register, keys[::-1])] == keys[::-1]


def test_braces_in_the_excavations_own_words_stand_in_the_register_as_they_were_written(desk: Desk) -> None:
    put_settled(desk, 131, discarded=10)
    make_list(desk)
    change_word(desk, "discard_reasons", "no_diagnostic_value", to="no {use} to us")
    change_word(desk, "parts", "body", to="{wall}")
    say = wording(desk)
    what, why = fields_chosen(desk, Register.DISCARDS, ("what", "reason"))
    (row,) = page(desk, Register.DISCARDS)
    assert "{wall}" in str(what.value(row, say))
    assert why.value(row, say) == "no {use} to us"
    assert print_register(desk, Register.DISCARDS).pdf[:4] == b"%PDF"


def test_what_a_register_is_called_is_said_without_anything_that_draws() -> None:
    late = ("reportlab", "zxingcpp", "matplotlib", "PySide6", "numpy")
    asked = (
        "import sys, findsdesk.desk.register_columns; "
        f"print([name for name in sys.modules if name.startswith({late!r})])"
    )
    done = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
