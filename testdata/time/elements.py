"""Single elements in small circuits: lamp, diode, motor, battery, generator. Writes elements.yaml (see README.md)."""

import numpy as np
import scipy
from scipy.constants import sigma
from scipy.integrate import solve_ivp
from scipy.interpolate import CubicHermiteSpline, PchipInterpolator
from scipy.optimize import brentq
from scipy.special import lambertw

TIGHT = dict(method="Radau", rtol=1e-10)
THERMAL_VOLTS = 0.0258649

# Resistivity of tungsten, 1e-8 ohm m.
TUNGSTEN = np.array([
    (300, 5.65), (400, 8.06), (500, 10.56), (600, 13.23), (700, 16.09), (800, 19.00), (900, 21.94), (1000, 24.93),
    (1100, 27.94), (1200, 30.98), (1400, 37.19), (1500, 40.36), (1600, 43.55), (1800, 50.05), (2000, 56.67), (2200, 63.48),
    (2400, 70.39), (2500, 73.91), (2600, 77.49), (2800, 84.70), (3000, 92.04), (3200, 99.54), (3400, 107.2), (3500, 111.10)])


def resistivity_curve():
    """Cubics between the rows; the slope at a row is that of the parabola through it and its neighbours."""
    t, r = TUNGSTEN.T
    slopes = np.zeros(len(t))
    for i in range(1, len(t) - 1):
        slopes[i] = np.polyval(np.polyder(np.polyfit(t[i - 1:i + 2] - t[i], r[i - 1:i + 2], 2)), 0)
    slopes[0] = 2 * (r[1] - r[0]) / (t[1] - t[0]) - slopes[1]
    slopes[-1] = 2 * (r[-1] - r[-2]) / (t[-1] - t[-2]) - slopes[-2]
    return CubicHermiteSpline(t, r, slopes)


RESISTIVITY = resistivity_curve()


class Lamp:
    def __init__(self, volts, watts, hot):
        self.per = volts**2 / watts / RESISTIVITY(hot)
        self.radiation = 0.95 * watts / (hot**4 - 300**4)
        self.gas = 0.05 * watts / (hot - 300)
        surface = 0.95 * watts / (0.25 * sigma * hot**4)
        slim = volts**2 / watts * np.pi / (4 * RESISTIVITY(hot) * 1e-8)
        # pi d l = surface, l = slim d^2
        d = (surface / (np.pi * slim)) ** (1 / 3)
        self.capacity = np.pi / 4 * d**2 * slim * d**2 * 19250 * 160

    def rate(self, amps_from, kelvin):
        amps = amps_from(self.per * RESISTIVITY(kelvin))
        ohms = self.per * RESISTIVITY(kelvin)
        loss = self.radiation * (kelvin**4 - 300**4) + self.gas * (kelvin - 300)
        return (amps**2 * ohms - loss) / self.capacity, amps


def spells(rates, start, atol, plan, look):
    """Integrates through spells (until, argument, times) and looks at each time."""
    rows, at, x = [], 0.0, np.array(start, float)
    for until, argument, times in plan:
        run = solve_ivp(rates, (at, until), x, atol=atol, t_eval=sorted(set(times) | {until}), args=(argument,), **TIGHT)
        assert run.success, run.message
        for t, y in zip(run.t, run.y.T):
            if t in times:
                rows.append([float(t)] + [float(v) for v in look(y, argument)])
        at, x = until, run.y[:, -1]
    return rows


def lamp(volts, watts, hot):
    """Rated volts through 30 mohm, then half of them from 0.5 s; amps, kelvin."""
    l = Lamp(volts, watts, hot)
    through = lambda u: lambda ohms: u / (ohms + 0.03)
    return spells(lambda t, x, u: [l.rate(through(u), x[0])[0]], [300], 1e-8,
                  [(0.5, volts, [1e-3, 1e-2, 0.05, 0.2, 0.5]), (1.5, volts / 2, [0.52, 0.6, 0.8, 1.5])],
                  lambda x, u: [l.rate(through(u), x[0])[1], x[0]])


SATURATION, SLOPE_VOLTS = 1e-9, 1.8 * THERMAL_VOLTS


def diode_amps(volts, ohms):
    """Junction with ohms in series: by the W function."""
    z = SATURATION * ohms / SLOPE_VOLTS * np.exp((volts + SATURATION * ohms) / SLOPE_VOLTS)
    return SLOPE_VOLTS / ohms * lambertw(z).real - SATURATION


def rectifier():
    """12 V, 1 ohm, the junction with 10 mohm, 1 mF with 100 ohm across; 0 V from 50 ms; volts of the capacitor, amps."""
    amps = lambda x, u: diode_amps(u - x[0], 1.01)
    return spells(lambda t, x, u: [(amps(x, u) - x[0] / 100) / 1e-3], [0], 1e-13,
                  [(0.05, 12, [1e-4, 1e-3, 3e-3, 0.01, 0.05]), (0.3, 0, [0.06, 0.1, 0.3])], lambda x, u: [x[0], amps(x, u)])


def flywheel():
    """12.6 V through 1 ohm to a coil of 0.3 H and 85 ohm with the junction across; 10 kohm from 20 ms; amps, volts."""
    def volts(x, ohms):
        over = lambda v: (12.6 - v) / ohms + float(diode_amps(-v, 0.01)) - x[0]
        return brentq(over, -3, 12.6, xtol=1e-15, rtol=1e-15)
    return spells(lambda t, x, ohms: [(volts(x, ohms) - 85 * x[0]) / 0.3], [0], 1e-14,
                  [(0.02, 1.0, [1e-4, 1e-3, 5e-3, 0.0199]), (0.06, 1e4, [0.021, 0.025, 0.027, 0.04, 0.06])],
                  lambda x, ohms: [x[0], volts(x, ohms)])


def motor(volts, amps, stall, friction):
    """Rated volts and half a volt through 20 mohm, half of that from 1 s; amps, rad/s."""
    speed = 2 * np.pi * 2500 / 60
    ohms = volts / stall
    k = (volts - amps * ohms) / speed
    henries, inertia = ohms * 1e-3, 0.15 * k**2 / ohms

    def rates(t, x, u):
        load = k * amps * (friction * np.tanh(x[1] / (1e-4 * speed)) + (1 - friction) * x[1] * abs(x[1]) / speed**2)
        return [(u - (0.02 + ohms) * x[0] - k * x[1]) / henries, (k * x[0] - load) / inertia]

    u = volts + 0.5
    return spells(rates, [0, 0], [1e-12, 1e-12], [(1, u, [1e-3, 5e-3, 0.03, 0.1, 0.3, 1]), (2, u / 2, [1.01, 1.1, 1.3, 2])], lambda x, u: x)


def starter():
    """12 V through 8 mohm to the starter of README.md; amps, rad/s, rad."""
    def rates(t, x, u):
        grip = np.tanh(x[1] / 0.5)
        load = (60 + 35 * np.sin(2 * x[2])) * grip + 0.9 * x[1]
        return [(u - 0.020 * x[0] - 0.355 * x[1]) / 60e-6, (0.355 * x[0] - load) / 0.3, x[1]]

    return spells(rates, [0, 0, 0], 1e-12, [(1, 12, [1e-3, 0.01, 0.05, 0.2, 0.5, 1])], lambda x, u: x)


def open_volts():
    """PCHIP, with straight ends and straight beyond them."""
    x = np.array([-0.01, -0.005, 0, 0.25, 0.5, 0.75, 1, 1.1])
    y = np.array([6, 10.5, 11.89, 12.06, 12.24, 12.45, 12.65, 12.8])
    slopes = PchipInterpolator(x, y).derivative()(x)
    slopes[0], slopes[-1] = (y[1] - y[0]) / (x[1] - x[0]), (y[-1] - y[-2]) / (x[-1] - x[-2])
    inside = CubicHermiteSpline(x, y, slopes)
    return lambda share: inside(np.clip(share, x[0], x[-1])) + slopes[0] * min(share - x[0], 0) + slopes[-1] * max(share - x[-1], 0)


OPEN = open_volts()


def positive(x, width):
    return np.where(x <= 0, 0, np.where(x < width, x * x / (2 * width), x - width / 2))


class Battery:
    """12 V; ohms shared 55 : 15 : 30 between what is at once, after 0.45 s and after 60 s; ampere hours; with wells, 40
    percent of its charge is at hand, and what is held back comes at 1.3 an hour, halved in 10 K of cooling."""

    def __init__(self, ohms, hours, charging, step, fast=True, surface=True, wells=False, warms=0.0, cools=0.0, kelvin=298.15):
        self.ohms, self.hours, self.charging, self.step = 0.55 * ohms, hours, charging, step
        self.lags = [(0.15 * ohms, 0.45 / (0.15 * ohms)), (0.30 * ohms, 60 / (0.30 * ohms))][0 if fast else 1:]
        self.surface, self.wells, self.warms, self.cools, self.kelvin = surface, wells, warms, cools, kelvin

    def split(self, x):
        n = len(self.lags)
        surface = x[1 + n] if self.surface else 0.0
        kelvin = x[-1] if self.warms else self.kelvin
        return (x[0] - self.held(x)) / self.hours, x[1:1 + n], surface, kelvin

    def held(self, x):
        return x[-2 if self.warms else -1] if self.wells else 0.0

    def emf(self, x):
        share, lags, surface, kelvin = self.split(x)
        return OPEN(share) + 0.0012 * (kelvin - 299.85) + surface + sum(lags)

    def amps(self, volts, x):
        share, _, _, kelvin = self.split(x)
        cold = 2 ** ((298.15 - kelvin) / 43)
        give = self.ohms * cold * (1 + 1.5 * max(0, 1 - share) ** 2)
        take = self.charging * cold * (1 + 40 * np.exp((share - 1) / 0.05))
        u = volts - self.emf(x)
        return positive(u - self.step, 0.0005) / take - (positive(0.0005 - u, 0.0005) - 0.00025) / give

    def volts(self, source, ohms, x):
        return brentq(lambda v: (source - v) / ohms - float(self.amps(v, x)), -1, 30, xtol=1e-15, rtol=1e-15)

    def rates(self, t, x, feed):
        share, lags, surface, kelvin = self.split(x)
        v = self.volts(*feed, x)
        amps = float(self.amps(v, x))
        cold = 2 ** ((298.15 - kelvin) / 43)
        into, out = positive(amps, 0.001), positive(-amps, 0.001)
        out_rates = [(amps - into * (1 - 1 / (1 + np.exp((share - 1) / 0.01)))) / 3600]
        out_rates += [(amps - u / (r * cold)) / c for u, (r, c) in zip(lags, self.lags)]
        if self.surface:
            out_rates.append((into * (0.4 - surface) - out * surface) / 600 - surface / 14400)
        if self.wells:
            held = self.held(x)
            mixed = 1.3 * 2 ** ((kelvin - 298.15) / 10) * held
            out_rates.append((1.5 * (out - into * held / (held + 0.02 * self.hours)) - mixed) / 3600)
        if self.warms:
            heat = amps * (v - self.emf(x)) + sum(u * u / (r * cold) for u, (r, _) in zip(lags, self.lags))
            out_rates.append((heat - self.cools * (kelvin - 293.15)) / self.warms)
        return out_rates


def battery_day():
    """60 Ah, 10 mohm, 70 percent, takes charge through 40 mohm from 0.2 V up; 0.1 ohm load, then 14.4 V through 30 mohm
    for an hour, then 20 ohm; volts, ampere hours, both lags, surface."""
    b = Battery(0.010, 60, 0.040, 0.2)
    load, charger, rest = (0.0, 0.1), (14.4, 0.03), (0.0, 20.0)
    return spells(b.rates, [42, 0, 0, 0], 1e-12,
                  [(60, load, [0.1, 1, 10, 60]), (3660, charger, [60.1, 70, 360, 3660]), (4000, rest, [3661, 3700, 4000])],
                  lambda x, feed: [b.volts(*feed, x), *x])


def battery_cold():
    """The same at -18 degrees Celsius, without the fast lag and the step, warming up: 10 kJ/K, 3 W/K to 20 degrees; 0.03 ohm
    for a minute; volts, ampere hours, slow lag, surface, kelvin."""
    b = Battery(0.010, 60, 0.040, 0, fast=False, warms=10e3, cools=3, kelvin=255.15)
    load, rest = (0.0, 0.03), (0.0, 20.0)
    return spells(b.rates, [42, 0, 0, 255.15], 1e-12, [(60, load, [0.1, 5, 60]), (600, rest, [61, 120, 600])],
                  lambda x, feed: [b.volts(*feed, x), *x])


def battery_emptied():
    """60 Ah, 10 mohm, full, with wells and no surface: 0.25 ohm for an hour, three hours of rest at 1 kohm, 14.4 V through 30
    mohm for an hour; volts, ampere hours, both lags, what is held back."""
    b = Battery(0.010, 60, 0.040, 0.2, surface=False, wells=True)
    return spells(b.rates, [60, 0, 0, 0], 1e-12,
                  [(3600, (0.0, 0.25), [1, 60, 600, 1800, 2400, 3600]), (14400, (0.0, 1e3), [3660, 5400, 14400]),
                   (18000, (14.4, 0.03), [14401, 14460, 15000, 18000])],
                  lambda x, feed: [b.volts(*feed, x), *x])


def battery_emptied_cold():
    """The same at -18 degrees Celsius, without the fast lag; volts, ampere hours, slow lag, what is held back."""
    b = Battery(0.010, 60, 0.040, 0, fast=False, surface=False, wells=True, kelvin=255.15)
    return spells(b.rates, [60, 0, 0], 1e-12,
                  [(3600, (0.0, 0.25), [1, 60, 600, 1800, 2400, 3600]), (14400, (0.0, 1e3), [3660, 5400, 14400])],
                  lambda x, feed: [b.volts(*feed, x), *x])


def generator():
    """14.3 V, 2 mohm, 70 A, behind 50 mohm and 0.1 s: 1 ohm, from 0.1 s 0.3 ohm, from 0.6 s 0.1 ohm, from 1.2 s 1 ohm again;
    volts outside and inside."""
    def amps(over):
        a = positive(over + 0.005, 0.01) / 0.05
        return float(a - positive(a - 70 + 3.5, 7))

    def volts(x, load):
        return brentq(lambda v: amps(x - v) - v / load - 1e-6 * v, -1, x + 1, xtol=1e-15, rtol=1e-15)

    start = brentq(lambda x: 14.3 + 0.048 * amps(x - volts(x, 1.0)) - x, 13, 18, xtol=1e-15)
    rates = lambda t, x, load: [(14.3 + 0.048 * amps(x[0] - volts(x[0], load)) - x[0]) / 0.1]
    return spells(rates, [start], 1e-13,
                  [(0.1, 1.0, [0.1]), (0.6, 0.3, [0.101, 0.15, 0.25, 0.6]), (1.2, 0.1, [0.601, 0.7, 1.2]), (2, 1.0, [1.201, 1.3, 2])],
                  lambda x, load: [volts(x[0], load), x[0]])


def main():
    tables = {
        "lamp 12 V 55 W": lamp(12, 55, 2750), "lamp 13.5 V 5.5 W": lamp(13.5, 5.5, 2500), "rectifier": rectifier(), "flywheel": flywheel(),
        "fan": motor(13, 28, 217, 0), "worm": motor(12, 6, 30, 0.7), "starter": starter(), "battery day": battery_day(), "battery cold": battery_cold(),
        "battery emptied": battery_emptied(), "battery emptied cold": battery_emptied_cold(), "generator": generator(),
    }
    with open("elements.yaml", "w") as out:
        print(f"# Written by elements.py with SciPy {scipy.__version__}, NumPy {np.__version__}: solve_ivp, Radau, rtol 1e-10. Seconds first; see README.md.", file=out)
        for name, rows in tables.items():
            print(f"{name}:", file=out)
            for row in rows:
                print("  - [" + ", ".join(f"{v:.12g}" for v in row) + "]", file=out)


main()
