package drawing

// Benchmarks: from nothing, and after an edit, which is measured against from nothing in the same run.

import (
	"testing"
	"time"

	"underload/circuit/invented"
)

func BenchmarkCold(b *testing.B) {
	for _, c := range []struct {
		name string
		text func() string
	}{{"sprayer, 12 parts", func() string { return string(source(b, "orchard-sprayer")) }}, {"60 parts", func() string { return invented.Vehicle(1, 60) }},
		{"150 parts", func() string { return invented.Vehicle(1, 150) }}} {
		b.Run(c.name, func(b *testing.B) {
			circuit := madeUp(b, c.name, c.text())
			for b.Loop() {
				Lay(circuit, page, nil)
			}
		})
	}
}

func BenchmarkEdit(b *testing.B) {
	for _, of := range []struct {
		name string
		text func() string
	}{{"orchard-sprayer", func() string { return string(source(b, "orchard-sprayer")) }}, {"library-van", func() string { return string(source(b, "library-van")) }},
		{"150 parts", func() string { return invented.Vehicle(1, 150) }}} {
		b.Run(of.name, func(b *testing.B) {
			c := madeUp(b, of.name, of.text())
			begin := time.Now()
			before := Lay(c, page, nil)
			cold := time.Since(begin)
			begin = time.Now()
			for b.Loop() {
				Lay(c, page, before)
			}
			b.ReportMetric(float64(time.Since(begin))/float64(b.N)/float64(cold), "of-cold")
		})
	}
}

func BenchmarkScene(b *testing.B) {
	l := Lay(example(b, "library-van"), page, nil)
	show := everything(l.Circuit)
	for b.Loop() {
		l.Scene(show)
	}
}
