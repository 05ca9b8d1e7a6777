"""The invented shop to look round in: its rows as tables, its pictures drawn by code, and one button that removes it."""
