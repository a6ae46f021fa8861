package stair

import "github.com/martinlindhe/unit"

// Earlier keeps what one fit has proven for the next, in a row of fits of which each
// differs little from the one before, as while a point of the ground is moved. A fit
// is much quicker for it and gives the same layout. It is for a [Resembler]; other
// sites are fitted to as without.
//
// The zero value is ready. One Earlier is for one row of tasks at a time: it must not
// be used by several fits at once.
type Earlier struct {
	of [2]earlier // with what is wished for, and without
}

// Resembler is a [Site] that can be held against one of an earlier fit.
type Resembler interface {
	Site
	// Differs tells what is different on this site; ok is false when that is more than a
	// Difference can say, or not known.
	Differs(earlier Site) (d Difference, ok bool)
	// Lenient is the site with cells that reach into a stretch bearing also where they
	// would if the ground lay up to so much higher or lower there, at the same costs; nil
	// when that cannot be.
	Lenient(from, to, higher, lower unit.Length) Site
}

// Difference is what makes a site different from an earlier one: some of its cells.
// Outside of a stretch cells of every kind cost and bear the same, and risers, flights
// and platforms cost the same everywhere.
type Difference struct {
	_ [0]func() // not comparable, which spares code
	// The stretch; From is To where nothing differs. What bears in it does so on the
	// earlier site made lenient by Higher and Lower over it.
	From, To      unit.Length
	Higher, Lower unit.Length // 0 or more
	// Less is by how much less at most the cells of a path that bears here cost than on
	// the earlier site, 0 or more.
	Less float64
}

// How that is proven. Of every case, a pair of ends and a riser count, a fit finds
// what all its layouts cost at least: roughly, or exactly where it comes to that. On
// another ground they cost at least that, less what the cells can have become
// cheaper by. Where that is still more than the best layout known, the case is done.
// But a layout that did not bear on the earlier ground was not counted, and may
// bear now. So the bounds are of the site made lenient where the ground is moved, on
// which more bears. What is found best there is the best if it bears on the site as it
// is; if not, the case is tried again with less leeway, and at last with none.
//
// Bounds are looked for up to some more than the best costs, so that they last for
// some moves.

// earlier is what is kept of one row of fits.
type earlier struct {
	asked    asked
	site     Site        // of the last fit; nil: none yet
	fits     int         // by which the ground was moved
	from, to unit.Length // where it was
	known    []bound
	at       int  // where in known the next is looked for: cases come in the same order
	best     spot // the case that the last fit found to be best
}

// asked is what a row of fits has in common beside the site.
type asked struct {
	bounds        bounds
	walking, pace float64
	quantum       float64
}

// spot is a case, whatever the order of the pairs.
type spot struct {
	foot, head Point
	risers     int
}

// bound is what a case costs at least on a site, with leeway.
type bound struct {
	_ [0]func() // as seen
	spot
	least int64
	on    *seen
	leeway
	next leeway // to look for the next with
}

// leeway is how much higher or lower the ground might lie where it is moved.
type leeway struct{ higher, lower unit.Length }

// leeways are what there is of it: the most, or, where the best layout would not bear
// without, less.
var leeways = [...]unit.Length{unit.Meter / 4, unit.Meter / 16, unit.Meter / 64, 0}

var wide = leeway{leeways[0], leeways[0]}

// less is the next lesser of leeways.
func less(by unit.Length) unit.Length {
	for _, x := range leeways {
		if x < by {
			return x
		}
	}
	return 0
}

// more is the next greater of leeways.
func more(by unit.Length) unit.Length {
	for i := len(leeways) - 1; i >= 0; i-- {
		if leeways[i] > by {
			return leeways[i]
		}
	}
	return by
}

// seen is a site that bounds are of.
type seen struct {
	_    [0]func() // not comparable, which spares code: see DEVELOPERS.md
	site Site
	// What is different on the site of a later fit.
	fit  int
	d    Difference
	less int64 // d.Less as a value
	ok   bool
}

// maxKnown is the most cases that bounds are kept of.
const maxKnown = 2000

// lasting is the part of the best that bounds are looked for beyond it.
const lasting = 16

func (a *asked) same(b *asked) bool {
	x, y := &a.bounds, &b.bounds
	if len(x.bends) > 0 || len(y.bends) > 0 {
		return false
	}
	return x.flightBounds == y.flightBounds && x.frame == y.frame && x.boxes == y.boxes && x.framed == y.framed &&
		x.landingMin == y.landingMin && x.landingMax == y.landingMax && x.platformMax == y.platformMax &&
		x.grid == y.grid && x.stands == y.stands && x.wished == y.wished &&
		(x.courses == nil) == (y.courses == nil) && (x.courses == nil || *x.courses == *y.courses) &&
		a.walking == b.walking && a.pace == b.pace && a.quantum == b.quantum
}

// recollect holds the fit against the one before. It sets strict where what was proven
// then is of use now, or what is proven now will be.
func (s *solver) recollect(cases int) {
	e := s.earlier
	site, ok := s.site.(Resembler)
	if e == nil || !ok || cases > maxKnown {
		return
	}
	now := asked{bounds: s.bounds, walking: s.walking, pace: s.pace, quantum: s.quantum}
	var d Difference
	if ok = e.site != nil && e.asked.same(&now); ok {
		d, ok = site.Differs(e.site)
	}
	if e.site = s.site; !ok {
		*e = earlier{asked: now, site: s.site}
		return
	}
	if d.From < d.To && (e.from == e.to || d.From < e.from || d.To > e.to) {
		e.from, e.to, e.known = d.From, d.To, e.known[:0]
	}
	if e.from == e.to {
		return // nothing was moved yet
	}
	if s.strict = site; s.leniently(wide) == nil {
		s.strict = nil
		return
	}
	e.fits++
	s.now = &seen{site: s.site, fit: e.fits}
}

// leniently is the site with leeway where the ground is moved.
func (s *solver) leniently(by leeway) Site {
	if by == (leeway{}) {
		return s.strict
	}
	for _, x := range s.lenients {
		if x.leeway == by {
			return x.Site
		}
	}
	site := s.strict.Lenient(s.earlier.from, s.earlier.to, by.higher, by.lower)
	s.lenients = append(s.lenients, lenient{Site: site, leeway: by})
	return site
}

// lenient is the site with leeway.
type lenient struct {
	_ [0]func() // as seen
	Site
	leeway
}

// on makes a site the one that cells are priced on.
func (s *solver) on(site Site) {
	s.site = site
	if s.framed {
		s.framer, _ = site.(Framer)
	}
	s.sinker, _ = site.(Sinker)
}

func (s *solver) spot(c trying) spot {
	return spot{s.ends[c.pair][0], s.ends[c.pair][1], c.n}
}

// find gives what is known of a case; nil: nothing.
func (e *earlier) find(at spot) *bound {
	for range e.known {
		if e.at >= len(e.known) {
			e.at = 0
		}
		b := &e.known[e.at]
		if e.at++; b.spot == at {
			return b
		}
	}
	return nil
}

// remember notes what a case costs at least on this site, with leeway.
func (s *solver) remember(c trying, least int64, by, next leeway) {
	if s.err != nil {
		return
	}
	at := s.spot(c)
	b := s.earlier.find(at)
	if b == nil {
		s.earlier.known = append(s.earlier.known, bound{})
		b = &s.earlier.known[len(s.earlier.known)-1]
	}
	*b = bound{spot: at, least: least, on: s.now, leeway: by, next: next}
}

// nextLeeway is what a case is to be tried with.
func (s *solver) nextLeeway(c trying) leeway {
	if b := s.earlier.find(s.spot(c)); b != nil {
		return b.next
	}
	return wide
}

// recall is what a case costs at least by what was proven earlier.
func (s *solver) recall(c trying) (least int64, ok bool) {
	if s.strict == nil {
		return 0, false
	}
	b := s.earlier.find(s.spot(c))
	if b == nil {
		return 0, false
	}
	x := b.on
	if x.fit != s.now.fit {
		x.fit = s.now.fit
		if x.d, x.ok = s.strict.Differs(x.site); x.ok {
			x.less = s.toValue(x.d.Less) + 1<<flightBits
		}
	}
	if !x.ok || x.d.Higher > b.higher || x.d.Lower > b.lower {
		return 0, false
	}
	if b.least >= some {
		return none, true
	}
	// Costs of cells are rounded one by one.
	return max(0, b.least-x.less-int64(2*(s.cells+2*c.n))<<flightBits), true
}

// again tries a case as parted does, beside what is found already, and remembers what
// it costs at least.
func (s *solver) again(c trying) {
	most := s.best.value
	by := s.nextLeeway(c)
	next := by
	for {
		s.on(s.leniently(by))
		least, plan := s.beyond(c.n, most)
		s.on(s.strict)
		if s.err != nil {
			return
		}
		if plan == nil || least > most {
			if next == by {
				next = leeway{more(by.higher), more(by.lower)}
			}
			s.remember(c, least, by, next)
			s.found[c.n-s.least].giveUp(min(least, none-1))
			return
		}
		if s.bearsAll(plan) {
			s.remember(c, least, by, next)
			s.keep(least, func() []planned { return plan })
			return
		}
		// It bears with leeway only: none of that which it takes, and less the next time.
		next = by
		if !s.bearsWith(leeway{higher: by.higher}, plan) {
			next.lower, by.lower = less(by.lower), 0
		} else {
			next.higher, by.higher = less(by.higher), 0
		}
		s.trying.kept = 0 // it was with more leeway
	}
}

// beyond looks for the best layout of n risers up to some way beyond a value. It gives
// what all of them cost at least.
func (s *solver) beyond(n int, most int64) (least int64, plan []planned) {
	if !s.partings(n) {
		return none, nil
	}
	v := s.firstLook()
	if v == nil {
		return none, nil
	}
	s.limit = most + most/lasting
	if v.least > s.limit {
		return v.least, nil
	}
	if least = s.lookAt(v); least > s.limit {
		return s.limit + 1, nil
	}
	if least > most {
		return least, nil
	}
	limit := s.limit
	a, riser, lt, value := s.find(v)
	if a == nil {
		return limit + 1, nil
	}
	return value, s.wayBack(a, riser, lt)
}

// bearsWith is whether a layout of the case at hand bears with leeway.
func (s *solver) bearsWith(by leeway, plan []planned) bool {
	s.on(s.leniently(by))
	all := s.bearsAll(plan)
	s.on(s.strict)
	return all
}

// bearsAll is whether a layout of the case at hand bears, cell by cell as it was tabled.
func (s *solver) bearsAll(plan []planned) bool {
	i, k := 0, 1
	bears := func(what, cells int) bool {
		j := i + cells
		if j >= len(s.at) {
			return false
		}
		s.cost, s.bears = grow(s.cost, cells), growBools(s.bears, cells)
		if cells > 0 {
			s.cellsOn(what, s.at[i:j+1], s.surface(k), s.cost[:cells], s.bears[:cells])
		}
		for _, ok := range s.bears[:cells] {
			if !ok {
				return false
			}
		}
		i = j
		return true
	}
	cells := func(length float64) int { return int(length/s.grid + 0.5) }
	for f, x := range plan[:len(plan)-1] {
		for m := 1; m < x.risers; m++ {
			if !bears(x.kind, cells(x.tread)) {
				return false
			}
			k++
		}
		what, rest := onBox, 0.0
		if x.deck {
			what = onDeck
		}
		if f == len(plan)-2 {
			rest = s.rest
		}
		if !bears(what, cells(x.landing-rest)) {
			return false
		}
		if rest > 0 {
			top := plan[len(plan)-1]
			if _, ok := s.whole(what, k, s.at[i], s.back((top.risers-1)*cells(top.tread))); !ok {
				return false
			}
		}
		k++
	}
	top := plan[len(plan)-1]
	t := cells(top.tread)
	for m := top.risers - 1; m > 0; m-- {
		to := s.back((m - 1) * t)
		if m == 1 {
			to = s.head.Station
		}
		if _, ok := s.whole(top.kind, k, s.back(m*t), to); !ok {
			return false
		}
		k++
	}
	return true
}
