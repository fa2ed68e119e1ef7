"""Rolls balls by SciPy's DOP853 at rtol = atol = 1e-10. Cases as JSON on stdin, states on stdout.

The motion is written here for itself: gravity 5/7 along the ground, the path's curvature in the normal
force, resistance a0/g times the normal force against the velocity.
"""
import json
import math
import sys
import time

import numpy
import scipy
from scipy.integrate import solve_ivp

G = 9.80665


def quadric(p):
    def jet(x, y):
        u, v = x - p["x0"], y - p["y0"]
        return p["kx"] * u, p["ky"] * v, p["kx"], 0.0, p["ky"]

    return jet


def tier(p):
    def jet(x, y):
        t = math.tanh((y - p["y0"]) / p["width"])
        s = 1 - t * t
        hy = p["rise"] / 2 * s / p["width"] + p["tilt"]
        return 0.0, hy, 0.0, 0.0, -p["rise"] * t * s / p["width"] ** 2

    return jet


def nodes(p):
    """Bicubic Hermite cells from h, hx, hy, hxy at the nodes."""
    table = numpy.array(p["nodes"]).reshape(p["rows"], p["columns"], 4)
    step = p["step"]

    def weights(t):
        return (
            (1 - 3 * t**2 + 2 * t**3, t - 2 * t**2 + t**3, 3 * t**2 - 2 * t**3, t**3 - t**2),
            (-6 * t + 6 * t**2, 1 - 4 * t + 3 * t**2, 6 * t - 6 * t**2, 3 * t**2 - 2 * t),
            (-6 + 12 * t, -4 + 6 * t, 6 - 12 * t, 6 * t - 2),
        )

    def jet(x, y):
        c = min(max(int((x - p["x0"]) // step), 0), p["columns"] - 2)
        r = min(max(int((y - p["y0"]) // step), 0), p["rows"] - 2)
        wx = weights((x - p["x0"]) / step - c)
        wy = weights((y - p["y0"]) / step - r)

        def derivative(i, j):
            total = 0.0
            for b in range(2):
                for a in range(2):
                    h, hx, hy, hxy = table[r + b, c + a]
                    u, du = wx[i][2 * a], wx[i][2 * a + 1] * step
                    v, dv = wy[j][2 * b], wy[j][2 * b + 1] * step
                    total += u * v * h + du * v * hx + u * dv * hy + du * dv * hxy
            return total / step ** (i + j)

        return tuple(derivative(i, j) for i, j in ((1, 0), (0, 1), (2, 0), (1, 1), (0, 2)))

    return jet


GROUNDS = {"quadric": quadric, "tier": tier, "nodes": nodes}


def roll(case):
    ground = dict(case["ground"])
    jet = GROUNDS[ground.pop("kind")](ground)
    a0 = case["deceleration"]

    def motion(_t, s):
        x, y, vx, vy = s
        qx, qy, hxx, hxy, hyy = jet(x, y)
        root = math.sqrt(1 + qx * qx + qy * qy)
        normal = numpy.array([-qx, -qy, 1]) / root
        velocity = numpy.array([vx, vy, qx * vx + qy * vy])
        curving = (vx * vx * hxx + 2 * vx * vy * hxy + vy * vy * hyy) / root
        force = max(0.0, G * normal[2] + curving)
        weight = numpy.array([0, 0, -G])
        along = weight - (weight @ normal) * normal
        a = 5 / 7 * along + curving * normal - a0 / G * force * velocity / numpy.linalg.norm(velocity)
        return [vx, vy, a[0], a[1]]

    if "rim" in case:
        # As far as the rim of the hole, or to where the ball has all but stopped.
        hx, hy = case["hole"]

        def at_rim(_t, s):
            return math.hypot(s[0] - hx, s[1] - hy) - case["rim"]

        def standing(_t, s):
            return math.hypot(s[2], s[3]) - 2e-3

        at_rim.terminal = standing.terminal = True
        at_rim.direction = standing.direction = -1
        found = solve_ivp(
            motion,
            (0, 30),
            case["start"],
            method="DOP853",
            events=(at_rim, standing),
            # An event is seen between two steps: none may pass over the hole.
            max_step=0.02,
            rtol=1e-10,
            atol=1e-10,
        )
        return [list(found.y.T[-1])]

    times = case["times"]
    found = solve_ivp(
        motion, (0, times[-1]), case["start"], method="DOP853", t_eval=times, rtol=1e-10, atol=1e-10
    )
    return [list(state) for state in found.y.T]


cases = json.load(sys.stdin)
began = time.process_time()
states = [roll(case) for case in cases]
seconds = time.process_time() - began
json.dump(
    {"version": f"SciPy {scipy.__version__}", "states": states, "seconds": seconds}, sys.stdout
)
