"""The vehicle: what it is, and what is made safe on it before work begins."""
