"""Strips that melt and contacts that creep, integrated by SciPy's Radau from the equations, and written to heat.csv.

It shares nothing with the program but the equations, which stand in the comments of solver/element/strip.go and joint.go,
and the parameters below, which solver/element/heat_test.go repeats. Run: python3 heat.py (NumPy, SciPy; seconds).
Each row: case, seconds, name of a quantity, value. The name "event" gives the instant at which something happened.
"""
import csv
import os
import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

TIGHT = dict(method="Radau", rtol=1e-11, atol=1e-12)
ROWS = []


def put(case, seconds, name, value):
    ROWS.append((case, repr(float(seconds)), name, repr(float(value))))


def run(f, t0, t1, y, events=()):
    """Integrates to the first event or to the end; returns the time, the state and which event it was."""
    for e in events:
        e.terminal, e.direction = True, 1
    s = solve_ivp(f, (t0, t1), y, events=list(events) or None, max_step=(t1 - t0) / 20, **TIGHT)
    assert s.success, s.message
    for k, hits in enumerate(s.t_events or []):
        if len(hits):
            return s.t[-1], s.y[:, -1], k
    return s.t[-1], s.y[:, -1], None


# A strip of 10 milliohm, its neck a tenth of that; 20 degC around. In series: volts(t) and ohms(t), constant in pieces.
STRIP = dict(n=1e-3, b=9e-3, al=0.0042, c1=2e-4, c2=0.15, k=2e-3, g=0.012, melt=692.65, lat=289.0, air=293.15)


def strip(case, pieces, heat=0.0, looks=()):
    p = STRIP
    y, t, mode = np.array([p["air"], p["air"], 0.0]), 0.0, "solid"

    def amps(y, volts, ohms):
        return volts / (ohms + p["n"] * (1 + p["al"] * (y[0] - 293.15)) + p["b"] * (1 + p["al"] * (y[1] - 293.15)))

    for until, volts, ohms in pieces:
        stops = sorted([s for s in looks if t < s < until] + [until])
        while t < stops[-1]:
            stop = next(s for s in stops if s > t)

            def f(t, y):
                i2 = amps(y, volts, ohms) ** 2
                neck = i2 * p["n"] * (1 + p["al"] * (y[0] - 293.15)) - p["k"] * (y[0] - y[1])
                body = (i2 * (p["b"] * (1 + p["al"] * (y[1] - 293.15)) + heat) + p["k"] * (y[0] - y[1]) - p["g"] * (y[1] - p["air"])) / p["c2"]
                if mode == "solid":
                    return [neck / p["c1"], body, 0]
                return [0, body, neck / p["c1"] / p["lat"]]
            if mode == "solid":
                t, y, e = run(f, t, stop, y, [lambda t, y: y[0] - p["melt"]])
                if e is not None:
                    put(case, t, "event", 0)
                    mode, y[0], y[2] = "melting", p["melt"], 0
            else:
                t, y, e = run(f, t, stop, y, [lambda t, y: -y[2], lambda t, y: y[2] - 1])
                if e is not None:
                    put(case, t, "event", 1 + e)
                    if e == 1:
                        return
                    # A hair below, or its own event would hold it there.
                    mode, y[2], y[0] = "solid", 0, p["melt"] - 1e-7
            if e is None:
                for name, value in zip(("neck", "body", "melted"), y):
                    put(case, t, name, value)
                put(case, t, "amps", amps(y, volts, ohms))


# A contact of tin in a small body. Film only at first, or metal.
L, TIN, SOFT, MELT, AL = 2.44e-8, 505.0, 0.07, 0.13, 0.0045


def ramp(x, w=0.010):
    return 0.0 if x <= 0 else x * x / (2 * w) if x < w else x - w / 2


def corner(x, w=2.0):
    return 0.0 if x <= -w else x if x >= w else (x + w) ** 2 / (4 * w)


def spot(t0, v):
    top = TIN + corner(t0 - TIN)
    free = np.sqrt(t0 * t0 + v * v / 4 / L)
    return free - corner(free - top)


def joint(case, volts, ohms, metal, film, until, looks, fret=0.0, growth=0.0, c=2.0, g=0.02, air=293.15, breakdown=0.5):
    """metal: siemens or None; film: ohms."""
    touches = metal is not None
    y, t = np.array([air, np.log(metal) if touches else 0.0, np.log(film)]), 0.0

    def through(v, y):
        d = 1 + 2 / 3 * AL * ((y[0] + spot(y[0], v)) / 2 - 293.15)
        return v * ((np.exp(y[1]) / d if touches else 0.0) + np.exp(-y[2]))

    def across(y):
        return brentq(lambda v: (volts - v) / ohms - through(v, y), 0, volts, xtol=1e-16, rtol=1e-15)

    def f(t, y):
        v = across(y)
        spots = ramp(v - SOFT) / SOFT / 10 + ramp(v - MELT) / MELT / 1e-3 - fret if touches else 0.0
        return [(v * through(v, y) - g * (y[0] - air)) / c, spots, growth * 2 ** ((y[0] - 293.15) / 30)]
    if not touches and across(y) >= breakdown:
        v = across(y)
        put(case, 0, "event", 1)
        y[1] = np.log(v / MELT) - y[2]
        touches = True
    for stop in looks:
        while t < stop:
            events = [] if touches else [lambda t, y: across(y) - breakdown]
            t, y, e = run(f, t, stop, y, events)
            if e is not None:
                put(case, t, "event", 1)
                y[1] = np.log(across(y) / MELT) - y[2]
                touches = True
        put(case, t, "volts", across(y))
        put(case, t, "body", y[0])
        put(case, t, "lnmetal", y[1])
        put(case, t, "lnfilm", y[2])


def main():
    strip("strip at 12 V and 0.2 ohm", [(5, 12, 0.2)], looks=(0.05, 0.2))
    strip("strip warms and cools", [(20, 12, 1.0), (40, 12, 2.0), (60, 12, 0.75)], looks=(1, 5, 20, 25, 40))
    strip("strip melts in part and freezes", [(0.09, 12, 0.40), (4, 12, 2.0), (90, 12, 0.42)], looks=(0.08, 0.09, 0.1, 4))
    strip("strip beside a hot slot", [(600, 12, 0.9)], heat=0.020, looks=(1, 5))
    joint("film breaks down", 12.6, 20, None, 20, 100, (0.0005, 0.02, 1, 100))
    joint("film grows until it breaks down", 12.6, 200, None, 5, 6000, (600, 1200, 6000), growth=2e-4)
    joint("metal creeps", 12.6, 0.5, 1 / 0.008, 1e3, 600, (0.1, 1, 10, 600))
    joint("metal is fretted", 12.6, 12, 1 / 0.01, 50, 4000, (100, 1000, 4000), fret=2e-3, growth=1e-4)
    here = os.path.dirname(os.path.abspath(__file__))
    with open(os.path.join(here, "heat.csv"), "w", newline="") as out:
        w = csv.writer(out, lineterminator="\n")
        w.writerow(["case", "seconds", "name", "value"])
        w.writerows(ROWS)


if __name__ == "__main__":
    main()
