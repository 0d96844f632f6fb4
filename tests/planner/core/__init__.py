"""The compiled search, against the exact cost, the plain clock and the outside judge."""
