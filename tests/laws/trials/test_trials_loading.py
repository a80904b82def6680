"""Opening the program does not wait for scipy: the rooms of a trial load it when they are asked."""

import subprocess
import sys


def test_loading_the_room_does_not_load_scipy() -> None:
    used = ("trial.account", "sampling.budget", "balances.sizes", "trial.planner")
    code = "import sys; " + "".join(f"import profiler.statistics.{name}; " for name in used)
    code += "sys.exit('scipy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
