"""The window: the only user of the toolkit."""
