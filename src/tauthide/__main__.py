"""Where the program starts and ends: whatever happens, a short message and the right exit code."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Sequence
from typing import NoReturn

DEBUG_VARIABLE = "TAUTHIDE_DEBUG"
"""Set, a fault of ours is shown with its traceback, for a report to the developers."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the program and return its exit code; see `tauthide.cli.exits`."""
    from tauthide.cli import exits

    try:
        return _run(arguments)
    except exits.UsageTrouble as trouble:
        return _say(f"tauthide: {trouble}", exits.TROUBLE)
    except KeyboardInterrupt:
        return _say("tauthide: interrupted", exits.INTERRUPTED)
    except BrokenPipeError:
        _silence(sys.stdout, sys.stderr)
        return exits.TROUBLE
    except OSError as error:
        return _say(f"tauthide: {error.strerror or error}", exits.TROUBLE)
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

    signal.signal(signal.SIGTERM, _end)
    try:
        parsed = make_parser().parse_args(arguments)
        from tauthide.cli.commands import run  # only now: help and version need none of it

        return run(parsed)
    finally:
        sys.stdout.flush()  # here, where a full disk or a broken pipe can still be told


def _end(_number: int, _frame: object) -> NoReturn:
    """End on being told to by unwinding, so that no half-written file stays behind."""
    from tauthide.cli.exits import TERMINATED

    raise SystemExit(TERMINATED)


def _say(message: str, code: int) -> int:
    from tauthide.text import plain

    try:
        sys.stderr.write("".join(f"{plain(line)}\n" for line in message.splitlines()))
        sys.stderr.flush()
    except OSError:
        _silence(sys.stderr)
    return code


def _silence(*streams: object) -> None:
    """Keep the interpreter from complaining of a broken pipe when it closes the streams."""
    hole = os.open(os.devnull, os.O_WRONLY)
    for stream in streams:
        try:
            os.dup2(hole, stream.fileno())  # type: ignore[attr-defined]
        except (OSError, ValueError):
            continue


if __name__ == "__main__":
    sys.exit(main())
