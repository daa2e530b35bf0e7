// Fuses in time: how long each build holds and when it must have melted.

package catalog

import "math"

// hour is in seconds.
const hour = 3600.0

// MeltLimit says when a fuse melts at a share of its rating: not before
// MinSeconds, and by MaxSeconds (+Inf: it need not melt).
type MeltLimit struct {
	OfRating               float64 // 1.35 is 135 % of the rating
	MinSeconds, MaxSeconds float64
}

// MeltTable is the melting band of one build.
type MeltTable struct {
	Limits []MeltLimit // rising
	Source Source
}

var never = math.Inf(1)

var meltTables = map[FuseType]MeltTable{
	Miniature:   {[]MeltLimit{{1.10, 100 * hour, never}, {1.35, 0.75, 600}, {2, 0.15, 5}, {3.5, 0.08, 0.5}, {6, 0.03, 0.1}}, miniatureSource},
	Standard:    {[]MeltLimit{{1, 100 * hour, never}, {1.35, 0.75, 600}, {1.6, 0.25, 50}, {2, 0.15, 5}, {3.5, 0.08, 0.5}, {6, 0, 0.15}}, standardSource},
	Large:       {[]MeltLimit{{1, 100 * hour, never}, {1.35, 60, 1800}, {2, 2, 50}, {3.5, 0.2, 7}, {6, 0.04, 1}}, largeSource},
	BoltIn:      {[]MeltLimit{{1, 4 * hour, never}, {1.35, 60, 1800}, {2, 1, 50}, {3.5, 0.2, 7}, {6, 0.04, 1}}, fromPractice},
	FusibleLink: {[]MeltLimit{{1, 4 * hour, never}, {2, 5, 600}, {3.5, 0.5, 30}, {6, 0.1, 5}}, fromPractice},
}

// MeltTimes gives the melting band of a build; one that is not known has no limits.
func MeltTimes(kind FuseType) MeltTable { return meltTables[kind] }

func meltRows() int {
	rows := 0
	for _, table := range meltTables {
		rows += len(table.Limits)
	}
	return rows
}
