"""The firmware of a scale: converters are read on a timer, and what they say goes out as frames."""

VERSION = (1, 0, 0)
"""What IDENTITY tells; `weightshare flash` compares it with what it carries."""
