"""Protectors worn over rubber gloves: cut for a class, mechanical protection only."""

from __future__ import annotations

from app.decision.domain.declarations import Kind

KIND = Kind(
    key="leather-protectors",
    role="protectors",
    fields=frozenset({"cut_for_class", "leather_mm", "leather", "length_mm", "size"}),
    names="""
    leather protector | leather over | leather | over glove | overglove | leather glove | leather overglove |
    leather over glove | protector | glove protector | protector glove | leather glove protector | leather outer
    | outer glove | leather protector glove | glove leather | leather gauntlet""",
)
