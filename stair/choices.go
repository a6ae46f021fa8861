package stair

import (
	"fmt"
	"math"
	"slices"

	"github.com/martinlindhe/unit"
)

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
		} else if i == 0 {
			cost += start(site, f.Kind, l.Riser)
		}
		switch {
		case f.Kind != Framed:
			cost += float64(n * site.Riser(l.Riser))
		case framer == nil:
			return 0, false
		default:
			cost += float64(n * framer.FramedRiser(l.Riser))
		}
		if pricer != nil && pricer.FlightsPriced(f.Kind) {
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

// start is what the first riser of a path costs beyond another.
func start(site Site, k Kind, r unit.Length) float64 {
	if x, ok := site.(Starter); ok {
		return x.Start(k, r)
	}
	return 0
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

// Measured is one measure that layouts are compared by: what they cost on a
// site, and what their misfit costs the walker.
type Measured struct {
	Name string
	// Site prices layouts in this measure; nil: nothing but the walker counts.
	Site Site
	// Walking is what a metre of misfit costs in this measure.
	Walking float64
}

// Choice is a layout that no other choice beats on all measures at once.
type Choice struct {
	Layout Layout `json:"layout"`
	// Values are what it comes to in each measure, in their order.
	Values []float64 `json:"values"`
	// BestFor names the measures in which no layout at all is better.
	BestFor []string `json:"best_for,omitempty"`
}

// maxChoices is the most choices given.
const maxChoices = 7

// Choices are layouts of the task worth choosing between: the best for each
// measure, and the best for sums of the measures weighed against each other, less
// those that another of them beats: as good in every measure and better in one.
// The best for each measure is exact, as [Task.Fit] is, and always among them, or
// another that is as good in that measure.
//
// What is found. The measures are weighed by the range they take over the bests
// of the single ones: every two of them alike; all of them alike; each with seven
// tenths against the others together; and each with all but a thousandth, which
// finds among layouts that are alike in it one that is good in the others. Weighted sums find only layouts that
// are best for some weights. One that no other beats, but that is for no weights
// the best, as in a hollow between two others, is not found; and between the
// weights tried there may be more.
//
// What is kept. Of more than seven the bests for single measures are kept, then
// one after the other the one that is furthest from those kept: by the measure
// in which it differs most from the nearest, in parts of the range; the first
// found where that is equal. Choices come in the order they were found in, the
// bests first, in the order of the measures.
//
// The task's own Site and Walking are not used. The sites of the measures must
// agree on where the path may stand; they are asked in turn, and a layout that
// one of them refuses is no choice.
//
// One to seven measures. The error is a [Faults], as of [Task.Fit], or of the
// measures.
func Choices(t Task, measures []Measured) ([]Choice, error) {
	var faults Faults
	if len(measures) == 0 || len(measures) > maxChoices {
		faults.Addf("measures", "are %d; give 1 to %d", len(measures), maxChoices)
	}
	var stand Site
	for i, m := range measures {
		field := fmt.Sprintf("measures[%d]", i)
		if _, ok := m.Site.(Framer); m.Site != nil && !ok && slices.Contains(t.Limits.Kinds, Framed) {
			faults.Add(field+".site", "", "prices no framed flights", "give a Framer, or leave framed out of the kinds")
		}
		if !finite(m.Walking) || m.Walking < 0 {
			faults.Add(field+".walking", fmt.Sprint(m.Walking), "is not a cost", "give what a metre of misfit costs, or 0")
		}
		if m.Site == nil && m.Walking == 0 {
			faults.Add(field, m.Name, "measures nothing", "give it a site or what the walker costs")
		}
		if stand == nil {
			stand = m.Site
		}
	}
	if stand == nil && len(faults) == 0 {
		faults.Add("measures", "", "have no site among them", "give one that says where the path may stand")
	}
	if len(faults) > 0 {
		return nil, faults.Err()
	}
	c := chooser{task: t, measures: measures, stand: stand, scale: make([]float64, len(measures))}
	for i := range measures {
		w := make([]float64, len(measures))
		w[i] = 1
		if err := c.try(w); err != nil {
			return nil, err
		}
	}
	c.ranges()
	for _, w := range c.weights() {
		if err := c.try(w); err != nil {
			return nil, err
		}
	}
	return c.choices(), nil
}

// chooser collects layouts.
type chooser struct {
	task     Task
	measures []Measured
	stand    Site // says where the path may stand
	found    []Choice
	least    []float64
	scale    []float64 // range of each measure
	bare     bool      // the fits go on without what is wished for
}

// try adds the best layout for a weighted sum of the measures.
func (c *chooser) try(weights []float64) error {
	t := c.task
	t.Walking, t.EveryCount = 0, false
	site := &weighted{}
	for i, m := range c.measures {
		w := weights[i]
		t.Walking += float64(w * m.Walking)
		if m.Site != nil && w > 0 {
			site.add(m.Site, w)
		}
	}
	if len(site.sites) == 0 {
		site.add(c.stand, 0)
	}
	if t.Site = site.blended(); t.Site == nil {
		t.Site = site
		if !slices.Contains(t.Limits.Kinds, Framed) {
			t.Site = boxesOnly{site}
		}
	}
	p, err := t.problem()
	if err != nil {
		return err
	}
	wishing := !c.bare && p.wish()
	// What was found before costs no less than the best: that is a limit to begin
	// with, a little above for what was summed in another order.
	for _, x := range c.found {
		v := 0.0
		for i, w := range weights {
			v += float64(w * x.Values[i])
		}
		v += alike(v, v) + float64(1e-6*v)
		if p.within == 0 || v < p.within {
			p.within = v
		}
	}
	f, err := p.fit()
	if err == nil && f.Layout.Risers == 0 && p.within > 0 {
		p.within = 0
		f, err = p.fit()
	}
	if err == nil && f.Layout.Risers == 0 {
		if wishing { // what is wished for can be had in all measures or in none
			c.bare = true
			return c.try(weights)
		}
		err = p.infeasible(f.Considered)
	}
	if err != nil {
		return err
	}
	x := Choice{Layout: f.Layout}
	for _, m := range c.measures {
		v := 0.0
		if m.Site != nil {
			var ok bool
			if v, ok = Price(f.Layout, m.Site); !ok {
				return nil
			}
		}
		if m.Walking > 0 {
			v += float64(m.Walking * float64(f.Layout.Walk(unit.Length(usablePace(t.Pace))).Misfit))
		}
		x.Values = append(x.Values, v)
	}
	for _, y := range c.found {
		if slices.EqualFunc(x.Values, y.Values, func(a, b float64) bool { return math.Abs(a-b) <= alike(a, b) }) {
			return nil // as good as one found before
		}
	}
	c.found = append(c.found, x)
	return nil
}

// alike is how near two values must be to count as the same: far below what
// anyone can measure, above what sums in different order differ by.
func alike(a, b float64) float64 {
	return 1e-7 + float64(1e-9*math.Max(math.Abs(a), math.Abs(b)))
}

// ranges finds the least and the range of each measure over what was found.
func (c *chooser) ranges() {
	c.least = make([]float64, len(c.measures))
	for i := range c.measures {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, x := range c.found {
			lo, hi = math.Min(lo, x.Values[i]), math.Max(hi, x.Values[i])
		}
		c.least[i] = lo
		if c.scale[i] = hi - lo; c.scale[i] <= alike(lo, hi) || len(c.found) == 0 {
			c.scale[i] = 0 // no choice in this measure
		}
	}
}

// weights lists the weights to try: two against each other, all, each against
// the others.
func (c *chooser) weights() (out [][]float64) {
	n := len(c.measures)
	of := func(share func(i int) float64) {
		w, some := make([]float64, n), 0
		for i := range w {
			if c.scale[i] > 0 {
				if w[i] = share(i) / c.scale[i]; w[i] > 0 {
					some++
				}
			}
		}
		if some > 1 {
			out = append(out, w)
		}
	}
	for i := range n {
		for j := range i {
			of(func(k int) float64 {
				if k == i || k == j {
					return 0.5
				}
				return 0
			})
		}
	}
	if n > 2 {
		of(func(int) float64 { return 1 / float64(n) })
	}
	for _, share := range []float64{0.7, 0.999} {
		for i := range n {
			of(func(k int) float64 {
				if k == i {
					return share
				}
				return (1 - share) / float64(n-1)
			})
		}
	}
	return out
}

// choices drops what is beaten and thins what is left.
func (c *chooser) choices() []Choice {
	beats := func(x, y Choice) bool {
		better := false
		for i := range x.Values {
			d := y.Values[i] - x.Values[i]
			if d < -alike(x.Values[i], y.Values[i]) {
				return false
			}
			better = better || d > alike(x.Values[i], y.Values[i])
		}
		return better
	}
	var left []Choice
	for i, x := range c.found {
		if !slices.ContainsFunc(c.found, func(y Choice) bool { return beats(y, c.found[i]) }) {
			left = append(left, x)
		}
	}
	taken := make([]bool, len(left))
	n := 0
	for i, m := range c.measures {
		first := true
		for j := range left {
			if left[j].Values[i] > c.least[i]+alike(left[j].Values[i], c.least[i]) {
				continue
			}
			left[j].BestFor = append(left[j].BestFor, m.Name)
			if first && !taken[j] {
				taken[j] = true
				n++
			}
			first = false
		}
	}
	for ; n < len(left) && n < maxChoices; n++ {
		best, furthest := -1, 0.0
		for j, x := range left {
			if taken[j] {
				continue
			}
			near := math.Inf(1)
			for k, y := range left {
				if taken[k] {
					near = math.Min(near, c.apart(x, y))
				}
			}
			if best < 0 || near > furthest {
				best, furthest = j, near
			}
		}
		taken[best] = true
	}
	var out []Choice
	for j, x := range left {
		if taken[j] {
			out = append(out, x)
		}
	}
	return out
}

// apart is the most that two choices differ in any measure, in parts of its
// range.
func (c *chooser) apart(x, y Choice) float64 {
	most := 0.0
	for i, s := range c.scale {
		if s > 0 {
			most = math.Max(most, math.Abs(x.Values[i]-y.Values[i])/s)
		}
	}
	return most
}

// boxesOnly hides that a site may price framed flights.
type boxesOnly struct{ w *weighted }

func (b boxesOnly) Cells(at []unit.Length, l Line, cost []float64, bears []bool) {
	b.w.Cells(at, l, cost, bears)
}
func (b boxesOnly) Riser(r unit.Length) float64            { return b.w.Riser(r) }
func (b boxesOnly) Start(k Kind, r unit.Length) float64    { return b.w.Start(k, r) }
func (b boxesOnly) Flight(s Shape) (cost float64, ok bool) { return b.w.Flight(s) }
func (b boxesOnly) FlightsPriced(k Kind) bool              { return b.w.FlightsPriced(k) }

// weighted is a sum of sites.
type weighted struct {
	sites   []Site
	weights []float64
	cost    []float64
	bears   []bool
}

// blended is the sum as one of the sites' own kind; nil where they cannot be one.
func (w *weighted) blended() Site {
	if b, ok := w.sites[0].(Blender); ok {
		return b.Blend(w.sites, w.weights)
	}
	return nil
}

func (w *weighted) add(s Site, by float64) {
	w.sites, w.weights = append(w.sites, s), append(w.weights, by)
}

// sum adds up what the sites say of cells; what one refuses is refused.
func (w *weighted) sum(cells func(Site) func([]unit.Length, Line, []float64, []bool), at []unit.Length, l Line, cost []float64, bears []bool) {
	n := len(at) - 1
	w.cost, w.bears = grow(w.cost, n), growBools(w.bears, n)
	c, b := w.cost[:n], w.bears[:n]
	for i, s := range w.sites {
		if i == 0 {
			cells(s)(at, l, cost, bears)
			for j := range c {
				cost[j] *= w.weights[0]
			}
			continue
		}
		cells(s)(at, l, c, b)
		for j, v := range c {
			cost[j] += float64(w.weights[i] * v)
			bears[j] = bears[j] && b[j]
		}
	}
}

func (w *weighted) Cells(at []unit.Length, l Line, cost []float64, bears []bool) {
	w.sum(func(s Site) func([]unit.Length, Line, []float64, []bool) { return s.Cells }, at, l, cost, bears)
}

func (w *weighted) FramedCells(at []unit.Length, l Line, cost []float64, bears []bool) {
	w.sum(func(s Site) func([]unit.Length, Line, []float64, []bool) { return s.(Framer).FramedCells }, at, l, cost, bears)
}

func (w *weighted) PlatformCells(at []unit.Length, l Line, cost []float64, bears []bool) {
	w.sum(func(s Site) func([]unit.Length, Line, []float64, []bool) { return s.(Framer).PlatformCells }, at, l, cost, bears)
}

func (w *weighted) Riser(r unit.Length) float64 {
	v := 0.0
	for i, s := range w.sites {
		v += float64(w.weights[i] * s.Riser(r))
	}
	return v
}

func (w *weighted) Start(k Kind, r unit.Length) float64 {
	v := 0.0
	for i, s := range w.sites {
		v += float64(w.weights[i] * start(s, k, r))
	}
	return v
}

func (w *weighted) FramedRiser(r unit.Length) float64 {
	v := 0.0
	for i, s := range w.sites {
		v += float64(w.weights[i] * s.(Framer).FramedRiser(r))
	}
	return v
}

func (w *weighted) Platform() (cost float64, ok bool) {
	for i, s := range w.sites {
		c, ok := s.(Framer).Platform()
		if !ok {
			return 0, false
		}
		cost += float64(w.weights[i] * c)
	}
	return cost, true
}

func (w *weighted) FlightsPriced(k Kind) bool {
	for _, x := range w.sites {
		if p, is := x.(FlightPricer); is && p.FlightsPriced(k) {
			return true
		}
	}
	return false
}

// FlightLeast implements [FlightBounder].
func (w *weighted) FlightLeast(k Kind, tread unit.Length) (open, each float64, ok bool) {
	for i, x := range w.sites {
		if p, is := x.(FlightPricer); !is || !p.FlightsPriced(k) {
			continue
		}
		b, is := x.(FlightBounder)
		if !is {
			return 0, 0, false
		}
		o, e, ok := b.FlightLeast(k, tread)
		if !ok {
			return 0, 0, false
		}
		open, each = open+float64(w.weights[i]*o), each+float64(w.weights[i]*e)
	}
	return open, each, true
}

func (w *weighted) Flight(s Shape) (cost float64, ok bool) {
	for i, x := range w.sites {
		p, is := x.(FlightPricer)
		if !is {
			continue
		}
		c, ok := p.Flight(s)
		if !ok {
			return 0, false
		}
		cost += float64(w.weights[i] * c)
	}
	return cost, true
}
