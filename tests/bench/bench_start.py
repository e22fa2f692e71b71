"""Start: our window on a store of 1,000,000 sherd groups against an empty PySide6 window, each in a process of its own.

Measured from the start of the process: the empty window until it is shown and painted; ours until it is painted and
takes keys, and until the first scan (typed while the store still opens) is answered in the dossier. Each by the clock,
which the targets mean, and in milliseconds of the processor, which say the same on a machine that is busy.
Run: python tests/bench/bench_start.py [--json]
"""

from __future__ import annotations

import json
import os
import shutil
import statistics
import subprocess
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from _big_store import big_store

from findsdesk.domain.codes import Kind, make_code

ROUNDS = 7

EMPTY = r"""
import os, sys, time
from PySide6.QtWidgets import QApplication, QWidget
from PySide6.QtCore import QTimer
app = QApplication([])
class Window(QWidget):
    def paintEvent(self, event):
        QTimer.singleShot(0, done)
def done():
    print(time.time() - float(sys.argv[1]), time.process_time())
    sys.stdout.flush()
    os._exit(0)
window = Window()
window.resize(1366, 768)
window.show()
app.exec()
"""

OURS = r"""
import os, sys, time
from findsdesk.ui.program import Program, Wish, application
from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication
started, where, code = float(sys.argv[1]), sys.argv[2], sys.argv[3]
shown = []
app = application()
program = Program("bench", "shade")
class Painted(QObject):
    def eventFilter(self, watched, event):
        if event.type() == QEvent.Type.Paint and not shown:
            shown.append(0.0)
            QTimer.singleShot(0, scan)
        return False
painted = Painted()
def scan():
    shown[:] = [time.time() - started, time.process_time()]
    field = program.window.scan_line.field
    for character in code:
        key = getattr(Qt.Key, f"Key_{character}")
        QApplication.sendEvent(field, QKeyEvent(QEvent.Type.KeyPress, key, Qt.KeyboardModifier.NoModifier, character))
    QApplication.sendEvent(field, QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_Return, Qt.KeyboardModifier.NoModifier))
def look():
    if program.window.found is not None:
        print(*shown, time.time() - started, time.process_time())
        sys.stdout.flush()
        os._exit(0)
clock = QTimer()
clock.timeout.connect(look)
clock.start(2)
program.show()
program.open(Wish(where, None, "bench", False))
# Asked last, so called first: the first painting of the frame, as of the empty window.
program.window.installEventFilter(painted)
app.exec()
"""


def seconds(script: str, settings: Path, *arguments: str) -> list[float]:
    """Run one start and return the seconds it printed; what the station remembers lies in ``settings``."""
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "XDG_CONFIG_HOME": str(settings)}
    # Byte code is kept as on a user's computer: the first start, which is not counted, writes it.
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    root = Path(__file__).resolve().parents[2]
    output = subprocess.run(
        [sys.executable, "-c", script, str(time.time()), *arguments],
        cwd=root,
        env=environment,
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    ).stdout
    return [float(part) for part in output.split()]


def main() -> int:
    """Measure and print."""
    path = big_store()
    code = make_code("TQ", Kind.TAG, 777)
    settings = path.parent / "settings"
    seconds(EMPTY, settings)
    seconds(OURS, settings, str(path), code)
    # By turns and compared turn by turn, so that whatever else the machine does weighs on both alike.
    rounds = [(*seconds(EMPTY, settings), *seconds(OURS, settings, str(path), code)) for _ in range(ROUNDS)]
    shutil.rmtree(path.parent)
    rows = [
        {
            "name": name,
            "ours": statistics.median(one[place] for one in rounds) * 1000,
            "bare": statistics.median(one[bare] for one in rounds) * 1000,
            "ratio": statistics.median(one[place] / one[bare] for one in rounds),
            "target": target,
        }
        for name, place, bare, target in (
            ("start to a window that takes keys, ms", 2, 0, "<= 1.5"),
            ("the same, ms of the processor", 3, 1, "none set"),
            ("start to the first scan answered, ms", 4, 0, "<= 6"),
            ("the same, ms of the processor", 5, 1, "none set"),
        )
    ]
    if "--json" in sys.argv:
        print(json.dumps(rows))
    else:
        for row in rows:
            print(row)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
