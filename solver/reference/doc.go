// Package reference holds no code of the program: its tests compute every
// published value in testdata again, by the same solver, device laws and tables
// as the program uses, and compare. Each file of testdata is one source, with
// how it was seen and, beside each value, how far ours may be off and why.
//
// The whole table of published values, ours, and the differences:
//
//	go test ./solver/reference -run TestTable -v
package reference
