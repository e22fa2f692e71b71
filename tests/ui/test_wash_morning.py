"""Tessa's morning, scaled to twenty buckets, through the whole program by scanner and number keys alone.

The afternoon before: what came down with the pallet is looked at and put to soak. In the morning every bucket takes
three gestures: scan, count, Enter. Times and volumes are those of the invented scenario; common practice, no source.
"""

from __future__ import annotations

import shutil
from datetime import datetime
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt

from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import Dossier, find
from findsdesk.desk.opening import open_store
from findsdesk.desk.proving import prove
from findsdesk.desk.yard import yard
from findsdesk.domain.command_cards import Command, command_code, tub_code
from findsdesk.domain.routes import Hold, Standing, StepKind
from findsdesk.ui.answers import Tone
from findsdesk.ui.program import Program
from tests.ui.at_work import go_to, listen_to, opened, settled
from tests.ui.conftest import Keyboard
from tests.yard import ZONE, Clock, acts, advance, new_yard, put_containers, standing_of

PALLET = datetime(2026, 7, 13, 14, 40, tzinfo=ZONE)
PAINTED, BONE, STONES, MISCOUNTED = "109", "120", "107", "104"
NUMBERS = [str(number) for number in range(101, 121)]
COUNTS = {number: 60 + 7 * place for place, number in enumerate(NUMBERS)} | {STONES: 0, MISCOUNTED: 88}
ENTER = Qt.Key.Key_Return


class Tessa:
    """Wet gloves: a scanner, the number keys and Enter; nothing else."""

    def __init__(self, qtbot: Any, keyboard: Keyboard, program: Program) -> None:
        self.qtbot, self.keyboard, self.program = qtbot, keyboard, program
        listen_to(keyboard, program)
        self.bench = go_to(qtbot, program, "wash")

    def leave(self) -> None:
        """Take the scanner away from this program."""
        window, filter_ = self.program.window, self.keyboard.filter
        filter_.scanned.disconnect(window.on_scan)
        filter_.again.disconnect(window.on_scan_again)
        filter_.blocked.disconnect(window.on_scan_blocked)

    def scan(self, code: str) -> str:
        """Scan and wait for the answer; returns it."""
        self.keyboard.wait(2_500)
        self.keyboard.scan(code)
        return self.answered()

    def enter(self, number: int) -> str:
        """Type a number and press Enter; returns the answer."""
        self.keyboard.type(str(number), end=ENTER)
        return self.answered()

    def answered(self) -> str:
        """Wait until nothing is being looked up or written; returns the answer."""
        self.qtbot.waitUntil(self.program.lanes.idle, timeout=60_000)
        return self.said()

    def said(self) -> str:
        return self.program.window.scan_line.answer.in_one_line()

    def tone(self) -> Tone:
        return self.program.window.scan_line.answer.tone

    def slip(self) -> str:
        return self.bench.refusals.accessibleName() if self.bench.refusals.isVisible() else ""


def the_pallet(desk: Desk) -> dict[str, str]:
    """Twenty buckets have arrived, one of them with bone; returns their codes."""
    pottery = [number for number in NUMBERS if number != BONE]
    codes = dict(zip(pottery, put_containers(desk, pottery), strict=True))
    codes[BONE] = put_containers(desk, [BONE], material="bone")[0]
    return codes


def fill_the_tubs(tessa: Tessa, codes: dict[str, str]) -> None:
    """Scan a tub, scan buckets: "1" is nothing seen, "2" painted."""
    for place, number in enumerate(NUMBERS):
        if place % 5 == 0:
            assert "scan what goes in" in tessa.scan(tub_code("TQ", place // 5 + 1))
        tessa.scan(codes[number])
        if number == BONE:
            assert "never soaked" in tessa.slip()
            assert "bone crate" in tessa.slip()
        elif number == PAINTED:
            assert "held back for the ceramicist" in tessa.enter(2)
        else:
            assert f"into tub {place // 5 + 1}" in tessa.enter(1)


def wash(tessa: Tessa, codes: dict[str, str], numbers: list[str]) -> dict[str, int]:
    """Scan, count, Enter, one after the other; returns what the screen said was written."""
    written = {}
    for number in numbers:
        tessa.scan(codes[number])
        said = tessa.enter(COUNTS[number])
        assert tessa.tone() is Tone.DONE, said
        assert said.startswith(f"Bucket {number}: {COUNTS[number]} sherd"), said
        assert ("empty after washing" in said) if number == STONES else ("tray " in said)
        written[number] = COUNTS[number]
    return written


def as_after_a_power_cut(store_file: Path, into: Path) -> Path:
    """Return a copy of what is on the disk this moment, nothing closed and nothing tidied."""
    into.mkdir()
    for part in (store_file, store_file.with_name(store_file.name + "-wal")):
        if part.exists():
            shutil.copyfile(part, into / part.name)
    return into / store_file.name


def counted(desk: Desk, code: str) -> list[int]:
    found = find(desk, code)
    assert isinstance(found, Dossier)
    return [count.pieces for count in found.counts]


def test_tessas_morning(qtbot: Any, keyboard: Keyboard, tmp_path: Path) -> None:
    desk = new_yard(tmp_path, by="Tessa", at=PALLET)
    codes = the_pallet(desk)
    washing = [number for number in NUMBERS if number not in (PAINTED, BONE)]
    with opened(qtbot, desk) as program:
        tessa = Tessa(qtbot, keyboard, program)
        fill_the_tubs(tessa, codes)
        advance(desk, hours=16, minutes=50)
        written = wash(tessa, codes, washing[:9])
        # 09:10, the battery dies in the middle of a count: 11 of 116 is typed, nothing was pressed.
        tessa.scan(codes[washing[9]])
        keyboard.type("11")
        copy = as_after_a_power_cut(tmp_path / "tannery.findsdesk", tmp_path / "after")
        cut_at = desk.now()
        tessa.leave()
    again = open_store(copy, by="Tessa", station="first", clock=Clock(cut_at))
    for number, pieces in written.items():
        assert counted(again, codes[number]) == [pieces], number
    assert counted(again, codes[washing[9]]) == []
    with opened(qtbot, again) as program:
        tessa = Tessa(qtbot, keyboard, program)
        written |= wash(tessa, codes, washing[9:])
        recount(tessa, codes[MISCOUNTED])
        what_is_true_at_the_end(again, codes, written)


def recount(tessa: Tessa, code: str) -> None:
    """A volunteer said 88, she counts 91: by the card, since "again" is no number key."""
    tessa.scan(code)
    assert "was counted already: 88" in refused_count(tessa)
    tessa.scan(command_code("TQ", Command.COUNT_AGAIN))
    assert "91 sherds, 88 before" in tessa.enter(91)


def refused_count(tessa: Tessa) -> str:
    tessa.enter(91)
    slip = tessa.slip()
    tessa.keyboard.type("", end=Qt.Key.Key_Escape)
    return slip


def what_is_true_at_the_end(desk: Desk, codes: dict[str, str], written: dict[str, int]) -> None:
    standing = {number: standing_of(desk, code) for number, code in codes.items()}
    assert standing[PAINTED] is Standing.ARRIVED
    assert standing[BONE] is Standing.ARRIVED
    assert standing[STONES] is Standing.EMPTY
    drying = [number for number in NUMBERS if number not in (PAINTED, BONE, STONES)]
    assert {standing[number] for number in drying} == {Standing.DRYING}
    assert counted(desk, codes[MISCOUNTED]) == [88, 91]
    assert {number: counted(desk, codes[number])[0] for number in written} == written
    now = yard(desk)
    assert now.counted_today == 18
    assert now.pieces_today == sum(written.values()) + 91 - 88, "the count again stands"
    assert [slip.number for slip in now.held] == [PAINTED]
    assert not any(slips for _tub, slips in now.tubs)
    trays = [card.number for card in now.trays if card.number]
    assert sorted(trays) == sorted(drying), "each in a tray of its own"
    assert prove(desk).findings == ()
    bone = find(desk, codes[BONE])
    assert isinstance(bone, Dossier)
    assert StepKind.SOAKING not in [step.kind for step in bone.life]


def test_a_morning_by_scanning_only(qtbot: Any, keyboard: Keyboard, tmp_path: Path) -> None:
    """The command card alone: tub, tag, nothing seen; then tag, digits, write. No key is touched."""
    desk = new_yard(tmp_path, by="Tessa", at=PALLET)
    one, two, three = put_containers(desk, ["131", "132", "133"])
    with opened(qtbot, desk) as program:
        tessa = Tessa(qtbot, keyboard, program)

        def card(*commands: str) -> str:
            for command in commands:
                tessa.scan(command_code("TQ", Command(command)))
            return tessa.said()

        tessa.scan(tub_code("TQ", 3))
        for code in (one, two):
            tessa.scan(code)
            assert "into tub 3" in card("nothing seen")
        tessa.scan(three)
        assert "held back" in card("painted")
        advance(desk, hours=16)
        tessa.scan(one)
        assert "110 sherds, tray 1, next free: 2" in card("1", "same digit again", "0", "write")
        tessa.scan(two)
        assert "2 so far" in card("one more", "one more")
        assert "2 sherds, tray 2" in card("write")
        before = acts(desk)
        assert "counted already" in card("7", "write")
        assert acts(desk) == before
        assert "91 sherds, 2 before" in card("count again", "9", "1", "write")
        advance(desk, hours=9)
        tessa.bench.refresh()
        settled(qtbot, program)
        assert "2 buckets are dry" in card("all due are dry")
        assert {standing_of(desk, code) for code in (one, two)} == {Standing.DRY}
        held = find(desk, three)
        assert isinstance(held, Dossier)
        assert held.held_for is Hold.PAINTED
