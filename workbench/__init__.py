"""Roof Workbench: roof framing and sheathing, from the plans to dried in."""
