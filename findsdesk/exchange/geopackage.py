"""GeoPackage (OGC 12-128r17, version 1.3): layers of areas in one SQLite file that mapping programs open.

The file is SQLite by its standard, so the library is used here and in no other module of this layer.
"""

from __future__ import annotations

import sqlite3
import struct
import tempfile
from collections.abc import Iterable, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from findsdesk.exchange.outgoing_folders import in_words

Point = tuple[float, float]
LOCAL = -1
"""The standard's "undefined Cartesian" system: metres of a grid that nobody has tied to the earth."""

_APPLICATION_ID, _VERSION_1_3 = 0x47504B47, 10300
_UNDEFINED = "undefined"
_TABLES = """
CREATE TABLE gpkg_spatial_ref_sys (srs_name TEXT NOT NULL, srs_id INTEGER PRIMARY KEY, organization TEXT NOT NULL,
  organization_coordsys_id INTEGER NOT NULL, definition TEXT NOT NULL, description TEXT);
CREATE TABLE gpkg_contents (table_name TEXT NOT NULL PRIMARY KEY, data_type TEXT NOT NULL, identifier TEXT UNIQUE,
  description TEXT DEFAULT '', last_change DATETIME NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ','now')),
  min_x DOUBLE, min_y DOUBLE, max_x DOUBLE, max_y DOUBLE, srs_id INTEGER,
  CONSTRAINT fk_gc_r_srs_id FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys(srs_id));
CREATE TABLE gpkg_geometry_columns (table_name TEXT NOT NULL, column_name TEXT NOT NULL,
  geometry_type_name TEXT NOT NULL, srs_id INTEGER NOT NULL, z TINYINT NOT NULL, m TINYINT NOT NULL,
  CONSTRAINT pk_geom_cols PRIMARY KEY (table_name, column_name), CONSTRAINT uk_gc_table_name UNIQUE (table_name),
  CONSTRAINT fk_gc_tn FOREIGN KEY (table_name) REFERENCES gpkg_contents(table_name),
  CONSTRAINT fk_gc_srs FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys (srs_id));
"""
_WGS84 = (
    'GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563,AUTHORITY["EPSG","7030"]],'
    'AUTHORITY["EPSG","6326"]],PRIMEM["Greenwich",0,AUTHORITY["EPSG","8901"]],'
    'UNIT["degree",0.0174532925199433,AUTHORITY["EPSG","9122"]],AUTHORITY["EPSG","4326"]]'
)


@dataclass(frozen=True, slots=True)
class Area:
    """A feature: its corners in order (metres; none where nobody knows), and the values of its columns."""

    corners: tuple[Point, ...]
    values: tuple[str | int | float | None, ...]


@dataclass(frozen=True, slots=True)
class Layer:
    """A layer: its name, what it holds, its columns with their SQL types, its features."""

    name: str
    description: str
    columns: tuple[tuple[str, str], ...]
    areas: Iterable[Area]


def write_geopackage(layers: Iterable[Layer], path: Path, *, srs: int, now: datetime) -> int:
    """Write layers of areas as a GeoPackage, whole or not at all, and return how many features it holds.

    ``srs`` is the EPSG code of the coordinates, or ``LOCAL``. Refusal: ``cannot_write``.
    """
    with in_words(path), tempfile.TemporaryDirectory(dir=path.parent, prefix=f".{path.name}.") as folder:
        beside = Path(folder) / path.name
        try:
            with closing(sqlite3.connect(beside)) as connection:
                written = _fill(connection, layers, srs, now)
        except sqlite3.Error as fault:
            raise OSError(0, str(fault)) from fault
        beside.replace(path)
    return written


def _fill(connection: sqlite3.Connection, layers: Iterable[Layer], srs: int, now: datetime) -> int:
    connection.execute(f"PRAGMA application_id = {_APPLICATION_ID}")
    connection.execute(f"PRAGMA user_version = {_VERSION_1_3}")
    connection.executescript(_TABLES)
    connection.executemany("INSERT INTO gpkg_spatial_ref_sys VALUES (?, ?, ?, ?, ?, ?)", _systems(srs))
    with connection:
        return sum(_write_layer(connection, layer, srs, now) for layer in layers)


def _systems(srs: int) -> Iterator[tuple[str, int, str, int, str, str]]:
    """Yield the systems that every GeoPackage names (requirement 11 of the standard), and the one that is used."""
    yield "Undefined Cartesian", -1, "NONE", -1, _UNDEFINED, "undefined Cartesian coordinate reference system"
    yield "Undefined geographic", 0, "NONE", 0, _UNDEFINED, "undefined geographic coordinate reference system"
    yield "WGS 84 geodetic", 4326, "EPSG", 4326, _WGS84, "longitude and latitude in decimal degrees on WGS 84"
    if srs not in (LOCAL, 0, 4326):
        yield f"EPSG {srs}", srs, "EPSG", srs, _definition(srs), "the system of the excavation's coordinates"


def _definition(srs: int) -> str:
    """Return the system as well-known text: for UTM on WGS 84 written out, else left to its EPSG code."""
    side, zone = divmod(srs, 100)
    if side not in (326, 327) or not 1 <= zone <= 60:
        return _UNDEFINED
    north = side == 326
    return (
        f'PROJCS["WGS 84 / UTM zone {zone}{"N" if north else "S"}",{_WGS84},PROJECTION["Transverse_Mercator"],'
        f'PARAMETER["latitude_of_origin",0],PARAMETER["central_meridian",{6 * zone - 183}],'
        f'PARAMETER["scale_factor",0.9996],PARAMETER["false_easting",500000],'
        f'PARAMETER["false_northing",{0 if north else 10_000_000}],UNIT["metre",1,AUTHORITY["EPSG","9001"]],'
        f'AXIS["Easting",EAST],AXIS["Northing",NORTH],AUTHORITY["EPSG","{srs}"]]'
    )


def _write_layer(connection: sqlite3.Connection, layer: Layer, srs: int, now: datetime) -> int:
    table = _quoted(layer.name)
    columns = ", ".join(f"{_quoted(name)} {kind}" for name, kind in layer.columns)
    connection.execute(
        f"CREATE TABLE {table} (fid INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, geom POLYGON, {columns})"
    )
    connection.execute(
        "INSERT INTO gpkg_contents (table_name, data_type, identifier, description, last_change, srs_id) "
        "VALUES (?, 'features', ?, ?, ?, ?)",
        (layer.name, layer.name, layer.description, f"{now.astimezone(UTC):%Y-%m-%dT%H:%M:%S.000Z}", srs),
    )
    connection.execute("INSERT INTO gpkg_geometry_columns VALUES (?, 'geom', 'POLYGON', ?, 0, 0)", (layer.name, srs))
    marks = ", ".join("?" * (len(layer.columns) + 1))
    names = ", ".join(_quoted(name) for name, _kind in layer.columns)
    bounds, written = _Bounds(), 0
    for area in layer.areas:
        geometry = bounds.around(area.corners) and geometry_of(area.corners, srs)
        connection.execute(f"INSERT INTO {table} (geom, {names}) VALUES ({marks})", (geometry or None, *area.values))
        written += 1
    connection.execute(
        "UPDATE gpkg_contents SET min_x = ?, min_y = ?, max_x = ?, max_y = ? WHERE table_name = ?",
        (*bounds.extent, layer.name),
    )
    return written


class _Bounds:
    """The extent of a layer: the least and the greatest of its coordinates."""

    def __init__(self) -> None:
        self._xs: list[float] = []
        self._ys: list[float] = []

    def around(self, corners: Sequence[Point]) -> bool:
        """Take corners in; tell whether there are any."""
        for x, y in corners:
            self._xs = [min([*self._xs, x]), max([*self._xs, x])]
            self._ys = [min([*self._ys, y]), max([*self._ys, y])]
        return bool(corners)

    @property
    def extent(self) -> tuple[float | None, ...]:
        if not self._xs:
            return None, None, None, None
        return self._xs[0], self._ys[0], self._xs[1], self._ys[1]


def geometry_of(corners: Sequence[Point], srs: int) -> bytes:
    """Return a polygon as GeoPackage binary: header with envelope, then well-known binary, both little-endian.

    Source: OGC 12-128r17, clause 2.1.3 (header: magic GP, version 0, flags, srs, envelope), OGC 06-103r4 (WKB).
    """
    ring = [*corners, corners[0]]
    xs, ys = [x for x, _y in ring], [y for _x, y in ring]
    little_endian, with_envelope = 0b1, 0b1 << 1
    header = struct.pack("<2sBBi", b"GP", 0, little_endian | with_envelope, srs)
    envelope = struct.pack("<4d", min(xs), max(xs), min(ys), max(ys))
    polygon, rings = 3, 1
    body = struct.pack("<BIII", 1, polygon, rings, len(ring))
    return header + envelope + body + b"".join(struct.pack("<2d", x, y) for x, y in ring)


def _quoted(name: str) -> str:
    return '"' + name.replace('"', '""') + '"'
