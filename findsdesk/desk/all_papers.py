"""Every sheet and report made by its key."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date

from findsdesk.desk.blank_sheets import blank_day_sheets
from findsdesk.desk.bone_list import bone_list
from findsdesk.desk.certificate import balance_certificate
from findsdesk.desk.container_sheet import container_register
from findsdesk.desk.deposit_sheet import deposit_sheet
from findsdesk.desk.desk import Desk
from findsdesk.desk.discard_register_sheet import discard_register_sheet
from findsdesk.desk.field_sheet import field_sheet
from findsdesk.desk.inspector_sheet import inspector_sheet
from findsdesk.desk.joins_sheet import joins_sheet
from findsdesk.desk.marking_sheet import marking_sheet
from findsdesk.desk.open_sheet import open_sheet
from findsdesk.desk.paper_kinds import DAY, DEPOSIT, MATERIAL, SEASON, paper_kind
from findsdesk.desk.piece_catalogue import piece_catalogue
from findsdesk.desk.season_report import season_report
from findsdesk.desk.setting_up import season_of
from findsdesk.desk.sheets import PrintedList, concordance_sheet, evening_sheet, missing_list, redo_sheet
from findsdesk.desk.store_sheets import box_sheet, missing_things_sheet
from findsdesk.desk.whole_papers import Asked
from findsdesk.desk.yard_sheet import yard_sheet
from findsdesk.domain.deposits import refuse_future

Maker = Callable[[Desk, Asked], PrintedList]


def _today(desk: Desk) -> date:
    return desk.now().astimezone(desk.facts.zone).date()


MAKERS: dict[str, Maker] = {
    "yard": yard_sheet,
    "evening": lambda desk, asked: evening_sheet(desk, asked.day or _today(desk), paper=asked.paper),
    "day-sheets": blank_day_sheets,
    "inspector": inspector_sheet,
    "field": field_sheet,
    "missing": lambda desk, asked: missing_list(desk, paper=asked.paper),
    "marking": lambda desk, asked: marking_sheet(desk, asked.deposit or None, paper=asked.paper),
    "to-write-again": lambda desk, asked: redo_sheet(desk, paper=asked.paper),
    "concordance": lambda desk, asked: concordance_sheet(desk, paper=asked.paper),
    "deposit": deposit_sheet,
    "containers": container_register,
    "pieces": piece_catalogue,
    "joins": lambda desk, asked: joins_sheet(desk, paper=asked.paper),
    "discards": discard_register_sheet,
    "bone": bone_list,
    "boxes": box_sheet,
    "missing-on-shelves": lambda desk, asked: missing_things_sheet(desk, paper=asked.paper),
    "balance": balance_certificate,
    "open": open_sheet,
    "season": season_report,
}
"""How each of ``paper_kinds.PAPERS`` is made."""


OF_A_DAY_THAT_WAS = ("evening", "inspector")
"""What says how a day went; sheets to fill in may be of a day to come."""


def make_paper(desk: Desk, key: str, asked: Asked | None = None) -> PrintedList:
    """Make a paper of one moment of the store; what it does not ask for is left out of what is asked.

    Refusals: ``unknown_paper_kind``, ``unknown_season``, ``day_in_future``, the paper's own, and what ``asked.follow``
    raises.
    """
    kind, wanted = paper_kind(key), asked or Asked()
    of_it = replace(
        wanted,
        day=wanted.day if DAY in kind.asks else None,
        deposit=wanted.deposit.strip() if DEPOSIT in kind.asks else "",
        material=wanted.material.strip() if MATERIAL in kind.asks else "",
        season=wanted.season.strip() if SEASON in kind.asks else "",
    )
    with desk.at_one_moment() as now:
        if of_it.day is not None and key in OF_A_DAY_THAT_WAS:
            refuse_future(of_it.day, _today(now))
        if of_it.season:
            with now.reading() as reading:
                season_of(reading.session, _today(now), of_it.season)
        return MAKERS[key](now, of_it)
