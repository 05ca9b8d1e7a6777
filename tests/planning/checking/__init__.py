"""The rules of the shop document a second time, for plans as they are printed: a file for each group of rules.

Written from the document alone. Nothing in here knows the planner or what the planner is made of.
"""
