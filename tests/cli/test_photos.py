"""Where photographs lie, asked and said from the terminal."""

from pathlib import Path

from tests.cli.conftest import Terminal


def test_photographs_lie_beside_a_file(store: str, terminal: Terminal, tmp_path: Path) -> None:
    said = terminal("photos", store)
    assert (said.code, said.out) == (0, f"Photographs lie in {store}.photos\n")
    assert terminal("photos", store, "--json").json() == {"folder": f"{store}.photos"}
    refused = terminal("photos", store, "--folder", tmp_path)
    assert refused.code == 1
    assert "its photographs lie beside it" in refused.err
