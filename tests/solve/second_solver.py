"""A CP-SAT model as a mixed integer program for HiGHS: constraint by constraint, straight from the proto."""

from __future__ import annotations

from collections.abc import Iterable

import highspy
import numpy as np
from ortools.sat.python import cp_model

Row = dict[int, int]


class Translation:
    """Rows and columns for HiGHS, from what a model's proto says.

    A literal that is a negative reference stands for one minus its variable. A linear constraint that only
    holds where literals do is loosened by the most that its row could be off, by its variables' bounds.
    """

    def __init__(self, model: cp_model.CpModel, objective: object) -> None:
        model.minimize(objective)
        self.proto = model.proto
        self.bounds = [self._interval(v.domain) for v in self.proto.variables]
        self.rows: list[tuple[float, float, Row]] = []
        for c in self.proto.constraints:
            self._constraint(c)

    @staticmethod
    def _interval(domain: Iterable[int]) -> tuple[int, int]:
        numbers = list(domain)
        assert len(numbers) == 2, "a domain with a hole has no translation here"
        return numbers[0], numbers[1]

    def _constraint(self, c) -> None:
        kind = c.WhichOneof("constraint") if hasattr(c, "WhichOneof") else self._kind(c)
        enforced = list(c.enforcement_literal)
        if kind == "linear":
            self._linear(c.linear, enforced)
        elif kind == "bool_or":
            self._at_least_one([*c.bool_or.literals, *(~x for x in enforced)])
        elif kind == "bool_and":
            for literal in c.bool_and.literals:
                self._at_least_one([literal, *(~x for x in enforced)])
        elif kind in ("exactly_one", "at_most_one"):
            assert not enforced
            row, constant = self._sum(getattr(c, kind).literals)
            self.rows.append((1 - constant if kind == "exactly_one" else -np.inf, 1 - constant, row))
        else:
            raise NotImplementedError(f"{kind} is not translated: {c}")

    @staticmethod
    def _kind(c) -> str:
        names = ("linear", "bool_or", "bool_and", "exactly_one", "at_most_one")
        return next((n for n in names if getattr(c, f"has_{n}")()), "unknown")

    @staticmethod
    def _sum(literals: Iterable[int]) -> tuple[Row, int]:
        row: Row = {}
        constant = 0
        for x in literals:
            if x >= 0:
                row[x] = row.get(x, 0) + 1
            else:
                row[~x] = row.get(~x, 0) - 1
                constant += 1
        return row, constant

    def _at_least_one(self, literals: list[int]) -> None:
        row, constant = self._sum(literals)
        self.rows.append((1 - constant, np.inf, row))

    def _linear(self, linear, enforced: list[int]) -> None:
        row: Row = {}
        for index, coefficient in zip(linear.vars, linear.coeffs, strict=True):
            assert index >= 0
            row[index] = row.get(index, 0) + coefficient
        low, high = self._interval(linear.domain)
        least = sum(min(c * b for b in self.bounds[i]) for i, c in row.items())
        most = sum(max(c * b for b in self.bounds[i]) for i, c in row.items())
        if not enforced:
            self.rows.append((low if low > least else -np.inf, high if high < most else np.inf, row))
            return
        off, constant = self._sum(~x for x in enforced)
        if high < most:
            slack = most - high
            self.rows.append((-np.inf, high + slack * constant, self._plus(row, off, -slack)))
        if low > least:
            slack = low - least
            self.rows.append((low - slack * constant, np.inf, self._plus(row, off, slack)))

    @staticmethod
    def _plus(row: Row, other: Row, times: int) -> Row:
        out = dict(row)
        for i, c in other.items():
            out[i] = out.get(i, 0) + times * c
        return out

    def solve(self, seconds: float) -> tuple[str, int, list[int]]:
        """Status, objective and the value of every variable."""
        highs = highspy.Highs()
        highs.silent()
        highs.setOptionValue("threads", 1)
        highs.setOptionValue("time_limit", seconds)
        highs.setOptionValue("mip_rel_gap", 0.0)
        highs.setOptionValue("mip_abs_gap", 0.5)  # all objectives are whole
        costs = np.zeros(len(self.bounds))
        objective = self.proto.objective
        for index, coefficient in zip(objective.vars, objective.coeffs, strict=True):
            costs[index if index >= 0 else ~index] += coefficient if index >= 0 else -coefficient
        n = len(self.bounds)
        lower, upper = (np.array([b[k] for b in self.bounds], dtype=float) for k in (0, 1))
        highs.addCols(n, costs, lower, upper, 0, np.array([], np.int32), np.array([], np.int32), np.array([]))
        highs.changeColsIntegrality(
            n, np.arange(n, dtype=np.int32), np.array([highspy.HighsVarType.kInteger] * n)
        )
        starts, indices, values = [], [], []
        for _, _, row in self.rows:
            starts.append(len(indices))
            indices += list(row)
            values += list(row.values())
        highs.addRows(
            len(self.rows),
            np.array([r[0] for r in self.rows], dtype=float),
            np.array([r[1] for r in self.rows], dtype=float),
            len(indices),
            np.array(starts, np.int32),
            np.array(indices, np.int32),
            np.array(values, dtype=float),
        )
        highs.run()
        status = highs.modelStatusToString(highs.getModelStatus())
        solution = [round(x) for x in highs.getSolution().col_value]
        return status, round(highs.getObjectiveValue() + objective.offset), solution
