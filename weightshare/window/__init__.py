"""The window: the only package that touches Qt."""
