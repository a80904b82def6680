"""What to do where pip could not install the packages, by what its log says. An old Python 3 can read it too."""

from pathlib import Path

# (what pip's log says, what helps), looked for in this order
UNREACHABLE = (
    "Temporary failure in name resolution",
    "Name or service not known",
    "getaddrinfo failed",
    "nodename nor servname",
    "Network is unreachable",
    "No route to host",
    "NewConnectionError",
    "ConnectTimeoutError",
    "ReadTimeoutError",
)
HINTS = (
    (
        ("ProxyError", "Cannot connect to proxy", "407 Proxy Authentication", "Missing dependencies for SOCKS"),
        "The proxy did not let it through. Set HTTPS_PROXY to http://NAME:PORT as your network wants it (NAME may be\n"
        "USER:PASSWORD@HOST), or take it away where none is wanted.",
    ),
    (
        ("CERTIFICATE_VERIFY_FAILED", "SSLError"),
        "The registry's certificate was not believed, as where a company looks into the traffic. Set PIP_CERT to the\n"
        "file of your company's certificate; a wrong clock does it too.",
    ),
    (("No space left on device", "[Errno 28]"), "The disk is full: some 900 MB are needed."),
    (("Permission denied", "[Errno 13]"), "A folder may not be written; the lines above say which."),
    (("ResolutionImpossible", "conflicting dependencies"), "The tested releases contradict pyproject.toml."),
    (
        UNREACHABLE,
        "The package registry was not reached: it needs the network, once. Behind a proxy set HTTPS_PROXY; for a\n"
        "registry of your own set PIP_INDEX_URL.",
    ),
)
NO_PACKAGE = (
    "There is no package for this computer (%s, %s, Python %s): wanted is 64-bit Linux with glibc 2.34 or later,\n"
    "macOS 13 or later, or Windows 10 or later, and Python 3.11 to 3.14. A registry of your own may lack it too."
)
ARM = ("aarch64", "arm64", "armv7l", "armv8l")


def hint_for(log_file: Path, platform: str, processor: str, python: str) -> str:
    """Return what helps on this computer: the first of HINTS that fits what pip wrote."""
    log = log_file.read_text(encoding="utf-8", errors="replace") if log_file.is_file() else ""
    missing = "No matching distribution found" in log or "Could not find a version that satisfies" in log
    for signs, hint in HINTS:  # first: a pip that saw no list of releases at all says that none fits
        if any(sign in log for sign in signs):
            return hint
    if missing and platform == "linux" and processor in ARM:
        return "On Linux for ARM the window library needs 64 bits and glibc 2.39 or later (Debian 13, Ubuntu 24.04)."
    if missing:
        return NO_PACKAGE % (platform, processor, python)
    return "The lines above say why."
