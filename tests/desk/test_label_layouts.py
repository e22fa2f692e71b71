"""The excavation's own layouts of labels: written, seen on the very paper, taken back; refused where they cannot be."""

from dataclasses import replace

import pytest
from sqlalchemy import select

from findsdesk.desk.desk import Desk
from findsdesk.desk.label_layouts import (
    LabelKind,
    LayoutLine,
    change_label_layout,
    change_label_layout_as_text,
    field_titles,
    label_layouts,
    layout_as_text,
    layout_from_text,
    sample_label,
    shipped_layout,
)
from findsdesk.desk.label_preview import look_at_layout
from findsdesk.desk.printing import PrintKind, gather, lay_out
from findsdesk.desk.proving import prove
from findsdesk.domain.codes import Kind, read_code
from findsdesk.paper.labels import lay_out as draw
from findsdesk.paper.reading_back import read_back
from findsdesk.paper.stocks import stocks
from findsdesk.store.models import LabelLayout
from tests.desk.at_the_table import refused
from tests.printed import MOMENT, Sheet
from tests.yard import acts, put_container

SHEET = "a4-3x8-70x37"
TAG = shipped_layout(LabelKind.TAG)


def test_a_layout_holds_for_the_labels_that_are_drawn_from_then_on(desk: Desk) -> None:
    put_container(desk, 131)
    before = gather(desk, PrintKind.TAG)
    assert before.layout == TAG
    changed = change_label_layout(desk, replace(TAG, lines=(LayoutLine(("container", "deposit"), "numbers", 30.0),)))
    assert changed.own
    assert label_layouts(desk)[LabelKind.TAG] == changed
    assert not label_layouts(desk)[LabelKind.BAG].own
    said = Sheet(lay_out(desk, gather(desk, PrintKind.TAG), stock=SHEET).pdf).text()
    assert "supervisor" in Sheet(lay_out(desk, before, stock=SHEET).pdf).text()
    assert "supervisor" not in said
    assert "131" in said
    assert prove(desk).sound


def test_the_layout_that_ships_comes_back(desk: Desk) -> None:
    change_label_layout(desk, replace(TAG, hole=False))
    again = change_label_layout_as_text(desk, LabelKind.TAG)
    assert again.layout == TAG
    assert again.version == 2


def test_two_who_edit_a_layout_at_once_are_told(desk: Desk) -> None:
    first = change_label_layout(desk, replace(TAG, hole=False))
    change_label_layout(desk, replace(TAG, bars=False), seen=first.version)
    with refused(desk, "changed_meanwhile"):
        change_label_layout(desk, TAG, seen=first.version)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ('[[line]]\nfields = ["weight"]', "unknown_label_field"),
        ("lines = [", "layout_unreadable"),
        ('[[line]]\nfields = ["container"]\nsize = "big"', "layout_unreadable"),
        ("[[line]]\nfields = 3", "layout_unreadable"),
        ('square = "qr"', "layout_empty"),
    ],
)
def test_what_cannot_be_a_layout_leaves_the_store_as_it_was(desk: Desk, text: str, code: str) -> None:
    before = acts(desk)
    with refused(desk, code):
        change_label_layout_as_text(desk, LabelKind.TAG, layout=text)
    assert acts(desk) == before
    with desk.reading() as reading:
        assert reading.session.execute(select(LabelLayout)).first() is None


def test_a_layout_that_changes_nothing_is_no_act(desk: Desk) -> None:
    before = acts(desk)
    with refused(desk, "same_layout"):
        change_label_layout(desk, TAG)
    assert acts(desk) == before


@pytest.mark.parametrize("kind", LabelKind)
def test_a_layout_as_text_is_the_same_layout(kind: LabelKind) -> None:
    assert layout_from_text(kind, layout_as_text(shipped_layout(kind))) == shipped_layout(kind)


@pytest.mark.parametrize("kind", LabelKind)
def test_each_kind_has_a_sample_to_look_at_and_names_for_its_fields(desk: Desk, kind: LabelKind) -> None:
    sample = sample_label(desk, kind)
    assert read_code(sample.code, desk.facts.code).serial == 131
    pdf = draw([sample], stocks()[SHEET], moment=MOMENT, title="x", layout=shipped_layout(kind)).pdf
    assert {code for _page, code in read_back(pdf)} == {sample.code}
    titles = field_titles(kind, desk.terms)
    assert all(titles.values())
    if kind is LabelKind.TAG:
        assert (titles["container"], titles["deposit"]) == (desk.terms.container, desk.terms.deposit)


def test_the_size_said_of_a_number_is_that_on_the_label_not_on_its_counterfoil(desk: Desk) -> None:
    looked = look_at_layout(desk, shipped_layout(LabelKind.TAG), stock="a4-2x4-97x67")
    assert looked.fields["container"].points > 30


def test_the_code_of_a_sample_is_of_its_kind(desk: Desk) -> None:
    kinds = {kind: read_code(sample_label(desk, kind).code, desk.facts.code).kind for kind in LabelKind}
    assert (kinds[LabelKind.PIECE], kinds[LabelKind.BOX], kinds[LabelKind.TAG]) == (Kind.PIECE, Kind.BOX, Kind.TAG)
