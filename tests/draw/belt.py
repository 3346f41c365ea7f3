"""The belt's way worked out anew, from centres and sizes as other commands print them."""

import cmath
import math

TIMED = {"crankshaft", "camshaft", "injection pump", "balance shaft", "auxiliary shaft"}


class Wheel:
    def __init__(self, name, centre, radius, sense, teeth, on_back):
        self.name, self.centre, self.radius, self.sense = name, centre, radius, sense
        self.teeth, self.on_back = teeth, on_back


def tangent(one, two):
    """(start, end) of the straight run from one wheel to the next. A wheel turning anticlockwise
    lies left of its runs, so the distance from centre line to run falls from -s1 r1 to -s2 r2; the
    run is turned from the line of centres by the arc sine of the difference."""
    line = two.centre - one.centre
    more = two.sense * two.radius - one.sense * one.radius
    along = cmath.exp(1j * (cmath.phase(line) - math.asin(more / abs(line))))
    right = along / 1j
    return (one.centre + one.sense * one.radius * right, two.centre + two.sense * two.radius * right)


class Belt:
    """Wheels in the order of travel, the crank first. Pieces: ("arc", wheel) and ("run", wheel),
    each with where it begins, mm from where the belt meets the crank."""

    def __init__(self, wheels):
        self.wheels = wheels
        count = len(wheels)
        self.runs = [tangent(wheels[i], wheels[(i + 1) % count]) for i in range(count)]
        self.entries, self.wraps, self.pieces = [], [], []
        begun = 0.0
        for i, wheel in enumerate(wheels):
            met = cmath.phase(self.runs[i - 1][1] - wheel.centre)
            left = cmath.phase(self.runs[i][0] - wheel.centre)
            wrap = (wheel.sense * (left - met)) % (2 * math.pi)
            self.entries.append(met)
            self.wraps.append(wrap)
            self.pieces.append(("arc", i, begun, wrap * wheel.radius))
            begun += wrap * wheel.radius
            length = abs(self.runs[i][1] - self.runs[i][0])
            self.pieces.append(("run", i, begun, length))
            begun += length
        self.length = begun

    def off_and_along(self, place):
        """How far a place is from the pitch line, which piece is nearest, how far along it is."""
        best = (math.inf, None, 0.0)
        for piece in self.pieces:
            kind, i, begun, length = piece
            if kind == "run":
                start, end = self.runs[i]
                along = ((place - start) / (end - start)).real * length
                along = min(max(along, 0.0), length)
                off = abs(start + (end - start) * along / length - place)
            else:
                wheel = self.wheels[i]
                out = place - wheel.centre
                angle = (wheel.sense * (cmath.phase(out) - self.entries[i])) % (2 * math.pi)
                slack = 1e-4  # a hair before the entry is at it, not a turn on
                if angle > 2 * math.pi - slack:
                    angle -= 2 * math.pi
                if angle > self.wraps[i] + slack:
                    continue
                along, off = angle * wheel.radius, abs(abs(out) - wheel.radius)
            if off < best[0]:
                best = (off, piece, begun + along)
        return best

    def along_at(self, i, angle):
        """Belt coordinate over a polar angle of wheel i, on the turn nearest mid-wrap."""
        wheel = self.wheels[i]
        half = self.wraps[i] / 2
        off = cmath.phase(cmath.rect(1, wheel.sense * (angle - self.entries[i]) - half))
        return self.pieces[2 * i][2] + (half + off) * wheel.radius
