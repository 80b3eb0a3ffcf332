"""Proof: sweeps of what was built, read strictly, fitted honestly, set against the prediction."""
