"""What is asked of papers and proposals: a season that is none, a limit of nothing; and lists of one moment."""

from __future__ import annotations

import pytest

from findsdesk.desk.all_papers import make_paper
from findsdesk.desk.box_proposals import pack_as_proposed, propose_boxes
from findsdesk.desk.desk import Desk
from findsdesk.desk.paper_kinds import PAPERS, SEASON
from findsdesk.desk.setting_up import season_now
from findsdesk.desk.whole_papers import Asked
from tests.desk.at_the_table import refused
from tests.desk.on_the_shelves import put_bags
from tests.desk.test_figure_papers import text_of
from tests.yard import put_container


@pytest.mark.parametrize("key", [one.key for one in PAPERS if SEASON in one.asks])
def test_a_season_that_is_none_is_refused_and_not_printed_as_empty(desk: Desk, key: str) -> None:
    with refused(desk, "unknown_season"):
        make_paper(desk, key, Asked(season="1999"))


@pytest.mark.parametrize("key", ["missing", "evening", "marking", "to-write-again", "concordance"])
def test_a_list_bears_the_head_of_the_moment_its_rows_are_of(
    desk: Desk, key: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    wrote: list[str] = []
    before = desk.head()

    def written_meanwhile(of: Desk) -> object:
        if not wrote:
            wrote.append(put_container(desk, 131))
        return season_now(of)

    monkeypatch.setattr("findsdesk.desk.sheets.season_now", written_meanwhile)
    text = text_of(make_paper(desk, key).pdf)
    assert wrote
    assert desk.head() != before
    assert before in text


@pytest.mark.parametrize("limit", [0, -5, 10**9])
def test_a_limit_that_no_box_has_is_refused_before_anything_is_packed(desk: Desk, limit: int) -> None:
    put_bags(desk, 131, [100.0, None])
    for propose in (propose_boxes, pack_as_proposed):
        with refused(desk, "limit_too_high"):
            propose(desk, limit_tenths=limit)  # type: ignore[operator]
