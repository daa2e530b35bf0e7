"""A crank in a harness of many nodes: battery, starter and loads n/15 at the ends of long paths with splices and shared grounds.

python3 harness.py              writes harness.yaml, the golden end states
python3 harness.py race N       prints, for the harness of N nodes, seconds of the processor, steps and error of solve_ivp at some methods and
                                tolerances, one line each (for the Go benchmark that runs in the same minute)

SciPy gets the network already reduced to the terminals of the elements and every loop vectorised, and races twice: plain, solving for the volts of
all elements and with the Jacobian as solve_ivp finds it by differences; and tuned, with lamps alone left in the equations to solve and an exact
Jacobian. Both flatter it.
"""

import sys
import time

import numpy as np
import scipy
from scipy.integrate import solve_ivp

from parts import *

MASK = (1 << 64) - 1
CLOSES, ENDS, CONTACT_OHMS = 0.02, 1.5, 1.5e-3
COIL_OHMS, COIL_HENRYS, COIL_AMPS = 85.0, 0.3, 0.14
WATTS, MODULE_VOLTS, LAMP_KELVIN = 3.0, 12.0, 2500.0
RTOLS = (1e-3, 1e-4, 1e-5, 1e-6)
LAMPS = (Lamp(12, 55), Lamp(13.5, 26.5), Lamp(13.5, 5.5))


class Chance:
    """SplitMix64, so that the Go test can build the same harness."""

    def __init__(self, seed):
        self.state = seed

    def draw(self):
        self.state = (self.state + 0x9E3779B97F4A7C15) & MASK
        z = self.state
        z = (z ^ z >> 30) * 0xBF58476D1CE4E5B9 & MASK
        z = (z ^ z >> 27) * 0x94D049BB133111EB & MASK
        return (z ^ z >> 31 & MASK) / 2.0**64

    def ohms(self, low, high):
        """Evenly between the logarithms."""
        return low * (high / low) ** self.draw()

    def one_of(self, count):
        return int(self.draw() * count)


def wires(loads):
    """Edges (a, b, ohms) and, for each load, its two nodes. 0 is the negative post, 1 the positive, 2 the rail, 3 and 4 the starter's side of
    its contact and the other, 5 the engine, 6 the ground stud; 15 nodes a load: feed 0..8, ground 9..12, a dead end 13, 14."""
    c = Chance(loads)
    edges = [(1, 2, 1e-3), (1, 4, 0.8e-3), (5, 0, 0.7e-3), (5, 6, 1.5e-3), (6, 0, 1e-3)]
    ports = []
    for k in range(loads):
        base = 7 + 15 * k
        spliced, grounded = c.draw() < 1 / 3, c.draw() < 1 / 3
        feeder, grounder = c.one_of(max(k, 1)), c.one_of(max(k, 1))
        edges.append((7 + 15 * feeder + 4 if spliced and k else 2, base, c.ohms(2e-3, 2e-2)))
        edges.extend((base + j, base + j + 1, c.ohms(1e-3, 1e-2)) for j in range(8))
        edges.extend((base + j, base + j + 1, c.ohms(1e-3, 1e-2)) for j in range(9, 12))
        edges.append((base + 12, 7 + 15 * grounder + 11 if grounded and k else 6, c.ohms(2e-3, 2e-2)))
        edges.extend([(base + 4, base + 13, c.ohms(1e-3, 1e-2)), (base + 13, base + 14, c.ohms(1e-3, 1e-2)), (base + 6, base + 10, 1e4)])
        if k % 3 == 2:
            edges.append((base + 12, base + 12 - 15, 5e-3))
        ports.append((base + 8, base + 9))
    return edges, ports


def kinds(loads):
    """Lamp, module, lamp, coil and so on; of ten lamps one of 55 W, one of 26.5 W, the rest of 5.5 W."""
    out, lamp = [], 0
    for k in range(loads):
        if k % 2:
            out.append("module" if k % 4 == 1 else "coil")
            continue
        out.append({0: 0, 5: 1}.get(lamp % 10, 2))
        lamp += 1
    return out


def beside(each, x):
    """One number a lamp, for the one state or the many in x."""
    return each if x.ndim == 1 else each[:, None]


class Harness:
    """States: two relaxations of the battery, amps, speed and angle of the starter, then one a load: kelvin, volts or amps."""

    def __init__(self, nodes, closed, tuned=True):
        loads, self.tuned = nodes // 15, tuned
        edges, ends = wires(loads)
        if closed:
            edges.append((4, 3, CONTACT_OHMS))
        else:
            edges.append((5, 3, 1.0))  # so that nothing is left hanging
        self.closed, self.kinds = closed, kinds(loads)
        self.lamps = np.array([k for k, kind in enumerate(self.kinds) if kind in (0, 1, 2)])
        self.modules = np.array([k for k, kind in enumerate(self.kinds) if kind == "module"])
        self.coils = np.array([k for k, kind in enumerate(self.kinds) if kind == "coil"], dtype=int)
        of = [LAMPS[self.kinds[k]] for k in self.lamps]
        self.cold = np.array([l.cold_ohms for l in of])
        self.radiated, self.conducted, self.heat = (np.array([getattr(l, name) for l in of]) for name in ("radiated", "conducted", "heat"))
        ports = [(1, 0), (3, 5)] + ends
        count = 7 + 15 * loads
        y, place = np.zeros((count, count)), np.zeros((count, len(ports)))
        for a, b, ohms in edges:
            y[[a, b], [a, b]] += 1 / ohms
            y[a, b] -= 1 / ohms
            y[b, a] -= 1 / ohms
        for p, (a, b) in enumerate(ports):
            place[a, p], place[b, p] = 1, -1
        self.start_siemens = 1 / (self.cold * (LAMP_KELVIN / 300) ** 1.21)
        siemens = np.zeros(len(ports))
        siemens[0], siemens[2 + self.modules], siemens[2 + self.lamps] = 1 / BATTERY_OHMS, 1 / MODULE_OHMS, self.start_siemens
        y += place * siemens @ place.T
        self.z = place[1:].T @ np.linalg.solve(y[1:, 1:], place[1:])  # volts of the ports by amps into them, fixed conductances included
        self.z_lamps = np.ascontiguousarray(self.z[2 + self.lamps])
        self.z_of_lamps = np.ascontiguousarray(self.z[:, 2 + self.lamps])
        self.z_between = np.ascontiguousarray(self.z_lamps[:, 2 + self.lamps])
        self.one = np.eye(len(self.lamps))
        self.y = np.linalg.inv(self.z)  # the same the other way round

    def start(self):
        x = np.zeros(5 + len(self.kinds))
        x[5 + self.lamps], x[5 + self.modules], x[5 + self.coils] = LAMP_KELVIN, MODULE_VOLTS, COIL_AMPS
        return x

    def units(self):
        """Errors without account at rtol 1e-3."""
        u = np.array([1e-5, 1e-5, 1e-3, 1e-4, 1e-4] + [0.0] * len(self.kinds))
        u[5 + self.lamps], u[5 + self.modules], u[5 + self.coils] = 0.05, 1e-5, 1e-3
        return u

    def ports(self, x):
        """Volts of the ports, the lamps' siemens. Of one state or of many, a column each."""
        amps = np.zeros((len(self.z),) + x.shape[1:])
        amps[0], amps[1] = (BATTERY_VOLTS - x[0] - x[1]) / BATTERY_OHMS, -x[2]
        amps[2 + self.modules], amps[2 + self.coils] = x[5 + self.modules] / MODULE_OHMS, -x[5 + self.coils]
        siemens = 1 / (beside(self.cold, x) * (x[5 + self.lamps] / 300) ** 1.21)
        extra = siemens - beside(self.start_siemens, x)
        if self.tuned:
            of_lamps = np.linalg.solve(self.one + self.z_between * extra, self.z_lamps @ amps)
            return self.z @ amps - self.z_of_lamps @ (extra * of_lamps), siemens
        lamps = 2 + self.lamps
        if x.ndim == 1:
            y = self.y.copy()
            y[lamps, lamps] += extra
            return np.linalg.solve(y, amps), siemens
        y = np.repeat(self.y[None], x.shape[1], 0)
        y[:, lamps, lamps] += extra.T
        return np.linalg.solve(y, amps.T[:, :, None])[:, :, 0].T, siemens

    def rates(self, _, x):
        v, siemens = self.ports(x)
        f, load = np.empty_like(x), v[2:]
        f[:2] = battery((BATTERY_VOLTS - x[0] - x[1] - v[0]) / BATTERY_OHMS, x[:2])
        f[2:5] = starter(v[1], *x[2:5]) if self.closed else 0
        t = x[5 + self.lamps]
        lost = beside(self.radiated, x) * (t**4 - 300.0**4) + beside(self.conducted, x) * (t - 300)
        f[5 + self.lamps] = (load[self.lamps] ** 2 * siemens - lost) / beside(self.heat, x)
        u = x[5 + self.modules]
        f[5 + self.modules] = ((load[self.modules] - u) / MODULE_OHMS - WATTS / u - ASLEEP_SIEMENS * u) / MODULE_FARADS
        f[5 + self.coils] = (load[self.coils] - COIL_OHMS * x[5 + self.coils]) / COIL_HENRYS
        return f

    def slopes(self, _, x):
        v, siemens = self.ports(x)
        load, t = v[2:], x[5 + self.lamps]
        by_t = -1.21 * siemens / t
        into = np.zeros((len(v), len(x)))  # amps into the ports by the states
        into[0, :2], into[1, 2] = -1 / BATTERY_OHMS, -1
        into[2 + self.modules, 5 + self.modules], into[2 + self.coils, 5 + self.coils] = 1 / MODULE_OHMS, -1
        into[2 + self.lamps, 5 + self.lamps] = -by_t * load[self.lamps]
        extra = siemens - self.start_siemens
        of_lamps = np.linalg.solve(self.one + self.z_between * extra, self.z_lamps @ into)
        dv = self.z @ into - self.z_of_lamps @ (extra[:, None] * of_lamps)
        j = np.zeros((len(x), len(x)))
        for row, (r, f) in enumerate(BATTERY_RC):
            j[row] = -dv[0] / BATTERY_OHMS / f
            j[row, :2] -= 1 / BATTERY_OHMS / f
            j[row, row] -= 1 / (r * f)
        if self.closed:
            held = np.tanh(x[3] / 0.5)
            slope = (1 - held**2) / 0.5
            j[2] = dv[1] / STARTER_HENRYS
            j[2, 2] -= STARTER_OHMS / STARTER_HENRYS
            j[2, 3] -= STARTER_K / STARTER_HENRYS
            j[3, 2] = STARTER_K / STARTER_INERTIA
            j[3, 3] = -(60 * slope + 0.9 + 35 * np.sin(2 * x[4]) * slope) / STARTER_INERTIA
            j[3, 4] = -70 * np.cos(2 * x[4]) * held / STARTER_INERTIA
            j[4, 3] = 1
        at = 5 + self.lamps
        j[at] = (2 * load[self.lamps] * siemens / self.heat)[:, None] * dv[2 + self.lamps]
        j[at, at] += (load[self.lamps] ** 2 * by_t - 4 * self.radiated * t**3 - self.conducted) / self.heat
        at, u = 5 + self.modules, x[5 + self.modules]
        j[at] = dv[2 + self.modules] / (MODULE_OHMS * MODULE_FARADS)
        j[at, at] += (-1 / MODULE_OHMS + WATTS / u**2 - ASLEEP_SIEMENS) / MODULE_FARADS
        at = 5 + self.coils
        j[at] = dv[2 + self.coils] / COIL_HENRYS
        j[at, at] -= COIL_OHMS / COIL_HENRYS
        return j


def run(nodes, method, rtol, open_and_closed=None):
    """End states and steps of a crank."""
    before, after = open_and_closed or (Harness(nodes, False), Harness(nodes, True))
    exact = before.tuned  # or all columns of the Jacobian in one call of rates
    atol = before.units() * rtol * 1e3
    how = dict(method=method, rtol=rtol, atol=atol)
    first = solve_ivp(before.rates, (0, CLOSES), before.start(), **how, **(dict(jac=before.slopes) if exact else dict(vectorized=True)))
    then = solve_ivp(after.rates, (CLOSES, ENDS), first.y[:, -1], **how, **(dict(jac=after.slopes) if exact else dict(vectorized=True)))
    if not (first.success and then.success):
        raise SystemExit(first.message + then.message)
    return then.y[:, -1], len(first.t) + len(then.t) - 2


def check(harness):
    """The Jacobian against differences, or SciPy would be slowed by a slip here."""
    x = harness.start()
    x[:5] = 0.3, 0.2, 300, 8, 1
    j, f = harness.slopes(0, x), harness.rates(0, x)
    for k in range(len(x)):
        step = 1e-6 * max(abs(x[k]), 1)
        up, down = x.copy(), x.copy()
        up[k], down[k] = x[k] + step, x[k] - step
        column = (harness.rates(0, up) - harness.rates(0, down)) / (2 * step)
        slack = 1e-5 * (abs(column) + abs(f) * 1e-6 + 1) + 1e-9 * abs(f) / step
        if np.any(abs(column - j[:, k]) > slack):
            raise SystemExit("column %d of the Jacobian is wrong" % k)


def error_of(x, truth):
    """The worst relative error of the starter's amps, speed and angle."""
    return max(abs(x[k] - truth[k - 2]) / abs(truth[k - 2]) for k in (2, 3, 4))


def race(nodes):
    truth = dict(read())[nodes]
    for kind in ("plain", "tuned"):
        harnesses = Harness(nodes, False, kind == "tuned"), Harness(nodes, True, kind == "tuned")
        for method in ("Radau", "BDF"):
            for rtol in RTOLS:
                took = []
                for _ in range(2):
                    began = time.process_time()
                    x, steps = run(nodes, method, rtol, harnesses)
                    took.append(time.process_time() - began)
                print(kind, method, rtol, min(took), steps, error_of(x, truth), flush=True)


def read():
    """The golden amps, speed and angle, by number of nodes."""
    for line in open(__file__.replace("harness.py", "harness.yaml")):
        if line.startswith("  - {nodes:"):
            nodes, _, rest = line[len("  - {nodes:"):].partition(",")
            yield int(nodes), [float(x) for x in rest[rest.index("[") + 1:rest.index("]")].split(",")]


def main():
    if sys.argv[1:2] == ["race"]:
        return race(int(sys.argv[2]))
    lines = ["# Written by harness.py with SciPy %s, NumPy %s: solve_ivp, Radau, rtol 1e-11. Equations in README.md." % (scipy.__version__, np.__version__),
             "# starter: amps, rad/s, rad at 1.5 s; loads: state of the first twelve (kelvin, volts or amps), ohms: of all resistors together;",
             "# radau: rtol, steps, error of the starter, by solve_ivp with the exact Jacobian.", "cranks:"]
    for nodes in (30, 300, 3000):
        check(Harness(nodes, True))
        x, _ = run(nodes, "Radau", 1e-11)
        races = [(rtol, *reversed(run(nodes, "Radau", rtol))) for rtol in RTOLS]
        races = ", ".join("[%g, %d, %.3g]" % (rtol, steps, error_of(end, x[2:5])) for rtol, steps, end in races)
        ohms = sum(r for _, _, r in wires(nodes // 15)[0])
        show = ", ".join("%.14g" % v for v in x[2:5]), ", ".join("%.14g" % v for v in x[5:17])
        lines.append("  - {nodes: %d, starter: [%s], loads: [%s], ohms: %.14g,\n     radau: [%s]}" % (nodes, *show, ohms, races))
        print(nodes, flush=True)
    with open("harness.yaml", "w") as out:
        out.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
