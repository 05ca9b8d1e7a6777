"""The sizes of a piece: what they should be, what they measure, and how what goes into what fits."""
