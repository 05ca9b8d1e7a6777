"""Room: the invented shop to look round in, its rows as tables, its pictures drawn by code. One button removes it."""
