"""Somebody else's excavation, with another short code, other words and wares, from ``new`` to ``labels``.

Nothing but commands of the terminal is used; what is printed is read back by an independent decoder.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pypdfium2
import pytest
import zxingcpp

from findsdesk.domain.check_characters import is_valid_37_36
from tests.cli.conftest import Terminal

NOW = datetime.now(UTC)
TODAY, YESTERDAY, BEFORE = (f"{NOW - timedelta(days=days):%Y-%m-%d}" for days in (0, 1, 2))

SET_UP = f"""
[excavation]
name = "Alder Weir"
code = "AWR"
director = "Jun Tabb"
time_zone = "UTC"

[terms]
deposit = "locus"
deposits = "loci"
container = "basket"
containers = "baskets"
square = "trench"
squares = "trenches"

[settings]
soak_shortest_h = 4
dry_h = 6
tubs = 2
trays = 6
second_open_deposit = "allow"

[grid]
squares = ["North", "South"]

[[people]]
name = "Rue Castor"
role = "wash lead"

[[people]]
name = "Teo Brandt"
role = "ceramicist"

[[people]]
name = "Ann Ilvy"
role = "supervisor"

[[seasons]]
name = "third"
permit = "K/77"
starts = {NOW - timedelta(days=9):%Y-%m-%d}
ends = {NOW + timedelta(days=30):%Y-%m-%d}
mark_pattern = "{{site}} {{permit}}\\n{{deposit}}/{{container}}"

[[wares]]
code = "WW"
name = "Weir White"
earliest = 1100
latest = 1300

[[wares]]
code = "PK"
name = "Pinkish"

[[deposits]]
number = "L12"
square = "North"
opened = {NOW - timedelta(days=5):%Y-%m-%d}
kind = "pit"
opening_mm = -1250
"""
LIST = f"""Pail;Unit found in;When;Stuff;Who
1;L12;{BEFORE};sherds;Ann
2;L13;{BEFORE};sherds;Ann
3;L12;{BEFORE};bone;Ann
4;L99;{BEFORE};sherds;Ann
"""


@pytest.fixture
def weir(tmp_path: Path, terminal: Terminal) -> str:
    """Return the store of the excavation, its second locus opened and six tags out."""
    (tmp_path / "weir.toml").write_text(SET_UP, encoding="utf-8")
    store = str(tmp_path / "weir")
    made = terminal("new", store, "--from", tmp_path / "weir.toml")
    assert (made.code, made.err) == (0, "")
    assert "Alder Weir (AWR)" in made.out
    opened = terminal(
        "deposits", store, "open", "L13", "square=South", f"opened={BEFORE}", "opening=-1.4", "--by", "ann"
    )
    assert opened.code == 0, opened.err
    assert "Locus L13 in South" in opened.out
    issued = terminal("tags", store, "--issue", "4", "--for", "Ann Ilvy", "--out", tmp_path / "tags.pdf")
    assert issued.code == 0, issued.err
    assert len(symbols(tmp_path / "tags.pdf")) == 4
    assert terminal("tags", store, "--came-out-well", tmp_path / "tags.pdf").code == 0
    return store


def symbols(pdf: Path) -> list[str]:
    """Read every linear symbol on the pages of a PDF, as a scanner would, without any help of ours."""
    document = pypdfium2.PdfDocument(pdf.read_bytes())
    texts = []
    for number in range(len(document)):
        image = document[number].render(scale=300 / 72, grayscale=True).to_pil()
        texts += [one.text for one in zxingcpp.read_barcodes(image) if one.format == zxingcpp.BarcodeFormat.Code128]
    return sorted(texts)


def test_it_plays_from_new_to_labels(weir: str, tmp_path: Path, terminal: Terminal) -> None:
    by = ("--by", "rue")
    (tmp_path / "list.csv").write_text(LIST, encoding="utf-8")
    names = ("Pail=number", "Unit found in=deposit", "When=date", "Stuff=material", "Who=supervisor")
    match = [word for name in names for word in ("--column", name)]
    tried = terminal("import", weir, tmp_path / "list.csv", *match, "--dry-run", "--json").json()[0]
    assert (tried["in"], [row["number"] for row in tried["questions"]]) == (["1", "2", "3"], ["4"])
    taken = terminal("import", weir, tmp_path / "list.csv", *match, *by)
    assert "3 rows went in, 1 has a question" in taken.out
    assert "no locus L99" in taken.out
    again = terminal("import", weir, tmp_path / "list.csv", *by)
    assert "3 were here already" in again.out, "the columns were remembered"
    answered = terminal("answer", weir, "list.csv", "5", "--deposit", "L12", "--by", "ann")
    assert "basket 4 went in" in answered.out

    at = f"{BEFORE}T15:00"
    assert terminal("check-in", weir, "1", "2", "3", "4", *by, "--at", at).code == 0
    assert terminal("look", weir, "1", "2", "4", *by, "--at", at).code == 0
    assert terminal("soak", weir, "1", "2", "4", "--tub", "2", *by, "--at", f"{BEFORE}T16:00").code == 0
    bone = terminal("soak", weir, "3", "--tub", "1", *by)
    assert bone.code == 1
    assert "Put basket 3 in the bone crate" in bone.err
    for number, pieces, grams in ((1, 40, ()), (2, 23, ("--grams", "260")), (4, 0, ())):
        counted = terminal("count", weir, number, pieces, *grams, *by, "--at", f"{YESTERDAY}T08:00", "--json").json()
        assert counted["pieces"] == pieces
    assert terminal("dry", weir, "1", "2", *by, "--at", f"{YESTERDAY}T15:00").code == 0

    (tmp_path / "read.csv").write_text(
        "ware,part,pieces,grams,decision,reason\nWW,rim,3,61.5,keep\nPK,body,30,300,discard,duplicate\nWW,base,2,80,keep\n"
    )
    sorted_ = terminal("sort", weir, "1", "--lines", tmp_path / "read.csv", "--by", "teo")
    assert "Basket 1: 35 of 40 sorted or explained, 5 left." in sorted_.out
    early = terminal("settle", weir, "1", "--by", "teo")
    assert (early.code, "Basket 1: 5 of 40" in early.err) == (1, True)
    assert terminal("sort", weir, "1", "PK", "handle", "4", "120,5", "hold", "--by", "teo").code == 0
    assert terminal("explain", weir, "1", "not a sherd", "1", "--why", "pebble", "--by", "teo").code == 0
    assert terminal("sort", weir, "2", "WW", "body", "23", "210", "keep", "--by", "teo").code == 0
    lighter = terminal("settle", weir, "2", "--by", "teo")
    assert (lighter.code, "260.0 g came in, 210.0 g are accounted for" in lighter.err) == (1, True)
    assert "Add --sure to answer yes." in lighter.err
    settled = terminal("settle", weir, "1", "2", "--sure", "--by", "teo")
    assert "Basket 1 is settled: of 40, 5 kept, 4 on hold, 30 to discard." in settled.out

    bagged = terminal("bag", weir, "--all", "--json").json()["bags"]
    codes = sorted(bag["code"] for bag in bagged)
    assert len(codes) == 3
    assert all(code.startswith("AWRB") and is_valid_37_36(code) for code in codes)
    printed = terminal(
        "labels", weir, "--stock", "letter-3x10-67x25", "--first-place", "29", "--out", tmp_path / "bags.pdf", "--json"
    ).json()
    assert [(one["page"], one["place"]) for one in printed["labels"]] == [(1, 29), (1, 30), (2, 1)]
    assert symbols(tmp_path / "bags.pdf") == codes
    confirmed = terminal("labels", weir, "--came-out-well", tmp_path / "bags.pdf", "--jammed", codes[0], "--by", "rue")
    assert f"Still to be printed: {codes[0]}." in confirmed.out
    text = pypdfium2.PdfDocument((tmp_path / "bags.pdf").read_bytes())[0].get_textpage().get_text_bounded()
    assert "AWR K/77" in text, "the mark, by the season's own pattern"
    again = terminal(
        "labels", weir, "--reprint", codes[1], "--reason", "lost", "--out", tmp_path / "again.pdf", "--came-out-well"
    )
    assert again.code == 0, again.err
    assert terminal("find", weir, codes[1], "--json").json()["deposit"] in ("L12", "L13")
    proved = terminal("prove", weir)
    assert (proved.code, "4 baskets" in proved.out) == (0, True)


def test_refusals_speak_its_words(weir: str, terminal: Terminal) -> None:
    assert "There is no basket 77" in terminal("find", weir, "77").err
    assert "no locus L88" in terminal("check-in", weir, "1", "--deposit", "L88").err
    foreign = terminal("check-in", weir, "TQT000143B")
    assert (foreign.code, "TQ" in foreign.err) == (1, True)
    assert terminal("day", weir).out.count("Baskets by standing") == 1
