"""Looking back at a saved session without a screen: what was kept, thinned for a picture, and what is selected."""
