"""Attempts at reading a drawn instrument, as they were typed."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = (("store", "0001_first"),)
    operations = (
        migrations.CreateModel(
            name="Attempt",
            fields=[
                (
                    "pk",
                    models.CompositePrimaryKey(
                        "workshop_id", "id", blank=True, editable=False, primary_key=True, serialize=False
                    ),
                ),
                ("id", models.CharField(max_length=36)),
                ("who", models.CharField(max_length=40)),
                ("instrument", models.CharField(max_length=40)),
                ("seed", models.PositiveBigIntegerField()),
                ("typed", models.CharField(max_length=60)),
                ("at", models.DateTimeField()),
                (
                    "workshop",
                    models.ForeignKey(db_index=False, on_delete=django.db.models.deletion.PROTECT, to="store.workshop"),
                ),
            ],
        ),
    )
