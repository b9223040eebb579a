"""Photos of parts, kept small and without what a camera writes beside the picture."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = (("store", "0005_steps"),)
    operations = (
        migrations.CreateModel(
            name="Photo",
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
                ("id", models.CharField(max_length=64)),
                ("whole", models.BinaryField()),
                ("small", models.BinaryField()),
                ("by", models.CharField(max_length=40)),
                ("kept", models.DateTimeField()),
                ("gone", models.DateTimeField(null=True)),
            ],
        ),
    )
