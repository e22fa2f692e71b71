"""Photographs of what people call by name: a piece, object, container, deposit, vessel, ware, form, discard list."""

from __future__ import annotations

from pathlib import Path

from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.discard_lists import discard_list
from findsdesk.desk.finding import container_of, deposit_of
from findsdesk.desk.finding_pieces import looks_like_a_piece, piece_of
from findsdesk.desk.group_checks import form_named, ware_named
from findsdesk.desk.objects import object_of
from findsdesk.desk.photos import PhotoFacts, Subject, add_photo
from findsdesk.desk.vessels import vessel_numbered
from findsdesk.domain.codes import Kind, could_be_code, read_code
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_


def add_photo_named(desk: Desk, file: Path, of: str, *, note: str = "") -> PhotoFacts:
    """Take a photograph in of what ``of`` names. Refusals: those of finding it and of ``add_photo``.

    ``131.4`` is a piece, ``131`` or a tag a container, ``object 31``, ``vessel 2``, ``deposit 2017``, ``ware QRS``,
    ``form QRS1``, ``list 2`` (of another season: ``list 2024/2``) say what they are.
    """
    return add_photo(desk, file, of=subject_named(desk, of), note=note)


def subject_named(desk: Desk, of: str) -> Subject:
    """Return the thing that a name means. Refusals: those of finding it, ``nothing_pictured``."""
    kind, _blank, name = of.strip().partition(" ")
    if kind == "object" and name.strip().isdecimal():
        return "object", object_of(desk, int(name)).id
    season, number = name.strip().rpartition("/")[::2]
    if kind == "list" and number.isdecimal():
        return "discard_list", discard_list(desk, int(number), season=season or None).facts.id
    with desk.reading() as reading:
        return _in_store(reading.session, desk, kind, name.strip(), of)


def _in_store(session: Session, desk: Desk, kind: str, name: str, of: str) -> Subject:
    if kind == "deposit":
        return "deposit", deposit_of(session, name).id
    if kind == "vessel" and name.isdecimal():
        return "vessel", vessel_numbered(session, int(name)).id
    if kind in ("ware", "form"):
        row = ware_named(session, name) if kind == "ware" else form_named(session, name)
        if row is None:
            raise Refusal("nothing_pictured", N_("What the photograph shows is not there. Choose it again."))
        return kind, row.id
    is_piece = read_code(of, desk.facts.code).kind is Kind.PIECE if could_be_code(of) else looks_like_a_piece(of)
    if is_piece:
        return "piece", piece_of(session, desk, of).id
    return "container", container_of(session, desk, of).id
