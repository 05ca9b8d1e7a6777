"""Boards and sheets: how much to buy, what it yields, what it weighs."""
