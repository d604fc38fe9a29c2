"""The 3-D view: what it shows as plain arrays, and the widget that draws them."""
