"""The plugin socket: what a plugin is asked, and what it may answer."""
