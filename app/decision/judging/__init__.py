"""Deciding: runs what sets and house policy switch on, folds findings into a verdict, works out the cure. Pure."""
