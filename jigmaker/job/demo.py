"""The built-in demo: out come the bytes of its job file and its shop file, as they lie in the package."""

from pathlib import Path


def demo_job_text() -> bytes:
    """The demo's job.toml: potting bench trestles for an allotment society; UTF-8."""
    return Path(__file__).with_name("demo_job.toml").read_bytes()


def demo_shop_text() -> bytes:
    """The demo's shop.toml: a small laser, 9 mm birch plywood, a hand router with a guide bush; UTF-8."""
    return Path(__file__).with_name("demo_shop.toml").read_bytes()


def demo_boards_text() -> bytes:
    """The demo's boards.toml: what the timber merchant round the corner has; UTF-8."""
    return Path(__file__).with_name("demo_boards.toml").read_bytes()
