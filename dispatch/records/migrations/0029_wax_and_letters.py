"""Wax and letters have limits of the sky of their own; the book is reckoned again by them and by the waits."""

from django.apps.registry import Apps
from django.db import migrations
from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.utils import timezone

_FAMILIES = {
    "wax": (("oxidation", "Wax"),),
    "letters": (
        ("spray-coat", "Refit numbers and decals"),
        ("decals", "Apply numbers, both sides"),
        ("decals", "Apply the name"),
        ("decals", "Squeegee and edges"),
    ),
}


def move(apps: Apps, _editor: BaseDatabaseSchemaEditor) -> None:
    """Put the catalogue's rows that were judged as polish into their own family."""
    rows = apps.get_model("records", "CatalogueRow").objects.filter(family="polish")
    for family, names in _FAMILIES.items():
        for kind, name in names:
            rows.filter(kind__key=kind, name=name).update(family=family)
    if apps.get_model("records", "Job").objects.exists():
        due = {"verb": "refigure-book", "key": "all", "claimed_at": None}
        apps.get_model("records", "DueWork").objects.get_or_create(
            **due, done_at=None, defaults={"due_at": timezone.now()}
        )


class Migration(migrations.Migration):
    dependencies = [("records", "0028_waits")]

    operations = [migrations.RunPython(move, migrations.RunPython.noop)]
