"""A practice session without a screen: engine, flow, and what a screen may show."""
