"""What goes out is what open standards and independent programs say it is: data package, BagIt, GeoPackage.

Sources: Frictionless Data Package and Table Schema, version 1, by the ``frictionless`` library (PUBLISHED); RFC 8493 by
the ``bagit`` library and by ``sha512sum`` (PUBLISHED); OGC GeoPackage 1.3 by GDAL through ``pyogrio`` (PUBLISHED).
"""

from __future__ import annotations

import cmath
import hashlib
import json
import math
import shutil
import sqlite3
import struct
import subprocess
from contextlib import closing
from pathlib import Path

import bagit
import frictionless
import pyogrio
import pytest
from frictionless.resources import TableResource

from findsdesk.desk.changing_excavation import place_grid
from findsdesk.desk.exporting import FileForm, How, export
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.square_grid import GridPlace, corners_of
from findsdesk.exchange.geopackage import geometry_of
from findsdesk.store.every_table import every_table, table_named
from findsdesk.store.whole_tables import LEFT_OUT
from tests.desk.handed_over import everything_in, fresh, full_yard, gone_out
from tests.yard import new_yard

TABLES = {table.name for table in every_table()} - LEFT_OUT


# --- the data package ---------------------------------------------------------------------------------------------


def judged(package: Path) -> frictionless.Report:
    return frictionless.validate(package / "datapackage.json")


def test_the_data_package_passes_the_standard_s_own_validator() -> None:
    report = judged(gone_out(FileForm.DATA_PACKAGE).path)
    assert report.flatten(["name", "type", "message"]) == []
    assert report.valid
    assert report.stats["tasks"] == len(TABLES) + 1


@pytest.mark.parametrize(
    ("table", "before", "after", "kind"),
    [
        ("sherd_group", b",rim,", b",spaceship,", "constraint-error"),
        ("sherd_group", b",rim,,,,14,", b",rim,,,,many,", "type-error"),
        ("container", b"code,", b"code,", "hash-count"),
    ],
)
def test_the_validator_would_see_what_is_wrong(tmp_path: Path, table, before, after, kind) -> None:
    package = fresh(FileForm.DATA_PACKAGE, tmp_path)
    file, descriptor = package / "data" / f"{table}.csv", package / "datapackage.json"
    content = file.read_bytes()
    assert before in content
    file.write_bytes(content.replace(before, after, 1) + (b"\r\n" if kind == "hash-count" else b""))
    said = json.loads(descriptor.read_text("utf-8"))
    said["resources"] = [one for one in said["resources"] if one["name"] == table]
    for one in said["resources"]:
        one["schema"].pop("foreignKeys", None)
        if kind != "hash-count":
            one["hash"] = f"sha256:{hashlib.sha256(file.read_bytes()).hexdigest()}"
            one["bytes"] = len(file.read_bytes())
    descriptor.write_text(json.dumps(said), "utf-8")
    assert kind in {found[0] for found in judged(package).flatten(["type"])}


def test_every_table_and_field_is_there_and_said_in_words() -> None:
    said = json.loads((gone_out(FileForm.DATA_PACKAGE).path / "datapackage.json").read_text("utf-8"))
    resources = {one["name"]: one for one in said["resources"]}
    assert resources.keys() == TABLES | {"terms"}
    for name in TABLES:
        table, schema = table_named(name), resources[name]["schema"]
        fields = {field["name"]: field for field in schema["fields"]}
        assert fields.keys() == set(table.columns.keys())
        assert all(field["description"].strip() for field in fields.values()), name
        assert resources[name]["description"].strip()
        assert schema["primaryKey"] == list(table.primary_key.columns.keys())
        pointing = {tuple(key["fields"]): key["reference"]["resource"] or name for key in schema.get("foreignKeys", [])}
        assert pointing == {(key.parent.name,): key.column.table.name for key in table.foreign_keys}
        for field in fields.values():
            for ending, unit in (("tenths", "tenths of a gram"), ("_mm", "millimetre"), ("_permille", "thousandths")):
                if field["type"] == "integer" and field["name"].endswith(ending):
                    assert unit in field["description"]


def rows_read(package: frictionless.Package, name: str) -> list[frictionless.Row]:
    resource = package.get_resource(name)
    assert isinstance(resource, TableResource)
    return resource.read_rows()


def test_an_independent_reader_finds_the_rows_of_the_store() -> None:
    path = gone_out(FileForm.DATA_PACKAGE).path
    package = frictionless.Package(str(path / "datapackage.json"))
    rows = rows_read(package, "sherd_group")
    stored = everything_in(full_yard())["sherd_group"]
    place = list(table_named("sherd_group").columns.keys()).index("pieces")
    assert sum(row["pieces"] for row in rows) == sum(row[place] for row in stored) > 0
    parts = {row["key"]: row["name"] for row in rows_read(package, "terms") if row["field"] == "part"}
    assert {row["part"] for row in rows} <= parts.keys()


# --- the hand-over ------------------------------------------------------------------------------------------------


def test_the_hand_over_passes_the_bagit_library() -> None:
    bag = bagit.Bag(str(gone_out(FileForm.BUNDLE).path))
    bag.validate()
    assert bag.version_info == (1, 0)
    assert bag.info["Source-Organization"] == "Tannery Quay"
    assert bag.info["External-Identifier"] == "VE-26-014"


def test_sha512sum_proves_every_file_of_the_hand_over() -> None:
    bundle = gone_out(FileForm.BUNDLE).path
    sums = [line.split("  ", 1) for line in (bundle / "manifest-sha512.txt").read_text("utf-8").splitlines()]
    there = {file.relative_to(bundle).as_posix() for file in (bundle / "data").rglob("*") if file.is_file()}
    assert {path for _sum, path in sums} == there
    if shutil.which("sha512sum"):
        said = subprocess.run(
            ["sha512sum", "--check", "--strict", "--quiet", "manifest-sha512.txt", "tagmanifest-sha512.txt"],
            cwd=bundle,
            capture_output=True,
            text=True,
        )
        assert (said.returncode, said.stdout) == (0, "")
    for digest, path in sums:
        assert hashlib.sha512((bundle / path).read_bytes()).hexdigest() == digest


def test_the_bagit_library_sees_a_changed_photograph(tmp_path: Path) -> None:
    bundle = fresh(FileForm.BUNDLE, tmp_path)
    photo = next((bundle / "data" / "photographs").glob("*.jpg"))
    photo.write_bytes(photo.read_bytes()[:-1] + b"x")
    with pytest.raises(bagit.BagValidationError):
        bagit.Bag(str(bundle)).validate()


def test_the_hand_over_holds_records_papers_map_and_photographs_named_by_mark() -> None:
    data = gone_out(FileForm.BUNDLE).path / "data"
    papers = {file.name for file in (data / "papers").iterdir()}
    assert papers >= {
        "containers.pdf",
        "balance.pdf",
        "discards.pdf",
        "boxes.pdf",
        "season-2026.pdf",
        "open-2026.pdf",
        "inspector.pdf",
    }
    assert all(file.read_bytes().startswith(b"%PDF") for file in (data / "papers").iterdir())
    assert [file.name for file in (data / "photographs").glob("*.jpg")] == ["VE-26-014_2017-131_piece-1_1.jpg"]
    assert (data / "map" / "finds.gpkg").is_file()
    assert (data / "records" / "datapackage.json").is_file()
    names = [file.name for file in gone_out(FileForm.BUNDLE).path.rglob("*")]
    assert all(name.isascii() and " " not in name for name in names)


# --- the map ------------------------------------------------------------------------------------------------------


def layer_of(path: Path, name: str) -> tuple[dict, dict[str, list], list[bytes]]:
    meta, _ids, geometries, columns = pyogrio.raw.read(path, layer=name)
    return meta, dict(zip(meta["fields"], map(list, columns), strict=True)), list(geometries)


def ring_of(wkb: bytes) -> list[tuple[float, float]]:
    order, kind, rings, points = struct.unpack_from("<BIII", wkb)
    assert (order, kind, rings) == (1, 3, 1)
    return [struct.unpack_from("<2d", wkb, 13 + 16 * place) for place in range(points)]


def test_gdal_reads_squares_and_deposits_in_local_metres() -> None:
    path = gone_out(FileForm.GEOPACKAGE).path
    assert {tuple(one) for one in pyogrio.list_layers(path)} == {("squares", "Polygon"), ("deposits", "Polygon")}
    info = pyogrio.read_info(path, layer="squares")
    assert info["driver"] == "GPKG"
    assert "Undefined Cartesian" in info["crs"]
    assert tuple(info["total_bounds"]) == (0.0, 0.0, 15.0, 20.0)
    _meta, squares, geometries = layer_of(path, "squares")
    b3 = ring_of(geometries[squares["name"].index("B3")])
    assert b3 == [(5.0, 10.0), (10.0, 10.0), (10.0, 15.0), (5.0, 15.0), (5.0, 10.0)]


def test_the_finds_counts_on_the_map_are_those_of_the_store() -> None:
    _meta, deposits, _geometries = layer_of(gone_out(FileForm.GEOPACKAGE).path, "deposits")
    of_2017 = deposits["number"].index("2017")
    assert (deposits["square"][of_2017], deposits["pieces_counted"][of_2017]) == ("A1", 60)
    balance = table_named("balance_total").columns.keys()
    rows = everything_in(full_yard())["balance_total"]
    for column, name in (("pieces_kept", "kept"), ("pieces_discarded", "discarded"), ("pieces_counted", "counted")):
        assert sum(deposits[column]) == sum(row[list(balance).index(name)] for row in rows)
    assert sum(deposits["objects"]) == 1


@pytest.mark.parametrize("epsg", [32636, 32733, 2039])
def test_gdal_knows_the_system_of_real_coordinates(tmp_path: Path, epsg: int) -> None:
    grid = GridPlace(5.0, 500_000.0, 4_000_000.0, 0.0, epsg)
    made = export(full_yard(), FileForm.GEOPACKAGE, tmp_path, how=How(grid=grid))
    info = pyogrio.read_info(made.path, layer="deposits")
    assert info["crs"] == f"EPSG:{epsg}"
    assert tuple(info["total_bounds"])[:2] >= (500_000, 4_000_000)


def test_a_grid_is_laid_out_as_a_published_similarity_transformation() -> None:
    """PUBLISHED, FROM MEMORY: IOGP Publication 373-7-2, EPSG method 9621, its worked example.

    ED50 / UTM 31N (300000, 4500000) to ETRS89 / UTM 31N (299905.060, 4499796.515): shifted by -129.549, -208.185,
    turned by 1.56504 seconds of arc, scaled by 1.0000015504, which here goes into the side of the square.
    """
    grid = GridPlace(300_000 * 1.0000015504, -129.549, -208.185, turned=1.56504 / 3600, epsg=25831)
    assert corners_of("B16", grid)[0] == (
        pytest.approx(299_905.060, abs=0.0006),
        pytest.approx(4_499_796.515, abs=0.0006),
    )


def test_the_place_of_the_grid_is_the_excavations_and_gdal_reads_it(tmp_path: Path) -> None:
    """DERIVED: corners turned as complex numbers, (x + iy) e^(-it) from the corner of the grid."""
    desk = new_yard(tmp_path)
    try:
        assert place_grid(desk, square_mm=10_000, corner="500000,4000000", turned="12,5", epsg=32636).epsg == 32636
        made = export(desk, FileForm.GEOPACKAGE, tmp_path / "out")
        assert pyogrio.read_info(made.path, layer="squares")["crs"] == "EPSG:32636"
        _meta, squares, geometries = layer_of(made.path, "squares")
        ring = ring_of(geometries[squares["name"].index("B3")])
        turned = [
            complex(500_000, 4_000_000) + complex(x, y) * cmath.exp(-1j * math.radians(12.5))
            for x, y in ((10, 20), (20, 20), (20, 30), (10, 30), (10, 20))
        ]
        assert ring == [(pytest.approx(one.real, abs=1e-6), pytest.approx(one.imag, abs=1e-6)) for one in turned]
        before = desk.head()
        for code, said in (
            ("grid_in_degrees", {"epsg": 4326}),
            ("grid_impossible", {"square_mm": 0}),
            ("corner_unreadable", {"corner": "north"}),
            ("turn_unreadable", {"turned": "a little"}),
        ):
            with pytest.raises(Refusal, match=code):
                place_grid(desk, **said)
        assert desk.head() == before
        place_grid(desk, corner="", turned="", epsg=0)
        made = export(desk, FileForm.GEOPACKAGE, tmp_path / "out")
        assert tuple(pyogrio.read_info(made.path, layer="squares")["total_bounds"]) == (0.0, 0.0, 30.0, 40.0)
    finally:
        desk.let_go()


def test_the_file_says_that_it_is_a_geopackage() -> None:
    # OGC 12-128r17, requirements 2 and 3: application id "GPKG", user version 10300; SQLite's own check finds it sound.
    with closing(sqlite3.connect(gone_out(FileForm.GEOPACKAGE).path)) as connection:
        assert connection.execute("PRAGMA application_id").fetchone()[0].to_bytes(4, "big") == b"GPKG"
        assert connection.execute("PRAGMA user_version").fetchone() == (10300,)
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
        systems = {row[0] for row in connection.execute("SELECT srs_id FROM gpkg_spatial_ref_sys")}
    assert systems == {-1, 0, 4326}


def test_the_header_of_a_geometry_is_that_of_the_standard() -> None:
    # OGC 12-128r17, clause 2.1.3: "GP", version 0, flags (little-endian, envelope of four), srs, then the envelope.
    blob = geometry_of([(0.0, 0.0), (5.0, 0.0), (5.0, 5.0), (0.0, 5.0)], -1)
    assert blob[:8] == b"GP\x00\x03\xff\xff\xff\xff"
    assert struct.unpack_from("<4d", blob, 8) == (0.0, 5.0, 0.0, 5.0)
    assert len(blob) == 8 + 32 + 13 + 5 * 16
