package stair

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"github.com/martinlindhe/unit"
)

// span is the runs that n risers in so many flights can cover within the
// limits, whatever the ground.
type span struct {
	flights int
	lo, hi  float64 // metres; hi may be infinite
}

// spans is what runs n risers can cover, and why they can cover none at all.
// Where a flight's rise is limited and treads have a wash, the deeper treads
// may allow shorter flights than is reckoned here: the spans are then a little
// too wide, never too narrow.
func (p *problem) spans(n int) (out []span, why string) {
	r := p.riserOf(n)
	var lo, hi float64
	minRisers, made, some := maxRisers, false, false
	for kind := range kindNames {
		if !p.made(kind, r) {
			continue
		}
		made = true
		b := p.of(kind)
		a, z := b.treadRange(r)
		if a > z+tol {
			continue
		}
		if !some || a < lo {
			lo = a
		}
		if !some || z > hi {
			hi = z
		}
		minRisers = min(minRisers, b.minRisers)
		some = true
	}
	switch {
	case !made:
		return nil, p.unmade(r)
	case !some:
		b := p.flightBounds
		if !p.made(onBox, r) {
			b = p.frame
		}
		if at := r / (b.steepest - b.wash); b.steepest > 0 && !(at > 0 && at <= b.treadMax+tol) {
			return nil, fmt.Sprintf("the pitch of %s at most wants treads deeper than %s", pitchText(b.steepest), text(unit.Length(b.treadMax)))
		}
		return nil, fmt.Sprintf("the step rule leaves no tread between %s and %s", text(unit.Length(b.treadMin)), text(unit.Length(b.treadMax)))
	}
	// most is the most risers of any flight with treads of t or, of a kind that
	// has none so shallow, of its shallowest.
	most := func(onGrid bool) int {
		m := 0
		for kind := range kindNames {
			if !p.made(kind, r) {
				continue
			}
			b := p.of(kind)
			t, z := b.treadRange(r)
			if t > z+tol {
				continue
			}
			if onGrid {
				if t = float64(math.Ceil((t-tol)/p.grid) * p.grid); t > float64(math.Floor((z+tol)/p.grid)*p.grid)+tol {
					m = max(m, 1)
					continue
				}
			}
			m = max(m, b.flightRisers(r, t, n))
		}
		return m
	}
	first := minRisers // of the flight at the foot
	if p.stands {
		first = 1
	}
	longest := most(false)
	if n >= 2 && n >= first && longest >= n {
		out = append(out, span{1, float64(float64(n-1) * lo), float64(float64(n-1) * hi)})
	}
	if p.landingMin > 0 && n >= first+minRisers {
		t0 := float64(math.Ceil((lo-tol)/p.grid) * p.grid)
		t1 := float64(math.Floor((hi+tol)/p.grid) * p.grid)
		longest = most(true)
		if t0 > t1+tol {
			// No tread on the grid: flights of one riser at most.
			t0, t1, longest = 0, 0, 1
		}
		d := float64(math.Ceil((p.landingMin-tol)/p.grid) * p.grid)
		for f := 2; first+(f-1)*minRisers <= n; f++ {
			if longest < minRisers || longest < 1 || f*longest < n {
				continue
			}
			s := span{flights: f, hi: math.Inf(1)}
			s.lo = float64(float64(n-f)*t0) + float64(float64(f-2)*d) + p.landingMin
			if p.landingMax != 0 {
				s.hi = float64(float64(n-f)*t1) + float64(float64(f-1)*p.landingMax)
			}
			out = append(out, s)
		}
	}
	if len(out) == 0 {
		switch {
		case n == 1:
			why = "one riser has no tread to cover the run with"
		case n < first:
			why = fmt.Sprintf("a flight has at least %d risers", minRisers)
		case p.landingMin == 0 && longest < n:
			why = fmt.Sprintf("a flight has at most %d of them and there are no landings", longest)
		default:
			why = fmt.Sprintf("they cannot be parted into flights of %d to %d risers", minRisers, longest)
		}
	}
	return out, why
}

// unmade says why a riser of height r cannot be one of any kind of flight.
func (p *problem) unmade(r float64) string {
	b := &p.flightBounds
	if p.boxes && p.courses != nil && r <= b.riserMax+tol && r >= b.riserMin-tol {
		n, _, buried, _ := p.courses.Make(unit.Length(r))
		return fmt.Sprintf("%s of %s would be buried by %s, and at most %s may be", courses(n), text(p.courses.Height), text(buried), text(p.courses.MaxBuried))
	}
	return "no kind of flight has risers of that height"
}

func courses(n int) string {
	if n == 1 {
		return "1 course"
	}
	return fmt.Sprintf("%d courses", n)
}

// nearest is the least change of the run that puts it inside a span: positive
// when more run is needed. ok is whether there is any span.
func (p *problem) nearest(n int) (change float64, ok bool) {
	spans, _ := p.spans(n)
	change = math.Inf(1)
	for _, s := range spans {
		c := 0.0
		if p.run < s.lo-tol {
			c = s.lo - p.run
		} else if p.run > s.hi+tol {
			c = s.hi - p.run
		}
		if math.Abs(c) < math.Abs(change) {
			change = c
		}
	}
	return change, len(spans) > 0
}

// why says why n risers have no layout.
func (p *problem) why(n int) string {
	if _, why := p.spans(n); why != "" {
		return why
	}
	c, _ := p.nearest(n)
	run := text(unit.Length(p.run))
	switch {
	case c > 0:
		return fmt.Sprintf("they take %s of run at least, and there are %s", text(unit.Length(p.run+c)), run)
	case c < 0 && p.landingMin == 0:
		return fmt.Sprintf("they cover %s of run at most without a landing, and there are %s", text(unit.Length(p.run+c)), run)
	case c < 0:
		return fmt.Sprintf("they cover %s of run at most, and there are %s", text(unit.Length(p.run+c)), run)
	}
	return "however they are laid out, the ground somewhere " + p.astray()
}

// astray is what is wrong with ground that a path may not stand on.
func (p *problem) astray() string {
	if len(p.bends) > 0 {
		return "lies too high or too low for the steps, or a bend leaves no room"
	}
	return "lies too high or too low for the steps"
}

// infeasible is the error when nothing fits: which limits clash, and the
// smallest single changes that would do.
func (p *problem) infeasible(considered []PerCount) error {
	one := *p
	ends := ""
	if len(p.pairs) > 1 {
		// What would do is tried between the first of the ends.
		one.pairs = p.pairs[:1]
		ends = fmt.Sprintf(" between any of %d pairs of ends (what follows is for the first)", len(p.pairs))
	}
	one.take([2]Point{p.foot, p.head})
	p = &one
	lo, hi := p.counts()
	try := trial{problem: p}
	var f Fault
	bearing, tried := false, ""
	if lo > hi {
		f.Field = "riser_max"
		f.Problem = fmt.Sprintf("no layout fits: no number of equal risers makes the climb of %s with risers from %s to %s",
			text(unit.Length(p.climb)), text(unit.Length(p.riserMin)), text(unit.Length(p.riserMax)))
		if lo > 1 {
			tried = fmt.Sprintf("%d would be %s each and %d %s", lo-1, text(unit.Length(p.climb/float64(lo-1))), lo, text(unit.Length(p.climb/float64(lo))))
		}
	} else {
		var clash string
		f.Field, clash, bearing = p.clash(considered)
		f.Problem = "no layout fits" + ends + ": " + clash
		tried = p.reasons(considered)
	}
	changes := try.changes(lo, hi)
	faults := Faults{f}
	if bearing {
		if g := try.standing(); g.Problem != "" {
			faults = append(faults, g)
		}
	}
	fixes := make([]string, 0, 4)
	for _, c := range changes {
		if len(fixes) == cap(fixes) {
			break
		}
		fixes = append(fixes, c.says)
	}
	switch {
	case len(fixes) == 1:
		faults[0].Fix = "what would do: " + fixes[0]
	case len(fixes) > 1:
		faults[0].Fix = "any one of these would do, the smallest change first: " + strings.Join(fixes, "; ")
	case try.spent > maxTrials:
		faults[0].Fix = "what would do takes too long to find out on so long a path; change several limits, plan it in parts, or move foot or head"
	case p.climb < p.riserMin/2:
		faults[0].Fix = "a path as gentle as this needs no steps, or move foot or head"
	default:
		faults[0].Fix = "no single limit of risers, treads, landings or flights changed by half would do; change several, or move foot or head"
		if _, ok := p.site.(Easer); ok {
			faults[0].Fix = "no single limit of risers, treads, landings, flights, digging or made ground changed by half would do; change several, or move foot or head"
		}
	}
	if tried != "" {
		faults[0].Fix += ". Tried: " + tried
	}
	return faults
}

// clash names the limit that stands in the way of most riser counts, says what it
// clashes with, and whether for any of them it is the ground alone.
func (p *problem) clash(considered []PerCount) (field, says string, bearing bool) {
	run := "the run of " + text(unit.Length(p.run)) + " is too "
	rise := " for a rise of " + text(unit.Length(p.rise))
	fields := [...][2]string{
		{"site", "whatever their number, the ground somewhere " + p.astray()}, {"tread_min", run + "short" + rise}, {"tread_max", run + "long" + rise},
		{"landing_min", "a flight may not have so many risers, and there are no landings"},
		{"max_flight_risers", "the risers cannot be parted into flights"},
		{"step_rule", "the step rule leaves no tread"},
		{"riser_min", "one riser has no tread to cover the run with"},
		{"courses", "whole courses of timber make no riser that is allowed"},
		{"pitch_max", "the pitch wants deeper treads than are allowed"},
	}
	votes := make([]int, len(fields))
	for _, c := range considered {
		change, ok := p.nearest(c.Risers)
		switch {
		case !ok && p.stepMin+p.stepMax > 0 && strings.HasPrefix(c.Why, "the step rule"):
			votes[5]++
		case !ok && strings.HasPrefix(c.Why, "the pitch"):
			votes[8]++
		case !ok && p.courses != nil && !p.made(onBox, float64(c.Riser)) && !p.made(onFrame, float64(c.Riser)):
			votes[7]++
		case !ok && c.Risers == 1:
			votes[6]++ // one riser has no tread; more and lower ones would
		case !ok && p.landingMin == 0:
			votes[3]++
		case !ok:
			votes[4]++
		case change > 0:
			votes[1]++
		case change < 0:
			votes[2]++
		default:
			votes[0]++
		}
	}
	if votes[0] > 0 {
		return fields[0][0], fields[0][1], true
	}
	best := 0
	for i := range votes {
		if votes[i] > votes[best] {
			best = i
		}
	}
	return fields[best][0], fields[best][1], false
}

// reasons joins the reasons of neighbouring riser counts that share them. Of
// counts whose run is wrong in the same sense the nearest one speaks.
func (p *problem) reasons(considered []PerCount) string {
	sense := func(c PerCount) float64 {
		x, ok := p.nearest(c.Risers)
		if !ok {
			return 0
		}
		return x
	}
	var parts []string
	for i := 0; i < len(considered); {
		x := sense(considered[i])
		j, best, least := i, i, math.Abs(x)
		for j+1 < len(considered) {
			y := sense(considered[j+1])
			if considered[j+1].Why != considered[i].Why && (x == 0 || y == 0 || (x > 0) != (y > 0)) {
				break
			}
			j++
			if math.Abs(y) < least {
				best, least = j, math.Abs(y)
			}
		}
		a, b, c := considered[i], considered[j], considered[best]
		s := fmt.Sprintf("%s of %s: %s", risers(c.Risers), text(c.Riser), c.Why)
		switch {
		case j > i && least > 0:
			s = fmt.Sprintf("of %d to %d risers, %s", a.Risers, b.Risers, s)
		case j > i:
			s = fmt.Sprintf("%d to %d risers: %s", a.Risers, b.Risers, a.Why)
		}
		parts = append(parts, s)
		i = j + 1
	}
	const most = 4
	if len(parts) > most {
		parts = append(parts[:most-1], fmt.Sprintf("and so on to %s", parts[len(parts)-1]))
	}
	return strings.Join(parts, "; ")
}

// risers is a number of risers in words.
func risers(n int) string {
	if n == 1 {
		return "1 riser"
	}
	return fmt.Sprintf("%d risers", n)
}

// change is one change of one limit that makes a layout possible.
type change struct {
	size float64 // relative to the limit
	says string
}

// trial tries changed limits on the same ground.
type trial struct {
	*problem
	spent int64
	on    Site // to try on; nil: the problem's
}

// maxTrials is the work that may go into trials, in steps of the programme.
const maxTrials = 200_000_000

// fits reports whether there is a layout when the limits are changed. Once much
// work has gone into trials no more are made.
func (t *trial) fits(f func(*bounds)) (Layout, bool) {
	if t.spent > maxTrials {
		return Layout{}, false
	}
	p := *t.problem
	p.spent, p.full, p.cap = 0, -1, maxTrials-t.spent+1
	if f(&p.bounds); t.on != nil {
		p.site = t.on
	}
	found, err := p.fit()
	t.spent += p.spent
	return found.Layout, err == nil && found.Layout.Risers > 0
}

// least finds the first of values, ascending in size of change, with which
// there is a layout. More change never does harm, so halving finds it.
func (t *trial) least(values []float64, set func(*bounds, float64)) (v float64, l Layout, ok bool) {
	if len(values) == 0 {
		return 0, Layout{}, false
	}
	v = values[len(values)-1]
	if l, ok = t.fits(func(b *bounds) { set(b, v) }); !ok {
		return 0, Layout{}, false
	}
	lo, hi := 0, len(values)-1 // values[hi] does
	for lo < hi {
		mid := (lo + hi) / 2
		if m, ok := t.fits(func(b *bounds) { set(b, values[mid]) }); ok {
			hi, v, l = mid, values[mid], m
		} else {
			lo = mid + 1
		}
	}
	return v, l, t.spent <= maxTrials
}

// changes are the smallest changes of one limit each that make a layout
// possible, the relatively smallest first. Lower limits are tried down to half
// and upper ones up to half as much again (landings and flights without end).
func (t *trial) changes(lo, hi int) []change {
	var out []change
	add := func(from, to float64, format string, l Layout) {
		s := fmt.Sprintf(format, text(unit.Length(to)), text(unit.Length(from)))
		out = append(out, change{math.Abs(to-from) / from, s + fmt.Sprintf(" (makes %d risers of %s)", l.Risers, text(l.Riser))})
	}
	out = append(out, t.kindsInstead()...)
	// Risers: the nearest count outside the limits.
	for n := lo - 1; n >= 1 && t.climb/float64(n) <= float64(1.5*t.riserMax)+tol; n-- {
		r := t.climb / float64(n)
		if l, ok := t.fits(func(b *bounds) { b.riserMin, b.riserMax = r, r }); ok {
			add(t.riserMax, r, "risers up to %s instead of %s", l)
			break
		}
	}
	for n := hi + 1; n <= maxRisers && t.climb/float64(n) >= float64(0.5*t.riserMin)-tol; n++ {
		r := t.climb / float64(n)
		if l, ok := t.fits(func(b *bounds) { b.riserMin, b.riserMax = r, r }); ok {
			add(t.riserMin, r, "risers down to %s instead of %s", l)
			break
		}
	}
	if lo > hi {
		sort.SliceStable(out, func(i, j int) bool { return out[i].size < out[j].size })
		return out
	}
	// Treads: multiples of the grid, and the treads of single flights.
	var down, up []float64
	for c := int(math.Floor((t.treadMin - tol) / t.grid)); c >= 1 && float64(float64(c)*t.grid) >= t.treadMin/2; c-- {
		down = append(down, float64(float64(c)*t.grid))
	}
	for c := int(math.Ceil((t.treadMax + tol) / t.grid)); float64(float64(c)*t.grid) <= math.Min(t.treadMax*1.5, t.run); c++ {
		up = append(up, float64(float64(c)*t.grid))
	}
	for n := lo; n <= hi; n++ {
		if n < 2 {
			continue
		}
		if x := t.run / float64(n-1); x < t.treadMin-tol && x >= t.treadMin/2 {
			down = append(down, x)
		} else if x > t.treadMax+tol && x <= t.treadMax*1.5 {
			up = append(up, x)
		}
	}
	// Not by the sorts of one type: each is 10 kB of the browser's program.
	sort.Slice(down, func(i, j int) bool { return down[i] > down[j] })
	sort.Slice(up, func(i, j int) bool { return up[i] < up[j] })
	if v, l, ok := t.least(down, func(b *bounds, v float64) { b.treadMin = v }); ok {
		add(t.treadMin, v, "treads down to %s instead of %s", l)
	}
	if v, l, ok := t.least(up, func(b *bounds, v float64) { b.treadMax = v }); ok {
		add(t.treadMax, v, "treads up to %s instead of %s", l)
	}
	if t.steepest != 0 {
		for up := math.Ceil(math.Atan(t.steepest) * (180 / math.Pi) * 2); up <= 2*60; up++ { // half degrees
			v := math.Tan(up / 2 * (math.Pi / 180))
			if l, ok := t.fits(func(b *bounds) { b.steepest, b.frame.steepest = v, v }); ok && v > t.steepest+tol {
				out = append(out, change{v/t.steepest - 1, fmt.Sprintf("a pitch up to %s instead of %s (makes %d risers of %s in %d flights)", pitchText(v), pitchText(t.steepest), l.Risers, text(l.Riser), len(l.Flights))})
				break
			}
		}
	}
	if t.stepMax != 0 {
		if v, l, ok := t.least(ladder(t.stepMax, 1.5, 0.005), func(b *bounds, v float64) { b.stepMax = v }); ok {
			add(t.stepMax, v, "two risers and a tread up to %s instead of %s", l)
		}
	}
	if t.stepMin != 0 {
		if v, l, ok := t.least(ladder(t.stepMin, 0.5, 0.005), func(b *bounds, v float64) { b.stepMin = v }); ok {
			add(t.stepMin, v, "two risers and a tread down to %s instead of %s", l)
		}
	}
	// Landings.
	if t.landingMin == 0 {
		const usual = float64(usualLanding)
		if l, ok := t.fits(func(b *bounds) { b.landingMin = usual }); ok {
			out = append(out, change{1, fmt.Sprintf("a landing, of %s at least (makes %d risers of %s in %d flights)", text(usualLanding), l.Risers, text(l.Riser), len(l.Flights))})
		}
	} else {
		if v, l, ok := t.least(ladder(t.landingMin, 0.5, t.grid), func(b *bounds, v float64) { b.landingMin = v }); ok {
			add(t.landingMin, v, "landings down to %s instead of %s", l)
		}
	}
	if t.landingMax != 0 {
		if v, l, ok := t.least(ladder(t.landingMax, math.Max(1.5, t.run/t.landingMax), t.grid), func(b *bounds, v float64) { b.landingMax = v }); ok {
			add(t.landingMax, v, "landings up to %s instead of %s", l)
		}
	}
	// Flights.
	if t.maxRisers != 0 {
		var more []float64
		for m := t.maxRisers + 1; m <= hi; m++ {
			more = append(more, float64(m))
		}
		if v, l, ok := t.least(more, func(b *bounds, v float64) { b.maxRisers = int(v) }); ok {
			out = append(out, change{v/float64(t.maxRisers) - 1, fmt.Sprintf("flights of up to %d risers instead of %d (makes %d risers of %s)", int(v), t.maxRisers, l.Risers, text(l.Riser))})
		}
	}
	if t.maxRise != 0 {
		if v, l, ok := t.least(ladder(t.maxRise, math.Max(1.5, t.rise/t.maxRise), 0.01), func(b *bounds, v float64) { b.maxRise = v }); ok {
			add(t.maxRise, v, "flights that rise up to %s instead of %s", l)
		}
	}
	if t.minRisers > 1 {
		var fewer []float64
		for m := t.minRisers - 1; m >= 1; m-- {
			fewer = append(fewer, float64(m))
		}
		if v, l, ok := t.least(fewer, func(b *bounds, v float64) { b.minRisers = int(v) }); ok {
			out = append(out, change{1 - v/float64(t.minRisers), fmt.Sprintf("flights of %s instead of at least %d (makes %d risers of %s)", risers(int(v)), t.minRisers, l.Risers, text(l.Riser))})
		}
	}
	out = append(out, t.newer()...)
	// The run: as far as the limits go; nothing is known of other ground.
	run := math.Inf(1)
	for n := lo; n <= hi; n++ {
		if c, ok := t.nearest(n); ok && math.Abs(c) < math.Abs(run) {
			run = c
		}
	}
	if run != 0 && !math.IsInf(run, 0) {
		word := "more"
		if run < 0 {
			word = "less"
		}
		about := ""
		if t.wash > 0 {
			about = "about " // the risers change a little with the run
		}
		out = append(out, change{math.Abs(run) / t.run, fmt.Sprintf("%s%s %s run at the same rise, if the ground bears there", about, text(unit.Length(math.Abs(run))), word)})
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].size < out[j].size })
	return out
}

// kindsInstead tries the kind of flight that is left out.
func (t *trial) kindsInstead() []change {
	says := func(what string, f func(*bounds)) []change {
		l, ok := t.fits(f)
		if !ok {
			return nil
		}
		return []change{{1, fmt.Sprintf("%s (makes %d risers of %s)", what, l.Risers, text(l.Riser))}}
	}
	if _, can := t.site.(Framer); can && !t.framed {
		return says("a framed flight", func(b *bounds) { b.framed = true })
	}
	if !t.boxes {
		return says("a flight of box steps", func(b *bounds) { b.boxes = true })
	}
	return nil
}

// newer tries the limits of courses, the site, bends and framed flights.
func (t *trial) newer() []change {
	var out []change
	add := func(from, to float64, format string, l Layout) {
		size := 1.0
		if from > 0 {
			size = math.Abs(to-from) / from
		}
		out = append(out, change{size, fmt.Sprintf(format, text(unit.Length(to)), text(unit.Length(from))) +
			fmt.Sprintf(" (makes %d risers of %s)", l.Risers, text(l.Riser))})
	}
	if c := t.courses; c != nil {
		h := float64(c.Height)
		set := func(f func(*Courses, float64)) func(*bounds, float64) {
			return func(b *bounds, v float64) {
				d := *c
				f(&d, v)
				b.courses = &d
			}
		}
		rungs := func(from float64) (out []float64) {
			for v := from + 0.001; v < h; v += 0.001 {
				out = append(out, v)
			}
			return append(out, math.Max(h, from+0.001))
		}
		if from := float64(c.MaxBuried); from > 0 && from < h {
			if v, l, ok := t.least(rungs(from), set(func(d *Courses, v float64) { d.MaxBuried = unit.Length(v) })); ok {
				add(from, v, "timbers buried by up to %s instead of %s", l)
			}
		}
		if from := float64(c.MaxBedding); from < h {
			if v, l, ok := t.least(rungs(from), set(func(d *Courses, v float64) { d.MaxBedding = unit.Length(v) })); ok {
				add(from, v, "bedding of up to %s instead of %s", l)
			}
		}
	}
	if e, ok := t.site.(Easer); ok {
		for _, x := range e.Eased() {
			v, l, ok := t.least(x.To, func(_ *bounds, v float64) { t.on = x.With(unit.Length(v)) })
			if t.on = nil; ok {
				add(float64(x.From), v, x.Says, l)
			}
		}
	}
	for i := range t.bends {
		if !t.boxes {
			break
		}
		ease := func(b *bounds, by float64) {
			b.bends = append([]arc(nil), t.bends...)
			b.bends[i].minInner -= by
			b.bends[i].minWalk -= by
		}
		var by []float64
		for v := 0.005; v < math.Max(t.bends[i].minInner, t.bends[i].minWalk)/2; v += 0.005 {
			by = append(by, v)
		}
		if v, l, ok := t.least(by, ease); ok {
			out = append(out, change{v / math.Max(t.bends[i].minInner, t.bends[i].minWalk),
				fmt.Sprintf("wedge treads on the bend at %s shallower by %s (makes %d risers of %s)", text(unit.Length(t.bends[i].from)), text(unit.Length(v)), l.Risers, text(l.Riser))})
		}
	}
	if f := t.frame; t.framed {
		if v, l, ok := t.least(ladder(f.treadMin, 0.5, t.grid), func(b *bounds, v float64) { b.frame.treadMin = v }); ok && t.apart(f.treadMin, t.treadMin) {
			add(f.treadMin, v, "treads of framed flights down to %s instead of %s", l)
		}
		if v, l, ok := t.least(ladder(f.treadMax, 1.5, t.grid), func(b *bounds, v float64) { b.frame.treadMax = v }); ok && t.apart(f.treadMax, t.treadMax) {
			add(f.treadMax, v, "treads of framed flights up to %s instead of %s", l)
		}
		if f.maxRisers != 0 && (!t.boxes || f.maxRisers != t.maxRisers) {
			var more []float64
			for m := f.maxRisers + 1; m <= 2*f.maxRisers; m++ {
				more = append(more, float64(m))
			}
			if v, l, ok := t.least(more, func(b *bounds, v float64) { b.frame.maxRisers = int(v) }); ok {
				out = append(out, change{v/float64(f.maxRisers) - 1, fmt.Sprintf("framed flights of up to %d risers instead of %d (makes %d risers of %s)", int(v), f.maxRisers, l.Risers, text(l.Riser))})
			}
		}
	}
	return out
}

// apart is whether a limit of framed flights is one of their own.
func (t *trial) apart(framed, box float64) bool { return !t.boxes || math.Abs(framed-box) > tol }

// ladder is the values from a limit to a factor of it, in steps, at most 4096
// of them.
func ladder(from, factor, step float64) []float64 {
	n := int(math.Min(math.Ceil(math.Abs(float64(from*factor)-from)/step-1e-9), 4096))
	out := make([]float64, n)
	for i := range out {
		d := float64(float64(i+1) * step)
		if factor < 1 {
			d = -d
		}
		out[i] = from + d
		if out[i] < step {
			return out[:i]
		}
	}
	return out
}

// standing says how near the best layout comes to bearing on the ground.
func (t *trial) standing() Fault {
	p := *t.problem
	p.full, p.cap = -1, maxTrials
	p.site = &footing{Site: t.site, grid: t.grid}
	f, err := p.fit()
	if err != nil || f.Layout.Risers == 0 {
		return Fault{}
	}
	g := &footing{Site: t.site, grid: t.grid}
	walkOver(f.Layout, g, func(int, bool, float64) {})
	return Fault{
		Field: "site", Got: "",
		Problem: fmt.Sprintf("what comes nearest is %d risers of %s: for %s of the path, between stations %s and %s, the ground %s",
			f.Layout.Risers, text(f.Layout.Riser), text(unit.Length(f.Cost)), text(g.first), text(g.last), p.astray()),
		Fix: "allow deeper digging or more made ground there, or move foot or head",
	}
}

// footing turns a site into one that bears everywhere and costs what does not
// bear there, in metres of path.
type footing struct {
	Site
	grid        float64
	some        bool        // there are cells that do not bear
	first, last unit.Length // where the cells that do not bear begin and end
}

func (f *footing) Riser(unit.Length) float64       { return 0 }
func (f *footing) FramedRiser(unit.Length) float64 { return 0 }

// Platform implements [Framer].
func (f *footing) Platform() (float64, bool) {
	_, ok := f.Site.(Framer).Platform()
	return 0, ok
}

// Flight implements [FlightPricer].
func (f *footing) Flight(s Shape) (float64, bool) {
	if p, is := f.Site.(FlightPricer); is {
		_, ok := p.Flight(s)
		return 0, ok
	}
	return 0, true
}

// FlightsPriced implements [FlightPricer].
func (f *footing) FlightsPriced(k Kind) bool {
	p, is := f.Site.(FlightPricer)
	return is && p.FlightsPriced(k)
}

func (f *footing) Cells(at []unit.Length, l Line, cost []float64, bears []bool) {
	f.stand(f.Site.Cells, at, l, cost, bears)
}

func (f *footing) FramedCells(at []unit.Length, l Line, cost []float64, bears []bool) {
	f.stand(f.Site.(Framer).FramedCells, at, l, cost, bears)
}

func (f *footing) PlatformCells(at []unit.Length, l Line, cost []float64, bears []bool) {
	f.stand(f.Site.(Framer).PlatformCells, at, l, cost, bears)
}

// stand prices cells by what of them does not bear.
func (f *footing) stand(cells func([]unit.Length, Line, []float64, []bool), at []unit.Length, l Line, cost []float64, bears []bool) {
	fine := true
	for i := 0; i+1 < len(at); i++ {
		fine = fine && float64(at[i+1]-at[i]) <= f.grid*1.000001
	}
	if fine {
		cells(at, l, cost, bears)
		for i := range bears {
			cost[i] = 0
			if !bears[i] {
				cost[i], bears[i] = float64(at[i+1]-at[i]), true
				f.note(at[i], at[i+1])
			}
		}
		return
	}
	// Treads priced whole: cut them up, so that it is their parts that count.
	for i := 0; i+1 < len(at); i++ {
		a, b := float64(at[i]), float64(at[i+1])
		n := int(math.Ceil((b-a)/f.grid - 1e-6))
		if n < 1 {
			n = 1
		}
		fine := make([]unit.Length, n+1)
		for j := range fine {
			fine[j] = unit.Length(a + float64(float64(j)*f.grid))
		}
		fine[n] = at[i+1]
		c, ok := make([]float64, n), make([]bool, n)
		cells(fine, l, c, ok)
		cost[i], bears[i] = 0, true
		for j, ok := range ok {
			if ok {
				continue
			}
			cost[i] += float64(fine[j+1] - fine[j])
			f.note(fine[j], fine[j+1])
		}
	}
}

// note remembers a cell that does not bear.
func (f *footing) note(from, to unit.Length) {
	if !f.some || from < f.first {
		f.first = from
	}
	if !f.some || to > f.last {
		f.last = to
	}
	f.some = true
}
