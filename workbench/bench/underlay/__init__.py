"""The plan page under the drawing: read, shown, placed."""
