"""Which line of the marking list is meant by what was scanned or typed, and by whose hand."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy.orm import Session

from findsdesk.desk.desk import Acting, Deed, Desk
from findsdesk.desk.finding import bag_of, container_of
from findsdesk.desk.finding_pieces import looks_like_a_piece, piece_of
from findsdesk.desk.mark_lines import MarkLine, lines_where
from findsdesk.desk.mark_sums import SORTED
from findsdesk.desk.opening import find_person
from findsdesk.desk.shipped import route_of
from findsdesk.domain.codes import Kind, could_be_code, read_code
from findsdesk.domain.marks import MARKED_MATERIALS
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Standing
from findsdesk.store.models import Container, Piece
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class Meant:
    """The line that was meant; a piece without a mark of its own takes at most its own sherds of it."""

    container: Container
    piece_id: int | None
    line: MarkLine
    at_most: int = 0

    @classmethod
    def find(cls, deed: Deed, which: str) -> Meant:
        """Return what is meant by a tag, number, bag, or piece. Refusals: ``not_inked``, ``not_sorted_yet``,
        ``piece_by_piece``, ``nothing_to_mark``, those of finding it.
        """
        container, piece = thing_marked(deed.session, deed.desk, which)
        lines = lines_of(deed, container)
        own = next((one for one in lines if piece is not None and one.piece_id == piece.id), None)
        line = own or next((one for one in lines if one.piece_id is None), None)
        if line is None:
            raise _no_line(container, lines)
        at_most = piece.pieces if piece is not None and own is None else 0
        return cls(container, line.piece_id, line, at_most)

    def again(self, deed: Deed) -> MarkLine:
        """Return the line as it stands now."""
        return next(one for one in lines_of(deed, self.container) if one.piece_id == self.piece_id)


def lines_of(deed: Deed, container: Container) -> tuple[MarkLine, ...]:
    """Return the lines of the marking list that a container has as it stands now."""
    return lines_where(deed.session, deed.desk.facts, Container.id == container.id)


def thing_marked(session: Session, desk: Desk, which: str) -> tuple[Container, Piece | None]:
    """Return the container (and piece) meant by a tag, a bag's or piece's code, a number or a piece's name."""
    if could_be_code(which):
        kind = read_code(which, desk.facts.code).kind
        if kind is Kind.BAG:
            return session.get_one(Container, bag_of(session, desk, which).container_id), None
        if kind is not Kind.PIECE:
            return container_of(session, desk, which), None
    elif not looks_like_a_piece(which):
        return container_of(session, desk, which), None
    piece = piece_of(session, desk, which)
    return session.get_one(Container, piece.container_id), piece


def _no_line(container: Container, lines: tuple[MarkLine, ...]) -> Refusal:
    if container.material not in MARKED_MATERIALS:
        return Refusal(
            "not_inked",
            N_("{material} is not inked: {container} {number} is known by its bag and label."),
            material=route_of(container.material).name,
            number=container.number,
        )
    if Standing(container.standing) not in SORTED:
        return Refusal(
            "not_sorted_yet",
            N_("{Container} {number} is not settled. Its kept sherds are marked once it is."),
            number=container.number,
        )
    if lines:
        return Refusal(
            "piece_by_piece",
            N_("Each piece of {container} {number} has a mark of its own. Name the piece, like {number}.1."),
            number=container.number,
        )
    return Refusal("nothing_to_mark", N_("{Container} {number} has no sherd left to mark."), number=container.number)


def acting_person(deed: Deed, who: str | None) -> Acting:
    """Return who wrote or checked: the person named, or who sits here. Refusal: ``unknown_person``."""
    return deed.desk.person if who is None else find_person(deed.session, who)
