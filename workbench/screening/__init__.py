"""Screening of the frame and the panels against loads and limits. Never design."""
