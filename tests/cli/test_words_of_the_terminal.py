"""What the terminal says helps where it is said: it names options, not buttons, and lists what can be chosen."""

import runpy
from pathlib import Path

import pytest

from findsdesk.cli.command_names import COMMANDS
from findsdesk.desk.bagging import bag_settled
from findsdesk.desk.deposits import close_deposit
from findsdesk.desk.discards import carried_away, make_list, sign_list
from findsdesk.desk.objects import Leaves, register_object
from findsdesk.desk.opening import open_store
from findsdesk.desk.pins import set_pin
from findsdesk.desk.sorting import add_group, reopen
from findsdesk.domain.balance import Decision
from tests.cli.conftest import TOP, Terminal
from tests.yard import new_yard, person, put_settled, sitting


@pytest.fixture
def packed(tmp_path: Path) -> str:
    """Return a store with one settled container in a bag that has no label yet."""
    desk = new_yard(tmp_path)
    put_settled(desk, 104)
    bag_settled(desk)
    desk.close()
    return str(tmp_path / "tannery")


def test_a_second_count_is_told_the_option(terminal: Terminal, packed: str) -> None:
    said = terminal("count", packed, "104", "12")
    assert said.code == 1
    assert said.err.endswith("Here that is --again WHY.\n")


def test_labels_without_a_pdf_say_what_waits(terminal: Terminal, packed: str) -> None:
    shown = terminal("labels", packed)
    listed = terminal("labels", packed, "--json")
    assert (shown.code, listed.code) == (0, 0)
    codes = [one["code"] for one in listed.json()["labels"]]
    assert len(codes) == 1
    assert shown.out.splitlines() == ["1 label on 1 page", *(f"  {code}" for code in codes),
                                      "Name the PDF to write: --out labels.pdf."]  # fmt: skip
    assert terminal("labels", packed, "--came-out-well").code == 1, "nothing was printed that could have come out well"


def test_codes_stand_where_people_type_them_and_labels_are_drawn_while_the_store_is_open(
    terminal: Terminal, packed: str, tmp_path: Path
) -> None:
    code = terminal("labels", packed, "--json").json()["labels"][0]["code"]
    pdf = tmp_path / "labels.pdf"
    window = open_store(Path(f"{packed}.findsdesk"), by="Mika", station="first")
    try:
        drawn = terminal("labels", packed, "--copies", "2", code, "--out", pdf, "--json")
        assert (drawn.code, [one["code"] for one in drawn.json()["labels"]]) == (0, [code, code])
        again = terminal("labels", packed, "--reprint", code, "--reason", "jammed", "--out", tmp_path / "again.pdf")
        assert f"No print of {code} is written down: this is its first, copy 1. Destroy any other" in again.out
        confirmed = terminal("labels", packed, "--came-out-well", pdf)
        assert (confirmed.code, "Close it there first" in confirmed.err) == (1, True)
    finally:
        window.close()
    assert terminal("labels", packed, "--came-out-well", pdf).code == 0


def test_reasons_are_named_as_they_are_typed(terminal: Terminal, packed: str) -> None:
    code = terminal("labels", packed, "--json").json()["labels"][0]["code"]
    said = terminal("labels", packed, "--reprint", code, "--reason", "eaten", "--out", "again.pdf")
    assert said.err == "“eaten” is no reason for a reprint. The reasons: jammed, lost, changed.\n"


def test_nothing_to_print_does_not_claim_that_there_are_bags(terminal: Terminal, store: str) -> None:
    assert terminal("labels", store).err == "There is nothing to print: nothing waits for a label of this kind.\n"


def test_one_is_one(terminal: Terminal, store: str) -> None:
    assert " of 1 station, " in terminal("prove", store).out
    issued = terminal("tags", store, "--issue", "1").out
    assert issued.startswith("Tag ")
    assert issued.endswith(" is issued.\n")


def test_what_does_not_fit_names_its_argument_and_what_does(terminal: Terminal, store: str) -> None:
    said = terminal("look", store, "1", "--seen", "purple").err
    assert said.startswith("1: “purple” does not fit “seen”. Write it like this: painted, ")


def test_what_was_taken_out_is_called_so_as_at_the_window(terminal: Terminal, tmp_path: Path) -> None:
    desk = new_yard(tmp_path)
    put_settled(desk, 104)
    register_object(desk, "104", what="coin", material="bronze", leaves=Leaves.NOT_COUNTED)
    desk.close()
    said = terminal("find", tmp_path / "tannery", "104").out
    assert "taken out" in said
    assert "split" not in said


def test_a_discard_without_a_reason_is_told_the_reasons(terminal: Terminal, tmp_path: Path) -> None:
    desk = new_yard(tmp_path)
    put_settled(desk, 104)
    desk.close()
    said = terminal("sort", tmp_path / "tannery", "104", "QRS", "body", "1", "10", "discard").err
    assert said.startswith("A discard needs a reason. The reasons: ")
    assert "no diagnostic value" in said


def test_reasons_and_parts_stand_in_the_words_of_their_lists(terminal: Terminal, tmp_path: Path) -> None:
    desk = new_yard(tmp_path)
    put_settled(desk, 104, kept=4, discarded=6)
    reopen(desk, "104", reason="fabric samples")
    add_group(desk, "104", ware="QRS", part="rim_handle", pieces=1, reason="fabric_sample")
    add_group(desk, "104", ware="QRS", part="body", pieces=1, decision=Decision.HOLD, reason="joins")
    add_group(desk, "104", ware="QRS", part="body", pieces=1, decision=Decision.HOLD, reason="asked about ink")
    desk.close()
    store = tmp_path / "tannery"
    shown = terminal("sort", store, "104").out
    listed = terminal("registers", store, "groups", "--columns", "Part,Why").out
    terminal("export", store, "--as", "csv", "--into", tmp_path / "out")
    gone_out = next((tmp_path / "out").rglob("groups.csv")).read_text("utf-8-sig")
    for said in (
        "no diagnostic value",
        "sample of the fabric",
        "waits for joins",
        "asked about ink",
        "rim with handle",
    ):
        for text in (shown, listed, gone_out):
            assert said in text
    assert terminal("do", store, "take-back", "104").out.endswith("104: QRS body 1, hold (asked about ink)\n")


def test_what_is_taken_back_is_not_counted_below_nothing(terminal: Terminal, tmp_path: Path) -> None:
    desk = new_yard(tmp_path)
    put_settled(desk, 104, kept=3, discarded=0)
    desk.close()
    store = tmp_path / "tannery"
    assert terminal("do", store, "reopen", "tag=104", "reason=a pebble").code == 0
    assert "1 not a sherd. " in terminal("explain", store, "104", "not a sherd", "1").out
    said = terminal("explain", store, "104", "not a sherd", "--answer", "--why", "it is one").out
    assert said == "Bucket 104: 1 not a sherd, taken back. 3 of 3 sorted or explained.\n"


def test_a_locked_store_names_the_station_as_one(tmp_path: Path, terminal: Terminal) -> None:
    new_yard(tmp_path, by="Mika", station="awning").close()
    held = open_store(tmp_path / "tannery", by="Tessa", station="awning")
    try:
        said = terminal("count", tmp_path / "tannery", "1", "2").err
    finally:
        held.close()
    assert said.startswith("Station awning (Tessa")


def test_help_shows_signs_that_can_be_read(terminal: Terminal) -> None:
    assert "--decimal SIGN" in terminal("import", "--help").out


def test_the_first_help_lists_every_command_before_anything_is_installed(capsys: pytest.CaptureFixture[str]) -> None:
    bootstrap = runpy.run_path(str(TOP / "bootstrap.py"))
    assert bootstrap["main"](["--help"]) == 0
    shown = capsys.readouterr().out
    assert bootstrap["commands"]() == [(one.name, one.purpose) for one in COMMANDS]
    assert all(one.purpose in shown for one in COMMANDS)


def test_every_end_of_a_container_stands_in_the_sum(terminal: Terminal, tmp_path: Path) -> None:
    desk = new_yard(tmp_path)
    put_settled(desk, 104, kept=17, discarded=48)
    set_pin(desk, "Ilo", pin="2406")
    make_list(sitting(desk, "Oren"))
    quay = str(tmp_path / "tannery")
    desk.close()
    assert "  Of 65: 17 kept, 48 to discard, unsigned." in terminal("find", quay, "104").out
    with_ilo = open_store(quay, by="Ilo", station="first")
    sign_list(with_ilo, 1, pin="2406")
    with_ilo.close()
    assert "  Of 65: 17 kept, 48 to discard, signed for." in terminal("find", quay, "104").out
    with_ilo = open_store(quay, by="Ilo", station="first")
    carried_away(with_ilo, 1, where="pit", how="barrow", marker="tile")
    with_ilo.close()
    assert "  Of 65: 17 kept, 48 discarded, carried away." in terminal("find", quay, "104").out


def test_a_register_is_narrowed_by_what_it_shows(terminal: Terminal, packed: str) -> None:
    for said in ("Stands=bagged", "stands=Bagged", "standing=bagged", "Material=Pottery"):
        assert terminal("registers", packed, "containers", "--filter", said).out.endswith("1 of 1\n"), said
    assert terminal("registers", packed, "deposits", "--filter", "Stands=open").code == 0
    wrong = terminal("registers", packed, "containers", "--filter", "Stands=wet")
    assert wrong.code == 1
    assert wrong.err.startswith("Stands is never wet. It is one of: tag issued, expected, missing, arrived, ")
    assert terminal("registers", packed, "containers", "--filter", "Square=Z9").code == 1


def test_descending_alone_turns_the_registers_own_order_round(terminal: Terminal, packed: str) -> None:
    rows = [terminal("registers", packed, "deposits", "--json", *way).json()["rows"] for way in ((), ("--descending",))]
    numbers = [[row["number"] for row in some] for some in rows]
    assert len(numbers[0]) > 1
    assert numbers[1] == numbers[0][::-1]


def test_rules_are_listed_in_words(terminal: Terminal, packed: str) -> None:
    out = terminal("policy", packed, "start").out
    assert "diagnostic ones" in out
    assert "no diagnostic value" in out
    assert "no_diagnostic_value" not in out
    assert "True" not in out


def test_the_open_deposits_say_that_there_are_others(terminal: Terminal, packed: str) -> None:
    desk = open_store(packed, by="Ilo", station="first")
    close_deposit(desk, "2017", sure=True)
    desk.close()
    *_rows, last = terminal("deposits", packed).out.splitlines()
    assert last == "These are open, 2 of 3. All of them: findsdesk registers STORE deposits."


def test_who_is_refused_a_store_hears_who_sits_there_now(terminal: Terminal, packed: str) -> None:
    desk = open_store(packed, by="Ilo", station="first")
    desk.seat(person(desk, "Mika"))
    said = terminal("settle", packed, "104").err
    desk.close()
    assert said.startswith("Station first (Mika Sool) has this store open.")
