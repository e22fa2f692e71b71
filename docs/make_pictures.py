"""Make the pictures of the guide anew: plays the invented excavation and renders every bench of it.

Run: .venv/bin/python docs/make_pictures.py
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

PICTURES = Path(__file__).parent / "pictures"
SETS = (
    ("", "shade", ("--by", "tessa", "--in-hand", "wash=131", "--in-hand", "check_in=132")),
    ("", "shade", ("--by", "oren", "--in-hand", "sorting=87", "--in-hand", "figures=2017", "--in-hand", "pieces=69")),
    ("", "shade", ("--by", "mika", "--in-hand", "shelves=TQX0000018")),
    ("-sun", "sun", ("--by", "tessa", "--in-hand", "wash=131", "--in-hand", "check_in=132")),
)
TAKEN = (
    {"day", "check_in", "wash", "labels", "registers", "set_up"},
    {"sorting", "figures", "pieces"},
    {"shelves"},
    {"wash"},
)


def findsdesk(*words: str) -> None:
    """Run a command of the terminal; a refusal ends the making."""
    subprocess.run([sys.executable, "-m", "findsdesk", *words], check=True)


def main() -> None:
    """Play, render, and keep the pictures under plain names."""
    PICTURES.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        findsdesk("demo", "--no-window", "--into", folder)
        store = str(next(Path(folder).glob("*.findsdesk")))
        for (suffix, theme, how), taken in zip(SETS, TAKEN, strict=True):
            into = Path(folder) / f"pictures{suffix}-{min(taken)}"
            findsdesk("screens", store, str(into), "--theme", theme, *how)
            for picture in into.glob("*.png"):
                bench = picture.name.split("-")[0]
                if bench in taken:
                    shutil.copyfile(picture, PICTURES / f"{bench}{suffix}.png")


if __name__ == "__main__":
    main()
