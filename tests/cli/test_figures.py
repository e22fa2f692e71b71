"""``findsdesk figures`` on a small yard."""

import json
from pathlib import Path

import pytest

from findsdesk.cli.main import main
from findsdesk.desk.sherd_groups import add_group
from tests.desk.at_the_table import dry_container
from tests.yard import new_yard


@pytest.fixture
def store(tmp_path: Path) -> str:
    """Return a store with one sorted bucket in each of two contexts."""
    desk = new_yard(tmp_path)
    for number, deposit, ware in ((131, "2017", "QRS"), (132, "2003", "CSJ")):
        code = dry_container(desk, number, 60, deposit=deposit)
        add_group(desk, code, ware=ware, part="rim", pieces=30, tenths=6000, rim_permille=1000)
        add_group(desk, code, ware="MBU", part="body", pieces=30, tenths=6000)
    desk.close()
    return str(tmp_path / "tannery.findsdesk")


def test_the_figures_of_a_container(store: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["figures", store, "--container", "131"]) == 0
    said = capsys.readouterr().out
    assert said.startswith("Bucket 131\n")
    assert "20.0 g a sherd" in said
    assert "given by 30 of QRS" in said


def test_figures_as_json(store: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["figures", store, "--weigh", "eve", "--years", "100", "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert {one["key"]: one["value"] for one in said["figures"]}["sherds"] == "120"
    assert sum(bar["share"] for bar in said["profile"]["bars"]) == pytest.approx(2.0)
    assert [(one["ware"], one["figures"]["sherds"]) for one in said["types"]] == [("CSJ", 30), ("MBU", 60), ("QRS", 30)]


def test_the_rows_behind_a_figure(store: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["figures", store, "--deposit", "2017", "--rows", "rim_eve"]) == 0
    said = capsys.readouterr().out
    assert "1 row, 30 pieces" in said
    assert "QRS" in said
    assert main(["figures", store, "--rows", "grams", "--ware", "marl buff"]) == 0
    said = capsys.readouterr().out
    assert "2 rows, 60 pieces" in said
    assert "QRS" not in said
    assert main(["figures", store, "--rows", "grams", "--ware", "MBU", "--form", "Q1"]) == 1
    assert "There is no form Q1" in capsys.readouterr().err


def test_plot_sheet_and_spreadsheet_are_written(store: str, tmp_path: Path) -> None:
    names = ("profile.svg", "figures.pdf", "figures.xlsx")
    plot, pdf, file = (str(tmp_path / name) for name in names)
    assert main(["figures", store, "--square", "A1", "--plot", plot, "--pdf", pdf, "--file", file]) == 0
    assert all((tmp_path / name).stat().st_size > 1000 for name in names)
    assert main(["figures", store, "--plot", str(tmp_path / "profile.bmp")]) == 1


def test_deposits_compared(store: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["figures", store, "--compare", "--json"]) == 0
    assert sorted(json.loads(capsys.readouterr().out)["order"]) == ["2003", "2017"]
    assert main(["figures", store, "--compare"]) == 0
    assert "100" in capsys.readouterr().out
