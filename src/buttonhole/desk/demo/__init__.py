"""Demonstration jobs: invented people and vehicle, welds from the model, everything marked demo."""
