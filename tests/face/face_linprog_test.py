#!/usr/bin/env python3
"""Minimum zones against linear programmes of SciPy (an independent library).

    face_linprog_test.py TWOTURN [FACES]

On 200 random faces the thinnest slab is found by linprog: the least t with |z - a x - b y - c| <= t
along the slab's own normal, the axes turned until the plane found lies level. That is compared with
what `twoturn face --json` says of the same points.
"""

import json
import random
import subprocess
import sys

import numpy
from scipy.optimize import linprog

# HiGHS stops within 1e-7 of its scaled constraints; heights are scaled to about 1 here.
TOLERANCE = 1e-6


def random_face(source):
    """A bowed, twisted and rough face, every third one on a grid, where ties are."""
    count = source.choice([4, 5, 6, 8, 12, 30, 100])
    bow, twist = source.uniform(-0.06, 0.06), source.uniform(-0.05, 0.05)
    tilt, rough = source.uniform(-0.002, 0.002), source.uniform(0.0, 0.02)
    on_grid = source.random() < 1 / 3
    points = {}
    while len(points) < count:
        x, y = source.uniform(0, 400), source.uniform(0, 160)
        if on_grid:
            x, y = 25.0 * round(x / 25), 20.0 * round(y / 20)
        u, v = x / 200 - 1, y / 80 - 1
        z = bow * u * u + twist * u * v + tilt * x + source.uniform(0, rough)
        points[x, y] = round(z, 3) if on_grid else z
    return numpy.array([(x, y, z) for (x, y), z in points.items()])


def chebyshev_plane(points):
    """(width, unit normal) of the thinnest slab measured along the third axis."""
    centre = points.mean(axis=0)
    flat = points - centre
    scale = numpy.abs(flat).max(axis=0)
    scale[scale == 0] = 1
    x, y, z = (flat / scale).T
    one = numpy.ones_like(x)
    # a x + b y + c - t <= z  and  -(a x + b y + c) - t <= -z
    above = numpy.column_stack([x, y, one, -one])
    below = numpy.column_stack([-x, -y, -one, -one])
    found = linprog(
        [0, 0, 0, 1],
        A_ub=numpy.vstack([above, below]),
        b_ub=numpy.concatenate([z, -z]),
        bounds=[(None, None)] * 3 + [(0, None)],
        method="highs-ds",
    )
    assert found.status == 0, found.message
    slopes = found.x[:2] * scale[2] / scale[:2]
    normal = numpy.array([-slopes[0], -slopes[1], 1.0])
    return 2 * found.x[3] * scale[2], normal / numpy.linalg.norm(normal)


def minimum_zone(points):
    """The thinnest slab, orthogonal: turns the points until the plane found lies level."""
    turned = points
    for _ in range(4):
        width, normal = chebyshev_plane(turned)
        across = numpy.cross([0.0, 1.0, 0.0], normal)
        across /= numpy.linalg.norm(across)
        turned = turned @ numpy.column_stack([across, numpy.cross(normal, across), normal])
    heights = turned[:, 2]
    # What the slab found holds is an upper bound, its width along the axis the programme's own.
    return min(width, heights.max() - heights.min())


def judged(command, points):
    table = "x_mm,y_mm,height_mm\n" + "".join(f"{x!r},{y!r},{z!r}\n" for x, y, z in points.tolist())
    ran = subprocess.run([command, "face", "-", "--json"], input=table, capture_output=True, text=True)
    assert ran.returncode in (0, 1), ran.stderr + ran.stdout
    return json.loads(ran.stdout)["heights"]


def main(command, faces=200):
    source = random.Random(20)
    worst = 0.0
    for number in range(int(faces)):
        points = random_face(source)
        wanted = minimum_zone(points)
        heights = judged(command, points)
        got = heights["out_of_flat_mm"]
        off = abs(got - wanted)
        worst = max(worst, off)
        limit = TOLERANCE * max(numpy.ptp(points[:, 2]), 1e-3)
        if off > limit or got > heights["least_squares_mm"] + 1e-12:
            print(f"face {number}, {len(points)} points: linprog {wanted!r}, twoturn {got!r}")
            print(points.tolist())
            return 1
    print(f"{faces} faces agree; the worst differs by {worst:.2e} mm")
    return 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
