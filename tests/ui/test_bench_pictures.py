"""Pictures of the benches: where a bench cannot be built the call ends with what went wrong, not with the others."""

import sys
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtWidgets import QApplication

from findsdesk.ui import bench_building, program
from findsdesk.ui.bench_pictures import render_benches
from tests.yard import new_yard


def test_a_bench_that_cannot_be_built_ends_the_taking_of_pictures(
    qapp: QApplication, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk = new_yard(tmp_path)
    if desk.store.path is None:
        pytest.skip("the store is named by its file")
    desk.let_go()

    def build(key: str, _around: Any) -> Any:
        raise LookupError(f"no {key}")

    monkeypatch.setattr(bench_building, "build_bench", build)
    monkeypatch.setattr(program, "BENCHES", {"figures": "Figures"})
    hook = sys.excepthook
    with pytest.raises(LookupError, match="no figures"):
        render_benches(desk.store.path, tmp_path / "pictures")
    assert list((tmp_path / "pictures").iterdir()) == []
    assert sys.excepthook is hook
