"""Drying in: what keeps the water out under the covering, in the order it is laid."""
