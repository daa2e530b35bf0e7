//go:build klu

// The C libraries KLU (sparse LU for circuit matrices) and LDL (symmetric, no pivoting) of the SuiteSparse collection (Davis), as judges and
// peers. Both get the assembled matrix. The tag klu needs cgo, a C compiler and the SuiteSparse headers (Debian: libsuitesparse-dev).

package harness

/*
#cgo CFLAGS: -O3 -I/usr/include/suitesparse
#cgo LDFLAGS: -lklu -lldl -lamd -lcolamd -lbtf -lsuitesparseconfig -lm
#include <stdlib.h>
#include <klu.h>
#include <ldl.h>
#include <amd.h>

typedef struct {
	int n;
	int *Lp, *Parent, *Lnz, *Flag, *Pattern, *P, *Pinv, *Li;
	double *Lx, *D, *Y, *W;
} ldl_state;

static ldl_state *ldl_start(int n, int *Ap, int *Ai) {
	ldl_state *s = calloc(1, sizeof(ldl_state));
	s->n = n;
	s->Lp = malloc((n+1)*sizeof(int)); s->Parent = malloc(n*sizeof(int)); s->Lnz = malloc(n*sizeof(int));
	s->Flag = malloc(n*sizeof(int)); s->Pattern = malloc(n*sizeof(int)); s->P = malloc(n*sizeof(int));
	s->Pinv = malloc(n*sizeof(int));
	s->D = malloc(n*sizeof(double)); s->Y = malloc(n*sizeof(double)); s->W = malloc(n*sizeof(double));
	amd_order(n, Ap, Ai, s->P, NULL, NULL);
	ldl_symbolic(n, Ap, Ai, s->Lp, s->Parent, s->Lnz, s->Flag, s->P, s->Pinv);
	s->Li = malloc((s->Lp[n]+1)*sizeof(int)); s->Lx = malloc((s->Lp[n]+1)*sizeof(double));
	return s;
}

static int ldl_run(ldl_state *s, int *Ap, int *Ai, double *Ax) {
	return ldl_numeric(s->n, Ap, Ai, Ax, s->Lp, s->Parent, s->Lnz, s->Li, s->Lx, s->D, s->Y, s->Pattern, s->Flag, s->P, s->Pinv);
}

static void ldl_answer(ldl_state *s, double *x) {
	int n = s->n;
	ldl_perm(n, s->W, x, s->P);
	ldl_lsolve(n, s->W, s->Lp, s->Li, s->Lx);
	ldl_dsolve(n, s->W, s->D);
	ldl_ltsolve(n, s->W, s->Lp, s->Li, s->Lx);
	ldl_permt(n, x, s->W, s->P);
}

static void ldl_end(ldl_state *s) {
	free(s->Lp); free(s->Parent); free(s->Lnz); free(s->Flag); free(s->Pattern); free(s->P); free(s->Pinv);
	free(s->Li); free(s->Lx); free(s->D); free(s->Y); free(s->W); free(s);
}
*/
import "C"

import (
	"fmt"
	"slices"
	"unsafe"
)

// SuiteSparse names the library as built.
var SuiteSparse = fmt.Sprintf("SuiteSparse %d.%d.%d, KLU %d.%d.%d", C.SUITESPARSE_MAIN_VERSION, C.SUITESPARSE_SUB_VERSION,
	C.SUITESPARSE_SUBSUB_VERSION, C.KLU_MAIN_VERSION, C.KLU_SUB_VERSION, C.KLU_SUBSUB_VERSION)

// Matrix is a square matrix by columns, rows ascending.
type Matrix struct {
	n     int
	begin []C.int
	row   []C.int
	value []C.double
}

// Assemble makes the network's matrix of node conductances.
func Assemble(n *Network) *Matrix {
	columns := make([]map[int32]float64, n.Nodes)
	for i := range columns {
		columns[i] = map[int32]float64{int32(i): 0}
	}
	for i, e := range n.Edges {
		for side, a := range e {
			b := e[1-side]
			if a < 0 || a == b {
				continue
			}
			columns[a][a] += n.Siemens[i]
			if b >= 0 {
				columns[a][b] -= n.Siemens[i]
			}
		}
	}
	m := &Matrix{n: n.Nodes, begin: make([]C.int, 1, n.Nodes+1)}
	for _, c := range columns {
		var rows []int32
		for r := range c {
			rows = append(rows, r)
		}
		slices.Sort(rows)
		for _, r := range rows {
			m.row = append(m.row, C.int(r))
			m.value = append(m.value, C.double(c[r]))
		}
		m.begin = append(m.begin, C.int(len(m.row)))
	}
	return m
}

// NonZeros returns the number of places in use.
func (m *Matrix) NonZeros() int { return len(m.row) }

// KLU is a factorisation by KLU with its default settings. Close frees it.
type KLU struct {
	m        *Matrix
	common   *C.klu_common
	symbolic *C.klu_symbolic
	numeric  *C.klu_numeric
}

// NewKLU analyses and factors the matrix.
func NewKLU(m *Matrix) (*KLU, error) {
	k := &KLU{m: m, common: (*C.klu_common)(C.calloc(1, C.sizeof_klu_common))}
	C.klu_defaults(k.common)
	k.symbolic = C.klu_analyze(C.int(m.n), &m.begin[0], &m.row[0], k.common)
	if k.symbolic == nil {
		return nil, fmt.Errorf("klu_analyze: status %d", k.common.status)
	}
	k.numeric = C.klu_factor(&m.begin[0], &m.row[0], &m.value[0], k.symbolic, k.common)
	if k.numeric == nil {
		return nil, fmt.Errorf("klu_factor: status %d", k.common.status)
	}
	return k, nil
}

// Analyse runs the symbolic analysis once more and drops it.
func (k *KLU) Analyse() {
	s := C.klu_analyze(C.int(k.m.n), &k.m.begin[0], &k.m.row[0], k.common)
	C.klu_free_symbolic(&s, k.common)
}

// Refactor factors again with the pivots of the first time.
func (k *KLU) Refactor() {
	C.klu_refactor(&k.m.begin[0], &k.m.row[0], &k.m.value[0], k.symbolic, k.numeric, k.common)
}

// Solve replaces the right side by the solution.
func (k *KLU) Solve(x []float64) {
	C.klu_solve(k.symbolic, k.numeric, C.int(k.m.n), 1, (*C.double)(unsafe.Pointer(&x[0])), k.common)
}

// Fill returns the number of non-zero places in L and U together, with the diagonal counted once.
func (k *KLU) Fill() int {
	return int(k.numeric.lnz) + int(k.numeric.unz) - k.m.n + int(k.numeric.nzoff)
}

// Close frees what the C library holds.
func (k *KLU) Close() {
	C.klu_free_numeric(&k.numeric, k.common)
	C.klu_free_symbolic(&k.symbolic, k.common)
	C.free(unsafe.Pointer(k.common))
}

// LDL is a factorisation by LDL in AMD's order. Close frees it.
type LDL struct {
	m     *Matrix
	state *C.ldl_state
}

// NewLDL analyses the matrix.
func NewLDL(m *Matrix) *LDL {
	return &LDL{m: m, state: C.ldl_start(C.int(m.n), &m.begin[0], &m.row[0])}
}

// Factor makes the numbers and reports whether no pivot was 0.
func (l *LDL) Factor() bool {
	return int(C.ldl_run(l.state, &l.m.begin[0], &l.m.row[0], &l.m.value[0])) == l.m.n
}

// Solve replaces the right side by the solution.
func (l *LDL) Solve(x []float64) { C.ldl_answer(l.state, (*C.double)(unsafe.Pointer(&x[0]))) }

// Fill returns the number of non-zero places in L and its transpose together, with the diagonal counted once.
func (l *LDL) Fill() int {
	last := unsafe.Slice(l.state.Lp, l.m.n+1)[l.m.n]
	return 2*int(last) + l.m.n
}

// Close frees what the C library holds.
func (l *LDL) Close() { C.ldl_end(l.state) }
