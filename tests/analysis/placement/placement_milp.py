"""Solves random problems of places as mixed-integer programs with SciPy and compares the least chance and the sum.
Argument: the program placement_lines, which prints each problem and what the library found."""
import json
import subprocess
import sys

import numpy
from scipy import optimize, sparse

TOLERANCE = 1e-5


class Model:
    """Maximises, over binary choices: y[part, place], and x[item, route], a route being a hub place, with or without a
    repeater place before it."""

    def __init__(self, problem):
        self.problem = problem
        self.hubs = [g for g, group in enumerate(problem["groups"]) if not group["repeater"]]
        self.repeaters = [g for g, group in enumerate(problem["groups"]) if group["repeater"]]
        self.columns = {}
        # Each hub and repeater is one of its own: slots are each hub's.
        self.parts = [(g, k) for g, group in enumerate(problem["groups"]) for k in range(group["count"])]
        for part in self.parts:
            for place in range(problem["groups"][part[0]]["places"]):
                self.column(("y", part, place))
        for repeater in self.parts:
            if repeater[0] not in self.repeaters:
                continue
            for hub in self.parts:  # the hub that it is with: one slot there
                if hub[0] in self.hubs:
                    self.column(("z", repeater, hub))
        for item in range(len(problem["items"])):
            for route in self.routes(item):
                self.column(("x", item, route))

    def column(self, key):
        return self.columns.setdefault(key, len(self.columns))

    def routes(self, item):
        """(chance, hub part, hub place, repeater part or None, repeater place) of one hop more at most."""
        problem = self.problem
        wanted = problem["items"][item]["hub"]
        for hub in self.parts:
            if hub[0] not in self.hubs or wanted not in (None, hub[0]):
                continue
            for place in range(problem["groups"][hub[0]]["places"]):
                yield (problem["groups"][hub[0]]["chances"][item][place], hub, place, None, 0)
                for repeater in self.parts:
                    if repeater[0] not in self.repeaters:
                        continue
                    for at in range(problem["groups"][repeater[0]]["places"]):
                        chance = min(problem["groups"][repeater[0]]["chances"][item][at],
                                     problem["hops"][at][place])
                        yield (chance, hub, place, repeater, at)

    def pools(self, group, device_class):
        """The pools of a hub that a class takes from, with their sizes."""
        slots = group["slots"]
        if slots is None:
            return []
        classes = slots.get("by_class") or {}
        if not classes:
            return [("all", slots["total"])]
        name = device_class if device_class in classes else "others"
        found = [(name, classes[name])] if name in classes else []
        return found if "others" in classes else found + [("all", sum(classes.values()))]

    def solve(self, least, want_sum):
        rows, low, high = [], [], []

        def constrain(terms, lower, upper):
            rows.append(terms)
            low.append(lower)
            high.append(upper)

        problem = self.problem
        for part in self.parts:
            group = problem["groups"][part[0]]
            ones = {self.columns["y", part, place]: 1 for place in range(group["places"])}
            constrain(ones, 0 if group["repeater"] else 1, 1)
        filled = {}
        for item, of in enumerate(problem["items"]):
            served = {}
            for route in self.routes(item):
                chance, hub, place, repeater, at = route
                x = self.columns["x", item, route]
                if chance < least - 1e-9:
                    continue
                served[x] = 1
                constrain({x: 1, self.columns["y", hub, place]: -1}, -numpy.inf, 0)
                if repeater is not None:
                    constrain({x: 1, self.columns["y", repeater, at]: -1}, -numpy.inf, 0)
                    constrain({x: 1, self.columns["z", repeater, hub]: -1}, -numpy.inf, 0)
                for pool in self.pools(problem["groups"][hub[0]], of["class"]):
                    filled.setdefault((hub, pool), {})[x] = of["slots"]
            constrain(served, 1, 1)
        for repeater in self.parts:
            if repeater[0] not in self.repeaters:
                continue
            constrain({self.columns["z", repeater, hub]: 1 for hub in self.parts if hub[0] in self.hubs}, 0, 1)
            for hub in self.parts:
                if hub[0] in self.hubs:
                    for pool in self.pools(problem["groups"][hub[0]], problem["groups"][repeater[0]]["class"]):
                        filled.setdefault((hub, pool), {})[self.columns["z", repeater, hub]] = 1
        for (_, (_, size)), terms in filled.items():
            constrain(terms, -numpy.inf, size)
        cost = numpy.zeros(len(self.columns))
        if want_sum:
            for key, column in self.columns.items():
                if key[0] == "x":
                    cost[column] = -key[2][0]
        matrix = sparse.lil_matrix((len(rows), len(self.columns)))
        for r, terms in enumerate(rows):
            for column, factor in terms.items():
                matrix[r, column] = factor
        upper = numpy.ones(len(self.columns))
        for key, column in self.columns.items():
            if key[0] == "x" and key[2][0] < least - 1e-9:
                upper[column] = 0
        result = optimize.milp(cost, constraints=optimize.LinearConstraint(matrix.tocsr(), low, high),
                               integrality=numpy.ones(len(self.columns)), bounds=optimize.Bounds(0, upper))
        return None if result.x is None else -result.fun

    def best(self):
        levels = sorted({route[0] for item in range(len(self.problem["items"])) for route in self.routes(item)})
        if self.solve(0, False) is None:
            return None
        low, high = 0, len(levels) - 1
        while low < high:
            middle = (low + high + 1) // 2
            if self.solve(levels[middle], False) is None:
                high = middle - 1
            else:
                low = middle
        return levels[low], self.solve(levels[low], True)


def main():
    lines = subprocess.run([sys.argv[1]], check=True, capture_output=True, text=True).stdout.splitlines()
    faults = 0
    infeasible = 0
    for line in lines:
        problem = json.loads(line)
        expected = Model(problem).best()
        found = problem["found"]
        infeasible += expected is None
        same = (found is None) == (expected is None) and (
            expected is None or (abs(expected[0] - found["worst"]) <= TOLERANCE
                                 and abs(expected[1] - found["sum"]) <= TOLERANCE))
        if not same:
            faults += 1
            print(f"problem {problem['seed']}: {found} was found, SciPy has {expected}")
    print(f"{len(lines)} problems, {infeasible} of them infeasible, {faults} differ")
    if faults or len(lines) < 30 or not 0 < infeasible < len(lines):
        sys.exit(1)


main()
