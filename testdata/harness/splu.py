"""Solves networks with SciPy's sparse LU (splu, SuperLU) and writes the node voltages. The networks come in the file named on the command line,
written by

go test -run TestAgainstJudges ./solver/sparse -args -networks networks.txt
"""

import sys

import numpy
import scipy
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import splu


def solve(nodes, edges):
    rows, columns, values = [], [], []
    amps = numpy.zeros(nodes)
    for a, b, siemens, volts in edges:
        for here, there, sign in ((a, b, 1), (b, a, -1)):
            if here < 0:
                continue
            amps[here] += sign * siemens * volts
            if here == there:
                continue
            rows.append(here), columns.append(here), values.append(siemens)
            if there >= 0:
                rows.append(here), columns.append(there), values.append(-siemens)
    matrix = coo_matrix((values, (rows, columns)), shape=(nodes, nodes)).tocsc()
    return splu(matrix).solve(amps)


def main():
    print("# Node voltages of random wiring-like networks (solver/internal/harness, Random(nodes, seed)), by SciPy", scipy.__version__ + ",")
    print("# NumPy", numpy.__version__ + ": scipy.sparse.linalg.splu with default settings on the assembled matrix of node conductances.")
    print("# Renew: see solver/sparse/judge_test.go.")
    print('# "net", nodes, seed; then node and volts, a line a node; of the large networks every tenth node.')
    lines = iter(open(sys.argv[1]))
    for head in lines:
        nodes, seed, step = map(int, head.split())
        _, count = map(int, next(lines).split())
        edges = []
        for _ in range(count):
            a, b, siemens, volts = next(lines).split()
            edges.append((int(a), int(b), float(siemens), float(volts)))
        volts = solve(nodes, edges)
        print("net", nodes, seed)
        for i in range(0, nodes, step):
            print(i, "%.17g" % volts[i])


main()
