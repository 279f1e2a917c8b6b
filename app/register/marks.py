"""The marks on a register's first page: whose file it is, and of which schema."""

from __future__ import annotations

APPLICATION_ID = 0x43756664
SCHEMA = 3
