"""A stolen table of passwords is not tried through in an afternoon: the tests' own shortcut is not shipped."""

from django.conf import global_settings
from django.utils.module_loading import import_string

from dispatch.config import settings as shipped

# OWASP Password Storage Cheat Sheet, PBKDF2-HMAC-SHA256 (from memory).
LEAST_ROUNDS = 600_000


def test_a_password_is_made_of_as_many_rounds_as_are_asked_for():
    hashers = getattr(shipped, "PASSWORD_HASHERS", global_settings.PASSWORD_HASHERS)
    first = import_string(hashers[0])()
    assert first.algorithm == "pbkdf2_sha256"
    assert first.iterations >= LEAST_ROUNDS
