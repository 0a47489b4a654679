"""Scales that are reached by Bluetooth Low Energy."""
