// Package suitesparse lets tests and benchmarks compare with the C libraries KLU and LDL of the SuiteSparse collection (Davis). It is empty
// unless built with the tag klu, which needs cgo, a C compiler and the SuiteSparse headers and libraries (Debian: libsuitesparse-dev).
package suitesparse
