"""How hard and how soft the heat of a weld leaves its steel."""
