"""From what a trestle is for and the boards at hand to a job that can be made: Wish and Shop in, Suggestion out.

Every choice carries its reason. Timber frame; mm, degrees off the level. What the user gave stays as given; inset,
length and splay are moved until both the trestle's and the jig's checks pass.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from math import ceil

from jigmaker.errors import DoesNotFit, OutOfRange, UsageError
from jigmaker.findings import Finding, errors_in
from jigmaker.job.job import BraceSection, HousingFit, Job, LegSection, TopBoard, angle_for_height
from jigmaker.job.shop import Shop
from jigmaker.parts.check import check_kit
from jigmaker.standing.backwards import Lean, height_from_piece, rake_from_spread, splay_from_spread
from jigmaker.standing.boards import Board
from jigmaker.standing.height import (
    DOOR_MM,
    HeightWish,
    choose_height,
    door_finding,
    height_findings,
    round_down,
    round_up,
    saw_finding,
    trip_findings,
)
from jigmaker.standing.sections import Sections, choices
from jigmaker.trestle.check import WANTED_END_WOOD_MM, check_trestle
from jigmaker.trestle.solve import solve
from jigmaker.units import Unit
