"""The page of keys: whole on a small screen, its columns in line, closed by one button and by its own key."""

from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractScrollArea, QLabel, QPushButton

from findsdesk.ui.benches.sorting.table_keys import rarer_keys, table_keys
from findsdesk.ui.keys_page import KeysOf, KeysPage
from findsdesk.ui.theme import Theme
from findsdesk.ui.window_keys import KEYS
from tests.ui.conftest import show
from tests.ui.looking import cut_words

GROUPS: tuple[KeysOf, ...] = (("Sorting table", (*table_keys("rim"), *rarer_keys())), ("Everywhere", KEYS))


@pytest.mark.parametrize("look", ["shade", "sun"])
def test_every_key_stands_whole_without_scrolling_in_columns(theme: Theme, qtbot: Any, look: str) -> None:
    theme.use(look)
    page = KeysPage(GROUPS)
    show(qtbot, page)
    assert page.width() <= 1366
    assert page.height() <= 700
    assert not [area for area in page.findChildren(QAbstractScrollArea) if area.isVisible()]
    assert not cut_words(page)
    shown = {label.text(): label for label in page.findChildren(QLabel)}
    for key, words in (pair for _heading, keys in GROUPS for pair in keys):
        for one in key.split("  "):
            assert one in shown
        assert words in shown
    lefts = {shown[words].mapTo(page, QPoint()).x() for _key, words in GROUPS[0][1]}
    assert len(lefts) == 2, "two columns, each in line"


def test_it_has_one_button_and_its_own_key_closes_it(theme: Theme, qtbot: Any) -> None:
    page = KeysPage(GROUPS)
    show(qtbot, page)
    assert [button.text() for button in page.findChildren(QPushButton)] == ["Close"]
    QTest.keyClick(page, Qt.Key.Key_F1)
    assert not page.isVisible()
