"""The web server's way in."""

import gc
import os
from importlib import import_module

from django.conf import settings
from django.core.wsgi import get_wsgi_application
from django.utils.module_loading import import_string

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "dispatch.config.settings")

application = get_wsgi_application()
# Plugins are looked at before the first page is asked for: one that is slow to import keeps none waiting.
import_string("dispatch.actions.plugins.look")()
# So are the pages; and what is read by now stays for good, so the collector need not walk it again and again:
# a full round over some 200,000 objects holds every request up for 0.1 s or longer.
import_module(settings.ROOT_URLCONF)
gc.collect()
gc.freeze()
