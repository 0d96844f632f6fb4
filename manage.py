"""The keeper's door: `python manage.py COMMAND`; `python manage.py help` lists what there is."""

import os
import sys

from django.core.management import execute_from_command_line


def main() -> None:
    """Run one management command with this project's settings."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "dispatch.config.settings")
    execute_from_command_line(sys.argv)


if __name__ == "__main__":
    main()
