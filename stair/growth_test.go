package stair

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"
	"time"

	"github.com/martinlindhe/unit"
)

// longHill is a hillside of about so many risers, and readings at that many
// places, on ground that bears within 0.8 m of cut and 0.6 m of bank; what is dug
// costs. (Where what is filled costs as well bounds are weaker, and a thousand risers
// are more work than a fit may take.)
func longHill(risers, readings int) Task {
	foot, head, lim, site := hillside(1, float64(risers)*0.15/0.35)
	site.maxCut, site.maxRaise, site.fill = 0.8, 0.6, 0
	lim.RiserMin, lim.RiserMax, lim.MaxFlightRisers = 0.14, 0.17, 18
	r := rand.New(rand.NewPCG(1, 17))
	site.x, site.y = nil, nil
	for i := 0; i <= readings; i++ {
		f := float64(i) / float64(readings)
		site.x = append(site.x, float64(head.Station)*f)
		site.y = append(site.y, float64(head.Level)*f+0.2*(2*r.Float64()-1))
	}
	return Task{Foot: End{[]Point{foot}}, Head: End{[]Point{head}}, Limits: lim, Site: &walked{profile: site}}
}

// walked is a profile that finds its place in the ground by halving.
type walked struct{ *profile }

func (w *walked) Cells(at []unit.Length, l Line, cost []float64, bears []bool) {
	x := w.profile.x
	lo, hi := 0, len(x)-2
	for lo < hi {
		if mid := (lo + hi + 1) / 2; x[mid] <= float64(at[0]) {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	p := *w.profile
	p.x, p.y = p.x[lo:], p.y[lo:]
	p.Cells(at, l, cost, bears)
	w.cells += len(at) - 1
	w.dug = p.dug
}

// exponent is that of the power law nearest to the points, by least squares of
// their logarithms.
func exponent(x, y []float64) float64 {
	var sx, sy, sxx, sxy float64
	for i := range x {
		a, b := math.Log(x[i]), math.Log(y[i])
		sx, sy, sxx, sxy = sx+a, sy+b, sxx+a*a, sxy+a*b
	}
	n := float64(len(x))
	return (n*sxy - sx*sy) / (n*sxx - sx*sx)
}

// grow times fits of growing size and reports the exponent of their growth.
func growth(b *testing.B, name string, sizes []int, task func(int) Task) {
	var x, y []float64
	for _, n := range sizes {
		t := task(n)
		best := math.Inf(1)
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		runs := 0
		for start := time.Now(); runs < 1 || runs < 5 && time.Since(start) < time.Second; runs++ {
			a := time.Now()
			if _, err := t.Fit(); err != nil {
				b.Fatal(err)
			}
			best = math.Min(best, time.Since(a).Seconds())
		}
		runtime.ReadMemStats(&after)
		b.Logf("%d %s: %.4f s, %.1f MB allocated", n, name, best, float64(after.TotalAlloc-before.TotalAlloc)/1e6/float64(runs))
		x, y = append(x, float64(n)), append(y, best)
	}
	b.ReportMetric(exponent(x, y), "exponent")
	b.ReportMetric(y[len(y)-1]*1e3, fmt.Sprintf("ms/%d-%s", sizes[len(sizes)-1], name))
}

func BenchmarkGrowthOfTasks(b *testing.B) {
	b.Run("risers", func(b *testing.B) {
		growth(b, "risers", []int{10, 50, 200, 1000}, func(n int) Task { return longHill(n, 2*n) })
	})
	b.Run("readings", func(b *testing.B) {
		growth(b, "readings", []int{10, 100, 1000, 10000}, func(n int) Task { return longHill(40, n) })
	})
}
