#!/usr/bin/env python3
"""Works out what each fault of each example vehicle does to the light test, the load test, the drop test and the roll
call, apart from the program: nothing of the program is used here, and none of its files is read.

    python3 work.py            writes results.csv beside it (NumPy and SciPy)

The vehicles stand in the .net files beside this one: parts, and wires from end to end. What a wire, a terminal or a fuse
has in ohms is looked up in the published tables below. The circuit is solved by plain nodal analysis with Newton's
method on a dense matrix. Lamps follow two published laws, one after the other:

    tungsten  the filament's resistance goes with its temperature (resistivity of tungsten: Jones and Langmuir, General
              Electric Review 30, 1927); of its power a twentieth goes by the gas and the leads, in proportion to the
              temperature (an estimate), and the rest is radiated with the fourth power
    power     amps go with volts to the power 0.55 (the usual exponent of lamp makers, e.g. 1.6 for watts)

Where a filament glows the two agree; where it is nearly cold they do not, for the second knows no loss but light.
"""
import copy, csv, math, os, sys
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")    # the matrices are small
import numpy as np
import scipy
from scipy.optimize import brentq

HERE = os.path.dirname(os.path.abspath(__file__))

# Milliohm a metre at 20 degrees (ISO 6722-1, from memory), and copper's change per kelvin (IEC 60028).
WIRE = {0.35: 54.4, 0.5: 37.1, 0.75: 24.7, 1: 18.5, 1.5: 12.7, 2.5: 7.60, 4: 4.71, 6: 3.14, 10: 1.82, 16: 1.16, 25: 0.743,
        35: 0.527, 50: 0.368}
PER_KELVIN = 0.00393
# Milliohm: crimp, contact, pin (common practice). An in-line terminal has a crimp on both sides.
TERMINAL = {1.5: (0.7, 4, 0.1), 2.8: (0.5, 2, 0.1), 6.3: (0.3, 1, 0.1)}
SLOT, POST, RING = (0.4, 0.6, 0), (0.1, 0.1, 0.1), (0.3, 0.5, 0.1)
LEG, STUD = 0.3, 0.5
# Cold milliohm of fuses (makers' data sheets; bolt-in common practice). Large ones of 60 and 80 A lie on the power law
# through 35 and 40 A, as a straight line in log-log.
FUSE = {"miniature": {5: 17.75, 7.5: 10.85, 10: 7.42, 15: 4.58, 20: 3.21, 25: 2.36, 30: 1.85},
        "bolt-in": {150: 0.36}, "large": {a: 1.4 * (a / 40) ** (math.log(1.4 / 1.7) / math.log(40 / 35)) for a in (60, 80)}}
# Watts on the base: watts and volts of the data sheet (UN Regulation 37; 3 W: a test lamp).
BULB = {3: (3, 12, 2500), 5: (5.5, 13.5, 2500), 21: (25, 13.5, 2750), 55: (58, 13.2, 2750)}
KELVIN = [300, 400, 500, 600, 700, 800, 900, 1000, 1100, 1200, 1400, 1600, 1800, 2000, 2200, 2400, 2600, 2800, 3000]
MICROOHMCM = [5.65, 8.06, 10.56, 13.23, 16.09, 19.00, 21.94, 24.93, 27.94, 30.98, 37.19, 43.55, 50.05, 56.67, 63.48, 70.39,
              77.49, 84.70, 92.04]
GAS = 0.05   # of a lamp's power, lost by gas and leads (form: M. Carla, American Journal of Physics 2013; share: estimate)
INPUT, METER = 20e3, 10e6
BLOWS = 1.35                   # of its rating, for good (time-current table of ISO 8820-3)
BUS_REST, BUS_HIGH, BUS_LOW, BUS_WEAK, BUS_STRONG = 2.5, 4.0, 1.0, 20e3, 15.0
HEARD, QUIET = 0.9, 0.5        # ISO 11898-2, receiver thresholds
EXPONENT = 3.4                 # of a filament's light with its volts (Standard Handbook for Electrical Engineers)


def lamp_law(watts_on_base, law, ambient):
    watts, volts, hot = BULB[watts_on_base]
    full = watts / volts
    if law == "power":
        small = 0.02           # below this share of its volts a straight line, so that the slope at 0 V is finite

        def amps(v):
            x = abs(v) / volts
            i = full * (x ** 0.55 if x > small else small ** 0.55 * x / small)
            return math.copysign(i, v)
        return amps
    cold = ambient + 273.15
    hot_ohms = volts * volts / watts

    def ohms_at(kelvin):
        return hot_ohms * np.interp(kelvin, KELVIN, MICROOHMCM) / np.interp(hot, KELVIN, MICROOHMCM)

    def amps(v):
        if v == 0:
            return 0.0

        def over(kelvin):      # given off, less what the volts put in
            light = (kelvin ** 4 - cold ** 4) / (hot ** 4 - cold ** 4)
            return watts * ((1 - GAS) * light + GAS * (kelvin - cold) / (hot - cold)) - v * v / ohms_at(kelvin)
        return v / ohms_at(brentq(over, cold, 6000, xtol=1e-10))
    grid = np.concatenate([[0], np.geomspace(1e-4, 40, 1200)])   # a table, for speed; straight between its rows
    table = np.array([amps(x) for x in grid])
    return lambda v: math.copysign(float(np.interp(abs(v), grid, table)), v)


def motor_law(draws, at, stall, turns, factor=1.0):
    draws = min(draws * factor, 0.95 * stall)
    ohms = at / stall
    back = at - draws * ohms

    def amps(v):
        u = abs(v)
        if turns == "steady":  # the torque is there at any speed: full amps, or what the winding takes at standstill
            i = min(draws, u / ohms)
        else:                  # torque with the square of speed: draws e^2 ohms + e back = u
            a = draws * ohms
            e = (-back + math.sqrt(back * back + 4 * a * u)) / (2 * a)
            i = draws * e * e
        return math.copysign(i, v)
    return amps


class Vehicle:
    """The plain netlist of one file, with faults laid: resistances by name between nodes, laws, sources."""

    def __init__(self, name, faults=(), law="tungsten"):
        self.law, self.alias, self.parts, self.ambient = law, {}, {}, 20.0
        self.edits = {}
        self.shorts, self.swaps = [], {}
        for f in faults:
            if f[0] == "short":
                self.shorts.append(f[1:])
            elif f[0] == "swap":
                self.swaps[f[1]], self.swaps[f[2]] = f[2], f[1]
            else:
                self.edits[tuple(f[:-1])] = f[-1]
        self.spec = {"terminal": {}, "connector": {}, "splice": {}, "ground": {}}
        self.paths = []
        with open(os.path.join(HERE, name + ".net")) as lines:
            for line in lines:
                words = line.split("#")[0].split()
                if not words:
                    continue
                kind, rest = words[0], words[1:]
                if kind == "path":
                    self.paths.append(rest)
                elif kind == "ambient":
                    self.ambient = float(rest[0])
                else:
                    keys = dict(w.split("=", 1) for w in rest[1:] if "=" in w)
                    throws = dict(w.split(":", 1) for w in rest[1:] if "=" not in w)
                    if kind in self.spec:
                        self.spec[kind][rest[0]] = keys
                    else:
                        self.parts[rest[0]] = dict(kind=kind, keys=keys, throws=throws)
        # The state of the bench.
        self.position = {n: next(iter(p["throws"])) for n, p in self.parts.items() if p["kind"] == "switch"}
        self.asked, self.running, self.apart, self.out = set(), set(), set(), set()
        self.blown = {n for n in self.parts if self.edits.get(("blown", n))}
        self.pulled_in, self.mode, self.kicks, self.falling = set(), {}, {}, set()
        for n, p in self.parts.items():
            if p["kind"] == "module":
                self.mode[n] = "off"

    # How the wires lie.

    def num(self, part, key, default=None):
        value = self.parts[part]["keys"].get(key, default)
        return None if value is None else float(value)

    def find(self, node):
        while node in self.alias:
            node = self.alias[node]
        return node

    def same(self, a, b):
        a, b = self.find(a), self.find(b)
        if a != b:
            self.alias[a] = b

    def r(self, name, a, b, ohms):
        ohms = self.edits.get(name, ohms)
        self.res.append([a, b, ohms, name])

    def terminal(self, t):
        """tail - crimp - t (where a back-probe is) - contact - t.pin - pin's metal - t.in"""
        if t in self.made:
            return
        self.made.add(t)
        owner, pin = t.split(".", 1)
        p = self.parts[owner]
        size = self.num(owner, "size") or (1.5 if p["kind"] in ("module", "sensor", "socket") else 2.8)
        crimp, contact, behind = {"fuse": SLOT, "battery": POST, "generator": RING}.get(p["kind"]) or TERMINAL[size]
        told = self.spec["terminal"].get(t, {})
        crimp, contact, behind = (float(told.get(k, v / 1000)) for k, v in (("crimp", crimp), ("contact", contact), ("behind", behind)))
        contact = self.edits.get(("contact", t), contact)
        if t in self.apart or owner in self.apart or owner in self.out:
            contact = math.inf
        tail = self.swaps.get(t, t) + ".tail"
        self.res.append([tail, t, self.edits.get(("crimp", t), crimp), t])
        self.res.append([t, t + ".pin", contact, t])
        if behind > 0:
            self.res.append([t + ".pin", t + ".in", behind, t])
        else:                  # a fuse's ohms are told from top to top
            self.same(t + ".pin", t + ".in")

    def cavity(self, t):
        if t in self.made:
            return
        self.made.add(t)
        size = float(self.spec["connector"].get(t.split(".")[0], {}).get("size", 2.8))
        crimp, contact, _ = (x / 1000 for x in TERMINAL[size])
        told = self.spec["terminal"].get(t, {})
        first, contact = float(told.get("crimp", crimp)), float(told.get("contact", contact))
        last = float(told.get("behind", crimp))
        contact = self.edits.get(("contact", t), contact)
        if t.split(".")[0] in self.apart:
            contact = math.inf
        self.res.append([t + ".a.tail", t + ".a", first, t])
        self.res.append([t + ".a", t + ".b", contact, t])
        self.res.append([t + ".b", t + ".b.tail", last, t])

    def ends(self, word):
        """The node of a step where a path comes in, and where it goes out; what it is; its name for wires without one."""
        if word in self.parts:
            one, two = ("in", "out")
            if self.parts[word]["kind"] == "switch":
                one, two = next(v for v in self.parts[word]["throws"].values() if v).split("+")[0].split("-")
            word = f"{word}.{one}-{two}"
        if "." not in word:
            kind = "stud" if word in self.spec["ground"] else "splice"
            return (word, word, kind, word, word)
        owner, rest = word.split(".", 1)
        if owner not in self.parts:
            self.cavity(word)
            return (word + ".a.tail", word + ".b.tail", "", word + ".a", word + ".b")
        pins = rest.split("-")
        for pin in pins:
            self.terminal(f"{owner}.{pin}")
        one, two = f"{owner}.{pins[0]}", f"{owner}.{pins[-1]}"
        return (one + ".tail", two + ".tail", "", one, two)

    def wire_ohms(self, what):
        if "*" not in what:
            return float(what)
        area, metres = (float(x) for x in what.split("*"))
        return WIRE[area] / 1000 * metres * (1 + PER_KELVIN * (self.ambient - 20))

    def lay(self):
        self.res, self.made, self.alias, self.laws, self.sources = [], set(), {}, [], []
        self.wires = {}
        for p, part in self.parts.items():
            for t in self.pins(p):
                self.terminal(f"{p}.{t}")
        for path in self.paths:
            before, wire = None, None
            for word in path:
                if word.startswith("w:"):
                    wire = word
                    continue
                here = self.ends(word)
                if before is not None and wire is None:
                    self.same(before[1], here[0])
                elif before is not None:
                    _, name, what = wire.split(":")
                    name = name or f"{before[4]}~{here[3]}"
                    self.add_wire(name, before[1], here[0], before[2] == "splice", here[2] == "splice", self.wire_ohms(what))
                before, wire = here, None
        for g, keys in self.spec["ground"].items():
            self.res.append([g, g + ".frame", self.edits.get(("stud", g), float(keys.get("stud", STUD / 1000))), g])
            if "to" in keys:
                self.res.append([g + ".frame", keys["to"] + ".frame", float(keys["by"]), g])
        for p in self.parts:
            self.inside(p)
        body = next(iter(self.spec["ground"]), None)
        for a, b, ohms in self.shorts:
            self.res.append([a, b or body + ".frame", ohms, "short"])

    def leg(self, splice, wire):
        ohms = float(self.spec["splice"].get(splice, {}).get("leg", LEG / 1000))
        for key in (("leg", splice, wire), ("leg", splice, "")):
            ohms += self.edits.get(key, 0)
        return ohms

    def add_wire(self, name, a, b, leg_a, leg_b, ohms):
        ohms = self.edits.get(("wire", name), ohms) + self.edits.get(("added", name), 0)
        if leg_a:
            self.res.append([a, name + "<", self.leg(a, name), a])
            a = name + "<"
        if leg_b:
            self.res.append([name + ">", b, self.leg(b, name), b])
            b = name + ">"
        self.wires[name] = len(self.res)
        self.res.append([a, name + ".mid", ohms / 2, name])
        self.res.append([name + ".mid", b, ohms / 2, name])

    def pins(self, p):
        part = self.parts[p]
        keys = part["keys"]
        fixed = {"battery": ["pos", "neg"], "generator": ["B+", "case"], "relay": ["30", "85", "86", "87"],
                 "sensor": ["supply", "signal", "ground"]}
        if part["kind"] in fixed:
            return fixed[part["kind"]]
        if part["kind"] == "switch":
            return sorted({x for v in part["throws"].values() if v for pair in v.split("+") for x in pair.split("-")})
        if part["kind"] in ("module", "socket"):
            pins = [x for k in ("supply", "wake", "ground", "sensor_ground", "reference", "signals", "bus") if k in keys for x in keys[k].split(",")]
            return pins + [o[0] for o in self.outputs(p)]
        return ["in", "out"]

    def outputs(self, p):
        text = self.parts[p]["keys"].get("outputs")
        return [o.split(":") for o in text.split(",")] if text else []

    # What lies inside the parts, in their present state.

    def inside(self, p):
        part, e = self.parts[p], self.edits
        kind, at = part["kind"], lambda pin: f"{p}.{pin}.in"
        dead = e.get(("dead", p))
        if kind == "battery":
            volts, ohms = e.get(("battery", p), (self.num(p, "volts"), self.num(p, "ohms")))
            start, taking = self.num(p, "from"), self.num(p, "taking")

            def amps(v):           # into plus
                if start is None or v < volts:
                    return (v - volts) / ohms
                return max(0.0, (v - start) / taking)
            self.laws.append([at("pos"), at("neg"), amps])
        elif kind == "generator":
            if p in self.running and not dead:
                volts, ohms = self.num(p, "volts"), self.num(p, "ohms")
                limit = e.get(("limit", p), self.num(p, "limit"))
                self.laws.append([at("B+"), at("case"), lambda v: -min(limit, max(0.0, (volts - v) / ohms))])
            if ("leak", p) in e:
                self.res.append([at("B+"), at("case"), e[("leak", p)], p])
        elif kind == "fuse":
            ohms = self.num(p, "ohms") or FUSE[part["keys"]["type"]][self.num(p, "amps")] / 1000
            self.res.append([at("in"), at("out"), math.inf if p in self.blown or p in self.out else ohms, p])
        elif kind == "switch":
            stands = e.get(("stuck", p), self.position[p])
            ohms = e.get(("worn", p), self.num(p, "contact"))
            for pair in filter(None, part["throws"][stands].split("+")):
                a, b = pair.split("-")
                self.res.append([at(a), at(b), ohms, p])
        elif kind == "relay":
            coil = math.inf if ("coil", p) in e else self.num(p, "coil") * (1 + PER_KELVIN * (self.ambient - 20))
            self.res.append([at("86"), at("85"), coil, p + " coil"])
            if p in self.pulled_in or e.get(("stuck", p)) == "closed":
                self.res.append([at("30"), at("87"), e.get(("worn", p), self.num(p, "contact")), p])
        elif kind == "lamp" and not dead:
            self.laws.append([at("in"), at("out"), cached_lamp(int(self.num(p, "watts")), self.law, self.ambient)])
        elif kind == "resistor" and not dead:
            self.res.append([at("in"), at("out"), self.num(p, "ohms"), p])
        elif kind == "heater":
            self.res.append([at("in"), at("out"), self.num(p, "at") ** 2 / self.num(p, "watts"), p])
        elif kind == "motor":
            self.laws.append([at("in"), at("out"), motor_law(self.num(p, "amps"), self.num(p, "at"), self.num(p, "stall"),
                                                             part["keys"]["turns"], e.get(("factor", p), 1.0))])
        elif kind == "sensor":     # a track of 2 kohm, a wiper of 1 kohm, and the rest of its 8 mA beside them
            share, mid = self.num(p, "reads"), p + ".wiper"
            self.res += [[at("supply"), mid, 2000 * (1 - share), p], [mid, at("ground"), 2000 * share, p],
                         [mid, at("signal"), 1000, p], [at("supply"), at("ground"), 5 / (0.008 - 5 / 2000), p]]
            if ("inner short", p) in e:
                self.res.append([at("supply"), at("ground"), e[("inner short", p)], p])
        elif kind == "module":
            self.module(p, at)

    def module(self, p, at):
        keys, mode = self.parts[p]["keys"], self.mode[p]
        if self.edits.get(("dead", p)):
            mode = "dead"
        plus, own = p + " plus", p + " own"
        for pin in keys["supply"].split(","):
            self.same(at(pin), plus)
        for k in ("ground", "sensor_ground"):
            for pin in filter(None, keys.get(k, "").split(",")):
                self.same(at(pin), own)
        for k in ("wake", "signals"):
            for pin in filter(None, keys.get(k, "").split(",")):
                self.res.append([at(pin), own, INPUT, p])
        awake, resets = self.num(p, "awake", 0.65), self.num(p, "resets", 6.5)
        if p in self.falling:  # its feeds give what holds it at the volts of its reset, its capacitor the rest
            self.laws.append([plus, own, lambda v: max(0.0, v - resets) * 1e3])
        elif mode in ("off", "asleep"):
            self.res.append([plus, own, 12.5 / self.num(p, "asleep", 0.0003), p])
        elif mode in ("booting", "hung"):
            self.res.append([plus, own, self.num(p, "boot", 18), p])
        elif mode == "cycling":
            self.res.append([plus, own, 12.5 / 0.005, p])
        elif mode == "awake":
            knee, watts = 0.8 * resets, 12.5 * awake
            self.laws.append([plus, own, lambda v: watts / v if v > knee else watts * v / knee ** 2])
        for pin, to, _, ohms in self.outputs(p):
            if mode == "awake" and (p, pin) in self.asked or self.edits.get(("stuck output", p)) == pin:
                self.res.append([at(pin), own if to == "ground" else plus, float(ohms), p])
        limit = self.num(p, "limit", 0.080)
        for pin in filter(None, keys.get("reference", "").split(",")):
            if mode == "awake":
                self.laws.append([at(pin), own, lambda v: min(limit, max(-limit, (v - 5.0) / 0.5))])
        if "bus" in keys:
            high, low = (at(pin) for pin in keys["bus"].split(","))
            volts, ohms = (BUS_REST, BUS_REST), BUS_WEAK
            if mode not in ("awake", "booting", "hung"):
                volts = (0, 0)
            if getattr(self, "speaker", None) == p:
                volts, ohms = (BUS_HIGH, BUS_LOW), BUS_STRONG
            for node, v in zip((high, low), volts):
                self.sources.append([own, node, v, ohms])
            if "end" in keys:
                self.res.append([high, low, self.num(p, "end"), p])

    # Solving.

    def solve(self):
        self.lay()
        extra_res, extra_laws = self.attached
        res, laws = self.res + extra_res, self.laws + extra_laws
        ground = self.find(f"{next(p for p in self.parts if self.parts[p]['kind'] == 'battery')}.neg.in")
        index = {ground: 0}

        def at(node):
            return index.setdefault(self.find(node), len(index))
        res = [(at(a), at(b), 1 / ohms) for a, b, ohms, _ in res if ohms < math.inf and at(a) != at(b)]
        laws = [(at(a), at(b), law) for a, b, law in laws]
        sources = [(at(a), at(b), v, 1 / ohms) for a, b, v, ohms in self.sources]
        for name in self.touched:
            at(name)
        n = len(index)
        linear, drive = np.zeros((n, n)), np.zeros(n)
        for a, b, g in res:
            linear[a, a] += g
            linear[b, b] += g
            linear[a, b] -= g
            linear[b, a] -= g
        for a, b, v, g in sources:
            linear[a, a] += g
            linear[b, b] += g
            linear[a, b] -= g
            linear[b, a] -= g
            drive[b] += g * v
            drive[a] -= g * v
        linear += 1e-12 * np.eye(n)    # what hangs on nothing stands at 0 V
        started = [self.v.get(node, 12.0) for node in index], [12.0] * n    # from where it stood before, or else anew
        for start in started:
            v, ended = self.newton(np.array(start), linear, drive, laws)
            if ended:
                break
        else:
            self.v = {}
            raise ArithmeticError("Newton does not end")
        self.v = {node: v[i] for node, i in index.items()}

    @staticmethod
    def newton(v, linear, drive, laws):
        v[0] = 0
        for loop in range(400):
            m, rhs = linear.copy(), drive.copy()
            for a, b, law in laws:
                u = v[a] - v[b]
                i, h = law(u), 1e-6
                g = max((law(u + h) - law(u - h)) / (2 * h), -1e3)
                m[a, a] += g
                m[b, b] += g
                m[a, b] -= g
                m[b, a] -= g
                rhs[a] -= i - g * u
                rhs[b] += i - g * u
            new = np.zeros(len(v))
            new[1:] = np.linalg.solve(m[1:, 1:], rhs[1:])
            step = np.abs(new - v).max()
            most = max(0.02, 2 * 0.98 ** loop)    # volts a node may move: laws with corners can make it hop in a ring
            v = v + np.clip(new - v, -most, most)
            if step < 1e-7:
                return new, True
        return v, False

    def volts(self, node):
        return self.v.get(self.find(node), 0.0)

    def between(self, a, b):
        return self.volts(a) - self.volts(b)

    def supply(self, p):
        return self.between(p + " plus", p + " own")

    def woken(self, p):
        wake = self.parts[p]["keys"].get("wake")
        if not wake or self.edits.get(("held", p)):
            return True
        return any(self.between(f"{p}.{pin}.in", p + " own") >= 5 for pin in wake.split(","))

    def settle(self):
        """Fuses part, relays move, modules try to boot, until nothing changes."""
        for _ in range(60):
            self.solve()
            if not (self.step_fuses() or self.step_relays() or self.step_modules()):
                return
        raise ArithmeticError("it does not come to rest")

    def step_fuses(self):
        hot = []
        for p, part in self.parts.items():
            if part["kind"] != "fuse" or p in self.blown or p in self.out:
                continue
            ohms = self.num(p, "ohms") or FUSE[part["keys"]["type"]][self.num(p, "amps")] / 1000
            if abs(self.between(p + ".in.in", p + ".out.in")) / ohms > BLOWS * self.num(p, "amps"):
                hot.append(p)
        self.blown |= set(hot)
        return bool(hot)

    def step_relays(self):
        moved = False
        for p, part in self.parts.items():
            if part["kind"] != "relay":
                continue
            warm = 1 + PER_KELVIN * (self.ambient - 20)
            volts = abs(self.between(p + ".86.in", p + ".85.in")) / warm   # as of the cold coil: amps move it
            if ("coil", p) in self.edits:
                volts = 0
            if volts >= self.num(p, "in") and p not in self.pulled_in:
                self.pulled_in.add(p)
                moved = True
            elif volts <= self.num(p, "out") and p in self.pulled_in:
                self.pulled_in.discard(p)
                moved = True
        return moved

    def step_modules(self):
        for p in self.mode:
            was = self.mode[p]
            if self.edits.get(("dead", p)) or was == "awake" and self.woken(p) and self.supply(p) >= self.num(p, "resets", 6.5):
                continue
            self.mode[p] = self.boot(p)
            if self.mode[p] != was:
                return True
        self.solve()
        return False

    def boot(self, p):
        runs, resets = self.num(p, "runs", 9), self.num(p, "resets", 6.5)
        self.mode[p] = "asleep"
        self.solve()
        if self.supply(p) < runs:
            return "off"
        if not self.woken(p):
            return "asleep"
        self.mode[p] = self.kicks[p] = "booting"
        self.solve()
        if self.supply(p) < resets:
            return "cycling"
        if self.supply(p) < runs:
            return "hung"
        self.mode[p] = "awake"
        try:
            self.solve()
        except ArithmeticError:
            return "cycling"
        if self.supply(p) < resets:
            self.kicks[p] = "awake"
            return "cycling"
        return "awake"

    attached, touched, v = ([], []), [], {}

    def bring(self, state):
        """As on a bench: faults are there first, then one setting after the other. A minus takes apart."""
        self.settle()
        for word in state.split():
            if word.startswith("-"):
                name = word[1:]
                self.apart.add(name + ".neg" if self.parts.get(name, {}).get("kind") == "battery" else name)
            else:
                name, value = word.split("=")
                kind = self.parts.get(name, {}).get("kind")
                if kind == "switch":
                    self.position[name] = value
                elif kind == "fuse":
                    (self.out.add if value == "out" else self.out.discard)(name)
                elif kind == "generator":
                    (self.running.add if value == "running" else self.running.discard)(name)
                else:
                    for m in self.mode:
                        for pin, _, load, _ in self.outputs(m):
                            if load == name:
                                (self.asked.add if value == "on" else self.asked.discard)((m, pin))
            self.settle()

    def lead(self, point):
        """A lead touches a fuse at its top, everything else where its name says."""
        owner = point.split(".")[0]
        if self.parts.get(owner, {}).get("kind") == "fuse" and owner not in self.out:
            return point + ".pin"
        return point

    def read(self, what, red="", black=""):
        """value, kick, words"""
        if what == "roll-call":
            return None, None, self.roll_call()
        if what == "clamp":
            self.settle()
            return self.wire_amps(red), self.kick(lambda: self.wire_amps(red)), ""
        a, b = self.lead(red), self.lead(black)
        self.touched = [a, b]
        if what == "ohms":
            for full, opens, test in ((400, 3.2, 1e-3), (4e3, 1.2, 1e-4), (40e3, 1.2, 1e-5), (400e3, 1.2, 1e-6), (4e6, 1.2, 1e-7)):
                inner = opens / test
                self.attached = ([], [[a, b, lambda v: (v - opens) / inner]])
                self.settle()
                shown = inner * self.between(a, b) / (opens - self.between(a, b))
                if 0 <= shown <= full:
                    return shown, None, ""
            return None, None, "over range"
        if what == "volts":
            self.attached = ([[a, b, METER, "meter"]], [])
        else:
            self.attached = ([], [[a, b, cached_lamp({"test-lamp": 3, "load-lamp": 55}[what], self.law, self.ambient)]])
        self.settle()
        value = self.between(a, b)
        words = ""
        if what != "volts":
            light = (abs(value) / 12) ** EXPONENT
            words = "bright" if light > 0.70 else "dim" if light >= 0.03 else "dark"
        return value, self.kick(lambda: self.between(a, b)), words

    def wire_amps(self, name):
        a, b, ohms, _ = self.res[self.wires[name]]
        return self.between(a, b) / ohms if ohms < math.inf else 0.0

    def kick(self, reading):
        cycling = [p for p in self.mode if self.mode[p] == "cycling"]
        if not cycling:
            return None
        for p in cycling:
            self.mode[p] = self.kicks[p]
        self.falling = set(cycling)
        self.solve()
        value = reading()
        self.falling = set()
        for p in cycling:
            self.mode[p] = "cycling"
        self.solve()
        return value

    def roll_call(self):
        self.settle()
        sockets = [p for p in self.parts if self.parts[p]["kind"] == "socket" and "bus" in self.parts[p]["keys"]]
        answers, silent = [], []
        for p in self.mode:
            heard = self.mode[p] == "awake" and not self.edits.get(("dead", p))
            if heard and sockets and "bus" in self.parts[p]["keys"]:
                high, low = (f"{sockets[0]}.{pin}.in" for pin in self.parts[sockets[0]]["keys"]["bus"].split(","))
                self.solve()
                rest = self.between(high, low)
                self.speaker = p
                self.solve()
                heard = self.between(high, low) > HEARD and rest < QUIET
                self.speaker = None
            (answers if heard else silent).append(p)
        if not self.mode:
            return "no module is in this circuit"
        return "answers: " + (", ".join(answers) or "none") + "; silent: " + (", ".join(silent) or "none")


LAMPS = {}


def cached_lamp(watts, law, ambient):
    key = (watts, law, ambient)
    if key not in LAMPS:
        LAMPS[key] = lamp_law(watts, law, ambient)
    return LAMPS[key]


def main():
    from cases import FAULTS, ROWS
    only = sys.argv[1:] or sorted(FAULTS)
    out = os.path.join(HERE, "results.csv")
    with open(out, "w", newline="") as f:
        f.write("# Written by work.py beside this file: what each fault does to each test, worked out apart from the program.\n")
        f.write("# value: in V, A or ohm, lamps by the tungsten law; kick: as a cycling module falls into its reset; *_power: lamps by the power law.\n")
        f.write(f"# Python {sys.version.split()[0]}, NumPy {np.__version__}, SciPy {scipy.__version__}\n")
        table = csv.writer(f, lineterminator="\n")
        table.writerow(["vehicle", "fault", "row", "test", "state", "value", "kick", "seen", "value_power", "kick_power", "seen_power"])
        for vehicle in only:
            for fault, edits in [("", [])] + list(FAULTS[vehicle].items()):
                brought = {}
                for row, test, state in ROWS[vehicle]:
                    cells = []
                    for law in ("tungsten", "power"):
                        try:
                            if (state, law) not in brought:
                                brought[state, law] = Vehicle(vehicle, edits, law)
                                brought[state, law].bring(state)
                            v = copy.copy(brought[state, law])
                            for own in ("blown", "pulled_in", "mode", "kicks"):
                                setattr(v, own, copy.copy(getattr(v, own)))
                            value, kick, words = v.read(*test.split())
                        except ArithmeticError as e:
                            raise ArithmeticError(f"{vehicle} {fault} {row}: {e}") from e
                        cells += ["" if x is None else f"{x:.6g}" for x in (value, kick)] + [words]
                    table.writerow([vehicle, fault, row, test, state] + cells)
    return 0


if __name__ == "__main__":
    sys.exit(main())
