"""The catalogue of pieces on paper: each with its photograph, its measures, and its Munsell colours as swatches."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Any

from sqlalchemy import func, select

from findsdesk.desk.desk import Desk
from findsdesk.desk.finding import deposit_of
from findsdesk.desk.joins import JoinRow, joins_by_piece
from findsdesk.desk.photos import PhotoFacts, photo_rows, thumbnail_of
from findsdesk.desk.piece_rows import PieceRow, piece_rows
from findsdesk.desk.sheets import PrintedList, Wording
from findsdesk.desk.whole_papers import Asked, grams, percent, print_whole
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.balance import Decision
from findsdesk.domain.munsell import read_munsell
from findsdesk.domain.pieces import METHOD_IN_WORDS, DiameterMethod
from findsdesk.domain.refusals import Refusal, StoreFault
from findsdesk.domain.swatches import Swatch as Chip
from findsdesk.domain.swatches import swatch
from findsdesk.domain.years import year_in_words
from findsdesk.paper.report_kinds import CatalogueEntry, Heading, Part, Swatch, Words
from findsdesk.store.models import Container, Deposit, Photo, Piece, Season
from findsdesk.words import N_, plural

AT_ONCE = 200
COLOUR_IN_WORDS = {
    "colour_surface": N_("outside"),
    "colour_inside": N_("inside"),
    "colour_core": N_("core"),
    "colour_slip": N_("slip"),
}
DECISION_IN_WORDS = {
    Decision.KEEP: N_("kept"),
    Decision.MEND: N_("kept for mending"),
    Decision.DISCARD: N_("to discard"),
    Decision.HOLD: N_("on hold"),
}
PHOTO_GONE = N_("The file of {file} is gone or changed.")
COLOURS_ARE_NEAR = N_("Swatches are the nearest chip as this printer can show it; what counts is the notation.")


def piece_catalogue(now: Desk, asked: Asked) -> PrintedList:
    """Return the catalogue of the pieces of a deposit, of a season, or of all.

    Refusals: ``unknown_deposit``, ``unknown_paper``.
    """
    with now.at_one_moment() as desk:
        say = Wording(desk)
        chosen = say(N_("{Deposit} {number}"), number=asked.deposit) if asked.deposit else ""
        season = say(N_("Season {name}"), name=asked.season) if asked.season else ""
        return print_whole(
            say,
            asked,
            title=say(N_("Catalogue of pieces")),
            filter_words=" · ".join(part for part in (chosen, season) if part) or say(N_("All pieces")),
            parts=lambda: catalogue_parts(say, asked.deposit, asked.season),
            rows=count_pieces(desk, asked.deposit, asked.season),
        )


def count_pieces(desk: Desk, deposit: str = "", season: str = "") -> int:
    """Return how many pieces a catalogue has."""
    with desk.reading() as reading:
        wanted = _ids(desk, deposit, season).order_by(None).subquery()
        return reading.session.execute(select(func.count()).select_from(wanted)).scalar_one()


def _ids(desk: Desk, deposit: str, season: str) -> Any:
    wanted: Any = (
        select(Piece.id)
        .join(Container, Piece.container_id == Container.id)
        .join(Season, Container.season_id == Season.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .order_by(Deposit.number_key, Season.starts, Container.number_key, Container.id, Piece.number)
    )
    if deposit:
        with desk.reading() as reading:
            wanted = wanted.where(Container.deposit_id == deposit_of(reading.session, deposit).id)
    return wanted.where(Season.name == season) if season else wanted


def catalogue_parts(say: Wording, deposit: str = "", season: str = "") -> Iterator[Part]:
    """Yield the entries of a catalogue, under a heading for each deposit where it is of several."""
    before: str | None = None
    for row, photo, joins in _pieces(say.desk, deposit, season):
        if before is None:
            yield Words(say(COLOURS_ARE_NEAR), quiet=True)
        if row.deposit != before:
            before = row.deposit
            if not deposit:
                where = say(N_("{Deposit} {number} · {square} {name}"), number=before or "–", name=row.square or "–")
                yield Heading(where, 1)
        yield _entry(say, row, photo, joins)
    if before is None:
        yield Words(say(N_("No piece is lifted yet.")))


def _pieces(desk: Desk, deposit: str, season: str) -> Iterator[tuple[PieceRow, PhotoFacts | None, Sequence[JoinRow]]]:
    words = words_of(desk)
    with desk.reading() as reading:
        session = reading.session
        ids = session.execute(_ids(desk, deposit, season)).scalars().all()
        for first in range(0, len(ids), AT_ONCE):
            some = ids[first : first + AT_ONCE]
            newest = session.execute(
                select(Photo.piece_id, func.max(Photo.id)).where(Photo.piece_id.in_(some)).group_by(Photo.piece_id)
            ).all()
            photos = {photo.id: photo for photo in photo_rows(session, [photo_id for _piece, photo_id in newest])}
            of_piece: Mapping[int | None, PhotoFacts] = {piece: photos[photo_id] for piece, photo_id in newest}
            joins = joins_by_piece(session, some)
            for row in piece_rows(session, some, words):
                yield row, of_piece.get(row.id), joins.get(row.id, ())


def _entry(say: Wording, row: PieceRow, photo: PhotoFacts | None, joins: Sequence[JoinRow]) -> CatalogueEntry:
    words = words_of(say.desk)
    part = say(words["parts"].called(row.part))
    ware = " ".join(part for part in (row.ware, row.ware_name) if part) or say(N_("no ware said"))
    form = " ".join(part for part in (row.form, row.form_name) if part)
    desk = say.desk
    return CatalogueEntry(
        title=" · ".join(one for one in (row.name, ware, part, form) if one),
        code=row.code,
        facts=tuple((name, fact) for name, fact in _facts(say, row, joins) if fact),
        swatches=tuple(_swatches(say, row)),
        note=row.note,
        load=(lambda: there_or_none(lambda: thumbnail_of(desk, photo))) if photo else None,
        shape=(photo.width, photo.height) if photo else (1, 1),
        gone=say(PHOTO_GONE, file=photo.file_name) if photo else "",
    )


def there_or_none(load: Callable[[], bytes]) -> bytes | None:
    """Return a photograph's bytes; None where its file is gone or changed, which must not keep a report from paper."""
    try:
        return load()
    except StoreFault:
        return None


def _joins(say: Wording, row: PieceRow, joins: Sequence[JoinRow]) -> Iterator[str]:
    """Yield what a piece joins, each with its deposit where it has one, its season where that is another."""
    for join in joins:
        other = join.other_than(row.id)
        season = say(N_("season {name}"), name=other.season) if other.season != row.season else ""
        lies = ", ".join(part for part in (other.deposit, season) if part)
        piece = f"{other.name} ({lies})" if lies else other.name
        yield say(N_("joins {piece}") if join.certain else N_("joins {piece} perhaps"), piece=piece)


def _facts(say: Wording, row: PieceRow, joins: Sequence[JoinRow]) -> Iterator[tuple[str, str]]:
    words = words_of(say.desk)
    vessel = say(N_("vessel {number}"), number=row.vessel) if row.vessel is not None else ""
    decision = say(DECISION_IN_WORDS[Decision(row.decision)])
    gone = say(N_("discarded")) if row.discarded else decision
    weight = f"{grams(row.tenths)} g" if row.tenths is not None else ""
    several = plural("{n} sherd", "{n} sherds", row.pieces, say.language) if row.pieces != 1 else ""
    yield say(N_("From")), say(N_("{container} {number}, season {season}"), number=row.container, season=row.season)
    yield say(N_("Measures")), _listed(*_measures(say, row), weight, several)
    yield say(N_("Years")), _listed(_years(row), row.dated_by)
    yield say(N_("Surface")), _listed(row.surface, row.decoration, _called(say, "conditions", row.condition))
    yield say(N_("Fabric")), _listed(_called(say, "firings", row.firing), row.inclusions)
    yield say(N_("Drawing")), row.drawing or (say(N_("wanted")) if row.drawing_wanted else "")
    yield say(N_("Parallels")), row.parallels
    yield say(N_("Conservation")), say(words["conservation_needs"].called(row.conservation)) if row.conservation else ""
    yield say(N_("Stands")), _listed(gone, *_joins(say, row, joins), vessel)


def _called(say: Wording, name: str, keys: str) -> str:
    known = words_of(say.desk)[name]
    return ", ".join(say(known.called(key)) for key in keys.split())


def _listed(*parts: str) -> str:
    return "; ".join(part for part in parts if part)


def _found(say: Wording, diameter_mm: int, uncertainty_mm: int | None, method: str) -> str:
    """Return a diameter with how sure it is and how it was found."""
    unsure = f" ± {uncertainty_mm}" if uncertainty_mm else ""
    by = f" ({say(METHOD_IN_WORDS[DiameterMethod(method)])})" if method else ""
    return f"{diameter_mm}{unsure} mm{by}"


def _measures(say: Wording, row: PieceRow) -> Iterator[str]:
    if row.rim_diameter_mm is not None:
        found = _found(say, row.rim_diameter_mm, row.diameter_uncertainty_mm, row.diameter_method)
        yield say(N_("rim {mm}"), mm=found)
    if row.rim_permille is not None:
        yield say(N_("{share} of the rim"), share=percent(row.rim_permille))
    if row.base_diameter_mm is not None:
        found = _found(say, row.base_diameter_mm, row.base_uncertainty_mm, row.base_method)
        yield say(N_("base {mm}"), mm=found)
    if row.base_permille is not None:
        yield say(N_("{share} of the base"), share=percent(row.base_permille))
    if row.height_mm is not None:
        yield say(N_("height {mm} mm"), mm=row.height_mm)
    if row.wall_tenths_mm is not None:
        yield say(N_("wall {mm} mm"), mm=f"{row.wall_tenths_mm / 10:g}")


def _years(row: PieceRow) -> str:
    said = [year_in_words(year) for year in (row.earliest, row.latest) if year is not None]
    return "–".join(said)


def _swatches(say: Wording, row: PieceRow) -> Iterator[Swatch]:
    for column, where in COLOUR_IN_WORDS.items():
        notation: str = getattr(row, column)
        if not notation:
            continue
        shown = _chip(notation)
        if shown is not None:
            near = f" ≈ {shown.chip}" if not shown.exact else ""
            colour = (shown.red / 255, shown.green / 255, shown.blue / 255)
            yield Swatch(f"{say(where)} {notation}{near}", colour)


@lru_cache(maxsize=1_000)
def _chip(notation: str) -> Chip | None:
    """Return the swatch of a notation; None where it is none. The same few hundred come over and over."""
    try:
        return swatch(read_munsell(notation))
    except Refusal:
        return None
