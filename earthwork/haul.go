package earthwork

import (
	"fmt"
	"math"
	"sort"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

const (
	maxHaulSteps = 10000
	maxPlaces    = 50
	maxClimbCost = 100.0

	// A volume is reckoned in parts of 2^-44 of all there is, and a way in parts
	// of 2^-26 m (15 nm), so that sums and comparisons are those of whole numbers.
	volumeBits = 44
	wayParts   = 1 << 26
)

// HaulStep is the earth of one step: what is dug there and what is placed there.
type HaulStep struct {
	// Riser is the number of the step, 1 or more.
	Riser int
	// Station and Level are where its earth lies: the middle of its tread. They
	// ascend along the path as those of the ground do, levels within 1 km.
	Station, Level unit.Length
	// CutBank is dug; FillCompacted and BackfillCompacted are filled, with the
	// same soil. 0 to 1e9 m³.
	CutBank, FillCompacted, BackfillCompacted unit.Volume
}

// Place is where soil is taken to, or brought from, that is not on a step.
type Place struct {
	// Name is for the reader; each place has another.
	Name string
	// Station is where on the path one turns off to it, Offset how far it is
	// from there, and Rise how much higher than the path it lies, negative
	// for lower. Beyond the steps the way goes on level.
	Station, Offset, Rise unit.Length
	// Extra is added to the cost of every way to or from it, for loading a truck or
	// paying for soil: how many metres of level way that is worth, 0 to 100 km.
	Extra unit.Length
	// Capacity is how much it holds or gives, loose; 0 when that is no matter.
	Capacity unit.Volume
	// Borrow is set for a place soil is brought from; else soil goes there.
	Borrow bool
}

// HaulCost says what a way costs beside its length.
type HaulCost struct {
	// Climb is how many metres of level way one metre climbed is worth, 0 to 100.
	Climb float64
}

// Of is the cost of a way, in metres of level way.
func (c HaulCost) Of(distance, climb unit.Length) unit.Length {
	return distance + unit.Length(c.Climb*climb.Meters())
}

// CurvePoint is one step of the mass-haul curve.
type CurvePoint struct {
	Riser   int
	Station unit.Length
	// Cut is dug at the step, Need is filled there, Stays is what of the one
	// goes into the other, all loose.
	Cut, Need, Stays unit.Volume
	// Cumulative is all the cut less all the need from the foot up to this step, loose.
	// Where it rises there is soil to spare, where it falls soil is wanted; above 0 soil
	// goes uphill across this station unless it has been taken off the path.
	Cumulative unit.Volume
}

// Move is one lot of soil and its way. One of FromRiser and FromPlace is set, and
// one of ToRiser and ToPlace.
type Move struct {
	FromRiser, ToRiser int
	FromPlace, ToPlace string
	Loose              unit.Volume
	// Distance is the length of the way along the path and off it, Climb the sum of
	// what goes up on it.
	Distance, Climb unit.Length
}

// Haul is where the earth goes.
type Haul struct {
	// Curve is the mass-haul curve, a point for each step.
	Curve []CurvePoint
	// Moves are the ways of all that does not stay on its step, from the foot up.
	Moves []Move
	// Loose is all that is moved; Spoil is what of it goes to places, Borrow what
	// comes from them. One of these two is 0.
	Loose, Spoil, Borrow unit.Volume
	// MeanDistance and MeanClimb are those of what is moved: Σ(volume × distance)
	// over Σ volume.
	MeanDistance, MeanClimb unit.Length
	// Cost is Σ volume × cost of its way, in m³ × m of level way, with the Extra of
	// places.
	Cost float64
}

// HaulPlan finds the cheapest way to move the earth of a path: what is over
// at some steps goes to those that want it and to the places, and what is
// wanted beyond that comes from the places to borrow from. What a step needs of its
// own cut stays there. Earth goes along the path, and climbs what the path climbs on
// the way; its cost is volume × (distance + cost.Climb × climb + Extra).
//
// It is a transport problem, and as all ways are along one path it is solved
// exactly: what crosses each station is fixed but for what the places take, the
// cost as a function of what crosses is convex and straight between breaks, and is
// carried from step to step as a list of its slopes. Volumes are whole parts
// of 2^-44 of all the volume there is, and lengths of 2^-26 m; no plan costs less
// in those. Of plans that cost the same, the one that takes most to the places
// further down is given; soil goes to the nearest step that wants it. The work is in
// proportion to steps × (steps + places).
//
// All that is taken from a step, with what stays, is its Cut on the curve, and all that
// is brought, with what stays, its Need, to the last bit.
//
// Steps are 1 to 10 000, places at most 50. The error is a [Faults] with
// the fields soil, steps, steps[i].riser, .station, .level, .cut_bank, .fill_compacted and
// .backfill_compacted, places, places[i].name, .station, .offset, .rise, .extra and .capacity, and
// climb; also places when they have too little room, or nothing to bring, and
// then it says how much is lacking.
//
// Source of the mean: Vose, Handbook of Railroad Construction, 1857, art. 118.
func HaulPlan(soil Soil, steps []HaulStep, places []Place, cost HaulCost) (Haul, error) {
	if err := checkHaul(soil, steps, places, cost); err != nil {
		return Haul{}, err
	}
	h := hauling{cost: cost, places: places}
	if err := h.measure(soil, steps); err != nil {
		return Haul{}, err
	}
	h.layOut(steps)
	h.choose()
	h.match()
	return h.plan(), nil
}

func checkHaul(soil Soil, steps []HaulStep, places []Place, cost HaulCost) error {
	var faults fault.List
	faults.Put("soil", soil.Validate())
	if n := len(steps); n < 1 || n > maxHaulSteps {
		faults.Add("steps", fmt.Sprint(n), "is not a number of steps", "give 1 to 10 000")
		return faults
	}
	previous := math.NaN()
	for i, s := range steps {
		field := fmt.Sprintf("steps[%d].", i)
		if s.Riser < 1 {
			faults.Add(field+"riser", fmt.Sprint(s.Riser), "is not the number of a riser", "give 1 or more")
		}
		x := s.Station.Meters()
		switch {
		case !within(x, maxGroundReach):
			faults.Add(field+"station", sayLength(x), "is not a station", "give a distance of at most 100 km")
		case x <= previous:
			faults.Add(field+"station", sayLength(x), fmt.Sprintf("does not lie beyond the step before it, %s", sayLength(previous)), "give the steps uphill")
			fallthrough
		default:
			previous = x
		}
		if y := s.Level.Meters(); !within(y, 1000) {
			faults.Add(field+"level", sayLength(y), "is not a level", "give a height of at most 1 km")
		}
		for _, v := range []struct {
			name   string
			volume unit.Volume
		}{{"cut_bank", s.CutBank}, {"fill_compacted", s.FillCompacted}, {"backfill_compacted", s.BackfillCompacted}} {
			checkVolume(&faults, field+v.name, v.volume)
		}
	}
	if len(places) > maxPlaces {
		faults.Add("places", fmt.Sprint(len(places)), "are too many places", "give at most 50")
		return faults
	}
	for i, p := range places {
		field := fmt.Sprintf("places[%d].", i)
		if p.Name == "" {
			faults.Add(field+"name", "", "is empty", "name the place")
		}
		for _, q := range places[:i] {
			if q.Name == p.Name && p.Name != "" {
				faults.Add(field+"name", p.Name, "is the name of another place too", "name each place differently")
				break
			}
		}
		for _, l := range []struct {
			name      string
			v         unit.Length
			low, high float64
		}{
			{"station", p.Station, -maxGroundReach, maxGroundReach}, {"offset", p.Offset, 0, maxHaul},
			{"rise", p.Rise, -1000, 1000}, {"extra", p.Extra, 0, maxHaul},
		} {
			if v := l.v.Meters(); !(v >= l.low && v <= l.high) {
				faults.Add(field+l.name, sayLength(v), "is out of range", fmt.Sprintf("give %g to %g m", l.low, l.high))
			}
		}
		checkVolume(&faults, field+"capacity", p.Capacity)
	}
	if !(cost.Climb >= 0 && cost.Climb <= maxClimbCost) {
		faults.Add("climb", sayNumber(cost.Climb), "is not the cost of a climb", "give 0 to 100 metres of level way for each metre climbed")
	}
	return faults.Err()
}

func checkVolume(faults *fault.List, field string, v unit.Volume) {
	if m := v.CubicMeters(); !(m >= 0 && m <= maxEarth) {
		faults.Add(field, sayNumber(m)+" m³", "is not a volume of earth", "give 0 to 1e9 m³")
	}
}

// hauling is a transport problem in whole numbers. Where soil is to be borrowed
// it is turned about: what is wanted flows backwards to where it comes from.
type hauling struct {
	cost   HaulCost
	places []Place
	part   float64 // m³ of one part
	borrow bool
	most   int64 // all that there is to place, or to bring
	curve  []CurvePoint
	over   []int64 // of each step, below 0 where soil is wanted
	room   []int64 // of each place that counts, 0 of the others
	nodes  []haulNode
	moves  []parcel
}

// haulNode is a step, or where one turns off to a place.
type haulNode struct {
	step, place    int // one of them is -1
	x, y           float64
	up, down       float64 // climbed from the first node up to here, and from here down to it
	amount         int64   // what is over here; of a place, below 0 what goes there
	leaf           int64   // of a place, what the way off the path costs
	toNext, toPrev int64   // what the way to the next node costs, and the way back
}

// measure counts volumes in parts.
func (h *hauling) measure(soil Soil, steps []HaulStep) error {
	cut, need := make([]float64, len(steps)), make([]float64, len(steps))
	all := 0.0
	for i, s := range steps {
		cut[i] = soil.Loose(s.CutBank).CubicMeters()
		need[i] = soil.Loose(soil.BankOfCompacted(s.FillCompacted + s.BackfillCompacted)).CubicMeters()
		all += cut[i] + need[i]
	}
	_, exponent := math.Frexp(all)
	h.part = math.Ldexp(1, exponent-volumeBits)
	if all == 0 {
		h.part = 1
	}
	var sum int64
	for i, s := range steps {
		c, n := int64(math.Round(cut[i]/h.part)), int64(math.Round(need[i]/h.part))
		stays := c
		if n < c {
			stays = n
		}
		h.over = append(h.over, c-n)
		sum += c - n
		h.curve = append(h.curve, CurvePoint{
			Riser: s.Riser, Station: s.Station,
			Cut: h.volume(c), Need: h.volume(n), Stays: h.volume(stays), Cumulative: h.volume(sum),
		})
	}
	h.borrow = sum < 0
	h.most = sum
	if h.borrow {
		h.most = -sum
	}
	lacking := h.most
	h.room = make([]int64, len(h.places))
	for i, p := range h.places {
		if p.Borrow != h.borrow {
			continue
		}
		h.room[i] = h.most
		// A place made to hold just what is left over holds it, whatever was rounded.
		if c := math.Ceil(p.Capacity.CubicMeters()/h.part) + float64(len(steps)); p.Capacity > 0 && c < float64(h.most) {
			h.room[i] = int64(c)
		}
		lacking -= h.room[i]
	}
	if lacking <= 0 {
		return nil
	}
	f := Fault{Field: "places", Got: sayDigits(h.volume(lacking).CubicMeters(), 3) + " m³ loose",
		Problem: "is left over, and no place has room for it", Fix: "give a place for it, or more capacity"}
	if h.borrow {
		f.Problem, f.Fix = "is lacking, and no place has it to bring", "give a place to borrow from, or more capacity"
	}
	return Faults{f}
}

func (h *hauling) volume(parts int64) unit.Volume { return unit.Volume(float64(parts) * h.part) }

// layOut puts steps and places on one line.
func (h *hauling) layOut(steps []HaulStep) {
	for i, s := range steps {
		h.nodes = append(h.nodes, haulNode{step: i, place: -1, x: s.Station.Meters(), y: s.Level.Meters(), amount: h.over[i]})
	}
	for i, p := range h.places {
		if h.room[i] == 0 {
			continue
		}
		n := haulNode{step: -1, place: i, x: p.Station.Meters()}
		k := sort.Search(len(steps), func(k int) bool { return steps[k].Station.Meters() > n.x })
		switch {
		case k == 0:
			n.y = steps[0].Level.Meters()
		case k == len(steps):
			n.y = steps[k-1].Level.Meters()
		default:
			a, b := steps[k-1].Station.Meters(), steps[k].Station.Meters()
			n.y = blend(steps[k-1].Level.Meters(), steps[k].Level.Meters(), (n.x-a)/(b-a))
		}
		way := float64((p.Offset + p.Extra).Meters()) + float64(h.cost.Climb*h.offClimb(p))
		n.leaf = inParts(way)
		h.nodes = append(h.nodes, n)
	}
	sort.SliceStable(h.nodes, func(i, j int) bool { return h.nodes[i].x < h.nodes[j].x })
	for i := 1; i < len(h.nodes); i++ {
		a, b := &h.nodes[i-1], &h.nodes[i]
		run, rise, fall := b.x-a.x, b.y-a.y, a.y-b.y
		if rise < 0 {
			rise = 0
		}
		if fall < 0 {
			fall = 0
		}
		b.up, b.down = a.up+rise, a.down+fall
		a.toNext, a.toPrev = inParts(run+float64(h.cost.Climb*rise)), inParts(run+float64(h.cost.Climb*fall))
	}
}

// offClimb is what is climbed off the path.
func (h *hauling) offClimb(p Place) float64 {
	rise := p.Rise.Meters()
	if p.Borrow {
		rise = -rise
	}
	if rise < 0 {
		return 0
	}
	return rise
}

func inParts(way float64) int64 { return int64(math.Round(way * wayParts)) }

// bow is a convex function of a whole number, straight between breaks: from first
// on, pieces of a length and a slope, slopes ascending.
type bow struct {
	first  int64
	pieces []piece
}

type piece struct{ length, slope int64 }

// add puts a piece where its slope belongs: the least that two convex functions
// make of a sum has the pieces of both.
func (b *bow) add(p piece) {
	i := sort.Search(len(b.pieces), func(i int) bool { return b.pieces[i].slope >= p.slope })
	b.pieces = append(b.pieces, piece{})
	copy(b.pieces[i+1:], b.pieces[i:])
	b.pieces[i] = p
}

// bend adds right·v for v above 0 and left·(−v) for v below.
func (b *bow) bend(left, right int64) {
	at := b.first
	for i := 0; i < len(b.pieces); i++ {
		p := &b.pieces[i]
		if at < 0 && at+p.length > 0 {
			over := piece{at + p.length, p.slope}
			p.length = -at
			b.pieces = append(b.pieces, piece{})
			copy(b.pieces[i+2:], b.pieces[i+1:])
			b.pieces[i+1] = over
			p = &b.pieces[i]
		}
		at += p.length
		if at <= 0 {
			p.slope -= left
		} else {
			p.slope += right
		}
	}
}

// choose finds how much goes to each place. The state is what crosses from node to
// node, above 0 uphill.
func (h *hauling) choose() {
	sign := int64(1)
	if h.borrow {
		sign = -1 // what is wanted flows the other way
	}
	var crosses bow
	before := make([]bow, len(h.nodes))
	for i := range h.nodes {
		n := &h.nodes[i]
		if n.place < 0 {
			crosses.first += sign * n.amount
		} else {
			before[i] = bow{crosses.first, append([]piece(nil), crosses.pieces...)}
			crosses.first -= h.room[n.place]
			crosses.add(piece{h.room[n.place], -n.leaf})
		}
		if h.borrow {
			crosses.bend(n.toNext, n.toPrev)
		} else {
			crosses.bend(n.toPrev, n.toNext)
		}
	}
	// Nothing crosses beyond the last node; from there back.
	var v int64
	for i := len(h.nodes) - 1; i >= 0; i-- {
		n := &h.nodes[i]
		if n.place < 0 {
			v -= sign * n.amount
			continue
		}
		// The least of before(v + z) + leaf·z, z from 0 to the room: further while
		// that falls.
		b := &before[i]
		at, top := b.first, v+h.room[n.place]
		w := v
		if w < at {
			w = at
		}
		for _, p := range b.pieces {
			end := at + p.length
			at = end
			if end <= w {
				continue
			}
			if p.slope >= -n.leaf || w >= top {
				break
			}
			w = end
			if w > top {
				w = top
			}
		}
		n.amount = -sign * (w - v)
		v = w
	}
}

// parcel is a move between nodes, in parts.
type parcel struct {
	from, to int
	amount   int64
}

// match goes up the path with what is over, or wanted, and not yet matched: each
// lot goes to the nearest. What is matched across a station is just what crosses it.
func (h *hauling) match() {
	var open []parcel // from is the node, amount as there
	for i := range h.nodes {
		left := h.nodes[i].amount
		for left != 0 && len(open) > 0 {
			top := &open[len(open)-1]
			if (left > 0) == (top.amount > 0) {
				break
			}
			m := parcel{from: i, to: top.from, amount: left}
			if left < 0 {
				m = parcel{from: top.from, to: i, amount: -left}
			}
			if size := top.amount; size < 0 && -size < m.amount {
				m.amount = -size
			} else if size > 0 && size < m.amount {
				m.amount = size
			}
			h.moves = append(h.moves, m)
			if left > 0 {
				left -= m.amount
				top.amount += m.amount
			} else {
				left += m.amount
				top.amount -= m.amount
			}
			if top.amount == 0 {
				open = open[:len(open)-1]
			}
		}
		if left != 0 {
			open = append(open, parcel{from: i, amount: left})
		}
	}
	sort.Slice(h.moves, func(i, j int) bool {
		a, b := h.moves[i], h.moves[j]
		if a.from != b.from {
			return a.from < b.from
		}
		return a.to < b.to
	})
}

// plan writes the moves down.
func (h *hauling) plan() Haul {
	out := Haul{Curve: h.curve}
	var all, spoil, borrow int64
	var far, high float64
	for _, p := range h.moves {
		a, b := &h.nodes[p.from], &h.nodes[p.to]
		m := Move{Loose: h.volume(p.amount)}
		distance, climb, extra := b.x-a.x, b.up-a.up, 0.0
		if distance < 0 {
			distance, climb = -distance, a.down-b.down
		}
		off := func(place int) {
			q := h.places[place]
			distance += q.Offset.Meters()
			climb += h.offClimb(q)
			extra += q.Extra.Meters()
		}
		if a.place < 0 {
			m.FromRiser = h.curve[a.step].Riser
		} else {
			m.FromPlace = h.places[a.place].Name
			off(a.place)
			borrow += p.amount
		}
		if b.place < 0 {
			m.ToRiser = h.curve[b.step].Riser
		} else {
			m.ToPlace = h.places[b.place].Name
			off(b.place)
			spoil += p.amount
		}
		m.Distance, m.Climb = unit.Length(distance), unit.Length(climb)
		all += p.amount
		v := m.Loose.CubicMeters()
		far += float64(v * distance)
		high += float64(v * climb)
		out.Cost += float64(v * (distance + float64(h.cost.Climb*climb) + extra))
		out.Moves = append(out.Moves, m)
	}
	out.Loose, out.Spoil, out.Borrow = h.volume(all), h.volume(spoil), h.volume(borrow)
	if v := out.Loose.CubicMeters(); v > 0 {
		out.MeanDistance, out.MeanClimb = unit.Length(far/v), unit.Length(high/v)
	}
	return out
}
