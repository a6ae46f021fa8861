package stair

import (
	"math"
	"math/rand/v2"

	"github.com/martinlindhe/unit"
)

// profile is a site for tests: ground as a polyline, the cost of a cell its cut
// area times cut plus its fill area times fill, exactly integrated.
type profile struct {
	x, y             []float64 // ground, stations ascending
	cut, fill, riser float64   // costs per m² and per riser
	maxCut, maxRaise float64   // how far the surface may lie below and above ground
	holes            []hole    // where not to stand
	calls, cells     int
	dug              []float64 // what of the cells asked last is cut
}

// hole is a place where no surface bears: x0 to x1, at levels between y0 and y1.
type hole struct{ x0, x1, y0, y1 float64 }

func (p *profile) Riser(r unit.Length) float64 { return p.riser }

func (p *profile) Cells(at []unit.Length, l Line, cost []float64, bears []bool) {
	p.calls++
	p.cells += len(at) - 1
	p.dug = p.dug[:0]
	g := 0
	for i := 0; i+1 < len(at); i++ {
		a, b := float64(at[i]), float64(at[i+1])
		for g+2 < len(p.x) && p.x[g+1] <= a {
			g++
		}
		c, dug, worstCut, worstRaise := 0.0, 0.0, math.Inf(-1), math.Inf(-1)
		h := func(x float64, g int) float64 { // ground above surface
			f := (x - p.x[g]) / (p.x[g+1] - p.x[g])
			return p.y[g] + float64(f*(p.y[g+1]-p.y[g])) - float64(l.Level) - float64(l.Grade*(x-float64(l.Station)))
		}
		for k, from := g, a; from < b; k++ {
			to := b
			if k+2 < len(p.x) && p.x[k+1] < b {
				to = p.x[k+1]
			}
			h0, h1 := h(from, k), h(to, k)
			worstCut = math.Max(worstCut, math.Max(h0, h1))
			worstRaise = math.Max(worstRaise, math.Max(-h0, -h1))
			cut, fill := p.area(h0, h1, to-from)
			c += cut + fill
			dug += cut
			from = to
			if k+2 >= len(p.x) {
				break
			}
		}
		cost[i] = c
		p.dug = append(p.dug, dug)
		bears[i] = worstCut <= p.maxCut+1e-12 && worstRaise <= p.maxRaise+1e-12
		for _, o := range p.holes {
			from, to := math.Max(a, o.x0), math.Min(b, o.x1)
			y0, y1 := float64(l.At(unit.Length(from))), float64(l.At(unit.Length(to)))
			if from < to && math.Min(y0, y1) < o.y1 && math.Max(y0, y1) > o.y0 {
				bears[i] = false
			}
		}
	}
}

// area is what the cut and the fill of a stretch cost.
func (p *profile) area(h0, h1, w float64) (cut, fill float64) {
	pos, neg := 0.0, 0.0
	switch {
	case h0 >= 0 && h1 >= 0:
		pos = (h0 + h1) / 2 * w
	case h0 <= 0 && h1 <= 0:
		neg = -(h0 + h1) / 2 * w
	default:
		z := w * h0 / (h0 - h1)
		if h0 > 0 {
			pos, neg = h0/2*z, -h1/2*(w-z)
		} else {
			neg, pos = -h0/2*z, h1/2*(w-z)
		}
	}
	return float64(pos * p.cut), float64(neg * p.fill) // not fused, so that results are the same everywhere
}

// Sunk implements Sinker: the cut is, the fill is not. Under frames nothing is filled.
func (p *profile) Sunk(k Kind, _ []unit.Length, cost []float64) bool {
	if k == Box {
		copy(cost, p.dug)
	}
	return true
}

// randomProfile is ground from (0,0) to (run,rise), wandering by up to wander.
func randomProfile(r *rand.Rand, run, rise, wander float64) *profile {
	p := &profile{cut: 1, fill: 1 + 2*r.Float64(), maxCut: math.Inf(1), maxRaise: math.Inf(1)}
	if r.IntN(2) == 0 { // cut alone, on ground that it must not leave
		p.fill, p.maxRaise = 0, 0.3*r.Float64()
	}
	n := 2 + r.IntN(6)
	for i := 0; i <= n; i++ {
		f := float64(i) / float64(n)
		if i > 0 && i < n {
			f += (r.Float64() - 0.5) * 0.8 / float64(n)
		}
		y := rise*f + wander*(2*r.Float64()-1)
		p.x = append(p.x, run*f)
		p.y = append(p.y, y)
	}
	return p
}
