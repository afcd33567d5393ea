"""Where the program starts and ends: whatever happens, a short message and the right exit code."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress

TYPE_CHECKING = False  # type checkers take it for true; `typing` takes longer to import than all this
if TYPE_CHECKING:
    from types import FrameType
    from typing import TextIO

DEBUG_VARIABLE = "TAUTHIDE_DEBUG"
"""Set, a fault of ours is shown with its traceback, for a report to the developers."""


LAST_STANDARD_STREAM = 2
"""Number of standard error; 0 and 1 are standard input and output."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the program and return its exit code; see `tauthide.cli.exits`."""
    from tauthide.cli import exits

    _open_streams()
    try:
        with _told_to_end():
            return _run(arguments)
    except exits.UsageTrouble as trouble:
        return _say(f"tauthide: {trouble}", exits.TROUBLE)
    except exits.LostError as lost:
        return _say(f"tauthide: {lost}", exits.FAULT)
    except SystemExit as ended:  # after help or version, or told to end
        return ended.code if isinstance(ended.code, int) else exits.FINE
    except KeyboardInterrupt:
        return _say("tauthide: interrupted", exits.INTERRUPTED)
    except BrokenPipeError:
        _silence()
        return exits.TROUBLE
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        return _say(f"tauthide: {where}{error.strerror or error}", exits.TROUBLE)
    except Exception as fault:  # a fault of ours: the maker gets no traceback
        if os.environ.get(DEBUG_VARIABLE):
            raise
        kind = type(fault).__name__
        return _say(
            f"tauthide: this is a fault of the program, not of your spec: {kind}: {fault}\n"
            f"Please report it with the spec; with {DEBUG_VARIABLE}=1 set it says where it happened.",
            exits.FAULT,
        )


def _run(arguments: Sequence[str] | None) -> int:
    from tauthide.cli.arguments import make_parser

    try:
        parsed = make_parser().parse_args(arguments)
        from tauthide.cli.commands import run  # only now: help and version need none of it

        return run(parsed)
    finally:
        sys.stdout.flush()  # here, where a full disk or a broken pipe can still be told


@contextmanager
def _told_to_end() -> Iterator[None]:
    """End on being told to by the system by unwinding, so that no half-written file stays behind."""
    from tauthide.cli.exits import TERMINATED

    def end(_number: int, _frame: FrameType | None) -> None:
        raise SystemExit(TERMINATED)

    # A signal that is ignored, as under nohup, stays so.
    names = [name for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name)]
    before = {name: signal.getsignal(getattr(signal, name)) for name in names}
    ours = [name for name in names if before[name] is signal.SIG_DFL]
    for name in ours:
        signal.signal(getattr(signal, name), end)
    try:
        yield
    finally:
        for name in ours:
            signal.signal(getattr(signal, name), before[name])


def _open_streams() -> None:
    """Put something harmless in the place of a standard stream that was closed before we started.

    Otherwise a file of ours might be opened under its number, and what is said would land there.
    """
    if None not in (sys.stdin, sys.stdout, sys.stderr):
        return
    while (handle := os.open(os.devnull, os.O_RDWR)) <= LAST_STANDARD_STREAM:
        continue
    os.close(handle)
    sys.stdin = sys.stdin or open(os.devnull, encoding="utf-8")  # noqa: SIM115, PTH123 - open to the end
    sys.stdout = sys.stdout or open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115, PTH123 - as above
    sys.stderr = sys.stderr or open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115, PTH123 - as above


def _say(message: str, code: int) -> int:
    from tauthide.text import plain

    with suppress(OSError):  # if nobody listens
        sys.stderr.write("".join(f"{plain(line)}\n" for line in message.splitlines()))
    _silence()
    return code


def _silence() -> None:
    """Keep the interpreter from complaining, on closing streams, of what can't be written to them."""
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except (OSError, ValueError):
            _lead_nowhere(stream)


def _lead_nowhere(stream: TextIO) -> None:
    hole = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(hole, stream.fileno())
    except (OSError, ValueError):
        pass  # no file of the system's, so there is nothing to complain of
    finally:
        os.close(hole)


if __name__ == "__main__":
    sys.exit(main())
