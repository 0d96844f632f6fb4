"""The web server's way in."""

import os

from django.core.wsgi import get_wsgi_application
from django.utils.module_loading import import_string

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "dispatch.config.settings")

application = get_wsgi_application()
# Plugins are looked at before the first page is asked for: one that is slow to import keeps none waiting.
import_string("dispatch.actions.plugins.look")()
