"""Every verb of the house and every write."""
