"""Documents and pictures made from records."""
