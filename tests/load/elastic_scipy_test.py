#!/usr/bin/env python3
"""The elastic belt against SciPy (an independent library) on geometry worked out anew.

    elastic_scipy_test.py TEST_LOAD

The program of the floor's tests prints a hundred random drives, half of them with a sprung
tensioner, and what twoturn makes of them. Here the path round the circles, its length and its
rate, the runs' stiffnesses and the energy are computed from the coordinates alone; minimize finds
the least energy, root the balance to its last digits, and both answers are compared.
"""

import json
import math
import subprocess
import sys

import numpy
from scipy.optimize import minimize, root

# Of the greatest value of its kind. Lengths by differences are right to 1e-10 of a rate.
TOLERANCE = 1e-6


def tangent(one, other):
    """(direction's angle, length) of the straight belt from one circle to the next."""
    (x0, y0, r0, s0), (x1, y1, r1, s1) = one, other
    apart = math.hypot(x1 - x0, y1 - y0)
    lean = math.asin((s1 * r1 - s0 * r0) / apart)
    return math.atan2(y1 - y0, x1 - x0) - lean, apart * math.cos(lean)


class Path:
    """The belt round the circles: arcs on each, and the straight pieces after each."""

    def __init__(self, wheels):
        straight = [tangent(wheels[k], wheels[(k + 1) % len(wheels)]) for k in range(len(wheels))]
        self.straight = [length for _, length in straight]
        self.arcs = []
        for k, (_, _, radius, sense) in enumerate(wheels):
            turn = sense * (straight[k][0] - straight[k - 1][0])
            self.arcs.append(radius * (turn % math.tau))
        self.length = sum(self.straight) + sum(self.arcs)


class Drive:
    """Crank, sprung roller, three shafts, one more, plain roller: wheels 1 and 6 are plain."""

    def __init__(self, told):
        self.wheels = told["wheels"]
        self.arm = told["arm"]
        self.ea, self.tension = told["belt"]
        self.springs = told["springs"]
        self.rigid = numpy.array(told["rigid_rad"])
        path = Path(self.placed(0.0))
        self.length = path.length
        toothed = [0, 2, 3, 4, 5]
        self.radius = numpy.array([self.wheels[k][2] for k in toothed])
        runs = list(path.straight)
        roomy = [runs[0] + path.arcs[1] + runs[1], *runs[2:5], runs[5] + path.arcs[6] + runs[6]]
        self.stiffness = self.ea / numpy.array(roomy)
        self.pushed = self.tension * self.rate(0.0)

    def placed(self, q):
        pivot_x, pivot_y, arm, angle = self.arm[:4]
        wheels = [list(wheel) for wheel in self.wheels]
        wheels[1][0] = pivot_x + arm * math.cos(angle + q)
        wheels[1][1] = pivot_y + arm * math.sin(angle + q)
        return wheels

    def rate(self, q):
        """dL/dq by differences of the fourth order."""
        h = 1e-3
        far, near = [
            Path(self.placed(q + step)).length - Path(self.placed(q - step)).length
            for step in (2 * h, h)
        ]
        return (8 * near - far) / (12 * h)

    def tensions(self, ahead, q):
        moved = self.radius * numpy.concatenate([[0.0], ahead])
        stretch = numpy.roll(moved, -1) - moved
        stretch[0] += Path(self.placed(q)).length - self.length
        return numpy.maximum(0.0, self.tension + self.stiffness * stretch)

    def torques(self, ahead):
        turned = self.rigid + numpy.concatenate([[0.0], ahead])
        torque, energy = numpy.zeros(5), 0.0
        for shaft, (steady, *waves) in enumerate(self.springs):
            torque[shaft] = steady
            energy += steady * (turned[shaft] - self.rigid[shaft])
            for size, count, phase in zip(waves[::3], waves[1::3], waves[2::3]):
                torque[shaft] += size * math.sin(count * turned[shaft] + phase)
                energy -= size / count * math.cos(count * turned[shaft] + phase)
        return torque, energy

    def energy(self, ahead, q):
        spring = self.pushed * q - self.arm[4] * q * q / 2
        return (self.tensions(ahead, q) ** 2 / self.stiffness).sum() / 2 + self.torques(ahead)[1] - spring

    def unbalanced(self, ahead, q):
        """Pulls in N on each driven shaft, then on the tensioner."""
        tension = self.tensions(ahead, q)
        shafts = tension[:-1] - tension[1:] + self.torques(ahead)[0][1:] / self.radius[1:]
        arm = (tension[0] * self.rate(q) - self.pushed + self.arm[4] * q) / self.rate(0.0)
        return numpy.append(shafts, arm)

    def solved(self):
        """(ahead, q) of least energy, from the reference. Unknowns: mm of belt, so all alike."""
        low, high = self.arm[5:]
        wide = self.rate(0.0)

        def parted(place):
            return place[:4] / self.radius[1:], float(place[4]) / wide

        found = minimize(
            lambda place: self.energy(*parted(place)),
            numpy.zeros(5),
            jac=lambda place: self.unbalanced(*parted(place)),
            bounds=[(None, None)] * 4 + [(low * wide, high * wide)],
            method="L-BFGS-B",
            options={"maxiter": 5000, "ftol": 1e-15, "gtol": 1e-6},
        )
        stopped = not low * wide + 1e-9 < found.x[4] < high * wide - 1e-9
        free = 4 if stopped else 5

        def balance(part):
            return self.unbalanced(*parted(numpy.append(part, found.x[free:])))[:free]

        polished = root(balance, found.x[:free], method="hybr", options={"xtol": 1e-14})
        assert numpy.abs(balance(polished.x)).max() < 1e-7 * self.tension, polished.message
        return parted(numpy.append(polished.x, found.x[free:]))


def difference(got, wanted):
    got, wanted = numpy.array(got), numpy.array(wanted)
    return numpy.abs(got - wanted).max() / max(numpy.abs(wanted).max(), 1e-300)


def compared(told):
    drive = Drive(told)
    ahead, q = drive.solved()
    tension = drive.tensions(ahead, q)
    torque = drive.radius[0] * (tension[-1] - tension[0])
    belt = (tension**2 / drive.stiffness).sum() / 2
    spring = drive.arm[4] * q * q / 2 - drive.pushed * q
    differences = {
        "run stiffness": difference(told["run_stiffness_n_mm"], drive.stiffness),
        "ahead": difference(told["ahead_rad"][1:], ahead),
        "tension": difference(told["tension_n"], tension),
        "crank torque": difference(told["crank_torque_nmm"], [torque]),
        "energy": difference(told["energy_nmm"], [belt, spring]),
    }
    if drive.arm[5] < drive.arm[6]:
        differences["q"] = abs(told["q"][0] - q)
    stop = drive.arm[5] < drive.arm[6] and q in (drive.arm[5], drive.arm[6])
    return differences, int((tension == 0).sum()), stop


def main(program):
    ran = subprocess.run([program, "[elastic_values]"], capture_output=True, text=True)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    drives = [json.loads(line) for line in ran.stdout.splitlines() if line.startswith("{")]
    assert len(drives) == 100, len(drives)
    worst, slack, stops, faults = {}, 0, 0, 0
    for number, told in enumerate(drives):
        differences, slack_runs, stopped = compared(told)
        slack += slack_runs > 0
        stops += stopped
        for name, value in differences.items():
            worst[name] = max(worst.get(name, 0.0), value)
            if not value <= TOLERANCE:
                print(f"drive {number}: {name} differs by {value:.2e}")
                faults += 1
    print(f"{len(drives)} drives, {slack} with slack runs, {stops} on a stop; worst differences:")
    print(", ".join(f"{name} {value:.1e}" for name, value in worst.items()))
    assert slack > 10, "too few drives with a slack run to mean anything"
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
