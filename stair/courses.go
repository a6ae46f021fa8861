package stair

import (
	"fmt"
	"math"

	"github.com/martinlindhe/unit"
)

// Courses is what box risers are made of: timbers laid one on another.
type Courses struct {
	// Height is the dressed height of one timber as laid, 10 mm to 1 m.
	Height unit.Length `json:"height"`
	// MaxBedding is the most that the lowest may be raised on bedding to make up
	// a riser, 0 to 1 m.
	MaxBedding unit.Length `json:"max_bedding"`
	// MaxBuried is the most of the timbers that may lie below the tread in front,
	// where they are higher than the riser; 0 is any. A little, 1 mm, says that
	// next to nothing may be buried.
	MaxBuried unit.Length `json:"max_buried"`
}

// Make says how a riser of height r is made: the fewest courses that with
// bedding reach it, and the bedding below them or how much of them is buried. ok
// is false when they would be buried deeper than MaxBuried.
func (c Courses) Make(r unit.Length) (courses int, bedding, buried unit.Length, ok bool) {
	n := math.Max(1, math.Ceil((float64(r)-float64(c.MaxBedding)-tol)/float64(c.Height)))
	over := float64(n*float64(c.Height)) - float64(r)
	switch {
	case over < -tol:
		bedding = unit.Length(-over)
	case over > tol:
		buried = unit.Length(over)
	}
	return int(n), bedding, buried, c.MaxBuried == 0 || float64(buried) <= float64(c.MaxBuried)+tol
}

func (c Courses) check(faults *Faults) {
	for _, f := range []struct {
		name     string
		v        unit.Length
		min, max float64
	}{{"height", c.Height, 0.01, 1}, {"max_bedding", c.MaxBedding, 0, 1}, {"max_buried", c.MaxBuried, 0, 1}} {
		if x := float64(f.v); !finite(x) || x < f.min || x > f.max {
			faults.Add("courses."+f.name, fmt.Sprint(x), "is not a usable length", fmt.Sprintf("give %s to 1 m", text(unit.Length(f.min))))
		}
	}
}
