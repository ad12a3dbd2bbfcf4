# SPDX-License-Identifier: Apache-2.0
"""The motor's equations written apart from the program, for SciPy's solvers: docs/motor.md is their
only source."""
import numpy
from scipy.integrate import solve_ivp
from scipy.interpolate import PchipInterpolator

TURN = 2 * numpy.pi
GRAVITY = 9.80665


def spring_torque(spring):
    """Torque over turns from the strip lying on the wall, and the turns when wound up."""
    h, length = spring["strip_thickness_m"], spring["strip_length_m"]
    stiffness = spring["modulus_pa"] * spring["strip_width_m"] * h**3 / 12
    places = 40000
    s = (numpy.arange(places) + 0.5) * length / places
    arbor = 1 / numpy.sqrt((spring["arbor_radius_m"] + h / 2)**2 + s * h / numpy.pi)
    wall = 1 / numpy.sqrt((spring["barrel_radius_m"] - h / 2)**2 - (length - s) * h / numpy.pi)
    natural = numpy.maximum(0, arbor - 2 * spring["stress_limit_pa"] / (spring["modulus_pa"] * h))
    bends = numpy.linspace(0, (arbor - natural).max(), 1200)
    turns = numpy.array([(numpy.clip(natural + m, wall, arbor) - wall).mean() * length / TURN
                         for m in bends])
    keep = numpy.concatenate([[True], numpy.diff(turns) > 1e-12])
    return PchipInterpolator(turns[keep], bends[keep] * stiffness), turns[-1]


def load_of_turn(box, actions, combs, projections, turn_time):
    """Corners of the torque on the disc over one turn, and that torque after each of them."""
    ramps = []
    for p in projections:
        action = actions[p["track"]]
        end = TURN * p["time_s"] / turn_time
        drive = action["release_arc_m"] / action["radius_m"]
        lifted = drive - action["teeth"][0]["meet_arc_m"] / action["radius_m"]
        work = action["work_j"] - action["brake_j"]
        ramps.append((end - lifted, end, 0.0, 2 * work / lifted**2))
        ramps.append((end - drive, end, action["brake_j"] / drive, 0.0))
    ramps = numpy.array(ramps)
    assert (ramps[:, 0] > 0).all() and (ramps[:, 1] < TURN).all()
    corners = numpy.unique(numpy.concatenate([[0.0, TURN], ramps[:, 0], ramps[:, 1]]))

    def line_after(corner):
        """Torque and its slope on the stretch that begins there."""
        on = ramps[(ramps[:, 0] <= corner) & (ramps[:, 1] > corner)]
        return (on[:, 2] + on[:, 3] * (corner - on[:, 0])).sum(), on[:, 3].sum()
    return corners, [line_after(corner) for corner in corners[:-1]]


class Machine:
    def __init__(self, box, actions, combs, projections, turn_time):
        spring, train, governor = box["spring"], box["train"], box["governor"]
        self.torque, wound = spring_torque(spring)
        self.full = wound - spring["turns_left_full"]
        self.gear = spring["turns_per_disc_turn"]
        self.left = 1 - spring["coil_friction"]
        self.ratio = self.gear * numpy.prod(
            numpy.array(train["wheel_teeth"]) / numpy.array(train["pinion_teeth"]))
        self.e_disc = train["disc_mesh_efficiency"]
        meshes = len(train["wheel_teeth"])
        self.e_train = train["mesh_efficiency"]**meshes
        self.back_disc = 2 - 1 / self.e_disc
        self.back_train = (2 - 1 / train["mesh_efficiency"])**meshes
        n, m = governor["weight_count"], governor["weight_mass_kg"]
        radius, pad = governor["weight_radius_m"], governor["pad_radius_m"]
        self.press = governor["pad_friction"] * pad * n
        self.fly = m * radius
        self.preload = governor["weight_preload_n"]
        self.i_governor = n * m * radius**2 * self.ratio**2
        disc = box["disc"]
        mass = 7850 * numpy.pi / 4 * disc["diameter_m"]**2 * disc["thickness_m"]
        self.i_disc = mass * disc["diameter_m"]**2 / 8
        rubbing = box["friction"]
        self.steady = (rubbing["spindle"] * mass * GRAVITY * disc["centre_hole_diameter_m"] / 2 +
                       rubbing["roller"] * rubbing["roller_force_n"] *
                       sum(box["hold_down"]["roller_radius_m"]))
        self.corners, self.lines = load_of_turn(box, actions, combs, projections, turn_time)

    def acceleration(self, travel, speed, load):
        drive = self.gear * self.left * float(
            self.torque(self.full - self.gear * travel / TURN))
        w = speed * self.ratio
        brake = self.ratio * self.press * max(0.0, self.fly * w * w - self.preload)
        load += self.steady
        for disc in (1 / self.e_disc, self.back_disc):
            for train in (1 / self.e_train, self.back_train):
                a = ((drive - load * disc - brake * train) /
                     (self.i_disc * disc + self.i_governor * train))
                if ((load + self.i_disc * a >= 0) == (disc >= 1) and
                        (brake + self.i_governor * a >= 0) == (train >= 1)):
                    return a
        raise AssertionError("no way of driving agrees with itself")

    def turn_times(self, turns):
        """Times of the first turns: from rest in time up to the first corner, then over the way."""
        accuracy = {"rtol": 1e-10, "atol": 1e-13, "method": "LSODA"}
        time, speed, ends = 0.0, 0.0, []
        for turn in range(turns):
            base = turn * TURN
            for begin, end, (load, rise) in zip(self.corners, self.corners[1:], self.lines):
                at = begin
                if speed == 0.0:
                    at = begin + 0.01 * min(end - begin, 1.0)
                    def reached(_, state):
                        return state[0] - at
                    reached.terminal = True
                    made = solve_ivp(
                        lambda _, s: [s[1], self.acceleration(s[0], s[1], load + rise * s[0])],
                        (0, 60), [0.0, 0.0], events=reached, rtol=1e-11, atol=1e-14)
                    time, speed = made.t[-1], made.y[1][-1]
                made = solve_ivp(
                    lambda x, s: [1 / s[1], self.acceleration(base + x, s[1],
                                                              load + rise * (x - begin)) / s[1]],
                    (at, end), [0.0, speed], max_step=0.05, **accuracy)
                assert made.success, made.message
                time += made.y[0][-1]
                speed = made.y[1][-1]
            ends.append(time)
        return numpy.diff([0.0, *ends])
