"""What is laid over each vehicle and what is then measured, for work.py.

A fault is a list of changes: a contact or crimp in place of the sound one, ohms added to a wire or to a leg of a
splice, a stud, a path where there should be none (to the body where the second node is empty), or a part's own flaw.
A row is the name of a test, the instrument with its leads, and what brings the circuit to its state, in order.
"""
from math import inf

FAULTS = {
    "ambulance-trailer": {
        "k1": [("contact", "PLUG.3", 3)],
        "k2": [("contact", "PLUG.3", inf)],
        "k3": [("contact", "PLUG.7", 6)],
        "k4": [("short", "PLUG.6.b~S16.mid", "PLUG.7.b~S17.mid", 25)],
        "k5": [("dead", "TS1", True)],
    },
    "bread-van": {
        "j1": [("added", "WG", inf)],
        "j2": [("added", "WG", 0.4)],
        "j3": [("added", "WS", 0.0076 * 0.010 * (50 / 3 - 1))],    # 10 mm of 2.5 mm2, of which 3 of 50 strands are left
        "j4": [("short", "WP.mid", "", 0.2)],
        "j5": [("contact", "C20.6", 0.4)],
    },
    "cinema-van": {
        "i1": [("stuck", "GLSW", "open")],
        "i2": [("held", "TEL", True)],
        "i3": [("short", "AMP.REM", "AMP.B+", 1)],
        "i4": [("leak", "ALT", 28)],
        "i5": [("short", "PLUG.9.a", "PLUG.13.a", 500)],
        "i6": [("stuck", "K8", "closed")],
    },
    "donor-bus": {
        "g1": [("dead", "RT1", True)],
        "g2": [("short", "LH.mid", "LL.mid", 0.3)],
        "g3": [("contact", "LIFT.H", inf)],
        "g4": [("short", "LL.mid", "", 0.1)],
        "g5": [("contact", "FRIDGE.4", 12)],
        "g6": [("short", "LIFT.H", "LIFT.L", 220)],
        "g7": [("short", "SS.6", "SS.14", 120)],
    },
    "ice-cream-van": {
        "e1": [("blown", "F12", True)],
        "e2": [("added", "W12", inf)],
        "e3": [("blown", "F12", True), ("dead", "IND", True)],
        "e4": [("added", "W53", 30)],
        "e5": [("coil", "K5", inf)],
        "e6": [("stuck output", "FRZ", "D3")],
    },
    "library-van": {
        "a1": [("contact", "STEP.A8", 22)],
        "a2": [("contact", "STEP.A1", 18)],
        "a3": [("contact", "F21.out", 4)],
        "a4": [("added", "C7.4.b~STEP.A2", inf)],
        "a5": [("contact", "C7.3", inf)],
        "a6": [("swap", "STEP.A9", "STEP.A10", True)],
    },
    "mist-blower": {
        "c1": [("stud", "G2", 0.9)],
        "c2": [("leg", "S3", "WB", 3)],
        "c3": [("contact", "MF1.out", 0.3)],
        "c4": [("contact", "C14.2", 0.5)],
        "c5": [("battery", "BATT", (11.9, 0.090))],
    },
    "orchard-sprayer": {
        "m1": [("contact", "C14.4", 1.8)],
        "m2": [("contact", "PC1.8", 6)],
        "m3": [("stud", "G2", 2)],
        "m4": [("added", "W10", inf)],
        "m5": [("contact", "C14.1", 2)],
    },
    "quarry-tanker": {
        "l1": [("added", "STRAP", inf)],
        "l2": [("added", "STRAP", 0.006)],
        "l3": [("added", "STRAP", 0.030)],
        "l4": [("contact", "ALT.B+", 0.040)],
        "l5": [("contact", "BATT.neg", 0.005)],
        "l6": [("limit", "ALT", 15)],
    },
    "rescue-buggy": {
        "b1": [("contact", "C3.6", 9)],
        "b2": [("stud", "G3", 1.2)],
        "b3": [("contact", "C3.6", 0.8), ("short", "C3.5.a", "C3.6.a", 20e3)],
        "b4": [("crimp", "WIN.B1", 4)],
        "b5": [("contact", "C3.7", inf)],
    },
    "snow-groomer": {
        "d1": [("contact", "LUG.1", 0.009)],
        "d2": [("contact", "NEG.1", 0.007)],
        "d3": [("worn", "SOL", 0.008)],
        "d4": [("worn", "MS", 0.006)],
        "d5": [("battery", "BATT", (12.6, 0.016))],
        "d6": [("factor", "ST", 1.615)],
        "d7": [("worn", "K1", 0.2)],
        "d8": [("factor", "ST", inf)],  # it stands
    },
    "street-sweeper": {
        "f1": [("contact", "F4.out", 0.045)],
        "f2": [("worn", "K4", 0.015)],
        "f3": [("contact", "C9.1", 0.025)],
        "f4": [("factor", "FAN", 1.57)],
        "f5": [("added", "K4.87~C9.1.a", 0.010)],
    },
    "vineyard-harvester": {
        "h1": [("inner short", "BOOST", 8)],
        "h2": [("short", "W1.mid", "", 0.2)],
        "h3": [("leg", "SG", "", inf)],
        "h4": [("added", "W1", inf)],
        "h5": [("short", "W1.mid", "BATT.pos", 0.2)],
        "h6": [("short", "OIL.supply", "OIL.signal", 4700)],
    },
}

ROWS = {
    "ambulance-trailer": [
        ("light", "test-lamp BATT.pos TG", "KEY=run"),
        ("load", "load-lamp BATT.pos TG", "KEY=run"),
        ("drop, tail lamps", "volts TG BATT.neg", "KEY=run LIGHTS=side"),
        ("drop", "volts TG BATT.neg", "KEY=run LIGHTS=side STOP=on FLASH=hazard"),
        ("tail lamp", "volts TL1.in TL1.out", "KEY=run LIGHTS=side"),
        ("tail lamp, braking", "volts TL1.in TL1.out", "KEY=run STOP=on"),
        ("roll call", "roll-call", "KEY=run LIGHTS=side STOP=on FLASH=hazard"),
    ],
    "bread-van": [
        ("light", "test-lamp BATT.pos GD", "KEY=run"),
        ("load", "load-lamp BATT.pos GD", "KEY=run"),
        ("drop", "volts GD BATT.neg", "KEY=run SW1=on"),
        ("plate lamp", "volts PLATE.out PLATE.in", "KEY=run SW1=on"),
        ("roll call", "roll-call", "KEY=run SW1=on"),
    ],
    "cinema-van": [
        ("light", "test-lamp FB G7", "KEY=off"),
        ("load", "load-lamp FB G7", "KEY=off"),
        ("rest", "clamp WN", "KEY=off"),
        ("drop, lamps", "volts F10.in F10.out", "KEY=off"),
        ("drop, telematics", "volts F8.in F8.out", "KEY=off"),
        ("drop, amplifier", "volts F12.in F12.out", "KEY=off"),
        ("drop, generator", "volts MF150.in MF150.out", "KEY=off"),
        ("roll call", "roll-call", "KEY=run"),
    ],
    "donor-bus": [
        ("light", "test-lamp LIFT.1 LIFT.4", "KEY=run"),
        ("load", "load-lamp LIFT.1 LIFT.4", "KEY=run"),
        ("drop", "volts LIFT.4 BATT.neg", "KEY=run"),
        ("pair, power off", "ohms SS.6 SS.14", "-BATT"),
        ("roll call", "roll-call", "KEY=run"),
    ],
    "ice-cream-van": [
        ("light", "test-lamp N1 BATT.neg", "KEY=run COMP=on COMP=off"),
        ("load", "load-lamp N1 BATT.neg", "KEY=run COMP=on COMP=off"),
        ("drop", "volts K7.86 K7.85", "KEY=run COMP=on COMP=off"),
        ("drop, cooling", "volts K5.86 K5.85", "KEY=run COMP=on"),
        ("roll call", "roll-call", "KEY=run COMP=on COMP=off"),
    ],
    "library-van": [
        ("light", "test-lamp STEP.A1 STEP.A8", "KEY=run"),
        ("load", "load-lamp STEP.A1 STEP.A8", "KEY=run"),
        ("drop", "volts STEP.A12 BATT.neg", "KEY=run"),
        ("roll call", "roll-call", "KEY=run"),
    ],
    "mist-blower": [
        ("light", "test-lamp BATT.pos S3", "KEY=run"),
        ("load", "load-lamp BATT.pos S3", "KEY=run"),
        ("drop", "volts S3 BATT.neg", "KEY=run SW3=on"),
        ("roll call", "roll-call", "KEY=run SW3=on"),
    ],
    "orchard-sprayer": [
        ("light", "test-lamp PC1.1 PC1.8", "KEY=run -PC1"),
        ("load", "load-lamp PC1.1 PC1.8", "KEY=run -PC1"),
        ("drop", "volts PC1.8 B1.neg", "KEY=run"),
        ("roll call", "roll-call", "KEY=run"),
    ],
    "quarry-tanker": [
        ("light", "test-lamp BATT.pos ENG", "KEY=run"),
        ("load", "load-lamp BATT.pos ENG", "KEY=run"),
        ("drop, cranking", "volts ENG BATT.neg", "KEY=crank"),
        ("cable, cranking", "clamp CABLE", "KEY=crank"),
        ("drop, running", "volts ENG BATT.neg", "ALT=running KEY=run"),
        ("battery", "volts BATT.pos BATT.neg", "ALT=running KEY=run"),
        ("generator", "volts ALT.B+ ALT.case", "ALT=running KEY=run"),
        ("roll call", "roll-call", "KEY=crank"),
    ],
    "rescue-buggy": [
        ("light", "test-lamp BATT.pos WIN.B4", "KEY=run"),
        ("load", "load-lamp BATT.pos WIN.B4", "KEY=run"),
        ("drop", "volts C3.6.a C3.6.b", "KEY=run"),
        ("roll call", "roll-call", "KEY=run"),
    ],
    "snow-groomer": [
        ("light", "test-lamp LUG.1.b ENG", "KEY=run"),
        ("load", "load-lamp LUG.1.b ENG", "KEY=run"),
        ("drop", "volts BATT.pos LUG.1.b", "KEY=crank"),
        ("roll call", "roll-call", "KEY=crank"),
    ],
    "street-sweeper": [
        ("light", "test-lamp F4.out BATT.neg", "KEY=run"),
        ("load", "load-lamp K4.30 BATT.neg", "KEY=run"),
        ("drop", "volts FB K4.30", "KEY=run FAN=on"),
        ("drop, to the motor", "volts K4.30 C9.1.b", "KEY=run FAN=on"),
        ("roll call", "roll-call", "KEY=run FAN=on"),
    ],
    "vineyard-harvester": [
        ("light", "test-lamp ECU.E20 ECU.E21", "KEY=run"),
        ("load", "load-lamp ECU.E20 ECU.E21", "KEY=run"),
        ("drop", "volts ECU.E1 ECU.E2", "KEY=run"),
        ("drop, at the sensors", "volts RAIL.supply RAIL.ground", "KEY=run"),
        ("signal", "volts ECU.E4 ECU.E2", "KEY=run"),
        ("roll call", "roll-call", "KEY=run"),
    ],
}
