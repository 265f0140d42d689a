"""What a weld does, from physics."""
