"""Labels of boxes, places and loans, as plain values from the store."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.box_kinds import box_rule
from findsdesk.desk.box_label_words import contents_of
from findsdesk.desk.boxes import BoxFacts, box_rows, every_box
from findsdesk.desk.desk import Desk
from findsdesk.desk.finding_shelves import box_of, loan_of, place_of
from findsdesk.desk.label_contents import LabelToPrint
from findsdesk.desk.lying import STEP, tree_of
from findsdesk.domain.natural_order import sort_key
from findsdesk.paper.label_kinds import BoxLabel, LoanLabel, PlaceLabel
from findsdesk.store.models import Loan, LoanLine, Place, Season
from findsdesk.words import put


def box_labels(session: Session, desk: Desk, codes: Sequence[str] | None) -> list[LabelToPrint]:
    """Return the labels of boxes by code or number; None means of all there are. Refusals: of finding a box."""
    if codes is None:
        boxes = [one for one in every_box(session) if not one.gone]
    else:
        ids = [box_of(session, desk, code).id for code in codes]
        found = {one.id: one for one in box_rows(session, ids)}
        boxes = [found[one] for one in dict.fromkeys(ids)]
    contents = contents_of(session, [one.id for one in boxes])
    return [LabelToPrint(_box(session, desk, one, contents.get(one.id, ()))) for one in boxes]


def _box(session: Session, desk: Desk, box: BoxFacts, contents: tuple[str, ...]) -> BoxLabel:
    season = session.execute(select(Season).order_by(Season.starts.desc()).limit(1)).scalar()
    terms, language = desk.facts.terms, desk.facts.settings.paper_language
    return BoxLabel(
        code=box.code,
        number=str(box.number),
        site=desk.facts.name,
        season=season.name if season else "",
        permit=season.permit if season else "",
        material=put(box.kind_name, terms, None, language),
        contents=contents,
        tenths=box.tenths or None,
        caution=put(box_rule(box.kind).on_label, terms, None, language),
    )


def place_labels(session: Session, desk: Desk, codes: Sequence[str] | None) -> list[LabelToPrint]:
    """Return the labels of places; None means of all there are, by where they are. Refusals: of finding a place."""
    tree = tree_of(session)
    if codes is None:
        places = sorted(
            (one for one in tree.places.values() if one.gone_at is None), key=lambda one: sort_key(tree.path(one.id))
        )
    else:
        places = list({one.id: one for one in (place_of(session, desk, code) for code in codes)}.values())
    return [LabelToPrint(_place(one, tree.path(one.id))) for one in places]


def _place(row: Place, path: str) -> PlaceLabel:
    return PlaceLabel(code=row.code, name=row.name, path=tuple(path.split(STEP)[:-1]))


def loan_labels(session: Session, desk: Desk, codes: Sequence[str] | None) -> list[LabelToPrint]:
    """Return the labels of loans; None means of all that are out. Refusals: of finding a loan."""
    if codes is None:
        loans = list(session.execute(select(Loan).where(Loan.back_on.is_(None)).order_by(Loan.number)).scalars())
    else:
        loans = list({one.id: one for one in (loan_of(session, desk, code) for code in codes)}.values())
    return [LabelToPrint(_loan(session, one)) for one in loans]


def _loan(session: Session, row: Loan) -> LoanLabel:
    pieces = session.execute(select(func.sum(LoanLine.pieces)).where(LoanLine.loan_id == row.id)).scalar()
    return LoanLabel(row.code, row.borrower, row.purpose, row.lent_on, row.due_on, pieces)
