"""The search compiled: flat arrays in, flat arrays out; nothing here knows JSON or dataclasses."""
