"""One calculation per file, each module declares CALCULATION. Figures for people and for worked cases; no decisions."""
