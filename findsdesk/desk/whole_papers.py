"""Papers of several parts: gathered at one moment of the store, printed, and followed or called off meanwhile."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date

from findsdesk.desk.setting_up import season_now
from findsdesk.desk.sheets import A4, PrintedList, Wording, paper_named
from findsdesk.desk.shipped import cautions_at, routes
from findsdesk.domain.cautions import At
from findsdesk.paper import reading_back
from findsdesk.paper.list_kinds import CautionSlip
from findsdesk.paper.page_frame import PageHead
from findsdesk.paper.report_kinds import Cover, Part, Report
from findsdesk.paper.reports import Progress, print_report
from findsdesk.words import N_

NONE = "–"


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of a paper: a day, a deposit, a material, a season (each None or '': the paper's own choice)."""

    day: date | None = None
    deposit: str = ""
    material: str = ""
    season: str = ""
    paper: str = A4
    follow: Progress | None = None
    """Told page and pages; what it raises calls the work off."""


def print_whole(
    say: Wording,
    asked: Asked,
    *,
    title: str,
    parts: Callable[[], Iterable[Part]],
    rows: int,
    filter_words: str = "",
    turned: bool = False,
    cover: Cover | None = None,
    permit: str | None = None,
) -> PrintedList:
    """Return a paper of several parts as PDF; its texts are in the paper's words, ``rows`` says what it is counted by.

    ``permit`` is that of the season of today where none is given. Refusals: ``unknown_paper``, letters without a face.
    """
    head = page_head(say, title=title, filter_words=filter_words, permit=permit)
    return print_parts(Report(head, parts, cover, turned), rows=rows, asked=asked)


def page_head(say: Wording, *, title: str, filter_words: str = "", permit: str | None = None) -> PageHead:
    """Return what every page of a paper says; ``permit`` is that of the season of today where none is given."""
    desk, season = say.desk, season_now(say.desk)
    return PageHead(
        title=title,
        excavation=say.excavation(),
        permit=(season.permit if season else "") if permit is None else permit,
        person=desk.person.name,
        moment=desk.now().astimezone(desk.facts.zone),
        head=desk.head(),
        filter_words=filter_words,
        language=say.language,
        terms=desk.terms,
    )


def print_parts(report: Report, *, rows: int, asked: Asked) -> PrintedList:
    """Return a report that the paper layer put together as PDF. Refusals: those of ``print_whole``."""
    pdf = print_report(report, paper_named(asked.paper), asked.follow)
    return PrintedList(report.head.title, pdf, rows, reading_back.page_count(pdf))


def grams(tenths: int | None) -> str:
    """Return a weight as lists write it; a dash where nobody weighed."""
    return NONE if tenths is None else f"{tenths / 10:,.1f}"


def percent(permille: int | None) -> str:
    """Return a share as lists write it; nothing where none was said."""
    return "" if permille is None else f"{permille / 10:g} %"


def material_in_words(material: str, say: Wording) -> str:
    """Return what a material is called."""
    route = routes().get(material)
    return say(route.name) if route else material


def caution_slip(say: Wording, work: At, material: str | None = None) -> CautionSlip | None:
    """Return the cautions of some work as one slip: the first whole, of the others what to do; None where none is."""
    shown = cautions_at(work, material)
    if not shown:
        return None
    rest = [say(shown[0].text), *(f"{say(one.lead)} {say(one.text)}" for one in shown[1:])]
    return CautionSlip(say(shown[0].lead), " ".join([*rest, say(LOCAL_RULES)]))


LOCAL_RULES = N_("Local rules and the people licensed for a thing come first.")
