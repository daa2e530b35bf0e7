"""Small circuits: crank, inrush, melting fuses, a module that hiccups, resets during a crank. Writes small.yaml (see README.md)."""

import numpy as np
import scipy
from scipy.integrate import solve_ivp

from parts import *

TIGHT = dict(method="Radau", rtol=1e-12)
MODULE_LEADS = 0.2  # ohms from the posts to the module
CRANK_CABLES = 3e-3  # ohms from post to starter and back, contact included
LAMP_LEADS = 0.05


def post(amps_of_starter, relaxed, siemens, offered):
    """Volts at the posts: battery, starter and branches of siemens that would give offered amps into a short."""
    g = 1 / BATTERY_OHMS
    return ((BATTERY_VOLTS - sum(relaxed)) * g - amps_of_starter + sum(offered)) / (g + sum(siemens))


class Crank:
    """Battery, starter closed at 20 ms, a lamp on all the time, perhaps a module that locks out below some volts."""

    lamp = Lamp(12, 55)
    atol = [1e-14, 1e-14, 1e-10, 1e-12, 1e-12, 1e-9]
    start = [0, 0, 0, 0, 0, 300.0]
    closes = 0.02

    def __init__(self, watts=0.0):
        self.watts, self.on, self.closed = watts, False, False

    def volts(self, x):
        lamp_siemens = 1 / (LAMP_LEADS + self.lamp.ohms(x[5]))
        siemens, offered = [lamp_siemens], []
        if len(x) > 6:
            g = 1 / (MODULE_LEADS + MODULE_OHMS)
            siemens.append(g), offered.append(g * x[6])
        return post(x[2], x[:2], siemens, offered)

    def rates(self, t, x):
        volts = self.volts(x)
        amps = (BATTERY_VOLTS - x[0] - x[1] - volts) / BATTERY_OHMS
        motor = starter(volts - CRANK_CABLES * x[2], *x[2:5]) if self.closed else [0, 0, 0]
        of_lamp = volts / (LAMP_LEADS + self.lamp.ohms(x[5]))
        rates = battery(amps, x[:2]) + motor + [self.lamp.rate(of_lamp * self.lamp.ohms(x[5]), x[5])]
        if len(x) > 6:
            drawn = ASLEEP_SIEMENS * x[6] + (self.watts / x[6] if self.on else 0)
            rates.append(((volts - x[6]) / (MODULE_LEADS + MODULE_OHMS) - drawn) / MODULE_FARADS)
        return rates


def crank():
    c, times = Crank(), [0.03, 0.1, 0.3, 0.8, 1.5]
    first = solve_ivp(c.rates, (0, c.closes), c.start, atol=c.atol, **TIGHT)
    c.closed = True
    then = solve_ivp(c.rates, (c.closes, times[-1]), first.y[:, -1], atol=c.atol, t_eval=times, **TIGHT)
    rows = []
    for t, x in zip(then.t, then.y.T):
        rows.append([t, x[2], x[3], x[4], x[5], c.volts(x)])
    return rows


def inrush():
    """12 V, 30 mohm, 5 uH, a cold 55 W lamp: amps and kelvin at some times, and the peak."""
    lamp, times = Lamp(12, 55), [2e-6, 2e-5, 1e-4, 1e-3, 1e-2, 5e-2, 0.2]

    def rates(_, x):
        ohms = lamp.ohms(x[1])
        return [(12 - 0.03 * x[0] - ohms * x[0]) / 5e-6, lamp.rate(ohms * x[0], x[1])]

    def peak(t, x):
        return rates(t, x)[0]

    run = solve_ivp(rates, (0, times[-1]), [0, 300.0], atol=[1e-12, 1e-10], t_eval=times, events=peak, **TIGHT)
    rows = [[t, *x] for t, x in zip(run.t, run.y.T)]
    return rows, [run.t_events[0][0], run.y_events[0][0][0]]


MELTS_AT, LATENT = 399.5, 112 / 0.388  # kelvin


def melting(fuse, amps):
    """Seconds to melt through, fed from 1000 V through as many ohms as let the amps flow into a short; and the seconds at which melting begins."""

    def current(neck, body):
        return 1000 / (1000 / amps + fuse.ohms(neck, body))

    def warming(_, x):
        neck, body = fuse.heats(current(*x), *x)
        return [neck / fuse.neck_heat, body / fuse.body_heat]

    def soft(_, x):
        return x[0] - MELTS_AT

    soft.terminal = True
    warm = solve_ivp(warming, (0, 1e4), [0, 0], atol=1e-10, events=soft, **TIGHT)

    def going(_, x):
        neck, body = fuse.heats(current(MELTS_AT, x[0]), MELTS_AT, x[0])
        return [body / fuse.body_heat, neck / (LATENT * fuse.neck_heat)]

    def through(_, x):
        return x[1] - 1

    through.terminal = True
    start = [warm.y_events[0][0][1], 0]
    gone = solve_ivp(going, (warm.t[-1], 1e4), start, atol=[1e-10, 1e-14], events=through, **TIGHT)
    return gone.t[-1], warm.t[-1]


def hiccup(ohms, cycles=4):
    """Seconds of one cycle of a 30 W module behind so many ohms from 12 V: off below 6 V, on again at 7.5 V."""
    total = ohms + MODULE_OHMS
    volts, t, turns = 6.0, 0.0, []
    for _ in range(cycles):
        for drawn, until in ((lambda u: ASLEEP_SIEMENS * u, 7.5), (lambda u: 30 / u + ASLEEP_SIEMENS * u, 6.0)):
            def rate(_, x, drawn=drawn):
                return [((12 - x[0]) / total - drawn(x[0])) / MODULE_FARADS]

            def reached(_, x, until=until):
                return x[0] - until

            reached.terminal, reached.direction = True, 1 if until > volts else -1
            run = solve_ivp(rate, (t, t + 10), [volts], atol=1e-13, events=reached, **TIGHT)
            t, volts = run.t[-1], until
        turns.append(t)
    return turns[-1] - turns[-2]


RESET_WATTS, HYSTERESIS, RESET_SECONDS = 2.0, 0.25, 3.0


def dips():
    """Lowest volts inside the module at each dip of the ripple, when it never locks out."""
    c = Crank(RESET_WATTS)
    c.on, atol = True, c.atol + [1e-13]
    first = solve_ivp(c.rates, (0, c.closes), c.start + [12.5], atol=atol, **TIGHT)
    c.closed = True

    def turns(t, x):
        return c.rates(t, x)[6]

    turns.direction = 1
    run = solve_ivp(c.rates, (c.closes, RESET_SECONDS), first.y[:, -1], atol=atol, events=turns, **TIGHT)
    return [x[6] for x in run.y_events[0]]


def resets(lock_out, longest=2e-3):
    """Times at which the module locks out below lock_out volts, and is back at HYSTERESIS above."""
    c = Crank(RESET_WATTS)
    c.on, atol = True, [1e-12, 1e-12, 1e-8, 1e-10, 1e-10, 1e-7, 1e-11]

    def low(_, x):
        return x[6] - lock_out

    def high(_, x):
        return x[6] - lock_out - HYSTERESIS

    low.terminal, low.direction, high.terminal, high.direction = True, -1, True, 1
    x, t, times, changes = c.start + [12.5], 0.0, [], 0
    while t < RESET_SECONDS:
        until = c.closes if t < c.closes else RESET_SECONDS
        run = solve_ivp(c.rates, (t, until), x, atol=atol, method="Radau", rtol=1e-9, max_step=longest, events=low if c.on else high)
        t, x = run.t[-1], run.y[:, -1]
        if run.status == 1:
            if c.on:
                times.append(t)
            c.on = not c.on
        elif t == c.closes:
            c.closed = True
    return times


def numbers(row):
    return "[" + ", ".join("%.15g" % x for x in row) + "]"


def main():
    with open("small.yaml", "w") as out:
        def say(*words):
            print(*words, file=out)

        say("# Written by small.py with SciPy %s, NumPy %s: solve_ivp, Radau, rtol 1e-12 (resets 1e-9). Equations in README.md." % (scipy.__version__, np.__version__))
        say("crank: # seconds, amps of the starter, rad/s, rad, kelvin of the lamp, volts at the posts")
        for row in crank():
            say("  - " + numbers(row))
        say("inrush: # seconds, amps, kelvin")
        rows, peak = inrush()
        for row in rows:
            say("  - " + numbers(row))
        say("inrush_peak: " + numbers(peak) + " # seconds, amps")
        say("melts: # fuse, multiple of its rating, seconds until melted through, seconds until it begins to melt")
        for name, (amps, fuse) in FUSES.items():
            for multiple in (1.35, 1.6, 2, 3.5, 6):
                say("  - {fuse: %s, multiple: %g, seconds: %s}" % (name, multiple, numbers(melting(fuse, amps * multiple))))
        say("hiccups: # ohms before the module, seconds of a cycle")
        for ohms in (1.21, 1.5, 3, 300):
            say("  - " + numbers([ohms, hiccup(ohms)]))
        lows = dips()
        lowest = min(lows[1:])  # the first is the inrush
        say("ripple_minimum: %.15g # volts inside the module" % lowest)
        say("resets: # volts of the lock-out above the ripple minimum, number of lock-outs, seconds of the last")
        for above in (0.1, 0.03, 0.01, 0.003, 0.001):
            times = resets(lowest + above)
            if len(resets(lowest + above, longest=1e-3)) != len(times):
                raise SystemExit("the count depends on the step")
            say("  - " + numbers([above, len(times), times[-1]]))


if __name__ == "__main__":
    main()
