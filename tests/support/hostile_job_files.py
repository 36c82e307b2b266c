"""Read job files built to keep a reader busy, in a process with limits on memory and time; a JSON line for each.

Each is under a megabyte, as large as a job may be, and what a reader does for it must not grow with its square.
"""

import json
import resource

from jigmaker.errors import JobError
from jigmaker.job.demo import demo_job_text
from jigmaker.job.read import read_job

MEMORY = 400_000_000
SECONDS = 20
"""Of the processor's time, for all of them: the largest of these took a minute each before they had bounds."""

JOB = demo_job_text().decode()
N = 400_000
KEYS = "".join(f"k{n} = 1\n" for n in range(9_000))

CASES = {
    "dotted key": JOB + "a." * N + "a = 1\n",
    "dotted header": JOB + "[" + "a." * N + "a]\n",
    "blanks behind a value": "a = 1" + " " * N + "x",
    "open text": f'{KEYS}x = """\n' + "line\n" * 100_000,
    "open list": f"{KEYS}x = [\n" + "1,\n" * 100_000,
    "text of escapes": JOB + 'x = """' + "\\n" * N + '"""\n',
    "text of quotes": JOB + 'x = """' + '\\"""' * (N // 2),
    "many keys": JOB + "k = 1\n" * 100_000,
    "many headers": JOB + "[[k]]\n" * 100_000,
    "keys below a long header": f'{JOB}["{"a" * N}"]\n{KEYS}',
    "many unknown keys": JOB + KEYS,
    "deep list": JOB + "x = " + "[" * N,
    "long number": JOB + "x = " + "9" * N,
    "long hexadecimal number": JOB + "x = 0x" + "f" * N,
}


def main() -> None:
    """Tell of each how many faults it has, and the first."""
    for name, text in CASES.items():
        try:
            read_job(text.encode())
            faults: tuple[str, ...] = ()
        except JobError as error:
            faults = error.faults
        print(json.dumps({"name": name, "count": len(faults), "first": faults[0][:200] if faults else ""}), flush=True)


if __name__ == "__main__":
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))
    main()
