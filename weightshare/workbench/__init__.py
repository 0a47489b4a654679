"""The guided calibration with known masses, without a screen."""
