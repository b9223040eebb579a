"""Which text of a machine was its newest, and from when: going back to an old text is a step like any other."""

import django.db.models.deletion
from django.apps.registry import Apps
from django.db import migrations, models
from django.db.backends.base.schema import BaseDatabaseSchemaEditor

from fingertight.store.log.statements import never

STAYS = "A version of a machine is never changed. Going back is a new one."
SO_FAR = """
INSERT INTO store_machinestep (workshop_id, slug, number, sha256, at, by, how)
SELECT workshop_id, slug, version, sha256, kept, '', 'kept' FROM store_machineversion
"""


def make_it_lasting(_apps: Apps, editor: BaseDatabaseSchemaEditor) -> None:
    """A step for each version there is, then the triggers by which steps refuse changes."""
    if editor.connection.vendor == "postgresql":
        from fingertight.store.log import postgres

        statements = postgres.never("store_machinestep", STAYS)
    else:
        statements = tuple(never("store_machinestep", act, STAYS) for act in ("UPDATE", "DELETE"))
    for statement in (SO_FAR, *statements):
        editor.execute(statement, None)


class Migration(migrations.Migration):
    dependencies = (("store", "0004_recordings"),)
    operations = (
        migrations.CreateModel(
            name="MachineStep",
            fields=[
                (
                    "pk",
                    models.CompositePrimaryKey(
                        "workshop_id", "slug", "number", blank=True, editable=False, primary_key=True, serialize=False
                    ),
                ),
                (
                    "workshop",
                    models.ForeignKey(db_index=False, on_delete=django.db.models.deletion.PROTECT, to="store.workshop"),
                ),
                ("slug", models.CharField(max_length=80)),
                ("number", models.PositiveIntegerField()),
                ("sha256", models.CharField(max_length=64)),
                ("at", models.DateTimeField()),
                ("by", models.CharField(blank=True, max_length=40)),
                ("how", models.CharField(blank=True, max_length=60)),
                (
                    "text",
                    models.ForeignObject(
                        from_fields=("workshop", "slug", "sha256"),
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="steps",
                        to="store.machineversion",
                        to_fields=("workshop", "slug", "sha256"),
                    ),
                ),
            ],
        ),
        migrations.RunPython(make_it_lasting),
    )
