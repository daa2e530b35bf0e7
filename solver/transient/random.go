package transient

// This file is chance: numbers that depend on where they are drawn and on nothing else.

// draw mixes its arguments to a number from 0 to below 1 (the finaliser of SplitMix64: Steele, Lea and Flood, "Fast
// splittable pseudorandom number generators", OOPSLA 2014).
func draw(seed, element, count uint64) float64 {
	const golden = 0x9e3779b97f4a7c15
	x := mix(seed + golden)
	x = mix(x ^ (element+1)*golden)
	x = mix(x ^ (count+1)*0xd1342543de82ef95)
	return float64(x>>11) / (1 << 53)
}

func mix(x uint64) uint64 {
	x ^= x >> 30
	x *= 0xbf58476d1ce4e5b9
	x ^= x >> 27
	x *= 0x94d049bb133111eb
	return x ^ x>>31
}
