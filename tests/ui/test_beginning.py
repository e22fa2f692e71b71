"""What a station remembers, the ways on from a store that does not open, the example."""

from pathlib import Path

import pytest

from findsdesk import places
from findsdesk.desk.examples import STORE
from findsdesk.ui import beginnings
from findsdesk.ui.station_settings import StationSettings, read_station, write_station
from findsdesk.ui.ways_out import Way, ways_out

CODES = (
    "no_store",
    "store_in_use",
    "newer_store",
    "other_state",
    "unknown_person",
    "damaged",
    "not_a_store",
    "disk_full",
)


def test_a_station_that_was_never_here_remembers_nothing() -> None:
    assert read_station("new one") == StationSettings()


def test_a_station_remembers() -> None:
    said = StationSettings("sun", 140, {"/quay.findsdesk": "Tessa Quill"}, "/quay.findsdesk", (1400, 900))
    write_station("awning laptop", said)
    assert read_station("awning laptop") == said
    assert read_station("where nobody was") == StationSettings()


@pytest.mark.parametrize("content", ["", "{", "[]", '{"theme": 3}', '{"theme": "sun", "zoom": "x", "people": {}}'])
def test_a_file_nobody_can_read_remembers_nothing(content: str, caplog: pytest.LogCaptureFixture) -> None:
    write_station("spoilt", StationSettings("sun"))
    (places.settings_folder() / "station-spoilt.json").write_text(content)
    assert read_station("spoilt") == StationSettings()
    assert "begins anew" in caplog.text


def test_a_folder_that_cannot_be_written_in_costs_nothing_else(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    (tmp_path / "file").write_text("")
    monkeypatch.setattr(places, "settings_folder", lambda: tmp_path / "file" / "folder")
    write_station("hut", StationSettings("sun"))
    assert "cannot be kept" in caplog.text


@pytest.mark.parametrize("code", CODES)
def test_every_no_has_a_way_on(code: str) -> None:
    assert ways_out(code)
    assert Way.CHOOSE in ways_out(code)


def test_a_store_in_use_is_first_offered_for_reading() -> None:
    assert ways_out("store_in_use")[0] is Way.READ_ONLY


def test_the_example_that_is_there_is_opened_as_it_is(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(beginnings, "example_folder", lambda: tmp_path)
    (tmp_path / STORE).write_bytes(b"")
    told: list[int] = []
    assert beginnings.make_example(lambda done, of: told.append(done)) == tmp_path / STORE
    assert told == []
