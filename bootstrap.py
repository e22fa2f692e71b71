"""Set FindsDesk up in this folder and run it: ``python3 bootstrap.py demo``.

Needs nothing but Python's standard library. Makes ``.venv`` beside this file, installs the locked packages into it
(every file checked against its hash), proves that Qt starts here, then runs what was asked. A second call finds its
stamp and starts at once.
"""

from __future__ import annotations

import hashlib
import importlib.util
import json
import os
import platform
import re
import shutil
import subprocess
import sys
import venv
from pathlib import Path

TOP = Path(__file__).resolve().parent
ENVIRONMENT = TOP / ".venv"
SCRIPTS = ENVIRONMENT / ("Scripts" if os.name == "nt" else "bin")
PYTHON = SCRIPTS / ("python.exe" if os.name == "nt" else "python")
OLDEST_PYTHON = (3, 11)
CANNOT_SET_UP = 2

USAGE = """\
FindsDesk: the desk of an excavation's finds yard.

    python3 bootstrap.py demo            play an invented excavation and open its window
    python3 bootstrap.py open STORE      open the window on a store
    python3 bootstrap.py test [...]      run the tests (what follows goes to pytest)
    python3 bootstrap.py check           lint, format, types, layers
    python3 bootstrap.py bench [--json]  run the timings: ours, the bare thing beside it, their ratio, the target
    python3 bootstrap.py COMMAND [...]   any command of findsdesk, listed below; COMMAND --help says how

The first call makes .venv here and installs what is needed into it."""

# Found by trial on an empty Debian 12, one package at a time, until a window came up.
OFFSCREEN_LIBRARIES = ("libgl1", "libegl1", "libglib2.0-0", "libdbus-1-3", "libfontconfig1", "libxkbcommon0")
SCREEN_LIBRARIES = ("libxcb-cursor0", "libxkbcommon-x11-0", "libxcb-icccm4", "libxcb-keysyms1", "libxcb-shape0")

START_QT = """\
from PySide6 import QtGui, QtNetwork, QtPrintSupport, QtSvg, QtWidgets
application = QtWidgets.QApplication([])
window = QtWidgets.QLabel("x")
window.show()
application.processEvents()
print("Qt started on", application.platformName())
"""


class CannotSetUp(Exception):
    """The set-up cannot go on; the message says what to do."""


def main(arguments: list[str]) -> int:
    """Set up what the asked command needs, run it, and return its exit code."""
    if sys.version_info < OLDEST_PYTHON:
        print(
            "FindsDesk needs Python {}.{} or newer; this is Python {}. Call this file with a newer one.".format(
                *OLDEST_PYTHON, platform.python_version()
            )
        )
        return CANNOT_SET_UP
    if not arguments or arguments[0] in ("-h", "--help", "help"):
        print(USAGE)
        print("\nCommands of findsdesk:\n")
        for name, purpose in commands():
            print(f"    {name:10}  {purpose}")
        return 0
    word, *rest = arguments
    try:
        set_up("test" if word in ("test", "check", "bench") else "run")
        environment = prove_qt()
    except CannotSetUp as problem:
        print(f"\n{problem}", file=sys.stderr)
        return CANNOT_SET_UP
    if word == "test":
        return run_tests(rest, environment)
    if word == "check":
        return run_checks(environment)
    if word == "bench":
        return run_benches(rest, environment)
    return run([PYTHON, "-m", "findsdesk", word, *rest], environment)


def commands() -> list[tuple[str, str]]:
    """Return the commands of findsdesk with what each is for, read from its source: nothing is installed yet."""
    source = (TOP / "findsdesk" / "cli" / "command_names.py").read_text(encoding="utf-8")
    return re.findall(r'^    Command\("([^"]+)", "[^"]+", N_\("([^"]+)"\)\),$', source, re.MULTILINE)


def run(command: list[str | Path], environment: dict[str, str]) -> int:
    """Run a command with this terminal as its own and return its exit code."""
    sys.stdout.flush()
    return subprocess.call([str(part) for part in command], env=environment)


# --- the virtual environment --------------------------------------------------------------------------------------


def set_up(kind: str) -> None:
    """Make ``.venv`` hold what the lock of this kind names, "run" or "test"; at once when it does already."""
    if any(stamp(held).exists() and stamp(held).read_text() == state_wanted(held) for held in {kind, "test"}):
        return
    for stale in ENVIRONMENT.glob(".findsdesk-*"):
        stale.unlink()
    uv = shutil.which("uv")
    make_environment(with_pip=uv is None)
    lock = lock_file(kind)
    count = sum("==" in line for line in lock.read_text().splitlines())
    print(f"Installing {count} packages into {ENVIRONMENT} ...", flush=True)
    # The lock is complete; left to resolve, pip would meet a later release of a package it already has pinned and stop.
    install(uv, ["--no-deps", "--require-hashes", "-r", str(lock)])
    install(uv, ["--no-deps", "--no-build-isolation", "-e", str(TOP)])
    stamp(kind).write_text(state_wanted(kind))


def lock_file(kind: str) -> Path:
    """Return the list of packages, each with its version and hashes, for "run" or "test"."""
    return TOP / ".lock" / f"{kind}.txt"


def stamp(kind: str) -> Path:
    """Return the file that says what the environment was last made to hold."""
    return ENVIRONMENT / f".findsdesk-{kind}"


def state_wanted(kind: str) -> str:
    """Return a digest of all that decides what the environment must hold: lock, project file, Python, place."""
    digest = hashlib.sha256()
    for file in (lock_file(kind), TOP / "pyproject.toml"):
        digest.update(file.read_bytes())
    digest.update(f"{platform.python_version()} {platform.machine()} {TOP}".encode())
    return digest.hexdigest()


def make_environment(with_pip: bool) -> None:
    """Make ``.venv``, or leave one alone that will do."""
    if with_pip and importlib.util.find_spec("ensurepip") is None:
        # Debian keeps this part of Python in a package of its own.
        package = f"python{sys.version_info.major}.{sys.version_info.minor}-venv"
        install_system_packages([package], "Python's venv module is not complete.")
    if PYTHON.exists() and environment_fits():
        return
    print(f"Making {ENVIRONMENT} with Python {platform.python_version()} ...", flush=True)
    try:
        venv.EnvBuilder(clear=True, with_pip=with_pip, symlinks=os.name != "nt").create(ENVIRONMENT)
    except (OSError, subprocess.CalledProcessError) as problem:
        raise CannotSetUp(f"{ENVIRONMENT} could not be made: {problem}") from problem


def environment_fits() -> bool:
    """Say whether the environment is of this Python and holds no other PySide6 than the locked one.

    Its wheels share files: taking one version out from under another leaves a broken package behind.
    """
    version = f"{sys.version_info.major}.{sys.version_info.minor}."
    settings = (ENVIRONMENT / "pyvenv.cfg").read_text() if (ENVIRONMENT / "pyvenv.cfg").exists() else ""
    if not re.search(rf"^version(_info)? *= *{re.escape(version)}", settings, re.MULTILINE):
        return False
    locked = re.search(r"^pyside6-essentials==(\S+)", lock_file("run").read_text(), re.MULTILINE)
    libraries = [ENVIRONMENT / "Lib" / "site-packages", *ENVIRONMENT.glob("lib/python*/site-packages")]
    found = (file for library in libraries for file in library.glob("[Pp]y[Ss]ide6_[Ee]ssentials-*.dist-info"))
    held = {folder.name.split("-")[1] for folder in found}
    return locked is not None and held <= {locked[1]}


def install(uv: str | None, arguments: list[str]) -> None:
    """Install into ``.venv`` with uv where it is to be had, else (or if it fails) with pip."""
    if uv is not None:
        if subprocess.call([uv, "pip", "install", "-q", "--python", str(PYTHON), *arguments], cwd=TOP) == 0:
            return
        print("uv could not install them; trying pip.", flush=True)
    pip = [str(PYTHON), "-m", "pip"]
    if subprocess.run([*pip, "--version"], capture_output=True).returncode != 0:
        subprocess.call([str(PYTHON), "-m", "ensurepip"], stdout=subprocess.DEVNULL)
    command = [*pip, "install", "-q", "--disable-pip-version-check", "--no-input", *arguments]
    if subprocess.call(command, cwd=TOP) != 0:
        raise CannotSetUp("The packages could not be installed. Look at the lines above: is there a network?")


# --- Qt and what the system must bring ----------------------------------------------------------------------------


def prove_qt() -> dict[str, str]:
    """Prove that Qt starts, without a screen and on the one at hand; return the environment for the program."""
    environment = dict(os.environ)
    prove_start("offscreen", environment, OFFSCREEN_LIBRARIES)
    if sys.platform.startswith("linux") and window_on_x11(environment):
        prove_start("xcb", environment, OFFSCREEN_LIBRARIES + SCREEN_LIBRARIES)
    return environment


def window_on_x11(environment: dict[str, str]) -> bool:
    """Tell whether the program's window will come up on an X11 screen: there is one, and nothing else is asked for."""
    return bool(environment.get("DISPLAY")) and environment.get("QT_QPA_PLATFORM", "xcb").split(":")[0] == "xcb"


def prove_start(surface: str, environment: dict[str, str], libraries: tuple[str, ...]) -> None:
    """Start Qt once on the surface in a process of its own; bring the libraries it lacks, if they may be brought."""
    proof = stamp(f"qt-{surface}")
    if proof.exists():
        return
    said = start_qt(surface)
    if said is not None and "could not connect to display" in said:
        print(f"The screen {environment.pop('DISPLAY')} cannot be reached: going on without one.")
        return
    if said is not None:
        missing = re.search(r"(lib[\w.+-]+)(?:: cannot open shared object| is needed)", said)
        reason = f"Qt does not start here: {missing[1]} is missing." if missing else f"Qt does not start here:\n{said}"
        install_system_packages(list(libraries), reason)
        said = start_qt(surface)
    if said is not None:
        raise CannotSetUp(f"Qt does not start here ({surface}):\n{said}")
    proof.touch()


def start_qt(surface: str) -> str | None:
    """Open a window in a process of its own; return None when it came up, else what was said."""
    result = subprocess.run(
        [str(PYTHON), "-c", START_QT],
        env={**os.environ, "QT_QPA_PLATFORM": surface},
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        errors="replace",
    )
    started = result.returncode == 0 and f"Qt started on {surface}" in result.stdout
    return None if started else result.stdout.strip() or f"it ended with code {result.returncode}"


def install_system_packages(packages: list[str], reason: str) -> None:
    """Install system packages where we may (root on Debian or Ubuntu), else stop with the one command to type."""
    if not sys.platform.startswith("linux"):
        raise CannotSetUp(reason)
    if not is_debian():
        raise CannotSetUp(
            f"{reason}\nInstall it with your system's package manager, then call this again."
            f"\nOn Debian the packages are called: {' '.join(packages)}"
        )
    command = ["apt-get", "install", "-y", "--no-install-recommends", "--no-upgrade", *packages]
    if os.geteuid() != 0 or shutil.which("apt-get") is None:
        raise CannotSetUp(f"{reason}\nType this as root, then call this again:\n\n    {' '.join(command)}\n")
    print(f"{reason} Installing with apt-get: {' '.join(packages)} ...", flush=True)
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for step in (["apt-get", "update", "-qq"], [command[0], "-qq", *command[1:]]):
        if subprocess.call(step, env=quiet, stdout=subprocess.DEVNULL) != 0:
            raise CannotSetUp(f"'{' '.join(step)}' failed; the lines above say why.")


def is_debian() -> bool:
    """Say whether this system is Debian or one made from it."""
    release = Path("/etc/os-release")
    text = release.read_text(errors="replace") if release.exists() else ""
    return re.search(r"^ID(_LIKE)?=.*\b(debian|ubuntu)\b", text, re.MULTILINE) is not None


# --- what can be asked --------------------------------------------------------------------------------------------


def run_tests(arguments: list[str], environment: dict[str, str]) -> int:
    """Run pytest; all tests on all cores when nothing particular is asked for.

    Half as many more as there are cores: tests of the window wait much of their time, and another fills it.
    """
    cores = os.cpu_count() or 1
    every_core = ["-n", str(cores + cores // 2)] if not arguments and cores > 1 else []
    os.chdir(TOP)
    return run([PYTHON, "-m", "pytest", *every_core, *arguments], environment)


def run_checks(environment: dict[str, str]) -> int:
    """Run the linter, the format, the types and the layers; all of them, even after one failed."""
    os.chdir(TOP)
    checks: dict[str, list[str | Path]] = {
        "lint (ruff check)": [PYTHON, "-m", "ruff", "check", "."],
        "format (ruff format --check)": [PYTHON, "-m", "ruff", "format", "--check", "."],
        "types (mypy)": [PYTHON, "-m", "mypy"],
        "layers (lint-imports)": [SCRIPTS / "lint-imports"],
    }
    failed = []
    for name, command in checks.items():
        print(f"== {name}", flush=True)
        if run(command, environment) != 0:
            failed.append(name)
    print(f"Failed: {', '.join(failed)}" if failed else "All checks passed.")
    return 1 if failed else 0


def run_benches(arguments: list[str], environment: dict[str, str]) -> int:
    """Run the timings named (all when none is), each in a process of its own, and print them as a table or JSON."""
    as_json = "--json" in arguments
    names = [argument for argument in arguments if argument != "--json"]
    results: list[dict[str, object]] = []
    failed = []
    for script in sorted((TOP / "tests" / "bench").glob("[!_]*.py")):
        if names and script.stem not in names:
            continue
        print(f"{script.stem} ...", file=sys.stderr, flush=True)
        done = subprocess.run(
            [str(PYTHON), str(script), "--json"], env=environment, cwd=TOP, stdout=subprocess.PIPE, text=True
        )
        try:
            done.check_returncode()
            results += json.loads(done.stdout)
        except (subprocess.CalledProcessError, ValueError) as problem:
            failed.append(f"{script.stem} ({problem})")
    if as_json:
        print(json.dumps(results, indent=2))
    else:
        print_table([[str(row[column]) for column in BENCH_COLUMNS] for row in results])
    if failed:
        print(f"Failed: {', '.join(failed)}", file=sys.stderr)
    return 1 if failed else 0


BENCH_COLUMNS = ("name", "ours", "bare", "ratio", "target")


def print_table(rows: list[list[str]]) -> None:
    """Print the timings one a line, the columns under their names."""
    table = [list(BENCH_COLUMNS), *rows]
    widths = [max(len(row[column]) for row in table) for column in range(len(BENCH_COLUMNS))]
    for row in table:
        print("  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip())


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit(130)
