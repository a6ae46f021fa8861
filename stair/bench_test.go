package stair

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/martinlindhe/unit"
)

// hillside is a site of some length for benchmarks, of 20 readings or so.
func hillside(seed uint64, run float64) (foot, head Point, lim Limits, site *profile) {
	r := rand.New(rand.NewPCG(seed, 11))
	rise := run * 0.35
	site = &profile{cut: 1, fill: 2, maxCut: math.Inf(1), maxRaise: math.Inf(1)}
	const n = 20
	for i := 0; i <= n; i++ {
		f := float64(i) / n
		site.x = append(site.x, run*f)
		site.y = append(site.y, rise*(f+0.08*math.Sin(f*9))+0.1*(2*r.Float64()-1))
	}
	head = Point{unit.Length(run), unit.Length(rise)}
	lim = Limits{
		RiserMin: 0.100, RiserMax: 0.200, TreadMin: 0.250, TreadMax: 0.900, LandingMin: 0.900,
	}
	return foot, head, lim, site
}

func BenchmarkFit(b *testing.B) {
	type variant struct {
		name string
		run  float64
		f    func(*Limits, *profile)
	}
	for _, v := range []variant{
		{"12m", 12.004, func(*Limits, *profile) {}},
		{"12m/on grid", 12, func(*Limits, *profile) {}},
		{"12m/max 14 risers", 12.004, func(l *Limits, _ *profile) { l.MaxFlightRisers = 14 }},
		{"12m/bearing", 12.004, func(_ *Limits, p *profile) { p.maxCut, p.maxRaise = 0.8, 0.6 }},
		{"12m/bearing max 14", 12.004, func(l *Limits, p *profile) { l.MaxFlightRisers = 14; p.maxCut, p.maxRaise = 0.8, 0.6 }},
		{"30m/bearing", 30, func(_ *Limits, p *profile) { p.maxCut, p.maxRaise = 0.8, 0.6 }},
		{"30m", 30, func(_ *Limits, p *profile) {}},
	} {
		b.Run(v.name, func(b *testing.B) {
			foot, head, lim, site := hillside(1, v.run)
			v.f(&lim, site)
			b.ReportAllocs()
			for b.Loop() {
				site.cells = 0
				f, err := Fit(foot, head, lim, site)
				if err != nil {
					b.Fatal(err)
				}
				if b.N == 1 {
					b.Log(f.Layout.Risers, describe(f.Layout), f.Cost, fmt.Sprint(site.cells, " cells priced"))
				}
			}
			b.ReportMetric(float64(site.cells), "cells/op")
		})
	}
}

// BenchmarkGrowth shows how the work grows with the number of risers, on ground
// that bears within 0.8 m of cut and 0.6 m of bank.
func BenchmarkGrowth(b *testing.B) {
	for _, risers := range []int{10, 25, 50, 100, 200} {
		b.Run(fmt.Sprint(risers), func(b *testing.B) {
			foot, head, lim, site := hillside(1, float64(risers)*0.15/0.35)
			site.maxCut, site.maxRaise = 0.8, 0.6
			lim.RiserMin, lim.RiserMax, lim.MaxFlightRisers = 0.14, 0.17, 18
			// The same relief whatever the length.
			r := rand.New(rand.NewPCG(1, 17))
			site.x, site.y = nil, nil
			for i := 0; i <= 2*risers; i++ {
				f := float64(i) / float64(2*risers)
				site.x = append(site.x, float64(head.Station)*f)
				site.y = append(site.y, float64(head.Level)*f+0.2*(2*r.Float64()-1))
			}
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Fit(foot, head, lim, site); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
