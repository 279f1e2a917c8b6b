"""Cuffdate: a register of insulating PPE, meters and leads that decides whether a kit may go out."""

__version__ = "0.4.0"
