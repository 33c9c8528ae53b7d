"""Steps from schema to schema: what the migrations make is what the tables say, and no step loses anything."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import (
    CheckConstraint,
    Connection,
    Index,
    UniqueConstraint,
    create_engine,
    inspect,
    select,
    text,
)

from beeledger.base.clock import FixedClock
from beeledger.base.errors import CannotNow, Refused
from beeledger.database import ledger as ledger_module
from beeledger.database import migrating, opening, shape
from beeledger.database.audit import OpenAct
from beeledger.database.backup import backups_of
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger, engine_for
from beeledger.database.opening import open_ledger
from beeledger.database.schema import EXCLUSION_POSTGRESQL, HEAD, TRIGGERS_SQLITE
from beeledger.model.base import Base
from beeledger.model.colonies import Placement
from beeledger.operations import undo as undo_module
from beeledger.operations.act import perform
from beeledger.operations.sites import NewSite, add_site
from beeledger.operations.undo import undo, why_not
from tests.builders.yards import LOOKED, whole, yard

FOLDER = migrating.FOLDER


def test_the_head_is_the_newest_migration_and_there_is_one_line_of_them() -> None:
    config = Config()
    config.set_main_option("script_location", str(FOLDER))
    script = ScriptDirectory.from_config(config)
    assert script.get_heads() == [HEAD]
    revisions = [step.revision for step in script.walk_revisions()]
    assert revisions == sorted(revisions, reverse=True)  # newer ones are told by their number


def test_the_migrations_make_the_tables_as_they_are_written(ledger: Ledger) -> None:
    with ledger.engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, Base.metadata) == []


def made_by_models(connection: Connection) -> None:
    Base.metadata.create_all(connection)
    if connection.dialect.name == "sqlite":
        for trigger in TRIGGERS_SQLITE:
            connection.exec_driver_sql(trigger)
    else:
        connection.exec_driver_sql(EXCLUSION_POSTGRESQL)


def test_checks_keys_and_indexes_are_word_for_word_those_of_the_tables(
    ledger: Ledger, kind: str, new_target: Callable[..., str]
) -> None:
    # Alembic's own comparison does not see CHECKs, partial indexes' conditions, triggers and STRICT.
    engine = engine_for(new_target(kind, migrated=False))
    with engine.begin() as connection:
        made_by_models(connection)
    with engine.connect() as by_models, ledger.engine.connect() as by_steps:
        said, stands = definitions(by_models), definitions(by_steps)
    engine.dispose()
    stands = {name: words for name, words in stands.items() if "alembic_version" not in name}
    assert stands == said
    assert len(said) > 100


def definitions(connection: Connection) -> dict[str, object]:
    """Every constraint, index and trigger as the database itself tells it."""
    if connection.dialect.name == "sqlite":
        names = connection.exec_driver_sql("SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL").all()
        return {name: sorted(_clauses(sql)) for name, sql in names}
    checks = connection.execute(
        text(
            "SELECT conname, pg_get_constraintdef(oid) FROM pg_constraint WHERE connamespace = current_schema()::regnamespace"
        )
    ).all()
    indexes = connection.execute(text("SELECT indexname, indexdef FROM pg_indexes WHERE schemaname = current_schema()")).all()  # fmt: skip
    columns = connection.execute(
        text(
            "SELECT table_name || '.' || column_name, data_type || ' ' || is_nullable FROM information_schema.columns WHERE table_schema = current_schema()"
        )
    ).all()
    return {**dict(map(tuple, checks)), **dict(map(tuple, indexes)), **dict(map(tuple, columns))}


def _clauses(sql: str) -> list[str]:
    return [
        " ".join(line.strip().rstrip(",").split()).replace('"', "")
        for line in sql.splitlines()
        if line.strip()
    ]


def test_every_table_on_sqlite_refuses_a_value_of_another_type(new_target: Callable[..., str]) -> None:
    engine = engine_for(new_target("sqlite"))
    with engine.connect() as connection:
        listed = connection.exec_driver_sql("PRAGMA table_list").all()
    engine.dispose()
    strict = {row[1]: row[5] for row in listed if row[2] == "table" and not row[1].startswith("sqlite_")}
    assert {name for name, is_strict in strict.items() if not is_strict} == {"alembic_version"}


def test_every_constraint_has_a_name_of_its_own() -> None:
    for table in Base.metadata.sorted_tables:
        names = [str(one.name) for one in table.constraints] + [str(index.name) for index in table.indexes]
        assert len(set(names)) == len(names), table.name
        assert all(name != "None" and len(name) <= 63 for name in names), table.name  # PostgreSQL's limit


NEXT = f"{int(HEAD) + 1:04}"
STEP = '''
"""A made-up step: sites get an altitude, placements a note, hive marks a colour, and a table is new."""
import sqlalchemy as sa
from alembic import op

revision = "NEXT"
down_revision = "HEAD"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table("weather", sa.Column("id", sa.BigInteger(), primary_key=True), sa.Column("said", sa.Text()))
    for table, column in (("site", "altitude_m"), ("colony", "score"), ("placement", "weight_g"), ("round", "mood")):
        with op.batch_alter_table(table, **WITH) as batch:
            batch.add_column(sa.Column(column, WHOLE, nullable=True))
            batch.create_check_constraint(op.f(f"ck_{table}_{column}_least"), sa.text(f"{column} >= 0"))
    EXTRA


WHOLE = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
WITH = {"table_kwargs": {"sqlite_autoincrement": True}}  # what reflection does not tell
'''


@pytest.fixture
def next_version(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str], None]:
    """Be the program of the next version, whose step does something more."""

    def install(extra: str = "") -> None:
        folder = tmp_path / "migrations"
        shutil.copytree(FOLDER, folder, ignore=shutil.ignore_patterns("__pycache__"))
        step = STEP.replace("EXTRA", extra or "pass").replace("NEXT", NEXT).replace("HEAD", HEAD)
        (folder / "versions" / f"m{NEXT}_next.py").write_text(step)
        monkeypatch.setattr(migrating, "FOLDER", folder)
        for module in (migrating, opening, ledger_module, undo_module):
            monkeypatch.setattr(module, "HEAD", NEXT)

    return install


@pytest.fixture
def filled(ledger: Ledger) -> Iterator[Ledger]:
    """A ledger with sites, hives, a move of time and a posted round."""
    drove = yard(ledger, "Long Drove", "1", "2", "3")
    yard(ledger, "Far Drove", "21", "22")
    drove.post(h1=LOOKED, h2=LOOKED)
    ledger.close()
    yield ledger
    ledger.close()


def test_a_step_over_a_filled_ledger_loses_nothing(
    filled: Ledger, clock: FixedClock, next_version: Callable[[str], None]
) -> None:
    before = whole(filled)
    filled.close()
    next_version("")
    after = open_ledger(filled.target, clock)
    assert whole(after) == before
    with after.engine.connect() as connection:
        assert opening.revision_of(connection) == NEXT
        assert {"altitude_m"} <= {column["name"] for column in inspect(connection).get_columns("site")}
        if after.is_sqlite:
            assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1
    assert check_ledger(after).clean
    perform(after, add_site, NewSite("Near Drove"))
    after.close()


def test_a_backup_is_made_before_a_step_and_holds_the_old_schema(
    filled: Ledger, clock: FixedClock, next_version: Callable[[str], None]
) -> None:
    next_version("")
    open_ledger(filled.target, clock).close()
    if filled.file is None:
        return  # a server's backups are its keeper's work
    (kept,) = backups_of(filled.file)
    assert kept.name == f"20260514-180000-before-{HEAD}.db"
    engine = create_engine(f"sqlite:///{kept}")
    with engine.connect() as connection:
        assert opening.revision_of(connection) == HEAD
    engine.dispose()


def test_acts_before_a_step_cannot_be_taken_back_after_it(
    filled: Ledger, clock: FixedClock, next_version: Callable[[str], None]
) -> None:
    next_version("")
    after = open_ledger(filled.target, clock)
    with after.read() as session:
        (finding,) = why_not(session, after.last_act())
    after.close()
    assert finding.code == "other-schema"


@pytest.mark.parametrize(
    ("extra", "loss"),
    [
        ("op.execute('DELETE FROM round_entry')", "rows of round_entry"),
        ("op.execute('DROP TABLE tenure')", "rows of tenure"),
    ],
)
def test_a_step_that_would_lose_rows_is_given_up_and_nothing_has_changed(
    filled: Ledger, clock: FixedClock, next_version: Callable[[str], None], extra: str, loss: str
) -> None:
    before = whole(filled)
    filled.close()
    next_version(extra)
    with pytest.raises(CannotNow) as caught:
        open_ledger(filled.target, clock)
    assert loss in caught.value.sentence
    again = engine_for(filled.target)
    with again.connect() as connection:
        assert opening.revision_of(connection) == HEAD
    again.dispose()
    assert whole(filled) == before


def test_a_step_that_breaks_off_has_not_happened(
    filled: Ledger, clock: FixedClock, next_version: Callable[[str], None]
) -> None:
    before = whole(filled)
    filled.close()
    next_version("raise RuntimeError('the light went out')")
    with pytest.raises(RuntimeError, match="the light went out"):
        open_ledger(filled.target, clock)
    assert whole(filled) == before
    assert check_ledger(filled).clean


def test_a_step_that_leaves_rows_pointing_nowhere_is_given_up(
    filled: Ledger, clock: FixedClock, next_version: Callable[[str], None]
) -> None:
    if not filled.is_sqlite:
        return  # a server keeps references itself, also during a step
    next_version("op.execute('UPDATE placement SET site_id = 999')")
    with pytest.raises(CannotNow, match="would break references"):
        open_ledger(filled.target, clock)
    assert check_ledger(filled).clean


LOSSES = {
    "ck_queen_hatch_year_range of queen": "with op.batch_alter_table('queen', **WITH) as batch: batch.drop_constraint(op.f('ck_queen_hatch_year_range'), type_='check')",
    "uq_hive_mark_open of hive_mark": "op.drop_index('uq_hive_mark_open', 'hive_mark')",
    "uq_site_code of site": "with op.batch_alter_table('site', **WITH) as batch: batch.drop_constraint('uq_site_code', type_='unique')",
}  # fmt: skip


@pytest.mark.parametrize("loss", LOSSES)
def test_a_step_that_would_lose_what_guards_the_rows_is_given_up(
    filled: Ledger, clock: FixedClock, next_version: Callable[[str], None], loss: str
) -> None:
    next_version(LOSSES[loss])
    with pytest.raises(CannotNow) as caught:
        open_ledger(filled.target, clock)
    assert caught.value.sentence == f"The step to the new version would lose {loss}."
    assert check_ledger(filled).clean


def test_a_step_that_would_no_longer_keep_a_table_strict_is_given_up(
    new_target: Callable[..., str], clock: FixedClock, next_version: Callable[[str], None]
) -> None:
    next_version(
        "with op.batch_alter_table('queen', recreate='always', table_kwargs={'sqlite_strict': False, 'sqlite_autoincrement': True}) as batch: batch.add_column(sa.Column('x', WHOLE))"
    )
    with pytest.raises(CannotNow, match="would lose STRICT of queen"):
        open_ledger(new_target("sqlite"), clock)


def test_a_step_that_forgets_that_numbers_are_given_once_is_given_up(
    new_target: Callable[..., str], clock: FixedClock, next_version: Callable[[str], None]
) -> None:
    next_version(
        "with op.batch_alter_table('queen', recreate='always') as batch: batch.add_column(sa.Column('x', WHOLE))"
    )
    with pytest.raises(CannotNow, match="would lose AUTOINCREMENT of queen"):
        open_ledger(new_target("sqlite"), clock)


def test_a_number_that_is_gone_is_not_given_again_after_a_step(
    filled: Ledger, clock: FixedClock, next_version: Callable[[str], None]
) -> None:
    gone = perform(filled, add_site, NewSite("Near Drove"))
    undo(filled, gone.act)
    filled.close()
    next_version("")
    after = open_ledger(filled.target, clock)
    assert perform(after, add_site, NewSite("High Drove")).result > gone.result
    after.close()


def test_what_a_step_lets_go_on_purpose_is_named_and_may_go(
    filled: Ledger, clock: FixedClock, next_version: Callable[[str], None], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(shape, "LET_GO", frozenset({"uq_hive_mark_open"}))
    next_version(LOSSES["uq_hive_mark_open of hive_mark"])
    open_ledger(filled.target, clock).close()


def test_no_step_is_taken_while_another_desk_has_the_ledger_open(
    filled: Ledger, clock: FixedClock, next_version: Callable[[str], None]
) -> None:
    before = whole(filled)
    with filled.read() as session:  # the other desk, still on the old version
        session.execute(text("SELECT 1 FROM site"))
        next_version("")
        with pytest.raises(CannotNow) as caught:
            open_ledger(filled.target, clock)
    assert "other desks have it open" in caught.value.sentence
    assert whole(filled) == before
    filled.close()
    open_ledger(filled.target, clock).close()


def test_a_desk_that_is_idle_counts_as_open_too(
    filled: Ledger, clock: FixedClock, next_version: Callable[[str], None]
) -> None:
    filled.last_act()  # leaves a connection in its pool, as a desk at rest does
    next_version("")
    with pytest.raises(CannotNow, match="other desks have it open"):
        open_ledger(filled.target, clock)


def test_after_a_step_the_ledger_still_refuses_two_places_at_one_moment(
    filled: Ledger, clock: FixedClock, next_version: Callable[[str], None]
) -> None:
    next_version("")
    after = open_ledger(filled.target, clock)
    with after.engine.connect() as connection:
        names = {name for _, name, _ in shape.shape_of(connection).guards}
    overlap = (
        {trigger.split()[2] for trigger in TRIGGERS_SQLITE} if after.is_sqlite else {"ex_placement_overlap"}
    )
    wanted = {
        str(one.name)
        for table in Base.metadata.sorted_tables
        for one in (*table.constraints, *(index for index in table.indexes if index.unique))
        if isinstance(one, (CheckConstraint, UniqueConstraint, Index))
    }
    assert (wanted | overlap) - names == set()
    with pytest.raises(Refused, match="two places at one moment"):
        perform(after, place_twice)
    after.close()


def place_twice(act: OpenAct) -> str:
    there = act.session.scalars(select(Placement)).first()
    act.session.add(
        Placement(
            colony_id=there.colony_id,
            site_id=there.site_id,
            from_at=there.from_at,
            from_on=there.from_on,
            until_at=act.clock.now(),
            until_on=act.today,
        )
    )
    act.session.flush()
    return "never"


def test_taking_back_the_last_act_still_works_where_no_step_was_taken(filled: Ledger) -> None:
    before = whole(filled)
    done = perform(filled, add_site, NewSite("Near Drove"))
    undo(filled, done.act)
    assert whole(filled) == before
