"""Fits the two-mass model of a fuse strip to what the sheets publish, and writes fuse_fit.csv.

The fit is ours; the sheets publish cold ohms, volts lost at the rated current, melting I2t and a band of melting
times, not the model's figures. Run: python3 fuse_fit.py (NumPy and SciPy; some minutes). The rows go by hand into
circuit/catalog/fuseheat.go; tests there and in solver/element hold them against this file and the sheets again.

Everything is per cold watt at the rating, P = amps^2 x cold ohms, so that a fit is a shape without a size:
    share   of the cold ohms that is in the neck
    k       W/K from neck to body, over P        1/K
    g       W/K from body to surroundings, over P 1/K
    c1, c2  J/K of neck and body, over P          s/K
With x = amps over the rating, a and b kelvins of neck and body over the surroundings (20 degC):
    c1 a' = x^2 share (1 + alpha a) - k (a - b)
    c2 b' = x^2 (1 - share)(1 + alpha b) + k (a - b) - g b
At constant current both are linear, so that every melting time is a closed form and one root.
At the melting point a is held, and the same balance melts the neck: latent c1 m' = ...; m = 1 opens.
"""
import csv
import os
import numpy as np
from scipy.optimize import brentq, least_squares

# Zinc (from memory): 0.0042 /K, melts at 419.5 degC, 112 kJ/kg over 0.388 kJ/kgK.
ZINC = dict(alpha=0.0042, melt=399.5, latent=289.0)
# Copper (temperature coefficient: IEC 60028; the rest from memory): 1084.6 degC, 205 kJ/kg over 0.385 kJ/kgK.
COPPER = dict(alpha=0.00393, melt=1064.6, latent=532.0)

INF = float("inf")
# Bands: share of the rating, seconds at least, seconds at most. The same as in the data sheets of testdata/fuse-*.yaml;
# bolt-in and link: common practice.
BANDS = {
    "miniature": [(1.10, 360000, INF), (1.35, 0.75, 600), (2, 0.15, 5), (3.5, 0.08, 0.5), (6, 0.03, 0.1)],
    "standard": [(1.00, 360000, INF), (1.35, 0.75, 600), (1.6, 0.25, 50), (2, 0.15, 5), (3.5, 0.08, 0.5), (6, 0, 0.15)],
    "large": [(1.00, 360000, INF), (1.35, 60, 1800), (2, 2, 50), (3.5, 0.2, 7), (6, 0.04, 1)],
    "bolt-in": [(1.00, 14400, INF), (1.35, 60, 1800), (2, 1, 50), (3.5, 0.2, 7), (6, 0.04, 1)],
    "fusible link": [(1.00, 14400, INF), (2, 5, 600), (3.5, 0.5, 30), (6, 0.1, 5)],
}
# What a fit aims at inside the wide bands, so that neighbours are alike: seconds at 1.35 and 2 times the rating.
AIM = {"miniature": (30, 0.9), "standard": (40, 1.0), "large": (300, 3), "bolt-in": (300, 3), "fusible link": (None, 30)}
# amps, cold milliohms, millivolts at the rating, I2t; 0: not published.
SHEETS = {
    "miniature": [(2, 55.60, 171, 2.8), (3, 33.75, 153, 9.4), (4, 23.48, 121, 17), (5, 17.75, 129, 25), (7.5, 10.85, 135, 68),
                  (10, 7.42, 108, 93), (15, 4.58, 98, 270), (20, 3.21, 96, 380), (25, 2.36, 86, 625), (30, 1.85, 87, 1130)],
    "standard": [(10, 7.70, 0, 0), (20, 3.38, 0, 0), (25, 2.52, 0, 1000), (40, 1.44, 96, 3300)],
    "large": [(30, 1.9, 0, 4100), (35, 1.7, 0, 6000), (40, 1.4, 75, 8500)],
    "bolt-in": [(100, 0.55, 0, 50e3)],  # all ratings of the table hold 5.0 A2s per A2
    "fusible link": [(30, 5.6, 0, 6e3), (40, 3.7, 0, 13e3), (50, 2.8, 0, 24e3), (60, 1.9, 0, 55e3), (80, 1.4, 0, 95e3), (100, 1.15, 0, 150e3)],
}
RATIO = 1.46  # hot over cold where no millivolts are published: the middle of the miniature ratings
LEAST = 1.22  # amps that just melt, over the rating: between 1.10 (holds) and 1.35 (melts)
# The sheet's 2.8 A2s of the 2 A fuse would melt it, without any loss of heat, in 19 ms at 6 times its rating, where the
# same sheet holds 30 ms. Only a much smaller neck does both, and it needs more freedom; so do links, whose figures are
# of common practice and do not agree among themselves.
FREE = {("miniature", 2)} | {("fusible link", row) for row in (30, 40, 50, 60, 80, 100)}


class Strip:
    def __init__(self, metal, share, k, g, c1, c2):
        self.__dict__.update(metal)
        self.share, self.k, self.g, self.c1, self.c2 = share, k, g, c1, c2

    def matrix(self, q):
        al = self.alpha
        return np.array([[(q * self.share * al - self.k) / self.c1, self.k / self.c1],
                         [self.k / self.c2, (q * (1 - self.share) * al - self.k - self.g) / self.c2]])

    def drive(self, q, extra=0.0):
        return np.array([q * self.share / self.c1, (q * (1 - self.share) + extra) / self.c2])

    def rest(self, x, extra=0.0):
        """Neck and body at rest; infinite where there is none."""
        q = x * x
        m = self.matrix(q)
        if np.max(np.linalg.eigvals(m).real) >= 0:
            return INF, INF
        return tuple(np.linalg.solve(m, -self.drive(q, extra)))

    def ratio(self):
        a, b = self.rest(1.0)
        return self.share * (1 + self.alpha * a) + (1 - self.share) * (1 + self.alpha * b)

    def least(self):
        """The current that just melts the neck in the end, over the rating."""
        f = lambda x: min(self.rest(x)[0], 1e6) - self.melt
        return brentq(f, 0.2, 5) if f(0.2) < 0 < f(5) else 9.0

    def body(self, x):
        """Kelvins of the body when the neck starts to melt."""
        return self.melts(x, body=True)

    def melts(self, x, extra=0.0, body=False):
        """Seconds until the strip opens at x times the rating, or infinity."""
        q = x * x
        m, d = self.matrix(q), self.drive(q, extra)
        w, v = np.linalg.eig(m)
        w, v = w.real, v.real
        p = np.linalg.solve(v, d)  # in eigenvectors y' = w y + p from 0

        def at(t):
            return v @ np.where(np.abs(w * t) < 1e-12, p * t, p * np.expm1(w * t) / w)
        hot = lambda t: at(t)[0] - self.melt
        # The neck's rise is a sum of two exponentials that never turns: bracket by doubling.
        t1 = 1e-6
        while hot(t1) < 0:
            t1 *= 2
            if t1 > 1e7:
                return INF
        t1 = brentq(hot, t1 / 2 if t1 > 1e-6 else 0, t1, xtol=1e-15, rtol=1e-13)
        b0 = at(t1)[1]
        if body:
            return b0
        # Melting: the body goes on alone, the melted share is its integral.
        lam = (q * (1 - self.share) * self.alpha - self.k - self.g) / self.c2
        f0 = lam * b0 + (q * (1 - self.share) + self.k * self.melt + extra) / self.c2
        held = q * self.share * (1 + self.alpha * self.melt) - self.k * self.melt

        def melted(t):
            area = b0 * t + f0 * ((np.expm1(lam * t) - lam * t) / lam ** 2 if abs(lam * t) > 1e-5 else t * t / 2)
            return (held * t + self.k * area) / (self.latent * self.c1) - 1
        t2 = 1e-7
        while melted(t2) < 0:
            t2 *= 2
            if t2 > 1e7:
                return INF
        return t1 + brentq(melted, t2 / 2, t2, xtol=1e-15, rtol=1e-13)


def strip_of(kind, z):
    metal = COPPER if kind == "fusible link" else ZINC
    return Strip(metal, 1 / (1 + np.exp(-z[0])), *np.exp(z[1:]))


def misses(z, kind, row, prior):
    amps, milliohms, millivolts, a2s = row
    free = (kind, amps) in FREE
    s = strip_of(kind, z)
    out = []
    ratio = millivolts / amps / milliohms if millivolts else RATIO
    got = s.ratio()
    out.append((min(got, 50) / ratio - 1) / (0.002 if millivolts else 0.02))
    out.append((s.least() - LEAST) / (0.03 if free else 0.01))
    out.append(max(0, s.least() - 1.31) / 0.003)
    out.append(max(0, min(s.body(10), 1e5) - 200) / 30)  # nothing but the neck melts
    if a2s:
        out.append(np.log(min(s.melts(10), 1e3) * 100 * amps ** 2 / a2s) / (0.03 if kind == "miniature" and free else 0.06))
    for x, lo, hi in BANDS[kind]:
        if hi == INF:
            continue
        t = min(s.melts(x), 1e6)
        out.append(max(0, np.log(lo * 1.04 / t) if lo else 0) / 0.005)
        out.append(max(0, np.log(t * 1.15 / hi)) / 0.02)
        for y, aim in zip((1.35, 2), AIM[kind]):
            if x == y and aim:
                out.append(np.log(t / aim) / 0.6)
    out += list((np.asarray(z) - prior) / (6 if free else 1.5))  # one family: near the prior where nothing else decides
    return out


PRIOR = {kind: np.array([-3.0, np.log(1.2e-3 * 1.3), np.log(0.0139), np.log(1.6e-4), np.log(0.19)]) for kind in BANDS}
PRIOR["large"] = np.array([-3.0, np.log(7.7e-4), np.log(0.0178), np.log(7.7e-4), np.log(4.4)])
PRIOR["bolt-in"] = PRIOR["large"]
PRIOR["fusible link"] = np.array([-1.0, np.log(2e-3), np.log(0.012), np.log(5e-3), np.log(1.0)])


def fit(kind, row, starts):
    best = None
    rng = np.random.default_rng(7)
    for n in range(40 if (kind, row[0]) in FREE else 10):
        z0 = PRIOR[kind] + (0 if n == 0 else rng.normal(0, 1.5, 5))
        if starts is not None and n == 1:
            z0 = starts
        try:
            r = least_squares(misses, z0, args=(kind, row, PRIOR[kind]), x_scale=0.3, max_nfev=200)
        except (ValueError, np.linalg.LinAlgError):
            continue
        if best is None or r.cost < best.cost:
            best = r
    return best


def main():
    here = os.path.dirname(os.path.abspath(__file__))
    with open(os.path.join(here, "fuse_fit.csv"), "w", newline="") as f:
        out = csv.writer(f, lineterminator="\n")
        out.writerow("kind amps neck_share neck_to_body_per_k body_to_air_per_k neck_seconds_per_k body_seconds_per_k "
                     "hot_over_cold published_ratio i2t published_i2t least s_110 s_135 s_160 s_200 s_350 s_600".split())
        for kind, rows in SHEETS.items():
            last = None
            for row in rows:
                r = fit(kind, row, last)
                last = r.x
                # What goes into the catalogue has five digits: judge that.
                z = [float("%.5g" % p) for p in [1 / (1 + np.exp(-r.x[0])), *np.exp(r.x[1:])]]
                s = Strip(COPPER if kind == "fusible link" else ZINC, *z)
                amps, milliohms, millivolts, a2s = row
                t = [s.melts(x) for x in (1.1, 1.35, 1.6, 2, 3.5, 6)]
                out.writerow([kind, amps, *z, "%.4f" % s.ratio(), "%.4f" % (millivolts / amps / milliohms) if millivolts else "",
                              "%.5g" % (s.melts(10) * 100 * amps ** 2), "%g" % a2s if a2s else "", "%.4f" % s.least(), *["%.5g" % v for v in t]])
                print(kind, amps, z, "cost %.3g" % r.cost, "ratio %.3f/%.3f" % (s.ratio(), millivolts / amps / milliohms),
                      "i2t %.4g/%g=%.3f" % (s.melts(10) * 100 * amps ** 2, a2s, s.melts(10) * 100 * amps ** 2 / a2s if a2s else 0), "least %.3f" % s.least(), ["%.4g" % v for v in t], flush=True)


if __name__ == "__main__":
    main()
