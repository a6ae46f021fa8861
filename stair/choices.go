package stair

import "github.com/martinlindhe/unit"

// Price is what a layout costs on a site: its cells, each tread and landing
// priced whole, its risers but one that stands already, its flights as wholes
// and its platforms. bears is false when some of it may not be where it is, or
// the site does not price what the layout is made of; cost is then without
// meaning. What the walker costs is not in it: see [Walk.Misfit].
func Price(l Layout, site Site) (cost float64, bears bool) {
	framer, _ := site.(Framer)
	pricer, _ := site.(FlightPricer)
	bears = true
	for i, f := range l.Flights {
		n := float64(f.Risers)
		if i == 0 && l.FirstStands {
			n--
		}
		switch {
		case f.Kind != Framed:
			cost += float64(n * site.Riser(l.Riser))
		case framer == nil:
			return 0, false
		default:
			cost += float64(n * framer.FramedRiser(l.Riser))
		}
		if pricer != nil {
			run := float64(float64(f.Risers-1) * float64(f.Tread))
			c, ok := pricer.Flight(Shape{Kind: f.Kind, Risers: f.Risers, Tread: f.Tread, Riser: l.Riser, Run: unit.Length(run),
				Rise: unit.Length(float64(float64(f.Risers)*float64(l.Riser)) + float64(l.Wash*run))})
			cost += c
			bears = bears && ok
		}
	}
	for _, g := range l.Landings {
		if g.Kind != Framed {
			continue
		}
		if framer == nil {
			return 0, false
		}
		c, ok := framer.Platform()
		cost += c
		bears = bears && ok
	}
	walkOver(l, site, func(_ int, ok bool, c float64) {
		cost += c
		bears = bears && ok
	})
	if !bears {
		return 0, false
	}
	return cost, true
}

// walkOver prices every tread and landing of a layout whole, from the foot up.
func walkOver(l Layout, site Site, each func(riser int, bears bool, cost float64)) {
	framer, _ := site.(Framer)
	var c [1]float64
	var ok [1]bool
	var at [2]unit.Length
	for i, f := range l.Flights {
		for k := f.First; k < f.First+f.Risers && k < len(l.Steps); k++ {
			cells := site.Cells
			switch {
			case k < f.First+f.Risers-1 && f.Kind == Framed:
				cells = framer.FramedCells
			case k == f.First+f.Risers-1 && i < len(l.Landings) && l.Landings[i].Kind == Framed:
				cells = framer.PlatformCells
			}
			at = [2]unit.Length{l.Steps[k-1].Station, l.Steps[k].Station}
			c[0], ok[0] = 0, false
			cells(at[:], l.Surface(k), c[:], ok[:])
			each(k, ok[0], c[0])
		}
	}
}
