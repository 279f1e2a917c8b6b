"""Deciding: runs what sets and house policy switch on, folds findings, works out what to change. Pure."""
