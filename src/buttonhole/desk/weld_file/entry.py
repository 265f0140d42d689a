"""What the tables of a weld file have in common: strict keys, and quantities with their unit."""

from functools import partial

from pydantic import BaseModel, BeforeValidator, ConfigDict

from buttonhole.desk.weld_file.values import quantity


class Entry(BaseModel):
    """One table of a weld file: no key more than it names, no text taken for a number."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


def si(kind: str, example: str, low: float, high: float, span: str) -> BeforeValidator:
    """Reader of one quantity.

    Parameters
    ----------
    kind : str
        Of quantity.
    example : str
        What somebody may write.
    low, high : float
        Range [unit of the kind].
    span : str
        The range in the unit people use.

    Returns
    -------
    BeforeValidator
        Gives the value in SI units, temperatures in degC, or refuses it in one line.
    """
    return BeforeValidator(
        partial(quantity, kind=kind, example=example, low=low, high=high, span=span)
    )
