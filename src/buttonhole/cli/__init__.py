"""The command line: one verb for each step of the job.

Exit status: 0 done, 2 bad input (one line on standard error says what would be right), 1 our fault
(one line as well; with ``BUTTONHOLE_TRACE=1`` in the environment the whole trace).
"""

import errno
import os
import sys
from collections.abc import Sequence

from buttonhole.cli.words import _

DONE, OUR_FAULT, BAD_INPUT, STOPPED = 0, 1, 2, 130


def main(arguments: Sequence[str] | None = None) -> None:
    """Run one verb and leave with its exit status."""
    sys.exit(run(list(sys.argv[1:] if arguments is None else arguments)))


def run(arguments: list[str]) -> int:
    """Run one verb.

    Parameters
    ----------
    arguments : list of str
        What stands behind the program's name.

    Returns
    -------
    int
        Exit status.
    """
    from buttonhole.units import BadInput

    if sys.stdout is None:  # the shell closed it before we began
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115 - open to the end
        return _refuse(_("standard output is closed; give the answer somewhere to go"), BAD_INPUT)
    try:
        from buttonhole.cli.verbs import app

        status = app(arguments, standalone_mode=False, prog_name="buttonhole")
        sys.stdout.flush()
    except BadInput as bad:
        return _refuse(str(bad), BAD_INPUT)
    except KeyboardInterrupt:
        return _refuse(_("stopped"), STOPPED)
    except BrokenPipeError:
        return _let_go(DONE)
    except SystemExit as left:
        # the parser of the command line leaves so when the reader of our output has seen enough
        if isinstance(left.__context__, BrokenPipeError):
            return _let_go(DONE)
        return left.code if isinstance(left.code, int) else OUR_FAULT
    except Exception as error:
        return _other(error)
    return status if isinstance(status, int) else DONE


def _let_go(status: int) -> int:
    """Drop what is still on its way out, so that nothing complains about it at the end."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return status


def _other(error: Exception) -> int:
    if type(error).__name__ == "NoArgsIsHelpError":  # a bare name of a group of verbs
        print(str(error))  # noqa: T201 - the help text is the output
        return DONE
    if type(error).__name__ == "Abort":
        return _refuse(_("stopped"), STOPPED)
    told = getattr(error, "format_message", None)
    if told is not None:  # the parser of the command line says what it could not read
        return _refuse(_("command line: {}").format(told()), BAD_INPUT)
    if isinstance(error, OSError) and error.filename is not None:
        reason = (error.strerror or str(error)).lower()
        return _refuse(f"{error.filename}: {reason}", BAD_INPUT)
    if isinstance(error, OSError) and error.errno in (errno.ENOSPC, errno.EDQUOT, errno.EIO):
        reason = (error.strerror or str(error)).lower()
        return _let_go(_refuse(_("output: {}; make room for it").format(reason), BAD_INPUT))
    if os.environ.get("BUTTONHOLE_TRACE"):
        raise error
    return _refuse(
        _("our fault: {} ({}); set BUTTONHOLE_TRACE=1 and run it again to see where").format(
            error, type(error).__name__
        ),
        OUR_FAULT,
    )


def _refuse(text: str, status: int) -> int:
    line = "".join(letter if letter.isprintable() else " " for letter in text)
    if sys.stderr is not None:
        print(" ".join(line.split()), file=sys.stderr)  # noqa: T201 - this is what a refusal is
    return status
