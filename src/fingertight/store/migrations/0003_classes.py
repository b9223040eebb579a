"""People, classes and their log, shared tools, the teacher's own lines; a class's log is only ever added to."""

from typing import Any

import django.db.models.deletion
from django.apps.registry import Apps
from django.db import migrations, models
from django.db.backends.base.schema import BaseDatabaseSchemaEditor

from fingertight.store.log.statements import never

STAYS = "A line of the log of a class is never changed."


def make_it_lasting(_apps: Apps, editor: BaseDatabaseSchemaEditor) -> None:
    """The triggers by which the log of a class refuses changes."""
    if editor.connection.vendor == "postgresql":
        from fingertight.store.log import postgres

        statements = postgres.never("store_classentry", STAYS)
    else:
        statements = tuple(never("store_classentry", act, STAYS) for act in ("UPDATE", "DELETE"))
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
    dependencies = (("store", "0002_attempts"),)
    operations = (
        migrations.CreateModel(
            name="Person",
            fields=[
                *_led_by_workshop("id"),
                ("id", models.CharField(max_length=40)),
                ("name", models.CharField(max_length=60)),
                ("mark", models.CharField(blank=True, max_length=8)),
                ("role", models.CharField(max_length=12)),
                ("number", models.CharField(blank=True, max_length=200)),
                ("password", models.CharField(blank=True, max_length=200)),
                ("epoch", models.PositiveIntegerField(default=0)),
                ("made", models.DateTimeField()),
                ("forgotten", models.DateTimeField(null=True)),
            ],
        ),
        migrations.CreateModel(
            name="SchoolClass",
            fields=[
                *_led_by_workshop("slug"),
                ("slug", models.CharField(max_length=80)),
                ("title", models.CharField(max_length=120)),
                ("machine", models.CharField(max_length=80)),
                ("lessons", models.PositiveIntegerField()),
                ("lesson_min", models.PositiveIntegerField()),
                ("code", models.CharField(blank=True, max_length=12)),
                ("made", models.DateTimeField()),
                ("archived", models.DateTimeField(null=True)),
            ],
        ),
        migrations.CreateModel(
            name="ClassBench",
            fields=[
                *_led_by_workshop("class_slug", "bench"),
                ("class_slug", models.CharField(max_length=80)),
                ("bench", models.CharField(max_length=200)),
                ("job", models.CharField(max_length=200)),
                ("code", models.CharField(max_length=12)),
            ],
            options={
                "constraints": (models.UniqueConstraint(fields=("workshop", "code"), name="one_bench_per_code"),),
            },
        ),
        migrations.CreateModel(
            name="Member",
            fields=[
                *_led_by_workshop("class_slug", "person"),
                ("class_slug", models.CharField(max_length=80)),
                ("person", models.CharField(max_length=40)),
                ("bench", models.CharField(blank=True, max_length=200)),
            ],
        ),
        migrations.CreateModel(
            name="ClassEntry",
            fields=[
                *_led_by_workshop("class_slug", "seq"),
                ("class_slug", models.CharField(max_length=80)),
                ("seq", models.PositiveIntegerField()),
                ("id", models.CharField(max_length=36)),
                ("body", models.TextField()),
            ],
            options={
                "constraints": (models.UniqueConstraint(fields=("workshop", "id"), name="one_class_entry_per_id"),),
            },
        ),
        migrations.CreateModel(
            name="SharedTool",
            fields=[
                *_led_by_workshop("name"),
                ("name", models.CharField(max_length=80)),
                ("many", models.PositiveIntegerField()),
            ],
        ),
        migrations.CreateModel(
            name="TeacherLine",
            fields=[
                *_led_by_workshop("machine", "way", "part"),
                ("machine", models.CharField(max_length=80)),
                ("way", models.CharField(max_length=3)),
                ("part", models.CharField(max_length=200)),
                ("text", models.CharField(max_length=300)),
            ],
        ),
        migrations.RunPython(make_it_lasting),
    )
