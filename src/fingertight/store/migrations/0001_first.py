"""The first tables: what Django models serve, then the entry table by its own SQL, and what may never be changed."""

import sqlite3

import django.db.models.deletion
from django.apps.registry import Apps
from django.db import NotSupportedError, migrations, models
from django.db.backends.base.schema import BaseDatabaseSchemaEditor

from fingertight.store.log import statements


def make_entry_table(_apps: Apps, editor: BaseDatabaseSchemaEditor) -> None:
    """Make the entry table and the triggers. There is no way back: that would throw entries away."""
    if editor.connection.vendor == "postgresql":
        from fingertight.store.log import postgres

        for statement in (postgres.ENTRY_TABLE, *postgres.NEVER_CHANGED):
            editor.execute(statement, None)  # None: a % in it is a %
        return
    if editor.connection.vendor != "sqlite":
        raise NotSupportedError(f"The entry table has no SQL for {editor.connection.vendor}. Use SQLite or PostgreSQL.")
    if sqlite3.sqlite_version_info < (3, 37):  # of November 2021: the first with STRICT tables
        raise NotSupportedError(f"SQLite {sqlite3.sqlite_version} is too old. Use a Python with SQLite 3.37 or newer.")
    for statement in (statements.ENTRY_TABLE, *statements.NEVER_CHANGED):
        editor.execute(statement)


class Migration(migrations.Migration):
    initial = True
    dependencies = ()
    operations = (
        migrations.CreateModel(
            name="Workshop",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(max_length=200)),
            ],
        ),
        migrations.CreateModel(
            name="MachineVersion",
            fields=[
                (
                    "pk",
                    models.CompositePrimaryKey(
                        "workshop_id", "slug", "version", blank=True, editable=False, primary_key=True, serialize=False
                    ),
                ),
                (
                    "workshop",
                    models.ForeignKey(db_index=False, on_delete=django.db.models.deletion.PROTECT, to="store.workshop"),
                ),
                ("slug", models.CharField(max_length=80)),
                ("version", models.PositiveIntegerField()),
                ("name", models.CharField(max_length=200)),
                ("sha256", models.CharField(max_length=64)),
                ("text", models.TextField()),
                ("kept", models.DateTimeField()),
            ],
            options={
                "constraints": (
                    models.UniqueConstraint(fields=("workshop", "slug", "sha256"), name="one_version_per_text"),
                )
            },
        ),
        migrations.CreateModel(
            name="LabelPrinter",
            fields=[
                (
                    "pk",
                    models.CompositePrimaryKey(
                        "workshop_id", "name", blank=True, editable=False, primary_key=True, serialize=False
                    ),
                ),
                (
                    "workshop",
                    models.ForeignKey(db_index=False, on_delete=django.db.models.deletion.PROTECT, to="store.workshop"),
                ),
                ("name", models.CharField(max_length=100)),
                ("nudge_x_mm", models.FloatField(default=0.0)),
                ("nudge_y_mm", models.FloatField(default=0.0)),
                ("scale_x", models.FloatField(default=1.0)),
                ("scale_y", models.FloatField(default=1.0)),
            ],
        ),
        migrations.CreateModel(
            name="Job",
            fields=[
                (
                    "pk",
                    models.CompositePrimaryKey(
                        "workshop_id", "id", blank=True, editable=False, primary_key=True, serialize=False
                    ),
                ),
                (
                    "workshop",
                    models.ForeignKey(db_index=False, on_delete=django.db.models.deletion.PROTECT, to="store.workshop"),
                ),
                ("id", models.CharField(max_length=200)),
                ("slug", models.CharField(max_length=100)),
                ("number", models.PositiveIntegerField()),
                ("title", models.CharField(max_length=300)),
                ("bench", models.CharField(max_length=200)),
                ("started", models.DateTimeField()),
                ("machine", models.CharField(max_length=80)),
                ("machine_sha256", models.CharField(max_length=64)),
                (
                    "machine_version",
                    models.ForeignObject(
                        from_fields=("workshop", "machine", "machine_sha256"),
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="jobs",
                        to="store.machineversion",
                        to_fields=("workshop", "slug", "sha256"),
                    ),
                ),
            ],
            options={
                "constraints": (
                    models.UniqueConstraint(fields=("workshop", "slug"), name="one_job_per_address"),
                    models.UniqueConstraint(fields=("workshop", "machine", "number"), name="one_job_per_number"),
                )
            },
        ),
        migrations.RunPython(make_entry_table),
    )
