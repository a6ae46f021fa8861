package slopewright

import (
	"math"

	"github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"

	"github.com/slopewright/slopewright/earthwork"
	"github.com/slopewright/slopewright/materials"
	"github.com/slopewright/slopewright/stair"
)

// Time for framing, in person-hours: common practice, no published figure was
// found. They are part of the likely time; low is two thirds and high one and
// a half times as much.
const (
	framedRiserHours    = 1.5 // a riser: its notch in every stringer, its tread, its share of guard and rail
	framedFlightHours   = 6.0 // a flight: setting up and fixing the stringers, the pad at its foot
	framedSupportHours  = 3.0 // a support on the way: posts, beam, footings
	framedPlatformHours = 6.0 // a framed landing: beam, posts, footings
	platformMetreHours  = 3.0 // a metre of it along the path: joists and decking
	framedLow           = 2.0 / 3
	framedHigh          = 1.5
)

// extra is what a flight or a platform takes as a whole.
type extra struct{ dig, hours, cost float64 }

// rates are what the fit reckons with in place of a full take-off: what one more
// of each thing takes. Hours are likely person-hours; money is by the prices of
// the plan with the mark-up on goods, timber by the metre of the cheapest length,
// without packs, waste of cutting and timbers that hold a bank. An item without a price counts nothing.
// Labour paid by the plan's own hours is reckoned from those (maker.wage).
type rates struct {
	cut, moved, fill float64 // hours for a m³: dug in the bank, carried off in the bank, tamped
	metre            float64 // hours for a metre of path: trimming, gravel
	box              float64 // hours for a box
	boxMetre         float64 // money for a metre of box steps

	framedRiser   float64 // money for a riser of a framed flight
	platform      extra
	platformMetre float64 // money for a metre of platform
	flights       map[stair.Shape]flightExtra
	frames        materials.Frames
	framable      bool
}

type flightExtra struct {
	extra
	ok     bool
	priced bool
}

func (m *maker) rates() *rates {
	if m.ratesKept != nil {
		return m.ratesKept
	}
	r := &rates{}
	likely := func(w earthwork.Work) float64 {
		m.rated(&w)
		return m.soil.Hours(w).Total.Likely.Hours()
	}
	steep := m.steepPath()
	r.cut = likely(earthwork.Work{CutBank: unit.CubicMeter, Steep: steep})
	// Half-way along the path, which is where its earth lies on the mean.
	half := (m.head.Station - m.foot.Station) / 2
	r.moved = likely(earthwork.Work{SpoilLoose: m.soil.Loose(unit.CubicMeter), HaulDistance: m.haul + half, Steep: steep})
	r.fill = likely(earthwork.Work{FillCompacted: unit.CubicMeter, Steep: steep})
	across := float64(m.section.Width)
	r.metre = likely(earthwork.Work{
		TrimArea:        unit.Area(float64(m.section.Formation())),
		GravelCompacted: unit.Volume(across * float64(m.buildUp)), GravelDistance: m.carry + half, Steep: steep,
	})
	r.box = likely(earthwork.Work{Boxes: 1})
	// Two boxes that differ in depth alone show what a metre costs.
	riser := (m.limits.RiserMin + m.limits.RiserMax) / 2
	deep, shallow := m.boxEstimate(riser, unit.Meter), m.boxEstimate(riser, unit.Meter/2)
	r.boxMetre = math.Max(0, 2*(deep-shallow))
	m.ratesKept = r
	return r
}

// steepPath reports whether barrows carry a slope's load on this path.
func (m *maker) steepPath() bool {
	return float64(m.head.Level-m.foot.Level) > float64(slopedPath*float64(m.head.Station-m.foot.Station))
}

// boxMoney is the money for a box's riser: all that does not grow with its depth.
func (m *maker) boxMoney(riser unit.Length) float64 {
	return math.Max(0, m.boxEstimate(riser, unit.Meter)-m.rates().boxMetre)
}

// ownHour is what an hour counts as where work has no price: 2 in 1000 of the goods for
// the boxes that are made in one, so little that it decides between likes alone; a weight
// of our own. Boxes of any depth cost nearly the same, so of layouts
// that cost alike the one that takes less work comes out.
func (m *maker) ownHour() float64 {
	r := m.rates()
	if r.box <= 0 {
		return 0
	}
	return 0.002 * m.boxEstimate((m.limits.RiserMin+m.limits.RiserMax)/2, unit.Meter/2) / r.box
}

// boxEstimate is the money for one box of some depth.
func (m *maker) boxEstimate(riser, tread unit.Length) float64 {
	d := m.detail
	d.Footing = materials.Footing{} // once, whatever the layout
	t, err := materials.TakeOff([]materials.Box{{Number: 1, Riser: riser, Tread: tread, Width: m.section.Width}}, d)
	if err != nil {
		return 0
	}
	return m.estimate(t)
}

// estimate prices a take-off without cutting it.
func (m *maker) estimate(t materials.Takeoff) float64 {
	sum := 0.0
	for _, p := range t.Pieces {
		sum += float64(float64(p.Count) * float64(m.perMetre(p.Section)*p.Length.Meters()))
	}
	for _, it := range t.Items {
		sum += m.itemMoney(it)
	}
	return sum * (1 + nearest(m.prices.Markup))
}

// ordered is what the money for an item goes by.
type ordered struct {
	id, section string
	order       materials.Quantity
}

// itemMoney is the money for an item that is not bought by the metre. The fit
// asks for the same few numbers of screws over and over.
func (m *maker) itemMoney(it materials.Item) float64 {
	if m.itemPrices == nil {
		m.itemPrices = map[string]bool{}
		for _, p := range m.prices.Items {
			m.itemPrices[p.Item] = true
		}
		m.itemsMoney = map[ordered]float64{}
	}
	if !m.itemPrices[it.ID] || m.perMetre(it.Section) != 0 {
		return 0
	}
	key := ordered{it.ID, it.Section, it.Order}
	money, known := m.itemsMoney[key]
	if !known {
		goods := m.prices
		goods.Deliveries, goods.Labour, goods.Markup, goods.LabourMarkup = nil, nil, decimal.Decimal{}, decimal.Decimal{}
		if bill, err := materials.MakeBill(materials.Takeoff{Items: []materials.Item{it}}, materials.CutPlan{}, goods); err == nil {
			for _, l := range bill.Lines {
				if l.Priced {
					money += nearest(l.Order.Mul(l.Price))
				}
			}
		}
		m.itemsMoney[key] = money
	}
	return money
}

// perMetre is the money for a metre of a section in its cheapest length, 0
// where none has a price.
func (m *maker) perMetre(section string) float64 {
	best, known := m.metres[section]
	if known {
		return best
	}
	for _, s := range m.stock {
		if s.Section != section || s.Unpriced || s.Length <= 0 {
			continue
		}
		if p := nearest(s.Price) / s.Length.Meters(); best == 0 || p < best {
			best = p
		}
	}
	if m.metres == nil {
		m.metres = map[string]float64{}
	}
	m.metres[section] = best
	return best
}

// framedRates fills in what framed flights take by the riser and by the
// platform.
func (m *maker) framedRates(r *rates) {
	var err error
	r.frames, err = materials.NewFrames(m.framed)
	r.framable = err == nil
	riser := (m.limits.RiserMin + m.limits.RiserMax) / 2
	f := materials.FramedFlight{First: 1, Risers: 5, Riser: riser, Tread: m.framedTreadMin(), Width: m.section.Width, Under: unit.Meter / 2}
	of := func(risers int, platform unit.Length) float64 {
		f.Risers, f.Platform, f.PlatformHeight = risers, platform, unit.Meter
		t, err := materials.FramedTakeOff([]materials.FramedFlight{f}, m.framed)
		if err != nil {
			return 0
		}
		return m.estimate(t)
	}
	five := of(5, 0)
	r.framedRiser = math.Max(0, of(6, 0)-five)
	short, long := of(5, unit.Meter), of(5, 2*unit.Meter)
	r.platformMetre = math.Max(0, long-short)
	// The flight that begins on it takes no pad, which every flight is reckoned with.
	pad := 0.0
	if r.framable {
		pad = padHole(r.frames.Pad(m.section.Width), m.framed)
	}
	r.platform = extra{dig: m.platformFootings() - pad, hours: m.framingHours().platform, cost: math.Max(0, short-r.platformMetre-five)}
}

// footing is the hole for one post's footing.
func (m *maker) footing() float64 {
	d := m.framed.FootingDiameter.Meters()
	return float64(float64(math.Pi/4*float64(d*d)) * m.framed.FootingDepth.Meters())
}

// platformFootings is the digging for a platform's four posts.
func (m *maker) platformFootings() float64 { return 4 * m.footing() }

// flight is what a framed flight takes beyond its risers, and whether it can be
// made. Its money is worked out when it counts: that takes a whole take-off.
func (r *rates) flight(m *maker, x stair.Shape, money bool) (extra, bool) {
	e, known := r.flights[x]
	if !known || money && !e.priced {
		e.extra, e.ok = m.flightExtra(r, x, money)
		e.priced = money
		r.flights[x] = e
	}
	return e.extra, e.ok
}

func (m *maker) flightExtra(r *rates, x stair.Shape, money bool) (extra, bool) {
	if x.Risers < 2 || !r.framable {
		return extra{}, false
	}
	f := materials.FramedFlight{First: 1, Risers: x.Risers, Riser: x.Riser, Tread: x.Tread, Width: m.section.Width, Under: unit.Meter / 2}
	supports, pad, ok := r.frames.Founding(f)
	if !ok {
		return extra{}, false
	}
	e, each := m.footed(pad)
	e.dig += float64(float64(supports) * each.dig)
	e.hours += float64(float64(supports) * each.hours)
	if !money {
		return e, true
	}
	if t, ok := r.frames.Goods(f); ok {
		e.cost = math.Max(0, m.estimate(t)-float64(float64(x.Risers)*r.framedRiser))
	}
	return e, true
}

// footed is the digging and the hours of a flight on a pad without supports, and of
// each support.
func (m *maker) footed(pad materials.Pad) (flight, support extra) {
	h := m.framingHours()
	return extra{dig: padHole(pad, m.framed), hours: h.flight}, extra{dig: 2 * m.footing(), hours: h.support}
}

// least is the digging and the hours of a flight that needs the fewest supports, of
// each support, and how many spans a tread is.
func (r *rates) least(m *maker, tread unit.Length) (flight, support extra, spans float64) {
	flight, support = m.footed(r.frames.Pad(m.section.Width))
	return flight, support, float64(tread) / float64(r.frames.Span())
}

// padHole is what is dug for the pad of a flight and the gravel under it.
func padHole(p materials.Pad, d materials.FramedDetail) float64 {
	return float64(float64(p.Length) * float64(p.Width) * float64(p.Depth+d.PadGravel))
}

// framedTreadMin is the least tread of a framed flight.
func (m *maker) framedTreadMin() unit.Length {
	if f := m.limits.Framed; f != nil && f.TreadMin > 0 {
		return f.TreadMin
	}
	return m.limits.TreadMin
}
