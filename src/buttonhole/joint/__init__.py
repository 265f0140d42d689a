"""What meets where: sheet, steel, coating, stack-up, faying interface."""
