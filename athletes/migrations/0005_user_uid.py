"""Every account gets a random uid, the only thing an erasure remembers of it."""

import uuid

from django.db import migrations, models


def give_uids(apps, schema_editor):
    user = apps.get_model("athletes", "User")
    for row in user.objects.filter(uid__isnull=True).iterator():
        row.uid = uuid.uuid4()
        row.save(update_fields=["uid"])


class Migration(migrations.Migration):
    dependencies = [("athletes", "0004_fewer_indexes")]

    operations = [
        migrations.AddField("user", "uid", models.UUIDField(null=True, editable=False)),
        migrations.RunPython(give_uids, migrations.RunPython.noop),
        migrations.AlterField("user", "uid", models.UUIDField(default=uuid.uuid4, unique=True, editable=False)),
    ]
