"""``findsdesk sheets``: what there is, one written as PDF, and what is refused."""

from pathlib import Path

import pypdfium2
import pytest

from findsdesk.desk.paper_kinds import PAPERS
from tests.cli.conftest import Terminal


def test_the_sheets_are_listed_with_what_each_is_for(terminal: Terminal, store: str) -> None:
    said = terminal("sheets", store)
    assert said.code == 0
    for one in PAPERS:
        assert any(line.startswith(one.key) for line in said.out.splitlines())
    assert "Everything known of one: buckets and steps" in said.out
    listed = terminal("sheets", store, "--json").json()
    assert [one["key"] for one in listed] == [one.key for one in PAPERS]
    assert next(one["asks"] for one in listed if one["key"] == "balance") == ["material", "season"]


def test_a_sheet_is_written_as_pdf(terminal: Terminal, store: str, tmp_path: Path) -> None:
    path = tmp_path / "2017.pdf"
    said = terminal("sheets", store, "deposit", "--deposit", "2017", "--out", path, "--by", "Mika")
    assert (said.code, said.err) == (0, "")
    assert said.out.startswith(("Context 2017, 1 page: ", "Context 2017, 2 pages: "))
    document = pypdfium2.PdfDocument(path)
    text = document[0].get_textpage().get_text_bounded()
    document.close()
    assert "by Mika Sool" in text
    plain = terminal("sheets", store, "yard", "--out", tmp_path / "yard.pdf", "--json").json()
    assert (plain["sheet"], plain["title"]) == ("yard", "Yard sheet")
    assert Path(plain["pdf"]).exists()
    for key, title in (("command-card", "Command card"), ("scanner-test", "Scanner test")):
        card = terminal("sheets", store, key, "--out", tmp_path / f"{key}.pdf")
        assert (card.code, card.out) == (0, f"{title}: {tmp_path / key}.pdf\n")
        assert (tmp_path / f"{key}.pdf").read_bytes()[:5] == b"%PDF-"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["horoscope", "--out", "x.pdf"], "There is no sheet horoscope."),
        (["yard"], "--out yard.pdf"),
        (["deposit", "--out", "x.pdf"], "Say which context"),
        (["inspector", "--day", "tomorrow", "--out", "x.pdf"], "is no day"),
        (["evening", "--day", "2131-07-14", "--out", "x.pdf"], "has not come yet"),
        (["bone", "--material", "cheese", "--out", "x.pdf"], "What it takes: --season."),
        (["yard", "--day", "2026-07-14", "--out", "x.pdf"], "Leave that out. What it takes: nothing."),
        (["yard", "--paper", "papyrus", "--out", "x.pdf"], "There is no paper papyrus"),
        (["yard", "--out", "/nowhere/at/all/x.pdf"], "cannot be written"),
    ],
)
def test_what_is_refused_writes_nothing(
    terminal: Terminal, store: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: list[str], said: str
) -> None:
    monkeypatch.chdir(tmp_path)
    answer = terminal("sheets", store, *words)
    assert answer.code == 1
    assert said in answer.err
    assert not list(tmp_path.glob("*.pdf"))
