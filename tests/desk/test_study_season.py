"""A study season without field work: what was carried over stands so, is found by its old label, and goes on."""

from __future__ import annotations

from datetime import date

import pypdfium2
import pytest

from findsdesk.desk.bagging import bag
from findsdesk.desk.counting import log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import Dossier, find
from findsdesk.desk.filter_words import filter_words
from findsdesk.desk.inspector_sheet import inspector_sheet
from findsdesk.desk.proving import prove
from findsdesk.desk.readings import read_container
from findsdesk.desk.register_columns import fields_of, wording
from findsdesk.desk.registers import Register, RegisterQuery, all_rows
from findsdesk.desk.season_end import count_open, season_end
from findsdesk.desk.setting_up import open_season
from findsdesk.desk.signing_open import sign_open
from findsdesk.desk.sorting import add_group, begin_sorting, reopen, settle, table_of
from findsdesk.desk.washing import dip_and_look, mark_dry
from findsdesk.desk.whole_papers import Asked
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.season_end import StaysAs
from findsdesk.domain.standings import Standing
from tests.yard import advance, put_container, put_settled, sitting, standing_of


@pytest.fixture
def study(desk: Desk) -> tuple[Desk, str, str]:
    """Return a desk a year later, in a season of study, with a bucket boxed unwashed and one boxed unread."""
    unwashed, unread = put_container(desk, 3), put_settled(desk, 5)
    sign_open(desk, second="Mika", note="shelf 3")
    open_season(desk, name="2027 study", permit="VE-27-003", starts=date(2027, 7, 5), ends=date(2027, 7, 30))
    advance(desk, days=360)
    return desk, unwashed, unread


def carried(desk: Desk, which: str) -> tuple[str, str, int] | None:
    dossier = find(desk, which)
    assert isinstance(dossier, Dossier)
    stands = dossier.carried
    return None if stands is None else (stands.stays_as, stands.season, stands.list_number)


def text_of(pdf: bytes) -> str:
    with pypdfium2.PdfDocument(pdf) as document:
        return "\n".join(page.get_textpage().get_text_bounded() for page in document)


def numbers(desk: Desk, standing: str) -> list[str]:
    with desk.reading() as reading:
        query = RegisterQuery(filters=(("standing", standing),))
        return [row.number for row in all_rows(reading, Register.CONTAINERS, query)]


def test_boxed_unwashed_and_boxed_unread_are_standings(study: tuple[Desk, str, str]) -> None:
    desk, unwashed, unread = study
    assert carried(desk, unwashed) == ("boxed unwashed", "2026", 1)
    assert carried(desk, unread) == ("boxed unread", "2026", 1)
    assert (numbers(desk, StaysAs.UNWASHED), numbers(desk, StaysAs.UNREAD)) == (["3"], ["5"])
    assert numbers(desk, Standing.ARRIVED) == ["3"]
    assert ("boxed unread", "boxed unread") in filter_words(desk, "standing")
    stands = next(one for one in fields_of(Register.CONTAINERS) if one.key == "standing")
    with desk.reading() as reading:
        rows = list(all_rows(reading, Register.CONTAINERS))
    assert [stands.value(row, wording(desk)) for row in rows] == ["arrived, boxed unwashed", "settled, boxed unread"]
    said = text_of(inspector_sheet(desk, Asked()).pdf)
    assert "Boxed unwashed" in said
    assert "Boxed unread" in said
    read_container(sitting(desk, "Oren"), unread, main="II")
    assert carried(desk, unread) is None
    assert numbers(desk, StaysAs.UNREAD) == []


def test_old_containers_go_on_in_a_season_without_field_work(study: tuple[Desk, str, str]) -> None:
    desk, unwashed, unread = study
    assert season_end(desk).season == "2027 study"
    assert (count_open(desk, "unwashed"), count_open(desk, "unread")) == (1, 1)
    dip_and_look(desk, unwashed)
    log_count(desk, unwashed, pieces=7)
    assert carried(desk, unwashed) is None
    mark_dry(desk, [unwashed])
    begin_sorting(desk, unwashed, sure=True)
    add_group(sitting(desk, "Oren"), unwashed, ware="QRS", part="rim", pieces=7)
    settle(desk, unwashed)
    reopen(desk, unread, reason="study season")
    assert standing_of(desk, unread) is Standing.SORTING
    assert carried(desk, unread) is None, "it lies on the table"
    settle(desk, unread)
    for code in (unwashed, unread):
        read_container(sitting(desk, "Oren"), code, main="II")
        bag(desk, code)
    assert (count_open(desk, "unwashed"), count_open(desk, "unread")) == (0, 0)
    assert table_of(desk, unwashed).ledger.kept == 7
    dossier = find(desk, unwashed)
    assert isinstance(dossier, Dossier)
    assert (dossier.season, dossier.standing) == ("2026", Standing.BAGGED)
    assert prove(desk).sound


def test_old_labels_without_codes_are_found_by_their_mark(study: tuple[Desk, str, str]) -> None:
    desk, _unwashed, _unread = study
    open_season(desk, name="2028", permit="VE-28-001", starts=date(2028, 7, 3), ends=date(2028, 8, 13))
    advance(desk, days=360)
    put_container(desk, 5, season="2028")
    for label in ("VE-26-014 2017-5", "2026/2017-5", "2026/5"):
        dossier = find(desk, label)
        assert isinstance(dossier, Dossier)
        assert (dossier.season, dossier.carried is not None) == ("2026", True)
    with pytest.raises(Refusal) as asked:
        find(desk, "2017-5")
    assert asked.value.in_words(desk.terms) == (
        "Which season? 2017-5 fits 2028, 2026. Type the season before it: 2026/2017-5."
    )
