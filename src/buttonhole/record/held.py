"""Names of people stand beside the events, under tokens that the events hold in their place.

A token is the hash of a salt and the name. So nobody can read or guess the name from the events, a
name that is shown can be checked against them, and a name that is withheld changes no hash: the
chain stays whole. One person has one token in a record; it is the person's number there.
"""

import hashlib
from collections.abc import Callable, Mapping
from typing import Any

PREFIX = "held:"
"""How a token begins; then 64 hexadecimal digits."""

WITHHELD = "name withheld"
"""What is shown where a name was taken out."""


def token_of(salt: str, value: str) -> str:
    """
    Make the token of a name.

    Parameters
    ----------
    salt : str
        32 hexadecimal digits of chance; without them names could be tried out.
    value : str
        The name.

    Returns
    -------
    str
        The token.

    Sources
    -------
    - fips-180-4: SHA-256.
    """
    return PREFIX + hashlib.sha256(bytes.fromhex(salt) + value.encode("utf-8")).hexdigest()


def is_token(value: object) -> bool:
    """Say whether a value stands for a name."""
    return isinstance(value, str) and value.startswith(PREFIX) and len(value) == len(PREFIX) + 64


def shown(value: Any, names: Mapping[str, str]) -> Any:
    """
    Put names in place of tokens.

    Parameters
    ----------
    value : object
        What an event holds.
    names : mapping of str to str
        The names still there, by token.

    Returns
    -------
    object
        The same with names, or with the beginning of the token where the name was withheld.
    """

    def open_up(text: str) -> str:
        if not is_token(text):
            return text
        return names.get(text) or f"{WITHHELD} ({text[len(PREFIX) : len(PREFIX) + 8]})"

    return _mapped(value, open_up)


def covered(value: Any, tokens: Mapping[str, str]) -> Any:
    """
    Put tokens in place of names; only a text that is a name from end to end is one.

    Parameters
    ----------
    value : object
        What an event is to hold.
    tokens : mapping of str to str
        Tokens by name.

    Returns
    -------
    object
        The same with tokens.
    """
    return _mapped(value, lambda text: tokens.get(text, text))


def tokens_in(value: Any) -> set[str]:
    """Collect the tokens in what an event holds."""
    found: set[str] = set()

    def note(text: str) -> str:
        if is_token(text):
            found.add(text)
        return text

    _mapped(value, note)
    return found


def _mapped(value: Any, change: Callable[[str], str]) -> Any:
    if isinstance(value, str):
        return change(value)
    if isinstance(value, Mapping):
        return {key: _mapped(one, change) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [_mapped(one, change) for one in value]
    return value
