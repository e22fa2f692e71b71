"""The register of pieces: every sherd recorded on its own, over all containers and seasons."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from sqlalchemy import String, and_, cast, false, func, literal_column, or_, select

from findsdesk.desk.container_register import container_says, deposits_numbered, says
from findsdesk.desk.desk import Reading
from findsdesk.desk.filters_of_finds import by_container, by_origin, by_type
from findsdesk.desk.piece_rows import PieceRow, piece_rows
from findsdesk.desk.register_windows import Condition, Key, Source
from findsdesk.desk.vessels import vessel_numbered
from findsdesk.desk.word_lists import SHIPPED, words_of
from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Container, Form, Piece, Ware, Word
from findsdesk.words import N_

WANTS = {"drawing": Piece.drawing_wanted, "photo": Piece.photo_wanted}
"""What a piece may still want."""


def of_containers(word: str) -> Condition:
    """Return the condition that a piece's container or deposit holds a folded word."""
    containers = select(Container.id).where(
        or_(container_says(word), Container.deposit_id.in_(deposits_numbered(word)))
    )
    return Piece.container_id.in_(containers)


def _holds_word(word: str) -> Condition:
    wares = select(Ware.id).where(or_(Ware.code.ilike(word, escape="/"), Ware.name.ilike(word, escape="/")))
    forms = select(Form.id).where(or_(Form.code.ilike(word, escape="/"), Form.name.ilike(word, escape="/")))
    return or_(
        says(Piece.search_text, word),
        Piece.ware_id.in_(wares),
        Piece.form_id.in_(forms),
        _of_parts_called(word),
        _named(word),
        of_containers(word),
    )


def _of_parts_called(word: str) -> Condition:
    """Return the condition that the part of the vessel holds a folded word in its name, shipped or the excavation's."""
    said = _without_signs(word)
    shipped = [term.key for term in SHIPPED["parts"].every if said in folded(term.name)]
    own = select(Word.key).where(Word.list == "parts", Word.name.ilike(word, escape="/"))
    return or_(Piece.part.in_(shipped), Piece.part.in_(own))


def _named(word: str) -> Condition:
    """Return the condition that a piece is called by a word, or its name begins so: 90.4, and 90.41 too."""
    container, dot, number = _without_signs(word).rpartition(".")
    if not (dot and container and (number.isdecimal() or not number)):
        return false()
    return and_(
        Piece.container_id.in_(select(Container.id).where(func.lower(Container.number) == container)),
        cast(Piece.number, String).like(f"{number}%"),
    )


def _without_signs(word: str) -> str:
    """Return the word that a pattern of LIKE was made of."""
    return re.sub(r"/(.)", r"\1", word[1:-1])


def _of_vessels(reading: Reading, values: Sequence[str]) -> Condition:
    numbers = [int(value) for value in values if value.strip().isdecimal()]
    ids = [vessel_numbered(reading.session, number).id for number in numbers]
    return Piece.vessel_id.in_(ids) if ids else false()


def _wants(_reading: Reading, values: Sequence[str]) -> Condition:
    unknown = [value for value in values if value not in WANTS]
    if unknown:
        raise Refusal(
            "unknown_want",
            N_("A piece may want a drawing or a photo, not “{said}”."),
            said=", ".join(unknown),
        )
    return or_(*(WANTS[value] for value in values))


def _rows(reading: Reading, keys: Sequence[Key]) -> Mapping[Key, PieceRow]:
    return {row.id: row for row in piece_rows(reading.session, keys, words_of(reading.desk))}


PIECES = Source(
    key=Piece.id,
    sorts={"code": (Piece.code,), "lifted": (Piece.lifted_at,)},
    filters={
        **by_container(Piece.container_id),
        **by_origin(Piece.container_id),
        **by_type(Piece.ware_id, Piece.form_id, Piece.part),
        "vessel": _of_vessels,
        "wants": _wants,
    },
    holds_word=_holds_word,
    rows=_rows,
)
DRAWINGS = replace(PIECES, sorts={"drawing": (Piece.drawing,)}, only=Piece.drawing > literal_column("''"))
"""The pieces of which there is a drawing, by the name of it."""
