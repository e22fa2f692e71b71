"""The example: an invented excavation, made from its set-up file and played from its file of acts, like any other."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from findsdesk import places
from findsdesk.desk.desk import Desk
from findsdesk.desk.excavation_files import new_from_file
from findsdesk.desk.kept_sheets import keep_sheets, write_paper
from findsdesk.desk.laying_out import lay_out_bag_labels, lay_out_field_tags
from findsdesk.desk.opening import open_store
from findsdesk.desk.playing import Played, play_file
from findsdesk.desk.proving import Proof, prove
from findsdesk.desk.sheets import evening_sheet, missing_list, redo_sheet
from findsdesk.desk.the_day import Day, the_day
from findsdesk.domain.refusals import Refusal, StoreFault
from findsdesk.words import N_

STORE = "tannery-quay.findsdesk"
LABEL_STOCK, TAG_STOCK = "a4-3x8-70x37", "a4-2x4-97x67"
Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Paper:
    """A PDF that was written: what it is (a marked text), how many things stand on it, where it lies."""

    what: str
    things: int
    path: Path


@dataclass(frozen=True, slots=True)
class Example:
    """The example as it stands after its acts: its store, its day, its papers, and what proving it found."""

    store: Path
    played: Played
    day: Day
    papers: tuple[Paper, ...]
    proof: Proof


def folder_for(wanted: Path, *, again: bool) -> Path:
    """Return the folder for a new example: the one wanted, or with a number behind where an example lies there.

    With ``again`` an example there is taken away first; the refusal ``not_an_example`` keeps anything else.
    """
    if not (wanted / STORE).exists():
        return wanted
    if again:
        _take_away(wanted)
        return wanted
    number = 2
    while (wanted.with_name(f"{wanted.name}-{number}") / STORE).exists():
        number += 1
    return wanted.with_name(f"{wanted.name}-{number}")


def _take_away(folder: Path) -> None:
    store = folder / STORE
    try:
        desk = open_store(store, read_only=True)
        is_example = desk.facts.example
        desk.let_go()
    except (Refusal, StoreFault):
        is_example = False
    if not is_example:
        raise Refusal(
            "not_an_example",
            N_("{file} is not an example and stays. Choose another folder with --into."),
            file=str(store),
        )
    for file in folder.glob(f"{store.stem}.*"):
        shutil.rmtree(file) if file.is_dir() else file.unlink()
    for name in ("papers", "screens"):
        shutil.rmtree(folder / name, ignore_errors=True)


def make_example(folder: Path, progress: Progress | None = None) -> tuple[Desk, Example]:
    """Make the example in a folder: set up, played, printed, proved; returns its desk and what came of it."""
    desk = new_from_file(folder / STORE, places.demo_file("excavation.toml"))
    try:
        played = play_file(desk, places.demo_file("season.acts"), progress=progress)
        day = the_day(desk)
        papers = papers_of(desk, folder / "papers", day.day - timedelta(days=1))
        return desk, Example(folder / STORE, played, day, papers, prove(desk))
    except BaseException:
        desk.let_go()
        raise


def papers_of(desk: Desk, folder: Path, evening_of: date) -> tuple[Paper, ...]:
    """Write what waits to be printed: bag labels, tags for tomorrow, the missing, an evening, what is to be redone."""
    folder.mkdir(parents=True, exist_ok=True)
    labels = lay_out_bag_labels(desk, stock=LABEL_STOCK)
    tags = lay_out_field_tags(desk, stock=TAG_STOCK)
    missing, evening, redo = missing_list(desk), evening_sheet(desk, evening_of), redo_sheet(desk)
    return (
        Paper(N_("bag labels"), len(labels.placed), keep_sheets(labels, folder / "bag-labels.pdf")),
        Paper(N_("tags for the next days"), len(tags.placed), keep_sheets(tags, folder / "tags.pdf")),
        Paper(N_("missing {containers}"), missing.rows, write_paper(missing.pdf, folder / "missing.pdf")),
        Paper(N_("evening sheet"), evening.rows, write_paper(evening.pdf, folder / "evening.pdf")),
        Paper(N_("to be written again"), redo.rows, write_paper(redo.pdf, folder / "to-write-again.pdf")),
    )
