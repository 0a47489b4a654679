"""A scale's board: the firmware that this program carries, how it gets there, whether the scale speaks well."""
