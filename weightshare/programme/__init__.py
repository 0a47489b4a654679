"""Stages of a programme: what is prescribed, read from a file that a clinician can read, and when the next may come."""
