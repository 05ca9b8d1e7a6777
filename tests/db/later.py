"""Steps that a later version might bring, laid behind those there are: for trying how tables are changed."""

import shutil
from pathlib import Path

from alembic.config import Config
from alembic.script import ScriptDirectory

from webapp.settings import asset_dir

STEP = '''"""A later step."""

import sqlalchemy as sa
from alembic import op

revision = {name!r}
down_revision = {before!r}
branch_labels = None
depends_on = None


def upgrade() -> None:
    {body}


def downgrade() -> None:
    pass
'''
# the parent of nearly everything is made anew, and each row is written
REBUILD = """anew = "always" if op.get_bind().dialect.name == "sqlite" else "auto"
    with op.batch_alter_table("build", recreate=anew) as table:
        table.add_column(sa.Column({column!r}, sa.Integer()))
    op.execute("UPDATE build SET {column} = id")"""
REWRITE = """op.execute("UPDATE entry SET folded = folded || 'x'")"""


def rebuild(column: str) -> str:
    return REBUILD.format(column=column)


def scripts(folder: Path, *bodies: str) -> Path:
    """Return a folder of migrations: the app's, and behind them a step for each body, named later_1 and so on."""
    found = folder / "later"
    shutil.copytree(asset_dir("migrations"), found, ignore=shutil.ignore_patterns("__pycache__"))
    settings = Config()
    settings.set_main_option("script_location", str(found))
    settings.set_main_option("path_separator", "os")
    before = ScriptDirectory.from_config(settings).get_current_head()
    for number, body in enumerate(bodies, 1):
        name = f"later_{number}"
        (found / "versions" / f"{name}.py").write_text(STEP.format(name=name, before=before, body=body))
        before = name
    return found


def head() -> str:
    """Return the form of the tables that the app has now."""
    settings = Config()
    settings.set_main_option("script_location", str(asset_dir("migrations")))
    settings.set_main_option("path_separator", "os")
    found = ScriptDirectory.from_config(settings).get_current_head()
    assert found is not None
    return found
