#!/usr/bin/env python3
"""Measured centres against least squares of SciPy (an independent library).

    place_scipy_test.py TWOTURN [DRIVES]

Drives are thrown: centres, sizes, a tensioner that swings or slides, and what a calliper, a rule,
an eye, a drawing and a belt that is known to fit would say of them, each off by a normal error.
Each is written as a profile; scipy.optimize.least_squares places its centres from where they were
thrown, with the belt's way round by the formulae of tangent paths in this file. That is compared
with what `twoturn place --json` says of the same profile, and so is every profile of [[measured]]
in profiles/. Nothing that twoturn prints goes into the oracle.

Ellipses leave out a turn of the whole round the crank (DEVELOPERS.md, "Measured centres"). So they
are compared three ways:
  two fast   nothing can turn: the whole of the covariance from SciPy's Jacobian;
  one eye    a bearing alone says which way up: the covariance with that bearing taken as exact,
             which is what no length feels, and the turn is the bearing's own give-or-take;
  mixed      bearings, belts and coordinates turn the whole together: of each measurement that does
             little else than turn it the turn is taken out, as MeasuredPlaces says. Little is its
             own word for a tenth; a drive with a measurement near that line is thrown again.
"""

import itertools
import json
import math
import random
import subprocess
import sys
import tempfile
import tomllib
from pathlib import Path

import numpy
from scipy.optimize import brentq, least_squares

PROFILES = Path(__file__).parents[2] / "profiles"

# Both sides take steps until none gains: sums of squares of residuals that are rounded at 1e-12 of
# a sigma do not feel a millionth of one, here 1 mm or so at the most.
CENTRE_MM = 1e-6
EXACT_MM = 1e-12  # printed and read back
# SciPy's lm takes steps in the same way.
STOPPED_SHORT_MM = 1e-4
# Residuals move with the centres, mm for mm; a bearing over 30 mm or more by up to 2 deg a mm.
OFF = 2e-6
# Of a sum of squares over sigmas of 0.02 mm at the least.
CHI_SQUARE = 1e-6
# Jacobians differ as their places do, by 1e-8; the worst conditioned makes a thousand of it.
ELLIPSE = 1e-4
# An axis of nothing (across an exact bearing) is the root of a variance rounded at 1e-14 mm^2.
NOTHING_MM = 1e-6
# Shares of the hat matrix, and residuals over their own roots: 1e-6 mm over sigmas of 0.02 mm.
SPARE = 1e-5
STANDARDIZED = 1e-4
LITTLE_SPARE = 1e-3  # a residual over its root is then 30 times as far off as the residual
# Of two axes alike the way of the longer is anything.
WAY_DEG = 0.01
WAY_IF_LONGER_BY = 1.1

SIGMAS = 1.959963984540054  # 95 of a hundred: the normal distribution, both sides
SHARE = 2.447746830680816  # in two dimensions: sqrt(-2 ln 0.05)
ONE_IN_A_THOUSAND = 3.2905  # the normal distribution, both sides: beyond it measurements contradict
LITTLE_ELSE = 0.1
FLAT_MM = 15.0  # half of how far the two places are apart; hints here are within 4.3 mm

# ISO 9010, as `twoturn sections` has it: pitch, tooth height, thickness, land to pitch line.
SECTIONS = {"ZA": (9.525, 1.91, 4.1, 0.686), "ZB": (9.525, 2.29, 4.5, 0.686)}
# ISO 5296, plus or minus by pitch length (CHECKS.md).
TOLERANCES = [(254, 0.41), (381, 0.46), (508, 0.51), (762, 0.61), (1016, 0.66), (1270, 0.76)]
# Common practice (profiles/README.md, [[measured]]), mm and deg.
RULE_MM, CALLIPER_MM, EYE_DEG = 0.5, 0.1, 3.0


def clock_way(deg):
    """A clock angle as a unit vector, right and up."""
    return numpy.array([math.sin(math.radians(deg)), math.cos(math.radians(deg))])


def half_turn(deg):
    return (deg + 180.0) % 360.0 - 180.0


# --- the way round -------------------------------------------------------------------------------


def way_round(circles):
    """(length, its rate by each centre, wraps) round circles (centre, radius, sense) in turn.

    With rho = sense times radius and k = rho_j - rho_i, the span is sqrt(D^2 - k^2) and its
    direction (l d + k (d_y, -d_x)) / D^2; arcs are radius times the angle from span to span.
    """
    count = len(circles)
    spans = []
    for i, (centre, radius, sense) in enumerate(circles):
        to, to_radius, to_sense = circles[(i + 1) % count]
        d = to - centre
        k = to_sense * to_radius - sense * radius
        squared = d @ d
        length = math.sqrt(squared - k * k)
        spans.append((length, (length * d + k * numpy.array([d[1], -d[0]])) / squared))
    total = sum(length for length, _ in spans)
    rates, wraps = [], []
    for i, (_, radius, sense) in enumerate(circles):
        u_in, u_out = spans[i - 1][1], spans[i][1]
        turned = math.atan2(u_in[0] * u_out[1] - u_in[1] * u_out[0], u_in @ u_out)
        wraps.append((sense * turned) % math.tau)
        total += radius * wraps[-1]
        rates.append(u_in - u_out)
    return total, rates, wraps


class Round:
    """A profile's pulleys as circles, in the order of its list."""

    def __init__(self, profile):
        belt = profile["belt"]
        pitch, height, thickness, land = SECTIONS.get(belt.get("section"), (None,) * 4)
        self.pitch = belt.get("pitch_mm", pitch)
        height = belt.get("tooth_height_mm", height)
        land = belt.get("land_to_pitch_line_mm", land)
        back = belt.get("thickness_mm", thickness) - height - land
        self.pulleys = profile["pulley"]
        self.radii, self.faces = [], []
        for pulley in self.pulleys:
            on_back = pulley.get("face", "tooth") == "back"
            self.faces.append(-1 if on_back else 1)
            if "teeth" in pulley:
                self.radii.append(self.pitch * pulley["teeth"] / math.tau)
            else:
                self.radii.append(pulley["diameter_mm"] / 2 + (back if on_back else height + land))
        self.moving = next(i for i, pulley in enumerate(self.pulleys) if "tensioner" in pulley)
        self.tensioner = self.pulleys[self.moving]["tensioner"]
        self.slides = "slack_at_mm" in self.tensioner

    def roller(self, reading):
        """The roller's centre from its pivot, of a slide from the crank, and what a unit moves."""
        if self.slides:
            slack = numpy.array(self.tensioner["slack_at_mm"], float)
            along = numpy.array(self.tensioner["tight_at_mm"], float) - slack
            along /= numpy.linalg.norm(along)
            return slack + reading * along, along
        way = self.tensioner["arm_mm"] * clock_way(reading)
        return way, math.radians(1) * numpy.array([way[1], -way[0]])

    def length(self, centres, reading):
        """(length, its rates by centre, its rate by the reading); centres by name, of a swing the
        pivot's."""
        offset, moved = self.roller(reading)
        at = []
        for i, pulley in enumerate(self.pulleys):
            fast = numpy.zeros(2) if self.slides and i == self.moving else centres[pulley["name"]]
            at.append(fast + offset if i == self.moving else fast)
        # Listed anticlockwise, the teeth's pulleys turn so too.
        area = sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(at, at[1:] + at[:1]))
        sense = 1 if area > 0 else -1
        faces = [sense * face for face in self.faces]
        total, rates, self.wraps = way_round(list(zip(at, self.radii, faces)))
        by_name = {pulley["name"]: rate for pulley, rate in zip(self.pulleys, rates)}
        if self.slides:
            del by_name[self.pulleys[self.moving]["name"]]
        return total, by_name, rates[self.moving] @ moved


# --- what a profile says -------------------------------------------------------------------------


class Model:
    """Residuals of all that a profile measures, each over its sigma, and their Jacobian."""

    def __init__(self, profile, starts):
        self.profile = profile
        self.fast, self.free, self.rows = {}, [], []
        origin = profile.get("origin", {})
        for pulley in profile["pulley"]:
            tensioner = pulley.get("tensioner")
            if tensioner and "slack_at_mm" in tensioner:
                continue
            name = pulley["name"]
            holder, key = (tensioner, "pivot_mm") if tensioner else (pulley, "at_mm")
            at = holder.get(key)
            path = f"pulley.{name}.{'tensioner.' if tensioner else ''}{key}"
            give = origin.get(path, {}).get("give_or_take", 0.0)
            if pulley.get("role") == "crankshaft":
                self.fast[name] = numpy.zeros(2)
            elif at is not None and give == 0.0:
                self.fast[name] = numpy.array(at, float)
            else:
                self.free.append(name)
                if at is not None:
                    self.rows.append(("place", 0, (name,), numpy.array(at, float), give))
        self.start = numpy.concatenate([starts[name] for name in self.free])
        for number, measured in enumerate(profile["measured"], 1):
            self.add(number, measured, origin)

    def add(self, number, measured, origin):
        if "belt_teeth" in measured:
            return
        ends = measured["from"], measured["to"]
        if "distance_mm" in measured:
            across = measured.get("across", "centres")
            usual = RULE_MM if across == "centres" else CALLIPER_MM
            gives = [measured.get("give_or_take_mm", usual)]
            mm = measured["distance_mm"]
            for key in ("from_diameter_mm", "to_diameter_mm"):
                if across == "centres":
                    continue
                said = origin.get(f"measured.{number}.{key}", {})
                gives.append(said.get("give_or_take", CALLIPER_MM) / 2)
                mm += measured[key] / 2 * (1 if across == "inside" else -1)
            self.rows.append(("distance", number, ends, mm, math.hypot(*gives)))
        if "bearing_deg" in measured:
            give = measured.get("give_or_take_deg", EYE_DEG)
            self.rows.append(("bearing", number, ends, measured["bearing_deg"], give))

    def add_belts(self, centres):
        """Belts that are known to fit, the roller's give-or-take turned to length where all else
        put the centres."""
        for number, measured in enumerate(self.profile["measured"], 1):
            if "belt_teeth" not in measured:
                continue
            way = Round(self.profile)
            if "pointer_deg" in measured:
                turned = measured["pointer_deg"] - way.tensioner["pointer_deg"]
                reading = way.tensioner["set_deg"] + turned
            else:
                reading = measured.get("roller_deg", measured.get("roller_mm"))
            usual, key = (CALLIPER_MM, "mm") if way.slides else (EYE_DEG, "deg")
            give = measured.get(f"give_or_take_{key}", usual)
            mm = measured["belt_teeth"] * way.pitch
            tolerance = next(tolerance for most, tolerance in TOLERANCES if mm <= most)
            give = math.hypot(way.length(centres, reading)[2] * give, tolerance)
            self.rows.append(("belt", number, (way, reading), mm, give))

    def centres(self, x):
        free = {name: x[2 * i : 2 * i + 2] for i, name in enumerate(self.free)}
        return self.fast | free

    def found(self, row, centres):
        """What the row should say at those centres, and its rates by centre."""
        kind, _, ends, _, _ = row
        if kind == "belt":
            return ends[0].length(centres, ends[1])[:2]
        if kind == "place":
            return centres[ends[0]], {ends[0]: numpy.eye(2)}
        d = centres[ends[1]] - centres[ends[0]]
        far = numpy.linalg.norm(d)
        if kind == "distance":
            return far, {ends[1]: d / far, ends[0]: -d / far}
        rate = numpy.degrees(numpy.array([d[1], -d[0]]) / far**2)
        return math.degrees(math.atan2(d[0], d[1])), {ends[1]: rate, ends[0]: -rate}

    def off(self, row, centres):
        off = row[3] - self.found(row, centres)[0]
        return half_turn(off) if row[0] == "bearing" else off

    def residuals(self, x):
        centres = self.centres(x)
        parts = [self.off(row, centres) / (row[4] / SIGMAS) for row in self.rows]
        return numpy.concatenate([numpy.atleast_1d(part) for part in parts])

    def jacobian(self, x):
        centres = self.centres(x)
        parts = []
        for row in self.rows:
            block = numpy.zeros((2 if row[0] == "place" else 1, len(x)))
            for name, rate in self.found(row, centres)[1].items():
                if name in self.free:
                    column = 2 * self.free.index(name)
                    block[:, column : column + 2] -= numpy.atleast_2d(rate)
            parts.append(block / (row[4] / SIGMAS))
        return numpy.vstack(parts)

    def solved(self, x):
        found = least_squares(
            self.residuals, x, self.jacobian, method="lm", xtol=1e-15, ftol=1e-15, gtol=1e-15
        )
        assert found.success, found.message
        x = found.x
        for _ in range(3):  # Gauss and Newton's own steps: nothing of how lm stops is left in it
            x = x - numpy.linalg.lstsq(self.jacobian(x), self.residuals(x), rcond=None)[0]
        assert numpy.abs(x - found.x).max() < STOPPED_SHORT_MM, (x, found.x)
        return x


# --- what follows from it ------------------------------------------------------------------------


class Oracle:
    """Centres, misfits and ellipses of a profile; `starts` are where the centres are about."""

    def __init__(self, profile, starts):
        self.model = model = Model(profile, starts)
        x = model.solved(model.start)
        self.belts = any("belt_teeth" in measured for measured in profile["measured"])
        if self.belts:
            model.add_belts(model.centres(x))
            x = model.solved(x)
        self.x, self.centres = x, model.centres(x)
        self.check_jacobian()
        self.residuals, self.rates = model.residuals(x), model.jacobian(x)
        self.chi_square = self.residuals @ self.residuals
        self.spare = len(self.residuals) - len(x)
        # One sigma of each measurement moves the centres by these columns.
        self.influence = -numpy.linalg.pinv(self.rates)
        self.left = 1 - numpy.einsum("ij,ji->i", self.rates, -self.influence)
        self.tell_misfits()
        self.tell_ellipses()

    def check_jacobian(self):
        """The rates against differences over 1e-3 mm: nothing here rests on a wrong formula."""
        for column in range(len(self.x)):
            step = numpy.zeros(len(self.x))
            step[column] = 1e-3
            model = self.model
            seen = (model.residuals(self.x + step) - model.residuals(self.x - step)) / 2e-3
            rates = model.jacobian(self.x)[:, column]
            assert numpy.allclose(seen, rates, rtol=1e-6, atol=1e-5), (seen, rates)

    def tell_misfits(self):
        """(spare, standardized) of each row, of a place of both coordinates together."""
        self.misfits, at = [], 0
        for row in self.model.rows:
            count = 2 if row[0] == "place" else 1
            own, left = self.residuals[at : at + count], self.left[at : at + count]
            over = [r / math.sqrt(part) if part > 1e-9 else 0.0 for r, part in zip(own, left)]
            self.misfits.append((left.sum(), max(over, key=abs)))
            at += count
        self.contradict = max(abs(over) for _, over in self.misfits) > ONE_IN_A_THOUSAND

    def tell_ellipses(self):
        rows = self.model.rows
        bearings = [i for i, row in enumerate(rows) if row[0] == "bearing"]
        lengths_only = all(row[0] in ("distance", "bearing") for row in rows)
        self.turn_deg, self.near_the_line = 0.0, False
        if len(self.model.fast) > 1:
            self.kind = "two fast"
            covariance = self.influence @ self.influence.T
        elif lengths_only and len(bearings) == 1:
            self.kind = "one eye"
            self.turn_deg = rows[bearings[0]][4]
            others = numpy.delete(self.rates, bearings[0], axis=0)
            # All moves that the bearing does not see.
            ways = numpy.linalg.svd(self.rates[bearings])[2][1:].T
            inner = numpy.linalg.inv(ways.T @ others.T @ others @ ways)
            covariance = ways @ inner @ ways.T
        else:
            self.kind = "mixed"
            covariance = self.without_turns()
        if self.contradict and self.spare > 0:
            covariance = covariance * max(1.0, self.chi_square / self.spare)
        self.ellipses = {}
        for i, name in enumerate(self.model.free):
            values, ways = numpy.linalg.eigh(covariance[2 * i : 2 * i + 2, 2 * i : 2 * i + 2])
            shorter, longer = SHARE * numpy.sqrt(numpy.maximum(values, 0))
            way = math.degrees(math.atan2(*ways[:, 1]))
            self.ellipses[name] = longer, shorter, way

    def without_turns(self):
        about = numpy.concatenate([numpy.array([-c[1], c[0]]) for c in self.x.reshape(-1, 2)])
        kept, turned = [], 0.0
        for column in self.influence.T:
            turn = column @ about / (about @ about)
            rest = column - turn * about
            share = numpy.linalg.norm(rest) / max(numpy.linalg.norm(column), 1e-300)
            self.near_the_line |= 0.9 < share / LITTLE_ELSE < 1.1
            if share <= LITTLE_ELSE:
                turned += turn * turn
                column = rest
            kept.append(column)
        self.turn_deg = SIGMAS * math.degrees(math.sqrt(turned))
        kept = numpy.array(kept).T
        return kept @ kept.T


# --- drives thrown -------------------------------------------------------------------------------


class Thrower:
    """Crank, tensioner, cam, pump and perhaps two rollers: leaning, mirrored, listed either way."""

    def __init__(self, source):
        self.source = source
        self.lean = source.uniform(-50, 50)
        self.mirror = source.choice([1, -1])
        self.centres = {}  # of a swinging tensioner the pivot's

    def put(self, right, up):
        """Leans and mirrors a place, told to a hundredth."""
        way, across = clock_way(self.lean), clock_way(self.lean + 90)
        turned = up * way + self.mirror * right * across
        return numpy.round(turned, 2)

    def deg(self, clock):
        return (self.lean + self.mirror * clock) % 360

    def drive(self):
        """A profile without [[measured]]; None where the belt's way is not one of that count."""
        throw = self.source.uniform
        teeth = self.source.randint(18, 24)
        cam_at = throw(-25, 25), throw(345, 400)
        belt = {"section": self.source.choice(["ZA", "ZB"])}
        if throw(0, 1) < 0.3:
            belt = {"pitch_mm": 8.0, "tooth_height_mm": 3.1, "thickness_mm": 5.5}
            belt["land_to_pitch_line_mm"] = 0.7
        pulleys = [{"name": "crank", "role": "crankshaft", "teeth": teeth}]
        self.centres["crank"] = numpy.zeros(2)
        pulleys.append(self.tensioner(cam_at))
        pulleys.append({"name": "cam", "role": "camshaft", "teeth": 2 * teeth})
        self.centres["cam"] = self.put(*cam_at)
        if throw(0, 1) < 0.5:
            wide = throw(50, 62)
            place = 0.35 * cam_at[0] + 62 + throw(0, 8) + wide / 2, cam_at[1] - throw(75, 95)
            pulleys.append({"name": "roller", "role": "idler", "diameter_mm": wide, "face": "back"})
            self.centres["roller"] = self.put(*place)
        pump = throw(75, 105), throw(130, 150)
        pulleys.append({"name": "pump", "role": "water pump", "teeth": self.source.randint(18, 22)})
        self.centres["pump"] = self.put(*pump)
        if throw(0, 1) < 0.4:
            wide = throw(40, 50)
            pulleys.append({"name": "guide", "role": "idler", "diameter_mm": wide, "face": "tooth"})
            self.centres["guide"] = self.put(throw(75, 95), throw(50, 65))
        start = self.source.randrange(len(pulleys))
        pulleys = pulleys[start:] + pulleys[:start]
        if self.source.random() < 0.5:
            pulleys.reverse()
        return {"belt": belt, "pulley": pulleys}

    def tensioner(self, cam_at):
        throw = self.source.uniform
        wide, up = throw(55, 65), throw(140, 190)
        # The run from crank to cam passes about here; the roller's back edge stands within it.
        centre = -35 + 0.45 * cam_at[0] - wide / 2 + throw(8, 20), up
        pulley = {"name": "tensioner", "role": "idler", "diameter_mm": wide, "face": "back"}
        if self.source.random() < 0.3:
            slack, tight = self.put(centre[0] - 15, up - 4), self.put(centre[0] + 20, up + 5)
            pulley["tensioner"] = {"slack_at_mm": slack.tolist(), "tight_at_mm": tight.tolist()}
            return pulley
        arm, clock = round(throw(6, 12), 2), throw(-40, 40)
        way = arm * clock_way(clock)
        self.centres["tensioner"] = self.put(centre[0] - way[0], up - way[1])
        pulley["tensioner"] = {
            "arm_mm": arm,
            "slack_deg": self.deg(clock - 75),
            "tight_deg": self.deg(clock + 75),
            "tightens": "clockwise" if self.mirror > 0 else "anticlockwise",
            "set_deg": self.deg(clock),
            "pointer_deg": throw(0, 360),
        }
        return pulley

    def normal(self, give):
        return self.source.gauss(0, give / SIGMAS)

    def distance(self, a, b, number, origin):
        measured = {"from": a, "to": b}
        true = numpy.linalg.norm(self.centres[b] - self.centres[a])
        across = self.source.choice(["centres", "outside", "inside"])
        usual = RULE_MM if across == "centres" else CALLIPER_MM
        gives = [usual]
        if self.source.random() < 0.5:
            gives = [round(self.source.uniform(0.05, 0.8), 2)]
            measured["give_or_take_mm"] = gives[0]
        if across != "centres":
            measured["across"] = across
            for key in ("from_diameter_mm", "to_diameter_mm"):
                measured[key] = round(self.source.uniform(8, 40), 2)
                true += measured[key] / 2 * (1 if across == "outside" else -1)
                give = CALLIPER_MM
                if self.source.random() < 0.3:
                    give = round(self.source.uniform(0.02, 0.4), 2)
                    origin[f"measured.{number}.{key}"] = {"from": "measured", "give_or_take": give}
                gives.append(give / 2)
        measured["distance_mm"] = true + self.normal(math.hypot(*gives))
        return measured

    def bearing(self, a, b, measured):
        d = self.centres[b] - self.centres[a]
        give = EYE_DEG
        if self.source.random() < 0.5:
            give = round(self.source.uniform(0.2, 2.0), 2)
            measured["give_or_take_deg"] = give
        measured["bearing_deg"] = (math.degrees(math.atan2(d[0], d[1])) + self.normal(give)) % 360

    def belt(self, profile, more):
        """A belt whose roller stands where its way is as long as it is, and how that was read."""
        way = Round(profile)
        if way.slides:
            tight = numpy.array(way.tensioner["tight_at_mm"])
            ends = [0.0, numpy.linalg.norm(tight - way.roller(0)[0])]
        else:
            middle = way.tensioner["set_deg"]
            ends = [middle - self.mirror * 45, middle + self.mirror * 45]
        lengths = []
        for end in ends:
            lengths.append(way.length(self.centres, end)[0])
            # A wheel that the belt just touches, or misses, has no length to go by.
            if not math.radians(6) < min(way.wraps) <= max(way.wraps) < math.radians(300):
                return None
        teeth = math.ceil(min(lengths) / way.pitch) + more
        if teeth * way.pitch >= max(lengths):
            return None
        reading = brentq(lambda q: way.length(self.centres, q)[0] - teeth * way.pitch, *ends)
        unit, give = ("mm", CALLIPER_MM) if way.slides else ("deg", EYE_DEG)
        measured, key = {"belt_teeth": teeth}, f"roller_{unit}"
        if self.source.random() < 0.5:
            give = round(self.source.uniform(0.3, 2.0), 2)
            measured[f"give_or_take_{unit}"] = give
        reading += self.normal(give)
        if not way.slides and self.source.random() < 0.5:
            key = "pointer_deg"
            reading += way.tensioner["pointer_deg"] - way.tensioner["set_deg"]
        measured[key] = max(reading, 0.0) if way.slides else reading % 360
        return measured

    def profile(self, kind):
        """A drive with enough measured of it; None where that did not come about."""
        profile = self.drive()
        origin = {"default": "manual", "measured": "measured"}
        names = list(self.centres)
        self.given(profile, kind, origin)
        measured = profile["measured"] = []
        ties = dict.fromkeys(names, 0)
        for i, a in enumerate(names):
            for b in names[:i]:
                if self.source.random() < 0.8:
                    measured.append(self.distance(*self.either(a, b), len(measured) + 1, origin))
                    ties[a] += 1
                    ties[b] += 1
        counts = {"two fast": [0, 2], "one eye": [1], "mixed": [1, 2, 3]}
        bearings = self.source.choice(counts[kind])
        pairs = [(a, b) for i, a in enumerate(names) for b in names[:i]]
        for a, b in self.source.sample(pairs, min(bearings, len(pairs))):
            a, b = self.either(a, b)
            measured.append({"from": a, "to": b})
            self.bearing(a, b, measured[-1])
        belts = 0 if kind == "one eye" else self.source.choice([0, 1, 1, 2])
        for more in range(belts):
            belt = self.belt(profile, more)
            if belt is None:
                return None
            measured.append(belt)
        if self.source.random() < 0.15 and "distance_mm" in measured[0]:
            measured[0]["distance_mm"] += self.source.choice([-8, 8])  # misread: they contradict
        profile["origin"] = origin
        return profile if min(ties.values()) >= 3 and not self.flat() else None

    def flat(self):
        """Whether any three centres lie nearly in a line: the middle one's places to either side
        of it are too near each other for a hint to tell them, and twoturn may ask for more."""
        for a, b, c in itertools.combinations(self.centres.values(), 3):
            ab, ac = b - a, c - a
            longest = max(map(numpy.linalg.norm, (ab, ac, c - b)))
            if abs(ab[0] * ac[1] - ab[1] * ac[0]) / longest < FLAT_MM:
                return True
        return False

    def either(self, a, b):
        return (a, b) if self.source.random() < 0.5 else (b, a)

    def given(self, profile, kind, origin):
        """Coordinates of some: of the cam exact, of others measured; hints of all the rest."""
        for pulley in profile["pulley"]:
            name = pulley["name"]
            if name == "crank" or name not in self.centres:
                continue
            swings = "tensioner" in pulley
            holder, key = (pulley["tensioner"], "pivot_mm") if swings else (pulley, "at_mm")
            if kind == "two fast" and name == "cam":
                holder[key] = self.centres[name].tolist()
            elif kind != "one eye" and self.source.random() < 0.25:
                give = round(self.source.uniform(0.2, 1.5), 2)
                off = numpy.array([self.normal(give), self.normal(give)])
                holder[key] = (self.centres[name] + off).tolist()
                path = f"pulley.{name}.{'tensioner.' if swings else ''}{key}"
                origin[path] = {"from": "measured", "give_or_take": give}
            else:
                off = [self.source.uniform(-3, 3), self.source.uniform(-3, 3)]
                pulley["near_mm"] = (self.centres[name] + numpy.array(off)).tolist()


def toml(profile, title):
    lines = [f"title = {json.dumps(title)}", 'crank_turns = "clockwise"']

    def line(key, value):
        if isinstance(value, dict):
            inner = ", ".join(f"{k} = {json.dumps(v)}" for k, v in value.items())
            return f"{json.dumps(key)} = {{ {inner} }}"
        return f"{json.dumps(key)} = {json.dumps(value)}"

    for table, entries in profile.items():
        for entry in entries if isinstance(entries, list) else [entries]:
            lines += ["", f"[[{table}]]" if isinstance(entries, list) else f"[{table}]"]
            lines += [line(key, value) for key, value in entry.items()]
    return "\n".join(lines) + "\n"


# --- side by side --------------------------------------------------------------------------------


class Comparison:
    def __init__(self):
        self.worst, self.most_mm, self.faults = {}, 0.0, []

    def near(self, what, wanted, got, limit, label):
        off = abs(wanted - got)
        self.worst[what] = max(self.worst.get(what, 0.0), off / limit)
        if not off <= limit:
            self.faults.append(f"{label}: SciPy {wanted!r}, twoturn {got!r}")

    def centres(self, oracle, document):
        for centre in document["centres"]:
            name = centre["pulley"]
            wanted = oracle.centres[name]
            off = numpy.linalg.norm(wanted - numpy.array(centre["at_mm"]))
            if centre["exact"] != (name in oracle.model.fast):
                self.faults.append(f"{name}: exact {centre['exact']}")
            if centre["exact"]:
                self.near("exact", 0.0, off, EXACT_MM, f"{name} off by")
                continue
            self.most_mm = max(self.most_mm, off)
            self.near("centre", 0.0, off, CENTRE_MM, f"{name} off by")
            longer, shorter, way = oracle.ellipses[name]
            seen = centre["ellipse"]
            for key, value in (("longer_mm", longer), ("shorter_mm", shorter)):
                limit = max(ELLIPSE * value, NOTHING_MM)
                self.near("ellipse", value, seen[key], limit, f"{name} {key} ({oracle.kind})")
            if longer > WAY_IF_LONGER_BY * shorter:
                apart = (way - seen["longer_way_deg"] + 90) % 180 - 90
                self.near("way", 0.0, apart, WAY_DEG, f"{name} longer way, apart by")

    def rows(self, oracle, document):
        if len(document["measured"]) != len(oracle.model.rows):
            self.faults.append(f"{len(document['measured'])} rows for {len(oracle.model.rows)}")
            return
        for row, misfit, seen in zip(oracle.model.rows, oracle.misfits, document["measured"]):
            kind, number, _, value, give = row
            label = f"{kind} {number or seen['from']}"
            if (kind, number or None) != (seen["kind"], seen["number"]):
                self.faults.append(f"{label}: is {seen['kind']} {seen['number']}")
                continue
            off = oracle.model.off(row, oracle.centres)
            if kind == "place":
                off = numpy.linalg.norm(off)
            else:
                found = oracle.model.found(row, oracle.centres)[0]
                apart = found - seen["found"]
                apart = half_turn(apart) if kind == "bearing" else apart
                self.near("found", 0.0, apart, OFF, f"{label} found, apart by")
                self.near("measured", value, seen["measured"], 1e-9, f"{label} measured")
            limit = 1e-6 * give  # a belt's comes from its rate at places that agree to 1e-6 mm
            self.near("give-or-take", give, seen["give_or_take"], limit, f"{label} give-or-take")
            self.near("off", off, seen["off"], OFF, f"{label} off")
            self.near("spare", misfit[0], seen["spare"], SPARE, f"{label} spare")
            if misfit[0] > LITTLE_SPARE:
                limit = STANDARDIZED * max(1.0, abs(misfit[1]))
                self.near("over", misfit[1], seen["standardized"], limit, f"{label} standardized")

    def document(self, oracle, document):
        if not document["placed"]:
            self.faults.append(f"not placed: {document['not_tied_down']}")
            return
        self.centres(oracle, document)
        self.rows(oracle, document)
        limit = CHI_SQUARE * max(1.0, oracle.chi_square)
        self.near("chi-square", oracle.chi_square, document["chi_square"], limit, "chi-square")
        limit = max(ELLIPSE * oracle.turn_deg, 1e-9)
        self.near("turn", oracle.turn_deg, document["turn_deg"], limit, "turn_deg")
        if document["spare"] != oracle.spare:
            self.faults.append(f"spare: SciPy {oracle.spare}, twoturn {document['spare']}")
        if (document["suspect"] is not None) != oracle.contradict:
            self.faults.append(f"suspect: SciPy {oracle.contradict}, twoturn {document['suspect']}")


def placed(command, path):
    ran = subprocess.run([command, "place", path, "--json"], capture_output=True, text=True)
    assert ran.returncode in (0, 1), ran.stderr + ran.stdout
    return json.loads(ran.stdout)


def hints_of(profile):
    """Of a demo: what it says of where its centres are about."""
    starts = {}
    for pulley in profile["pulley"]:
        at = pulley.get("near_mm", pulley.get("at_mm"))
        if at is not None:
            starts[pulley["name"]] = numpy.array(at, float)
    return starts


def thrown(source, kind):
    """(profile, oracle) of a drive of that kind that can be compared."""
    while True:
        thrower = Thrower(source)
        profile = thrower.profile(kind)
        if profile is None:
            continue
        oracle = Oracle(profile, thrower.centres)
        if oracle.kind == kind and not oracle.near_the_line:
            return profile, oracle


def main(command, drives=60):
    source = random.Random(20261201)
    comparison = Comparison()
    kinds = dict.fromkeys(["two fast", "one eye", "mixed", "belts", "contradict"], 0)
    with tempfile.TemporaryDirectory() as folder:
        cases = []
        for number in range(int(drives)):
            profile, oracle = thrown(source, ["two fast", "one eye", "mixed"][number % 3])
            path = Path(folder) / f"drive-{number}.toml"
            path.write_text(toml(profile, f"thrown {number}"), encoding="utf-8")
            cases.append((path, oracle))
        for path in sorted(PROFILES.glob("*.toml")):
            profile = tomllib.loads(path.read_text(encoding="utf-8"))
            if "measured" in profile:
                cases.append((path, Oracle(profile, hints_of(profile))))
        assert len(cases) > int(drives), "no profile with [[measured]] in profiles/"
        for path, oracle in cases:
            kinds[oracle.kind] += 1
            kinds["belts"] += oracle.belts
            kinds["contradict"] += oracle.contradict
            comparison.document(oracle, placed(command, str(path)))
            if comparison.faults:
                print(f"{path.name} ({oracle.kind}):", *comparison.faults, sep="\n  ")
                print(path.read_text(encoding="utf-8"))
                return 1
    print(f"{len(cases)} drives agree:", ", ".join(f"{kinds[kind]} {kind}" for kind in kinds))
    print(f"worst centre {comparison.most_mm:.1e} mm; in shares of what is allowed:")
    print(", ".join(f"{what} {share:.2g}" for what, share in comparison.worst.items()))
    if int(drives) >= 40 and min(kinds.values()) == 0:
        print("some kind of drive was never thrown")
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
