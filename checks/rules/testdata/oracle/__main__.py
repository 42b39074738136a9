"""Holds every two things on a board against each other, with shapely.

It reads boards as JSON on its standard input: plain coordinates and figures in
millimetres, as the generator in pairs_oracle_*_test.go has placed them. It
knows nothing of hemline's model. Shapes are rebuilt here, arcs as chords that
lie at most 0.6 um off. What each pair is held to follows the language's
reference and the limits' table alone.

The answer has, for each board, what must be found (within what is certain),
what may be (within 2 um of a limit, or where two readings are as good), and
for the count how near each two kinds came.
"""

import gc
import json
import math
import sys
import traceback
from concurrent.futures import ProcessPoolExecutor

import copper  # noqa: F401, registers its rows
import mask  # noqa: F401
import mechanical  # noqa: F401
import whole
from board import Board
from geometry import TOL
from judge import Judge


def judge(j):
    try:
        board = Board(j)
        judge_ = Judge(board)
        found = judge_.run(whole)
    except Exception:  # a board that the generator must not make
        return {"error": traceback.format_exc()}
    answer = {"must": [], "may": [], "counts": []}
    answer["skip"] = [c.name for c in board.cutouts if c.box in judge_.crossing]
    for (rule, items), list_ in found.items():
        if rule == "launch_clearance" and any(x[1] < TOL for x in found.get(("launch_blocked", items), [])):
            list_ = [(*x[:5], True) for x in list_]  # the pin stands on the wall: one cause
        sure = [x for x in list_ if not x[5]]
        worst = min(sure, default=None)
        below = worst is not None and worst[0] < -TOL
        silent = all(x[1] > TOL for x in list_)
        if rule and below:
            answer["must"].append({"rule": rule, "on": items, "kinds": worst[2], "distance": worst[3], "need": worst[4]})
        elif rule and not silent:
            answer["may"].append({"rule": rule, "on": items})
        # Of what is found the worst pair tells; of what is not found, each.
        if below:
            answer["counts"].append([rule, worst[2], True])
        elif silent or not rule:
            nearest = {}
            for x in sure:
                nearest[x[2]] = min(nearest.get(x[2], math.inf), x[0])
            answer["counts"] += [[rule, k, d < 0] for k, d in nearest.items() if abs(d) > TOL]
    return answer


def written(j):
    """The answer as JSON, so that the workers write it."""
    return json.dumps(judge(j))


def main():
    boards = json.load(sys.stdin)
    gc.set_threshold(100000)  # shapes go by themselves
    with ProcessPoolExecutor() as pool:  # which tells of a worker that dies
        sys.stdout.write("[" + ",".join(pool.map(written, boards, chunksize=20)) + "]")


if __name__ == "__main__":
    main()
