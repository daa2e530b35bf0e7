"""The parts of the circuits that SciPy integrates here, as formulas: what current, how fast the states change.

Nothing of this is taken from the Go code. Volts, amps, ohms, seconds, kelvin, radians; README.md lists the equations.
"""

import numpy as np

# Battery: open-circuit volts behind 5.5 mohm and two relaxations, ohms and farads.
BATTERY_VOLTS, BATTERY_OHMS = 12.6, 5.5e-3
BATTERY_RC = ((1.5e-3, 300.0), (3e-3, 20e3))


def battery(amps, relaxed):
    """Rates of the two relaxation volts while the battery gives amps."""
    return [amps / f - u / (r * f) for (r, f), u in zip(BATTERY_RC, relaxed)]


# Starter, seen from the engine: a permanent-magnet motor and what turning the engine asks, with the ripple of two compressions a turn.
STARTER_OHMS, STARTER_HENRYS, STARTER_K, STARTER_INERTIA = 12e-3, 60e-6, 0.355, 0.3


def starter(volts, amps, speed, angle):
    """Rates of amps, speed and angle."""
    held = np.tanh(speed / 0.5)
    torque = STARTER_K * amps - 60 * held - 0.9 * speed - 35 * np.sin(2 * angle) * held
    return [(volts - STARTER_OHMS * amps - STARTER_K * speed) / STARTER_HENRYS, torque / STARTER_INERTIA, speed]


class Lamp:
    """A filament out of its rated volts and watts: 2800 K there, 95 % of the heat radiated. (A power law, not the table: a judge of the stepping, not of the metal.)"""

    def __init__(self, volts, watts):
        hot = volts**2 / watts
        self.cold_ohms = hot / (2800 / 300) ** 1.21
        self.radiated = 0.95 * watts / (2800.0**4 - 300.0**4)
        self.conducted = 0.05 * watts / 2500
        self.heat = heat_of(hot, watts)

    def ohms(self, kelvin):
        return self.cold_ohms * (kelvin / 300) ** 1.21

    def rate(self, volts, kelvin):
        lost = self.radiated * (kelvin**4 - 300.0**4) + self.conducted * (kelvin - 300)
        return (volts**2 / self.ohms(kelvin) - lost) / self.heat


def heat_of(hot_ohms, watts):
    """Joules per kelvin of the filament whose surface radiates 95 % of watts at 2800 K and whose length and thickness make hot_ohms."""
    surface = 0.95 * watts / (0.25 * 5.670374e-8 * 2800**4)  # = pi d length
    length_per_area = hot_ohms / 84.7e-8  # = 4 length / (pi d^2)
    d = (4 * surface / (np.pi**2 * length_per_area)) ** (1 / 3)
    return 19250 * surface * d / 4 * 160


# Module: 470 uF behind 20 mohm; inside them a load of constant watts.
MODULE_OHMS, MODULE_FARADS, ASLEEP_SIEMENS = 20e-3, 470e-6, 1e-3


class Fuse:
    """A thin neck and a body, both warmed by the current; the neck melts at 399.5 K above its surroundings and takes 289 K times its heat to do so."""

    def __init__(self, milliohms1, milliohms2, millijoules, joules, milliwatts_neck, milliwatts_body):
        self.neck_ohms, self.body_ohms = milliohms1 * 1e-3, milliohms2 * 1e-3
        self.neck_heat, self.body_heat = millijoules * 1e-3, joules
        self.between, self.out = milliwatts_neck * 1e-3, milliwatts_body * 1e-3

    def ohms(self, neck, body):
        return self.neck_ohms * (1 + 0.0042 * neck) + self.body_ohms * (1 + 0.0042 * body)

    def heats(self, amps, neck, body):
        """Watts left over in neck and body."""
        flow = self.between * (neck - body)
        return (amps**2 * self.neck_ohms * (1 + 0.0042 * neck) - flow,
                amps**2 * self.body_ohms * (1 + 0.0042 * body) + flow - self.out * body)


FUSES = {  # fitted to a fuse maker's published drops, melting integrals and windows
    "M5": (5, Fuse(0.9119, 16.8381, 0.071174, 0.086852, 0.48752, 6.2002)),
    "M7.5": (7.5, Fuse(7.8082, 3.0418, 1.5189, 0.14484, 10.362, 9.7695)),
    "M10": (10, Fuse(0.3900, 7.0300, 0.12104, 0.13592, 0.87041, 10.306)),
    "M15": (15, Fuse(0.2290, 4.3510, 0.17828, 0.24686, 0.97076, 15.176)),
    "M20": (20, Fuse(0.1713, 3.0387, 0.21112, 0.20554, 1.7010, 16.779)),
    "M25": (25, Fuse(0.1246, 2.2354, 0.24275, 0.28383, 1.6867, 20.485)),
    "M30": (30, Fuse(0.6306, 1.2194, 2.0386, 0.34023, 13.220, 23.922)),
    "S40": (40, Fuse(1.2038, 0.2362, 11.400, 2.5249, 32.338, 53.196)),
    "X40": (40, Fuse(0.0700, 1.3300, 1.7351, 9.9480, 1.7288, 39.952)),
}
