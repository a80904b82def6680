"""Signals while a command of the launcher's runs: the command has work to keep, and is never killed for them."""

import collections.abc
import contextlib
import signal
import subprocess


@contextlib.contextmanager
def signals_to(process: "subprocess.Popen[bytes]") -> "collections.abc.Iterator[None]":
    """Meanwhile a signal that would end this program ends that one, which ends this one."""
    before = {}
    for name in ("SIGINT", "SIGTERM", "SIGHUP"):
        number = getattr(signal, name, None)
        if number is not None and signal.getsignal(number) is not signal.SIG_IGN:
            act = ignore if name == "SIGINT" else lambda number, _: process.send_signal(number)
            before[number] = signal.signal(number, act)
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def ignore(*_: object) -> None:
    """Unlike SIG_IGN, which the command would take over, it is this program's alone."""
