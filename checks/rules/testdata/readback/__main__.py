"""Holds the layers of boards to the pairs, by shapely.

Reads JSON: the folder of the readers of layers and, of each board, the folder
of its layers, the limits in force in mm, and the pieces of its map, which a
check has found nothing in. The layers are read by read.mjs, which knows
nothing of hemline; what is held, and to what, is written here anew after the
pairs' reference (checks/PAIRS.md). Prints what is wrong, a sentence each, and
how many of what were held.

  python3 readback < boards.json
"""
import json
import multiprocessing
import os
import subprocess
import sys

sys.dont_write_bytecode = True


def hold(task):
    """What is wrong with one board, and how many of what were held."""
    given, files = task
    from board import Board
    import add, drills, free, mask, rout

    held = {}
    board = Board(given, json.loads(files), held)
    for held_to in (add, free, mask, drills, rout):
        held_to.hold(board)
    return [{"Board": given["name"], "Says": x} for x in board.wrong], held


def main():
    task = json.load(sys.stdin)
    sys.path.insert(0, task["readers"])
    read = subprocess.run(["node", os.path.join(task["readers"], "read.mjs")] + [b["folder"] for b in task["boards"]],
                          stdout=subprocess.PIPE, check=True).stdout.splitlines()
    wrong, held = [], {}
    with multiprocessing.Pool() as pool:
        for says, counts in pool.imap(hold, list(zip(task["boards"], read, strict=True)), chunksize=4):
            wrong += says
            for what, n in counts.items():
                held[what] = held.get(what, 0) + n
    json.dump({"Wrong": wrong, "Held": held}, sys.stdout)


main()
