"""Who, what, when."""
