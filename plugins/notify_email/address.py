"""What an address must be before it goes into a header or a command."""

import re

# RFC 5321, 4.1.2: the dot-string form. Quoted forms are left out on purpose: nothing in one of these
# can end a header or name a second recipient.
_ATOM = r"[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+"
_ADDRESS = re.compile(rf"{_ATOM}(\.{_ATOM})*@[A-Za-z0-9-]+(\.[A-Za-z0-9-]+)*")
_LONGEST = 254


def plain(text: str) -> str:
    """The address as mail servers take it, its domain in ASCII letters; empty where it is none."""
    local, _, domain = text.strip().rpartition("@")
    try:
        ascii_domain = domain.encode("idna").decode("ascii")
    except UnicodeError:
        return ""
    address = f"{local}@{ascii_domain}"
    fits = len(address) <= _LONGEST and _ADDRESS.fullmatch(address)
    return address if fits else ""
