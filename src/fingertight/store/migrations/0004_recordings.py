"""Machines that are recorded by stripping them; the log of a recording is only ever added to."""

from typing import Any

import django.db.models.deletion
from django.apps.registry import Apps
from django.db import migrations, models
from django.db.backends.base.schema import BaseDatabaseSchemaEditor

from fingertight.store.log.statements import never

STAYS = "A line of a recording is never changed."


def make_it_lasting(_apps: Apps, editor: BaseDatabaseSchemaEditor) -> None:
    """The triggers by which the log of a recording refuses changes."""
    if editor.connection.vendor == "postgresql":
        from fingertight.store.log import postgres

        statements = postgres.never("store_recordedentry", STAYS)
    else:
        statements = tuple(never("store_recordedentry", act, STAYS) for act in ("UPDATE", "DELETE"))
    for statement in statements:
        editor.execute(statement, None)


def _led_by_workshop(*names: str) -> list[tuple[str, Any]]:
    """The key of a table, and the workshop that leads it."""
    key = models.CompositePrimaryKey(
        "workshop_id", *names, blank=True, editable=False, primary_key=True, serialize=False
    )
    workshop: Any = models.ForeignKey(db_index=False, on_delete=django.db.models.deletion.PROTECT, to="store.workshop")
    return [("pk", key), ("workshop", workshop)]


class Migration(migrations.Migration):
    dependencies = (("store", "0003_classes"),)
    operations = (
        migrations.CreateModel(
            name="RecordedMachine",
            fields=[
                *_led_by_workshop("slug"),
                ("slug", models.CharField(max_length=80)),
                ("name", models.CharField(max_length=120)),
                ("begun", models.DateTimeField()),
                ("machine", models.CharField(blank=True, max_length=80)),
            ],
        ),
        migrations.CreateModel(
            name="RecordedEntry",
            fields=[
                *_led_by_workshop("recording", "seq"),
                ("recording", models.CharField(max_length=80)),
                ("seq", models.PositiveIntegerField()),
                ("id", models.CharField(max_length=36)),
                ("body", models.TextField()),
            ],
            options={
                "constraints": (models.UniqueConstraint(fields=("workshop", "id"), name="one_recorded_entry_per_id"),),
            },
        ),
        migrations.RunPython(make_it_lasting),
    )
