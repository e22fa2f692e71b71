"""How often Python looks for garbage once the window stands."""

from __future__ import annotations

import gc
from collections.abc import Iterator

import pytest

from findsdesk.ui.garbage import look_often_for_garbage


@pytest.fixture
def as_before() -> Iterator[None]:
    """Leave the collector as the other tests have it."""
    was = gc.get_threshold()
    yield
    gc.unfreeze()
    gc.set_threshold(*was)


@pytest.mark.usefixtures("as_before")
def test_once_the_window_stands_no_look_for_garbage_is_long() -> None:
    """A row of the sorting table that met a look at 200,000 objects was held up for 50 to 90 ms."""
    look_often_for_garbage()
    assert gc.get_freeze_count() > 10_000, "what was loaded is looked at no more"
    sizes: list[int] = []
    gc.callbacks.append(heard := lambda phase, _info: sizes.append(gc.get_count()[0]) if phase == "start" else None)
    kept = [[number] for number in range(60_000)]
    gc.callbacks.remove(heard)
    assert len(kept) == 60_000
    assert len(sizes) >= 5
    assert max(sizes) < 11_000
