"""Kernels every weld shares: enthalpy, conduction, time stepping."""
