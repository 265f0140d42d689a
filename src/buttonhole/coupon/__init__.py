"""Coupons: tests, readings, criteria with their sources, verdict, what counting shows."""
