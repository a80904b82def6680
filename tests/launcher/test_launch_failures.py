"""The launcher where something fails or is stopped: the hint fits the failure, and what runs ends by itself."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.launcher.test_launch import ROOT, Fake, launch, project
from tests.tiers import kept

hint_for = launch.hint_for
__all__ = ["project"]  # the fixture

# what pip says, as its own logs have it (pip 23 to 26), and what of the hint tells that it fits
NONE_FITS = "ERROR: No matching distribution found for PySide6-Essentials==6.11.3"
FAILURES = {
    "no network": (
        "NewConnectionError('<HTTPSConnection>: Failed to establish a new connection: [Errno -3] Temporary failure in "
        f"name resolution')': /simple/pyside6-essentials/\n{NONE_FITS}",
        "not reached: it needs the network",
    ),
    "no route": (f"[Errno 101] Network is unreachable\n{NONE_FITS}", "not reached: it needs the network"),
    "too slow": ("ReadTimeoutError(\"HTTPSConnectionPool(host='registry', port=443): Read timed out.", "not reached"),
    "a proxy that is not there": (
        "ProxyError('Cannot connect to proxy.', NewConnectionError('... [Errno 111] Connection refused'))",
        "Set HTTPS_PROXY",
    ),
    "a proxy that wants a name": ("Tunnel connection failed: 407 Proxy Authentication Required", "USER:PASSWORD"),
    "a certificate of one's own": ("[SSL: CERTIFICATE_VERIFY_FAILED] certificate verify failed", "Set PIP_CERT"),
    "a full disk": ("ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device", "full"),
    "a locked folder": ("OSError: [Errno 13] Permission denied: '/usr/lib'", "may not be written"),
    "no such computer": (NONE_FITS, "no package for this computer (linux, x86_64, Python 3.11.7)"),
    "anything else": ("something new", "The lines above say why."),
}


@pytest.mark.parametrize("failure", FAILURES)
def test_the_hint_fits_the_failure(project, failure):
    log, words = FAILURES[failure]

    class Failing(Fake):
        def run(self, command, folder=None, **extra):
            if "--log" in command:
                Path(command[command.index("--log") + 1]).write_text(log)
                return 1
            return super().run(command, folder, **extra)

    machine = Failing()
    assert launch.main([], machine) == 2
    assert words in machine.said and "begins afresh" in machine.said
    others = {other for name, (_, other) in FAILURES.items() if other not in words and words not in other}
    assert not [
        other
        for other in others
        if other in machine.said and other not in ("USER:PASSWORD", "Set HTTPS_PROXY", "not reached", "full")
    ]


def test_on_arm_it_is_the_system_that_is_too_old(tmp_path):
    log = tmp_path / "pip.log"
    log.write_text(NONE_FITS)
    for processor in ("aarch64", "armv7l"):
        assert "glibc 2.39" in hint_for(log, "linux", processor, "3.12.1")
    assert "no package for this computer" in hint_for(log, "darwin", "arm64", "3.12.1")
    log.write_text(FAILURES["no network"][0])
    assert "network" in hint_for(log, "linux", "aarch64", "3.12.1")  # even there


SLOW_TO_END = """
import signal, sys, time
def end(number, _):
    time.sleep(1.0)  # keeps its work
    print("kept", flush=True)
    sys.exit(7)
signal.signal(int(sys.argv[1]), end)
print("ready", flush=True)
time.sleep(60)
"""
STARTER = """
import sys
sys.path.insert(0, sys.argv[1])
import launch
sys.exit(launch.Machine().run([sys.executable, "-c", sys.argv[2], sys.argv[3]]))
"""


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no signals of this kind")
@pytest.mark.parametrize("name", kept(["SIGINT", "SIGTERM", "SIGHUP"], ["SIGINT"]))
def test_a_signal_to_the_launcher_lets_the_program_end_by_itself(name):
    number = int(getattr(signal, name))
    words = [sys.executable, "-c", STARTER, str(ROOT / "packaging"), SLOW_TO_END, str(number)]
    with subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, process_group=0) as starter:
        assert starter.stdout.readline() == "ready\n"
        if name == "SIGINT":
            os.killpg(starter.pid, number)  # Ctrl+C reaches all of a terminal's group
        else:
            starter.send_signal(number)  # others only whom they were sent to
        out, err = starter.communicate(timeout=30)
    assert (starter.returncode, out, err) == (7, "kept\n", "")


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no pipes of this kind")
def test_a_reader_that_leaves_early_hears_no_complaint():
    words = [sys.executable, str(ROOT / "packaging" / "launch.py"), "--help"]
    with subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        process.stdout.close()
        assert process.stderr.read() == b"" and process.wait() == 0


def test_the_readme_says_where_the_command_is_and_how_long_the_first_start_takes():
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    for words in (".venv/bin/bowl-profiler", "Scripts\\bowl-profiler.exe", "launch.py check", "a minute or two"):
        assert words in readme and words in launch.__doc__
