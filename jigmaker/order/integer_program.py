"""The integer program of `fewest`, for HiGHS: wanted pieces, boards and patterns in, how often each is used out."""

from collections.abc import Sequence
from typing import Any

from jigmaker.order.stretches import Stock

# Of a whole number that an earlier aim has reached; the solver's sums come with crumbs.
_SLACK = 0.25

# Branches that the solver may try: the number of patterns keeps most lists far below it, and unlike a clock it stops
# at the same plan on every machine.
_NODES = 2_000

# Patterns of a stretch that a linear program is given at a time; a cost below which none is cheaper.
_ADDED, _CRUMB = 20, 1e-7

Row = tuple[Sequence[int], int]
"""Weights of the boards, and what their sum may be at most."""


class Program:
    """One set of columns, solved for one aim after another. boards: how many of each stock; times: how often each
    pattern of each stretch of it; both as of the last aim that was solved.
    """

    def __init__(
        self, wanted: Sequence[int], stocks: Sequence[Stock], patterns: list[list[list[tuple[int, ...]]]]
    ) -> None:
        """Columns: boards of each stock, then every pattern of every stretch. Rows: stretches, then kinds of piece."""
        # Columns: b_i boards of stock i; x_isp times the pattern p in stretch s of stock i. Rows:
        #
        #     for each stretch    sum over p of x_isp  -  sticks_i b_i  <=  0    no more patterns than there are strips
        #     for each kind k     sum of pattern_isp[k] x_isp           >=  wanted_k
        self._patterns = patterns
        self._columns = [
            (i, s, p) for i, by in enumerate(patterns) for s, all_of in enumerate(by) for p in range(len(all_of))
        ]
        rows = {place: row for row, place in enumerate((i, s) for i, by in enumerate(patterns) for s in range(len(by)))}
        self._entries = [(row, i, -float(stocks[i].sticks)) for (i, _), row in rows.items()]
        for column, (i, s, p) in enumerate(self._columns, len(stocks)):
            self._entries.append((rows[i, s], column, 1.0))
            self._entries += [(len(rows) + kind, column, float(n)) for kind, n in enumerate(patterns[i][s][p]) if n]
        most = sum(wanted)
        self._upper = [float(min(stock.count, most)) for stock in stocks] + [float(most)] * len(self._columns)
        self._low = [float("-inf")] * len(rows) + [float(n) for n in wanted]
        self._high = [0.0] * len(rows) + [float("inf")] * len(wanted)
        self.boards: list[int] = [0] * len(stocks)
        self.times: list[list[list[int]]] = []

    def least(
        self, of_boards: Sequence[int], of_patterns: list[list[list[int]]] | None, rows: Sequence[Row]
    ) -> int | None:
        """The least sum of these weights while the rows hold; None when nothing holds them. Keeps the plan."""
        of = [of_patterns[i][s][p] if of_patterns else 0 for i, s, p in self._columns]
        weights = [*of_boards, *of]
        # The solver keeps whole numbers as floats, true to its own tolerance: they are rounded before they are counted.
        solver = _run(self._model(weights, rows))
        if solver is None:
            return None
        found: list[int] = [round(value) for value in solver.getSolution().col_value]
        self.boards = found[: len(self.boards)]
        self.times = [[[0] * len(all_of) for all_of in by] for by in self._patterns]
        for (i, s, p), n in zip(self._columns, found[len(self.boards) :], strict=True):
            self.times[i][s][p] = n
        return sum(weight * n for weight, n in zip(weights, found, strict=True))

    def relaxed(self, of_boards: Sequence[int]) -> tuple[float, list[float]] | None:
        """The least sum of these weights where nothing need be whole, and what one more of each row would cost."""
        model = self._model([*of_boards, *([0] * len(self._columns))], [])
        model.integrality_ = []
        solver = _run(model)
        return None if solver is None else (solver.getInfo().objective_function_value, solver.getSolution().row_dual)

    def _model(self, weights: Sequence[int], rows: Sequence[Row]) -> Any:
        """The program as HiGHS takes it whole, column by column."""
        import highspy
        import numpy as np

        entries, first = list(self._entries), len(self._low)
        for row, (of_boards, _) in enumerate(rows, first):
            entries += [(row, i, float(weight)) for i, weight in enumerate(of_boards)]
        # The matrix as the solver wants it: the entries column by column, and for each column where its entries start.
        entries.sort(key=lambda entry: (entry[1], entry[0]))
        model = highspy.HighsLp()
        model.num_col_, model.num_row_ = len(weights), first + len(rows)
        model.col_cost_ = np.array(weights, dtype=np.float64)
        model.col_lower_, model.col_upper_ = np.zeros(len(weights)), np.array(self._upper)
        model.row_lower_ = np.array(self._low + [float("-inf")] * len(rows))
        model.row_upper_ = np.array(self._high + [most + _SLACK for _, most in rows])
        model.integrality_ = [highspy.HighsVarType.kInteger] * len(weights)
        model.a_matrix_.format_ = highspy.MatrixFormat.kColwise
        starts = np.searchsorted([column for _, column, _ in entries], range(len(weights) + 1))
        model.a_matrix_.start_ = starts.astype(np.int32)
        model.a_matrix_.index_ = np.array([row for row, _, _ in entries], dtype=np.int32)
        model.a_matrix_.value_ = np.array([value for _, _, value in entries])
        return model


def reduced_costs(
    wanted: Sequence[int], stocks: Sequence[Stock], patterns: list[list[list[tuple[int, ...]]]]
) -> tuple[float, list[list[list[float]]]] | None:
    """The least cost where nothing need be whole, and by how much at least a plan costs more that uses each pattern.

    Of many patterns few are needed: begun with those that hold most of each kind, the linear program is given those
    that its prices of the rows make look cheapest, until none does. None where it has no solution.
    """
    import numpy as np

    places = [(i, s) for i, by in enumerate(patterns) for s in range(len(by))]
    tables = [np.array(patterns[i][s], dtype=np.int64).reshape(-1, len(wanted)) for i, s in places]
    active = [sorted({*table.argmax(axis=0).tolist()}) if len(table) else [] for table in tables]
    while True:
        chosen = [[list[tuple[int, ...]]() for _ in by] for by in patterns]
        for (i, s), own in zip(places, active, strict=True):
            chosen[i][s] = [patterns[i][s][p] for p in own]
        solved = Program(wanted, stocks, chosen).relaxed([stock.cost for stock in stocks])
        if solved is None:
            return None
        # Column generation. A row's price is what one more of it would cost; a pattern that gives pieces worth more
        # than its stretch costs at these prices (its reduced cost is below 0) would make the plan cheaper, and is let
        # in. When none would, the program over the few patterns has the optimum over all of them.
        prices = np.array(solved[1])
        more = [-prices[row] - table @ prices[len(places) :] for row, table in enumerate(tables)]
        new = [[p for p in each.argsort(kind="stable")[:_ADDED].tolist() if each[p] < -_CRUMB] for each in more]
        if not any(new):
            found: list[list[list[float]]] = [[[] for _ in by] for by in patterns]
            for (i, s), each in zip(places, more, strict=True):
                found[i][s] = each.tolist()
            return solved[0], found
        active = [sorted({*own, *added}) for own, added in zip(active, new, strict=True)]


def _run(model: Any) -> Any:
    """The solver when it has proved its optimum, else None."""
    import highspy

    solver: Any = highspy.Highs.__mro__[1]()  # the solver itself; its child in Python prints a greeting when it is made
    for option, value in (("output_flag", False), ("threads", 1), ("mip_rel_gap", 0.0), ("mip_max_nodes", _NODES)):
        solver.setOptionValue(option, value)
    solver.passModel(model)
    solver.run()
    if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    return solver
