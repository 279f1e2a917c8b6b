"""The register's file: tables, journal, migrations; the only room that knows the database library.

`reads` answers questions with frozen values, `writes` adds rows; nothing of the library leaves this room.
"""
