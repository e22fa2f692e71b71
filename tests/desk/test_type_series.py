"""The type series: forms, sources, codes taken away or merged with all that follows, files in and out."""

from __future__ import annotations

from pathlib import Path

import pytest

from findsdesk.desk.changing_set_up import change_ware
from findsdesk.desk.desk import Desk
from findsdesk.desk.pieces import lift_pieces, pieces_of
from findsdesk.desk.playing import do
from findsdesk.desk.proving import prove
from findsdesk.desk.retention import add_rule
from findsdesk.desk.setting_up import add_ware, wares
from findsdesk.desk.sorting import add_group, change_group, remove_group, table_of
from findsdesk.desk.type_files import WrittenTypes, take_in_types, write_types
from findsdesk.desk.type_series import (
    add_form,
    change_form,
    forms,
    merge_wares,
    remove_form,
    remove_ware,
)
from findsdesk.domain.balance import Decision
from findsdesk.domain.type_rows import TypeKind, TypeRow, read_type_row
from tests.desk.at_the_table import dry_container, kept_wares, prove_totals, refused


def test_a_form_is_added_and_changed(desk: Desk) -> None:
    added = add_form(
        desk, code="qrs1", name="flat bowl", ware="QRS", earliest=180, latest=260, source="Vade 2025, fig. 3"
    )
    assert (added.code, added.ware, added.source) == ("QRS1", "QRS", "Vade 2025, fig. 3")
    changed = change_form(desk, "QRS1", seen=added.version, to="QRS1a", ware="", latest=280, source="")
    assert (changed.code, changed.ware, changed.latest, changed.source) == ("QRS1A", "", 280, "")
    assert forms(desk) == (changed,)
    with refused(desk, "changed_meanwhile"):
        change_form(desk, "QRS1A", seen=added.version, name="bowl")


def test_a_ware_has_a_source(desk: Desk) -> None:
    add_ware(desk, code="IPA", name="Island Painted", earliest=-150, latest=100, source="Vade 2025")
    change_ware(desk, "IPA", source="Vade 2025, p. 11", note="rare")
    (ware,) = [one for one in wares(desk) if one.code == "IPA"]
    assert (ware.source, ware.note) == ("Vade 2025, p. 11", "rare")


@pytest.mark.parametrize(
    ("deed", "said", "code"),
    [
        ("add-form", {"code": " "}, "empty"),
        ("add-form", {"code": "F1"}, "already_there"),
        ("add-form", {"code": "F2", "ware": "XXX"}, "unknown_ware"),
        ("add-form", {"code": "F2", "earliest": "300", "latest": "200"}, "years_reversed"),
        ("change-form", {"code": "F9", "name": "x"}, "unknown_form"),
        ("change-form", {"code": "F1", "to": "F3"}, "already_there"),
        ("change-form", {"code": "F1", "earliest": "300", "latest": "200"}, "years_reversed"),
        ("remove-form", {"code": "F9"}, "unknown_form"),
        ("remove-ware", {"code": "XXX"}, "unknown_ware"),
        ("merge-forms", {"code": "F1", "into": "F9"}, "unknown_form"),
        ("merge-forms", {"code": "F1", "into": "F1"}, "same_code"),
        ("merge-wares", {"code": "QRS", "into": "qrs"}, "same_code"),
    ],
)
def test_what_the_series_cannot_be(desk: Desk, deed: str, said: dict[str, str], code: str) -> None:
    add_form(desk, code="F1")
    add_form(desk, code="F3")
    with refused(desk, code):
        do(desk, deed, said)


def test_a_code_in_use_is_not_taken_away(desk: Desk) -> None:
    add_form(desk, code="F1", ware="QRS")
    with refused(desk, "code_in_use"):
        remove_ware(desk, "QRS")
    remove_form(desk, "F1")
    code = dry_container(desk, 131, 2)
    row = add_group(desk, code, ware="QRS", part="rim", pieces=2)
    with refused(desk, "code_in_use") as caught:
        remove_ware(desk, "QRS")
    assert caught.value.facts["uses"] == "1 row at the sorting table, 2 sherds in all", "no kept totals"
    remove_group(desk, row.id, seen=row.version)
    remove_ware(desk, "QRS")
    assert "QRS" not in {ware.code for ware in wares(desk)}
    assert prove(desk).sound


def test_a_code_that_the_policy_names_stays(desk: Desk) -> None:
    add_rule(desk, name="grey bodies", wares=("TGY",), parts=("body",), decision=Decision.KEEP, reason="reference")
    with refused(desk, "code_in_policy"):
        remove_ware(desk, "TGY")
    with refused(desk, "code_in_policy"):
        merge_wares(desk, "TGY", "CSJ", sure=True)


def test_merged_wares_take_groups_pieces_and_forms_along_after_asking(desk: Desk) -> None:
    add_form(desk, code="TGY1", ware="TGY")
    code = dry_container(desk, 131, 7)
    row = add_group(desk, code, ware="TGY", form="TGY1", part="rim", pieces=4, tenths=400)
    add_group(desk, code, ware="CSJ", part="rim", pieces=3, tenths=300)
    lift_pieces(desk, row.id, seen=row.version)
    with refused(desk, "rows_follow") as caught:
        merge_wares(desk, "TGY", "CSJ")
    used = "1 row at the sorting table, 1 piece, 1 form, 4 sherds in all"
    assert caught.value.facts["uses"] == used
    with refused(desk, "code_in_use") as stays:
        remove_ware(desk, "TGY")
    assert stays.value.facts["uses"] == used, "counted as for the merging"
    done = merge_wares(desk, "TGY", "CSJ", sure=True)
    assert done.followed.in_words() == used
    assert {group.ware for group in table_of(desk, code).groups} == {"CSJ"}
    assert pieces_of(desk, code)[0].ware == "CSJ"
    assert forms(desk)[0].ware == "CSJ"
    assert set(kept_wares(desk).values()) == {(7, 700)}
    prove_totals(desk)
    assert prove(desk).sound
    assert "TGY" not in {ware.code for ware in wares(desk)}


def test_an_old_code_is_still_found_through_all_that_were_merged(desk: Desk) -> None:
    merge_wares(desk, "TGY", "CSJ", sure=True)
    merge_wares(desk, "CSJ", "MBU", sure=True)
    code = dry_container(desk, 131, 2)
    assert add_group(desk, code, ware="tgy", part="rim", pieces=1).ware == "MBU"
    with refused(desk, "unknown_ware"):
        merge_wares(desk, "TGY", "QRS")


def test_merged_forms(desk: Desk) -> None:
    for code in ("F1", "F2"):
        add_form(desk, code=code)
    code = dry_container(desk, 131, 2)
    add_group(desk, code, ware="QRS", form="F1", part="rim", pieces=2)
    do(desk, "merge-forms", {"sure": "yes"}, ("F1", "F2"))
    assert table_of(desk, code).groups[0].facts.form == "F2"
    assert [form.code for form in forms(desk)] == ["F2"]
    assert [form.merged_into for form in forms(desk, merged=True)] == ["F2", ""]
    assert prove(desk).sound


def test_the_series_goes_out_and_comes_in_as_it_was(desk: Desk, tmp_path: Path) -> None:
    add_ware(desk, code="IPA", name="Island Painted", earliest=-150, latest=100, source="Vade 2025")
    add_form(desk, code="IPA1", name="jug, tall", ware="IPA", earliest=-50, latest=50, note="=odd")
    path = tmp_path / "types.csv"
    assert write_types(desk, path) == WrittenTypes(rows=len(wares(desk)) + 1)
    assert "151 BCE,100,Vade 2025" in path.read_text("utf-8-sig")
    before = (wares(desk), forms(desk))
    taken = take_in_types(desk, path)
    assert (taken.added, taken.changed, taken.same) == ((), (), len(wares(desk)) + 1)
    assert (wares(desk), forms(desk)) == before
    assert prove(desk).sound


def written(folder: Path, *lines: str) -> Path:
    path = folder / "types.csv"
    path.write_text("\n".join(("kind,code,name,ware,from,to,source,note", *lines)) + "\n", "utf-8")
    return path


def test_new_codes_are_added_and_changed_ones_asked_about(desk: Desk, tmp_path: Path) -> None:
    path = written(
        tmp_path, "form,NEW1,bowl,NEW,200,300,Vade 2025,", "ware,NEW,New Ware,,44 BCE,300,,", "ware,QRS,Red,,180,320,,"
    )
    with refused(desk, "types_differ") as caught:
        take_in_types(desk, path)
    assert caught.value.facts["some"] == "QRS"
    assert caught.value.facts["what"] == "QRS: name Quay Red Slip → Red"
    taken = take_in_types(desk, path, sure=True)
    assert (taken.added, taken.changed) == (("NEW1", "NEW"), ("QRS",))
    assert [(form.code, form.ware, form.earliest) for form in forms(desk)] == [("NEW1", "NEW", 200)]
    assert {ware.code: ware.name for ware in wares(desk)}["QRS"] == "Red"


@pytest.mark.parametrize(
    ("lines", "code"),
    [
        (("ware,,Nameless,,,,,",), "type_row_unreadable"),
        (("pot,P1,Pot,,,,,",), "type_row_unreadable"),
        (("ware,P1,Pot,,300,200,,",), "type_row_unreadable"),
        (("ware,P1,Pot,,-43,200,,",), "type_row_unreadable"),
        (("ware,P1,Pot,,,,,", "ware,p1,Pot,,,,,"), "code_twice_in_file"),
        (("form,P1,Pot,XXX,,,,",), "unknown_ware"),
        (("ware,TGY,Grey,,,,,",), "code_merged"),
        (("form,P1,Pot,TGY,,,,",), "code_merged"),
    ],
)
def test_a_file_is_taken_in_whole_or_not_at_all(desk: Desk, tmp_path: Path, lines: tuple[str, ...], code: str) -> None:
    merge_wares(desk, "TGY", "CSJ", sure=True)
    with refused(desk, code):
        take_in_types(desk, written(tmp_path, "ware,GOOD,Good,,,,,", *lines), sure=True)


def test_a_form_that_would_leave_its_finds_is_asked_about_by_name(desk: Desk, tmp_path: Path) -> None:
    add_form(desk, code="QRS1", ware="QRS", earliest=180)
    row = add_group(desk, dry_container(desk, 131, 3), ware="QRS", form="QRS1", part="rim", pieces=3, tenths=300)
    path = written(tmp_path, "form,QRS1,,CSJ,200,,,", "ware,QRS,Quay Red Slip,,180,340,,")
    with refused(desk, "types_differ") as caught:
        take_in_types(desk, path)
    first, second = caught.value.in_words().split("; ")
    assert first.endswith(
        "QRS1: ware QRS → CSJ, from 180 → 200 (stay QRS: 1 row at the sorting table, 3 sherds in all)"
    )
    assert second == "QRS: to 320 → 340. Shall they say what the file says?"
    forms_of_qrs = [f"QRS{n}" for n in range(2, 13)]
    for form in forms_of_qrs:
        add_form(desk, code=form, ware="QRS")
    change_group(desk, row.id, seen=row.version, form="QRS12")
    with refused(desk, "types_differ") as caught:
        take_in_types(desk, written(tmp_path, *(f"form,{form},,CSJ,,,," for form in ["QRS1", *forms_of_qrs])))
    told = caught.value.in_words()
    assert told.startswith("12 codes say something else in the file: QRS12: ware QRS → CSJ (stay QRS: 1 row")
    assert told.endswith("; also QRS10, QRS11. Shall they say what the file says?"), "a laptop has room for ten"


def test_all_that_is_wrong_with_a_file_is_told_at_once(desk: Desk, tmp_path: Path) -> None:
    merge_wares(desk, "TGY", "CSJ", sure=True)
    lines = ("ware,,Nameless,,,,,", "ware,P1,Pot,,300,200,,", "form,P2,,P1,,,,", "form,P3,,XXX,,,,", "ware,TGY,,,,,,")
    with refused(desk, "type_file_faulty") as caught:
        take_in_types(desk, written(tmp_path, *lines, "form,P3,,,,,,"), sure=True)
    said = caught.value.in_words()
    assert said.startswith("types.csv cannot be taken in, for 5 faults. Line 2: the code is missing. Line 3: ")
    for wrong in ("P3 stands twice in types.csv, the second time in line 7", "no ware XXX", "TGY was merged"):
        assert wrong in said
    assert "no ware P1" not in said, "what only follows from a line that cannot be read is not told"


def test_columns_that_a_file_leaves_out_stay_as_they_are(desk: Desk, tmp_path: Path) -> None:
    path = tmp_path / "names.csv"
    path.write_text("code,name\nQRS,Red Slip\n", "utf-8")
    take_in_types(desk, path, sure=True)
    (red,) = [ware for ware in wares(desk) if ware.code == "QRS"]
    assert (red.name, red.earliest, red.latest) == ("Red Slip", 180, 320)
    assert take_in_types(desk, path).same == 1


def test_a_file_without_codes(desk: Desk, tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("name,source\nRed,x\n", "utf-8")
    with refused(desk, "type_headers"):
        take_in_types(desk, path)


def test_a_row_reads_what_it_writes() -> None:
    row = TypeRow(TypeKind.FORM, "Q1", "bowl", "QRS", -43, 320, "Vade", "n")
    cells = row.as_cells()
    assert cells == ("form", "Q1", "bowl", "QRS", "44 BCE", "320", "Vade", "n")
    named = dict(zip(("kind", "code", "name", "ware", "from", "to", "source", "note"), cells, strict=True))
    assert read_type_row(named, 2) == row
