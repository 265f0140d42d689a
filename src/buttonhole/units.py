"""Quantities: SI inside, units at the edge."""


class BadInput(ValueError):
    """A value somebody gave that can't be used; the message says what would be right."""

    def __init__(self, key: str, message: str) -> None:
        super().__init__(f"{key}: {message}" if key else message)
        self.key = key
        self.message = message
