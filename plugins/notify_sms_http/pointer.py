"""What stands at a place in JSON (RFC 6901)."""


def at(pointer: str, value: object) -> object:
    """The value at a JSON Pointer, or None where there is none."""
    try:
        for step in pointer.split("/")[1:]:
            name = step.replace("~1", "/").replace("~0", "~")
            value = _inside(value, name)
    except (ValueError, LookupError, TypeError):
        return None
    return value


def text_at(pointer: str, value: object, most: int) -> str:
    """The text or whole number at a JSON Pointer, cut to so many letters; empty where there is neither."""
    found = at(pointer, value)
    known = isinstance(found, str | int) and not isinstance(found, bool)
    return str(found)[:most] if known else ""


def _inside(value: object, name: str) -> object:
    if isinstance(value, list):
        return value[int(name)]
    if isinstance(value, dict):
        return value[name]
    raise TypeError(value)
