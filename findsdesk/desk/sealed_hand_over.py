"""What is handed over at the end: records, papers, map, photographs and results in one folder that proves itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from findsdesk import __version__
from findsdesk.desk.all_papers import make_paper
from findsdesk.desk.desk import Desk
from findsdesk.desk.following import Follow, quietly
from findsdesk.desk.handed_files import PHOTO_FOLDER, RESULT_FOLDER, write_photos, write_results
from findsdesk.desk.kept_sheets import write_paper
from findsdesk.desk.map_export import write_map
from findsdesk.desk.package_export import write_package
from findsdesk.desk.package_import import PACKAGE_IN_BUNDLE
from findsdesk.desk.setting_up import seasons
from findsdesk.desk.whole_papers import Asked
from findsdesk.domain.square_grid import GridPlace
from findsdesk.exchange.sealed_folders import PAYLOAD, seal
from findsdesk.store.journal import store_head
from findsdesk.words import N_, put

PAPERS = ("containers", "pieces", "discards", "bone", "boxes", "concordance", "balance", "inspector", "season", "open")
"""The sheets and reports that go along, by their keys: of the whole excavation, the last of each season."""
OF_EACH_SEASON = frozenset({"season", "open"})
_PARTS = 5
"""Records, papers, photographs, results with the map, seal: each counts alike for whoever follows."""


@dataclass(frozen=True, slots=True)
class HandedOver:
    """What went into a hand-over: files and bytes under seal, papers among them, what could not go along."""

    files: int
    size_bytes: int
    papers: int
    missing: tuple[str, ...]


def write_hand_over(moment: Desk, folder: Path, grid: GridPlace, follow: Follow = quietly) -> HandedOver:
    """Write the hand-over of a desk's store, as it stands at its moment, into an empty folder and seal it (RFC 8493).

    ``follow`` is told thousandths of the whole. Refusals: ``cannot_write``, those of the papers and of the map.
    """
    payload = folder / PAYLOAD
    records = payload / PACKAGE_IN_BUNDLE
    records.mkdir(parents=True)
    write_package(moment, records, _part(follow, 0))
    papers = sum(1 for _ in _papers(moment, payload / "papers", _part(follow, 1)))
    photos = write_photos(moment, payload / PHOTO_FOLDER, _part(follow, 2))
    results = write_results(moment, payload / RESULT_FOLDER)
    (payload / "map").mkdir()
    write_map(moment, payload / "map" / "finds.gpkg", grid)
    _part(follow, 4)(0, 1)
    sealed = seal(folder, _info(moment))
    _part(follow, 4)(1, 1)
    return HandedOver(sealed.files, sealed.size_bytes, papers, photos.missing + results.missing)


def _part(follow: Follow, place: int) -> Follow:
    """Return what follows one part of the whole work."""

    def told(done: int, of: int) -> None:
        follow(1000 * place // _PARTS + (1000 * done // of if of else 0) // _PARTS, 1000)

    return told


def papers_handed_over(desk: Desk) -> list[tuple[str, str]]:
    """Return the sheets and reports that go along: the key of each, and its season where it is of one."""
    names = [one.name for one in seasons(desk)]
    return [(key, season) for key in PAPERS for season in (names if key in OF_EACH_SEASON else [""])]


def _papers(moment: Desk, folder: Path, follow: Follow) -> Iterator[Path]:
    folder.mkdir()
    wanted = papers_handed_over(moment)
    for place, (key, season) in enumerate(wanted):
        follow(place, len(wanted))
        made = make_paper(moment, key, Asked(season=season, follow=_stopping(follow, place, len(wanted))))
        name = f"{key}-{season}" if season else key
        yield write_paper(made.pdf, folder / f"{_ascii(name)}.pdf")
    follow(len(wanted), len(wanted))


def _stopping(follow: Follow, place: int, of: int) -> Follow:
    """Let the work be called off between the pages of a paper, too."""

    def told(_page: int, _pages: int) -> None:
        follow(place, of)

    return told


def _ascii(name: str) -> str:
    return "".join(sign if sign.isascii() and (sign.isalnum() or sign in "-_") else "-" for sign in name)


def _info(moment: Desk) -> dict[str, str]:
    """Return what the bag says of itself, by the labels that RFC 8493 keeps for it."""
    facts = moment.facts
    with moment.reading() as reading:
        head, now = store_head(reading.session), reading.now.astimezone(facts.zone)
    title = put(N_("Records, papers and photographs of the finds of {name}"), facts.terms, {"name": facts.name})
    permits = ", ".join(dict.fromkeys(one.permit for one in seasons(moment) if one.permit))
    info = {
        "Source-Organization": facts.name,
        "Contact-Name": facts.director,
        "External-Description": title,
        "External-Identifier": permits,
        "Internal-Sender-Identifier": head,
        "Bagging-Date": f"{now:%Y-%m-%d}",
        "Bag-Software-Agent": f"FindsDesk {__version__}",
    }
    return {label: said for label, said in info.items() if said}
