// Package sparse solves the node equations of resistive networks, held as a list of edges.
//
// The matrix of node conductances is never assembled. Each edge keeps its own conductance, an edge to [Ground] included, and a node is
// eliminated by turning the star of edges around it into the equivalent mesh among its neighbours (the star-mesh transformation, Rosen 1924):
// with d the sum of all conductances at the node, every two neighbours i and j gain g_i g_j / d, and every neighbour gains g_i s / d to
// ground, s being the eliminated node's own conductance to ground. This is an LDL^T factorisation that needs only sums, products and
// quotients of non-negative numbers. A megohm beside a milliohm therefore keeps all its digits, where an assembled diagonal would have
// rounded it away before the first elimination step.
//
// [Analyse] finds, once per topology, an elimination order and everything that depends on it alone. [Pattern.NewFactor] adds room for
// numbers. The methods of a [Factor] then work without allocating, except where a comment says otherwise. A Pattern may be shared by
// several goroutines; a Factor may not.
//
// Conductances are in siemens, injected currents in amperes, node voltages in volts against Ground. Conductances and currents should be
// zero or of a magnitude between 1e-100 and 1e100.
package sparse

// Ground is the reference node of every network: 0 V, and not among the numbered nodes.
const Ground int32 = -1

// Edge joins two nodes by a conductance. Either end may be [Ground]. An edge whose ends are the same node carries no current and is ignored.
type Edge struct{ A, B int32 }
