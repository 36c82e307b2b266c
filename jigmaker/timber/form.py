"""The form for the timber's readings, as a TOML file to fill in: Job in, its text out."""

from jigmaker.job.job import Job
from jigmaker.timber.readings import BOARD_FIGURES, FORM, LEG_FIGURES

HOW_TO_READ = (
    "Number the leg blanks, and pencil A on one end of each and B on the other. Saw every leg with end A where the "
    "set-up sheet of the saw shows the head: then it stands end A up in an R housing and end B up in an L housing.",
    "Read the width with a caliper across the wide face, where the leg will lie in its housing: within a hand's width "
    "of each end. Read the thickness in the middle.",
    "Number the boards, and mark one edge of each. Out of square: a square with its stock on the top face, the gap at "
    "the arris over the board's thickness; plus where the edge stands out at the bottom face, minus where it falls "
    "back.",
    "Winding: two winding sticks across the ends; one corner out of the plane of the other three. 0 where none shows.",
)
"""For the form and for the page to print."""

_COLUMN = 24
_IN_INCHES = {"units": "in", "caliper": "0.001", "tape": "0.005", "stroke": "0.004"}


def timber_form_text(job: Job) -> str:
    """A blank form for the job's batch: every leg and every board has its line."""
    from textwrap import wrap

    # Each leg and each board that the job will have has its line, its list still empty: where all of a section are left
    # so it was not measured, and some without figures among others are a fault.
    lines = [
        *(
            line
            for each in HOW_TO_READ
            for line in wrap(f"# {each}", 116, subsequent_indent="# ", break_on_hyphens=False)
        ),
        "# A section without figures is not measured. Kept as timber.toml beside the job, make reads it too.",
        "",
        "[timber]",
    ]
    for rule in FORM.rules:
        value = _IN_INCHES.get(rule.key, rule.sample) if job.unit == "in" else rule.sample
        value = f'"{value}"' if rule.kind == "choice" else value
        lines.append(f"{f'{rule.key} = {value}':<{_COLUMN}}# {rule.meaning}")
    for name, figures, count in (("legs", LEG_FIGURES, 4 * job.trestles), ("boards", BOARD_FIGURES, job.trestles)):
        lines += ["", f"[{name}]", f"# [{', '.join(figures)}]", *(f"{number} = []" for number in range(1, count + 1))]
    return "\n".join(lines) + "\n"
