"""Writes docs/rules and docs/sources.md from the declarations; nothing of it is installed."""
