"""Every sheet and report by its key: what it is called, what it is for, what may be asked of it, and how it is made."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
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
from findsdesk.desk.marking_sheet import marking_sheet
from findsdesk.desk.piece_catalogue import piece_catalogue
from findsdesk.desk.season_report import season_report
from findsdesk.desk.sheets import PrintedList, concordance_sheet, evening_sheet, missing_list, redo_sheet
from findsdesk.desk.whole_papers import Asked
from findsdesk.desk.yard_sheet import yard_sheet
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

DAY, DEPOSIT, MATERIAL, SEASON = "day", "deposit", "material", "season"
"""What may be asked of a paper."""


@dataclass(frozen=True, slots=True)
class PaperKind:
    """A sheet or report: key (also in its file's name), name, purpose in a sentence (marked texts), what it asks for.

    ``needs`` names what it cannot be made without.
    """

    key: str
    name: str
    purpose: str
    make: Callable[[Desk, Asked], PrintedList]
    asks: tuple[str, ...] = ()
    needs: str = ""


def _today(desk: Desk) -> date:
    return desk.now().astimezone(desk.facts.zone).date()


PAPERS = (
    PaperKind(
        "yard",
        N_("Yard sheet"),
        N_("What lies in tubs and trays, what is held, what waits: hangs in the yard."),
        yard_sheet,
    ),
    PaperKind(
        "evening",
        N_("Evening sheet"),
        N_("By {square}, for supper: came in, washed, read, dates, what is notable, questions."),
        lambda desk, asked: evening_sheet(desk, asked.day or _today(desk), paper=asked.paper),
        (DAY,),
    ),
    PaperKind(
        "day-sheets",
        N_("Day sheets"),
        N_("To fill in by hand on a day without power, with what is in the yard written on them."),
        blank_day_sheets,
        (DAY,),
    ),
    PaperKind(
        "inspector",
        N_("State of the day"),
        N_("For an inspector: what stands where, balance, objects, samples, discards, what is open."),
        inspector_sheet,
        (DAY,),
    ),
    PaperKind(
        "field", N_("Field list"), N_("Tags that are out, by supervisor, to be filled in at the trench."), field_sheet
    ),
    PaperKind(
        "missing",
        N_("Missing list"),
        N_("{Containers} listed or reported missing, to search by."),
        lambda desk, asked: missing_list(desk, paper=asked.paper),
    ),
    PaperKind(
        "marking",
        N_("Marking list"),
        N_("By {deposit}, for the marking table: what to ink on the kept pieces."),
        lambda desk, asked: marking_sheet(desk, asked.deposit or None, paper=asked.paper),
        (DEPOSIT,),
    ),
    PaperKind(
        "to-write-again",
        N_("To write again"),
        N_("Tags, labels and marks that say something no longer true after a correction."),
        lambda desk, asked: redo_sheet(desk, paper=asked.paper),
    ),
    PaperKind(
        "concordance",
        N_("Concordance"),
        N_("Old and new numbers of {deposits}, and how much each change leaves to write again."),
        lambda desk, asked: concordance_sheet(desk, paper=asked.paper),
    ),
    PaperKind(
        "deposit",
        N_("Sheet of a {deposit}"),
        N_("Everything known of one: {containers} and steps, balance, wares, dates with plot, pieces with pictures."),
        deposit_sheet,
        (DEPOSIT,),
        DEPOSIT,
    ),
    PaperKind(
        "containers",
        N_("Register of {containers}"),
        N_("Every tag ever issued with what became of it, also empty, lost and void ones."),
        container_register,
        (SEASON,),
    ),
    PaperKind(
        "pieces",
        N_("Catalogue of pieces"),
        N_("Each piece with its photograph, measures and Munsell colours."),
        piece_catalogue,
        (DEPOSIT, SEASON),
    ),
    PaperKind(
        "discards",
        N_("Register of discards"),
        N_("Every discard list with who decided, signed and carried it away, line by line."),
        discard_register_sheet,
        (SEASON,),
    ),
    PaperKind(
        "bone",
        N_("Bone list"),
        N_("Every {container} of bone, for the specialist, to be signed over."),
        bone_list,
        (SEASON,),
    ),
    PaperKind(
        "balance",
        N_("Balance certificate"),
        N_("By material: what came in and where each piece of it is, to be signed."),
        balance_certificate,
        (MATERIAL, SEASON),
    ),
    PaperKind(
        "season",
        N_("Report of the season"),
        N_("The whole season as a book: figures, {deposits}, wares, dates, pieces, discards, balance, what is open."),
        season_report,
        (SEASON,),
    ),
)
"""In the order of the day, then of the season."""


def paper_kind(key: str) -> PaperKind:
    """Return a paper by its key; raises ``unknown_paper_kind``."""
    for one in PAPERS:
        if one.key == key:
            return one
    text = N_("There is no sheet {key}. There is: {known}.")
    raise Refusal("unknown_paper_kind", text, key=key, known=", ".join(one.key for one in PAPERS))


def make_paper(
    desk: Desk, key: str, asked: Asked | None = None, called_off: Callable[[], bool] = lambda: False
) -> PrintedList:
    """Make a paper; once ``called_off`` says so the work ends in the refusal ``called_off``.

    What a paper does not ask for is left out of what is asked. Refusals: ``unknown_paper_kind``, the paper's own.
    """
    kind, wanted = paper_kind(key), asked or Asked()
    told = wanted.follow

    def follow(page: int, pages: int) -> None:
        if called_off():
            raise Refusal("called_off", N_("Called off. Nothing was written."))
        if told is not None:
            told(page, pages)

    return kind.make(
        desk,
        replace(
            wanted,
            day=wanted.day if DAY in kind.asks else None,
            deposit=wanted.deposit if DEPOSIT in kind.asks else "",
            material=wanted.material if MATERIAL in kind.asks else "",
            season=wanted.season if SEASON in kind.asks else "",
            follow=follow,
        ),
    )
