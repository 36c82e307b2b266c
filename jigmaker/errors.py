"""Every error jigmaker raises on purpose, each with its exit code and the matching built-in as second parent.

JigmakerError                      exit code 1 unless said otherwise
├── JobError (ValueError)          the job or shop cannot be: one sentence a fault, all of them at once
│   ├── OutOfRange                 a record was given a value outside its rule
│   ├── DoesNotFit                 a part is larger than the bed, or a feature leaves too little wood
│   └── Contradiction              readings that cannot all be right; names them
├── LengthError (ValueError)       text that is not a length
├── OutlineError (ValueError)      a contour that is open, crosses itself or has a piece of no length
├── SheetError (ValueError)        a set-up sheet's text that cannot be read; names its file and line
├── TooNarrow (ValueError)         a feature the kerf or cutter cannot enter; names the feature
├── FrameError (ValueError)        axes that are not a right-handed orthonormal frame
├── StepError (RuntimeError)       STEP cannot be written: the extra is missing, or its kernel failed
├── UsageError                     exit code 2: a file that is not there, an option that makes no sense
│   └── FolderInUse (FileExistsError)   the output folder holds a file that is not ours
└── CannotWrite (OSError)          the disk said no; nothing was left half written
"""

from collections.abc import Sequence


class JigmakerError(Exception):
    """Root of all errors raised on purpose. The message is for the user; exit_code is what the shell gets.

    `faults` holds one full sentence for each fault, in file order: a name in one of them may hold a line end too, so
    that the message alone does not tell where a sentence ends.
    """

    exit_code = 1

    def __init__(self, faults: str | Sequence[str]) -> None:
        self.faults: tuple[str, ...] = (faults,) if isinstance(faults, str) else tuple(faults)
        super().__init__("\n".join(self.faults))


class JobError(JigmakerError, ValueError):
    """The job or the shop cannot be; see `faults`. `keys`: the dotted key that each is about, where the file tells."""

    def __init__(self, faults: str | Sequence[str], keys: Sequence[str] = ()) -> None:
        super().__init__(faults)
        self.keys: tuple[str, ...] = tuple(keys)


class OutOfRange(JobError):
    """A record was given a value outside its rule."""


class DoesNotFit(JobError):
    """A part is larger than the bed, or a feature leaves too little wood."""


class Contradiction(JobError):
    """Readings that cannot all be right; one sentence for each place to measure again."""


class LengthError(JigmakerError, ValueError):
    """Text that is not a length; the message gives the right spelling."""


class OutlineError(JigmakerError, ValueError):
    """A contour that is open, crosses itself or has a piece of no length."""


class SheetError(JigmakerError, ValueError):
    """A set-up sheet's text that cannot be read; the message gives file, line and what to write."""


class TooNarrow(JigmakerError, ValueError):
    """A feature narrower than the kerf or cutter; the message names the feature, its width and the tool."""


class FrameError(JigmakerError, ValueError):
    """Axes that are not a right-handed orthonormal frame."""


class StepError(JigmakerError, RuntimeError):
    """STEP cannot be written: the extra is missing, or its kernel failed; the message says what to do."""


class UsageError(JigmakerError):
    """A file that is not there, or an option that makes no sense here."""

    exit_code = 2


class FolderInUse(UsageError, FileExistsError):
    """The output folder holds a file that is not ours; the message names it."""


class CannotWrite(JigmakerError, OSError):
    """The disk said no; nothing was left half written."""
