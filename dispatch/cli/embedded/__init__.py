"""The embedded service: a broker on a private socket, a worker and a clock, as watched children."""

from dispatch.cli.embedded.children import EmbeddedError, running

__all__ = ["EmbeddedError", "running"]
