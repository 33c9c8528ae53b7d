"""How a step is run: on the connection handed in, inside its transaction."""

from alembic import context

from beeledger.model.base import Base

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=Base.metadata,
    transactional_ddl=True,
    render_as_batch=True,
)
with context.begin_transaction():
    context.run_migrations()
