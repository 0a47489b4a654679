"""What a number is worth: calibration, uncertainty, decisions under uncertainty. Numbers only: no files, no clock."""
