"""More that may be known of kit, people and circuits: dates on the goods, what they are worth knowing by, where a
figure comes from."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

TEXT = sa.Text()
WHOLE = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
ADDED = {
    "piece": (
        ("serial", TEXT), ("model", TEXT), ("marked_until", TEXT), ("expires_on", TEXT), ("inspect_months", WHOLE),
        ("laundered", WHOLE), ("capped_tip_um", WHOLE), ("secures", WHOLE), ("made_on", TEXT), ("end_of_life", TEXT),
        ("owner_until", TEXT),
    ),
    "record": (("cut_through_by", TEXT),),
    "person": (("roles", TEXT),),
    "circuit": (
        ("plate_mv", WHOLE), ("category_source", TEXT), ("max_v_source", TEXT), ("sources", TEXT),
        ("disconnects", TEXT), ("points", TEXT), ("wait_s", WHOLE), ("wait_source", TEXT),
    ),
}  # fmt: skip


def upgrade() -> None:
    """Add the columns; what older rows do not say stays unknown."""
    for table, columns in ADDED.items():
        for name, kind in columns:
            op.add_column(table, sa.Column(name, kind, nullable=True))


def downgrade() -> None:
    """Never in place: a backup is what one goes back to."""
    raise NotImplementedError
