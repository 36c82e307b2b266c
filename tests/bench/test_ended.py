"""jigmaker open ends at a signal like every command: its exit code says which, and nothing of it stays behind."""

import signal
import subprocess
import sys

import pytest


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such signals")
@pytest.mark.parametrize(("sent", "code"), [(signal.SIGINT, 130), (signal.SIGTERM, 143)])
def test_a_signal_ends_the_server_with_its_exit_code(sent, code, tmp_path):
    """128 and the signal's number, as shells tell it; no word on stderr, no file left in the folder."""
    command = [sys.executable, "-m", "jigmaker", "open", str(tmp_path), "--no-browser"]
    # A test run in the background is deaf to Ctrl-C, and so would be what it starts.
    heard = {"preexec_fn": lambda: signal.signal(signal.SIGINT, signal.SIG_DFL)}
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, **heard) as server:
        try:
            assert server.stdout is not None and server.stdout.readline().startswith("http://127.0.0.1:")
            server.send_signal(sent)
            _, said = server.communicate(timeout=60)
        finally:
            server.kill()
    assert (server.returncode, said) == (code, "")
    assert list(tmp_path.iterdir()) == []
