"""Numbers drawn the same on every machine: seed and chunk in, even and normal numbers as arrays out; without a unit.

Only the raw words of a bit generator are promised to stay the same from one numpy to the next (NEP 19), and logarithm
and cosine differ in their last bit between machines. So words are split into numbers of 16 bits, and a table says what
each of them stands for.
"""

from functools import lru_cache
from math import fsum, sqrt
from statistics import NormalDist
from typing import TYPE_CHECKING

from jigmaker.record import dataclass

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Float32s = NDArray[np.float32]

_SIZE = 1 << 16


@lru_cache(maxsize=1)
def even_table() -> "Float32s":
    """65,536 numbers evenly from -1 to 1."""
    import numpy as np

    # The middles of equal parts: neither end is drawn, and the mean is 0 to the last digit.
    table: Float32s = ((np.arange(_SIZE) + 0.5) * (2 / _SIZE) - 1).astype(np.float32)
    return table


@lru_cache(maxsize=1)
def normal_table() -> "Float32s":
    """65,536 quantiles of the normal distribution, least first, scaled to a standard deviation of 1; 4.3 at most."""
    import numpy as np

    # One half is worked out and mirrored, so that the table is even to the last bit. fsum: the same on every machine,
    # in whatever order numpy would have added.
    normal = NormalDist()
    low = np.array([normal.inv_cdf((i + 0.5) / _SIZE) for i in range(_SIZE // 2)])
    both = np.concatenate([low, -low[::-1]])
    table: Float32s = (both / sqrt(fsum(both**2) / _SIZE)).astype(np.float32)
    return table


@dataclass
class Draws:
    """One chunk's numbers: each array takes the next words of the chunk's own stream."""

    seed: int
    chunk: int

    def __post_init__(self) -> None:
        """PCG64 by its published definition, seeded by numpy's SeedSequence, both kept as they are for ever."""
        import numpy as np

        self._words = np.random.PCG64(np.random.SeedSequence([self.seed, self.chunk]))

    def _numbers(self, table: "Float32s", shape: tuple[int, ...]) -> "Float32s":
        import numpy as np

        count = int(np.prod(shape))
        # Little end first on every machine, so that a word gives its four numbers in one order.
        words = self._words.random_raw(-(-count // 4)).astype("<u8", copy=False)
        numbers: Float32s = table[words.view("<u2")[:count]].reshape(shape)
        return numbers

    def even(self, *shape: int) -> "Float32s":
        """Numbers spread evenly from -1 to 1."""
        return self._numbers(even_table(), shape)

    def normal(self, *shape: int) -> "Float32s":
        """Numbers about 0 with standard deviation 1."""
        return self._numbers(normal_table(), shape)
