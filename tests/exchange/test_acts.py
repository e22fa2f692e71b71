"""Files of acts: read by people and by the program alike; what cannot be read is named with its line."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.acts import ActLine, read_acts

ZONE = timezone(timedelta(hours=3))


def acts(folder, text: str) -> tuple[ActLine, ...]:
    path = folder / "season.acts"
    path.write_text(text, encoding="utf-8")
    return read_acts(path, zone=ZONE)


def test_a_line_says_when_who_where_and_what(tmp_path) -> None:
    (act,) = acts(tmp_path, "2026-07-14T14:40 tessa@awning check-in TQT000131X deposit=2017\n")
    assert act == ActLine(
        1,
        datetime(2026, 7, 14, 14, 40, tzinfo=ZONE),
        "tessa",
        "awning",
        "check-in",
        {"deposit": "2017"},
        ("TQT000131X",),
    )


def test_remarks_blank_lines_and_a_time_on_the_day_before(tmp_path) -> None:
    read = acts(
        tmp_path, "\ufeff# the morning\n\n2026-07-15T07:30 tessa soak tag=131 # tub 3\n  07:31:30 tessa soak tag=132\n"
    )
    assert [(act.line_number, act.at.isoformat(), act.station) for act in read] == [
        (3, "2026-07-15T07:30:00+03:00", None),
        (4, "2026-07-15T07:31:30+03:00", None),
    ]
    assert read[0].arguments == {"tag": "131"}


def test_quotation_marks_hold_blanks_and_signs_together(tmp_path) -> None:
    line = (
        """2026-07-14T14:40 "Tessa Quill"@awning note tag=131 text="it's half = a jar" where='a "shelf"' "x=1" bag#2"""
    )
    (act,) = acts(tmp_path, line)
    assert act.by == "Tessa Quill"
    assert act.arguments == {"tag": "131", "text": "it's half = a jar", "where": 'a "shelf"'}
    assert act.positional == ("x=1", "bag#2")


def test_a_moment_with_its_own_zone_keeps_it(tmp_path) -> None:
    (act,) = acts(tmp_path, "2026-07-14T14:40+00:00 tessa day\n")
    assert act.at.utcoffset() == timedelta(0)


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("2026-07-14T14:40 tessa", "too short"),
        ("14:40 tessa check-in 131", "no date"),
        ("14/07/26 tessa check-in 131", "date and time"),
        ("2026-07-14 tessa check-in 131", "date and time"),
        ("2026-07-14T25:00 tessa check-in 131", "date and time"),
        ('2026-07-14T14:40 tessa check-in "131', "never closes"),
        ("2026-07-14T14:40 tessa note text=it's", "never closes"),
        ('2026-07-14T14:40 tessa note text="a"b"', "never closes"),
        ("2026-07-14T14:40 @awning check-in 131", "no person"),
        ("2026-07-14T14:40 tessa tag=131 check-in", "not a deed"),
        ("2026-07-14T14:40 tessa count pieces=1 pieces=2", "twice"),
    ],
)
def test_a_line_that_cannot_be_read_names_file_line_and_fault(tmp_path, line, says) -> None:
    with pytest.raises(Refusal) as caught:
        acts(tmp_path, f"# first\n{line}\n")
    refusal = caught.value
    assert (refusal.code, refusal.facts["line"]) == ("act_line_unreadable", 2)
    assert "season.acts, line 2" in refusal.in_words()
    assert says in refusal.in_words()


def test_a_file_of_acts_that_is_no_text_is_refused(tmp_path) -> None:
    path = tmp_path / "season.acts"
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(Refusal) as caught:
        read_acts(path, zone=ZONE)
    assert caught.value.code == "not_utf8"
    with pytest.raises(Refusal) as caught:
        read_acts(tmp_path / "none.acts", zone=ZONE)
    assert caught.value.code == "file_missing"


VALUES = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Zl", "Zp"), exclude_characters='"'))


@given(VALUES, VALUES)
def test_whatever_is_quoted_comes_back(tmp_path_factory, first: str, second: str) -> None:
    folder = tmp_path_factory.mktemp("acts")
    (act,) = acts(folder, f'2026-07-14T14:40 tessa note "{first}" text="{second}"\n')
    assert act.positional == (first,)
    assert act.arguments == {"text": second}
