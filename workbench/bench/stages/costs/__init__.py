"""Parts of the Quantities page: prices, what is left over, hours, alternatives."""
