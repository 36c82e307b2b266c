"""Solid models as STEP (ISO 10303-21, AP214, mm). The kernel works in a process of its own.

That kernel, OpenCASCADE, comes with the extra jigmaker[step]. It prints to standard output and has crashed before; in a
process of its own it can do neither to us. All models go through one such process, because loading it takes seconds.
"""

import pickle
import subprocess
import sys
from collections.abc import Mapping
from importlib.util import find_spec
from pathlib import Path
from tempfile import TemporaryDirectory

from jigmaker.errors import StepError
from jigmaker.geometry.model import Model

TIME_LIMIT_S = 300.0
"""Thirty models take some five seconds; a kernel that is not done by now hangs."""

# -P: a file of the user's that is called as a module is, in the folder we were started in, is not loaded.
_CHILD = (sys.executable, "-P", "-m", "jigmaker.writers.step_child")
_SAID = 200  # characters of the kernel's last message that are passed on


def check_kernel() -> None:
    """Raises StepError, with the command that installs it, when the kernel is not there. Loads nothing."""
    if find_spec("OCP") is None:
        raise StepError(
            "STEP files need the OpenCASCADE kernel, which is not installed (about 400 MB): "
            'pip install "jigmaker[step]", or in a clone: .venv/bin/pip install -e ".[step]"'
        )


def write_step(models: Mapping[str, Model], time_limit_s: float = TIME_LIMIT_S) -> dict[str, bytes]:
    """Each model as a STEP file, by the names given. Same models and same kernel, same bytes.

    A model of one body is a part; of more, an assembly in which bodies of one kind share their shape. Raises StepError
    when the kernel is missing, refuses a shape, crashes or takes longer than `time_limit_s`, seconds.
    """
    check_kernel()
    with TemporaryDirectory(prefix="jigmaker-step-") as folder:
        said = pickle.dumps((tuple(models.values()), folder))
        try:
            run = subprocess.run(_CHILD, input=said, capture_output=True, timeout=time_limit_s, check=False)
        except subprocess.TimeoutExpired:
            raise StepError(
                f"no STEP files: the OpenCASCADE kernel was not done after {time_limit_s:.0f} s and was stopped"
            ) from None
        if run.returncode < 0:
            raise StepError(
                f"no STEP files: the OpenCASCADE kernel crashed (signal {-run.returncode}); please report it"
            )
        if run.returncode > 0:
            last = (run.stderr.decode("utf-8", "replace").strip().splitlines() or ["no word"])[-1]
            raise StepError(f"no STEP files: the OpenCASCADE kernel gave up: {last[:_SAID]}")
        return {name: Path(folder, f"{number}.step").read_bytes() for number, name in enumerate(models)}
