"""What the chapters of a season's report are made from."""

from __future__ import annotations

from dataclasses import dataclass

from findsdesk.desk.balances import MaterialBalance
from findsdesk.desk.deposit_facts import DepositFacts
from findsdesk.desk.season_facts import SeasonCounts, WareMatrix, Week
from findsdesk.desk.setting_up import SeasonFacts
from findsdesk.desk.sherd_figures import SherdFigures
from findsdesk.desk.the_day import Day
from findsdesk.paper.list_kinds import ListRow


@dataclass(frozen=True, slots=True)
class SeasonRead:
    """A season as it was read for its report."""

    season: SeasonFacts
    day: Day
    counts: SeasonCounts
    weeks: tuple[Week, ...]
    deposits: tuple[DepositFacts, ...]
    matrix: WareMatrix
    figures: SherdFigures
    balances: tuple[MaterialBalance, ...]
    dated: tuple[ListRow, ...] = ()
    """The table of dates by deposit, worked out once: each row sums its deposit's sherds."""
