"""A wash morning of 60 containers through the real window: scan, count, Enter, each until the screen says written.

Key events are sent as a scanner and a person send them, on a clock of their own: what is measured is the program's
share of each container, from the first key of the scan to "written" on the screen, without the person's time.
Run: python tests/bench/bench_wash_morning.py [--json]
"""

from __future__ import annotations

import json
import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QEventLoop, QTimer
from PySide6.QtWidgets import QWidget

from findsdesk.desk.washing import dip_and_look, start_soak
from findsdesk.ui.answers import Tone
from findsdesk.ui.program import application
from tests.ui.at_work import opened
from tests.ui.conftest import Keyboard
from tests.ui.test_wash_morning import Tessa
from tests.yard import advance, new_yard, put_containers, with_settings

CONTAINERS = 60


class Waiter:
    """Waits as the tests' own waiter does, without a test around it."""

    def waitUntil(self, ready: Callable[[], bool], timeout: int = 15_000) -> None:
        """Run the window's events until it is ready."""
        until = time.monotonic() + timeout / 1000
        while not ready():
            if time.monotonic() > until:
                raise TimeoutError("the window did not become ready")
            loop = QEventLoop()
            QTimer.singleShot(0, loop.quit)
            loop.exec()

    @contextmanager
    def waitSignal(self, signal: Any, timeout: int = 15_000) -> Iterator[None]:
        """Wait for a signal after the block."""
        heard: list[bool] = []
        signal.connect(lambda *_values: heard.append(True))
        yield
        self.waitUntil(lambda: bool(heard), timeout)

    @contextmanager
    def waitActive(self, window: QWidget) -> Iterator[None]:
        """Wait until the window has the focus."""
        yield
        self.waitUntil(window.isActiveWindow)


def morning(folder: Path) -> list[float]:
    """Return the milliseconds of each container of a morning."""
    desk = new_yard(folder, by="Tessa")
    with_settings(desk, trays=CONTAINERS + 4)
    codes = put_containers(desk, [str(100 + number) for number in range(CONTAINERS)])
    for place, code in enumerate(codes):
        dip_and_look(desk, code)
        start_soak(desk, code, tub=str(place % 5 + 1))
    advance(desk, hours=16)
    waiter, keyboard, spent = Waiter(), Keyboard(), []
    with opened(waiter, desk) as program:
        tessa = Tessa(waiter, keyboard, program)
        for place, code in enumerate(codes):
            keyboard.wait(2_500)
            start = time.perf_counter()
            tessa.scan(code)
            said = tessa.enter(60 + place)
            spent.append((time.perf_counter() - start) * 1000)
            assert tessa.tone() is Tone.DONE, said
        tessa.leave()
    keyboard.filter.uninstall()
    return spent


def main() -> int:
    """Measure and print."""
    application()
    with tempfile.TemporaryDirectory() as folder:
        spent = morning(Path(folder))
    rows = [
        {
            "name": f"a container of a morning of {CONTAINERS}, scan to written on screen, median ms",
            "ours": statistics.median(spent),
            "bare": None,
            "ratio": None,
            "target": "none set",
        },
        {
            "name": f"a container of a morning of {CONTAINERS}, scan to written on screen, p95 ms",
            "ours": statistics.quantiles(spent, n=20)[-1],
            "bare": None,
            "ratio": None,
            "target": "none set",
        },
    ]
    print(json.dumps(rows) if "--json" in sys.argv else "\n".join(map(str, rows)))
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
