"""Builds laid backwards from their dates: how late each operation could lie, did all of it wait as long as it may."""
