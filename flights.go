package slopewright

import (
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/materials"
)

// readFlight takes the parts of the framed flights' detail beyond stringer and
// tread. The boxes' bag, coats and wastes are theirs too.
func (m *maker) readFlight(d *materials.FramedDetail, section func(field, name string, of *materials.Section)) {
	b := m.plan.Build.Framed
	for _, x := range []struct {
		of *unit.Length
		l  *Length
	}{
		{&d.Housing, b.Housing}, {&d.Spacing, b.Spacing}, {&d.SpanLimit, b.SpanLimit}, {&d.MinThroat, b.MinThroat}, {&d.PadDepth, b.PadDepth},
		{&d.PostSpacing, b.PostSpacing}, {&d.FootingDiameter, b.FootingDiameter}, {&d.FootingDepth, b.FootingDepth}, {&d.JoistSpacing, b.JoistSpacing},
		{&d.GuardFrom, b.GuardFrom}, {&d.GuardHeight, b.GuardHeight}, {&d.GuardSpacing, b.GuardSpacing}, {&d.StairOpening, b.StairOpening}, {&d.Opening, b.Opening},
		{&d.HandrailHeight, b.HandrailHeight}, {&d.HandrailTop, b.HandrailTop}, {&d.HandrailBottom, b.HandrailBottom},
	} {
		*x.of = lengthOr(x.l, *x.of)
	}
	for _, x := range []struct {
		of *unit.Pressure
		l  *AreaLoad
	}{{&d.Live, b.LiveLoad}, {&d.Snow, b.SnowLoad}} {
		if x.l != nil {
			*x.of = unit.Pressure(x.l.KN) * unit.Kilopascal
		}
	}
	for _, x := range []struct {
		of *int
		n  *int
	}{{&d.GuardSides, b.GuardSides}, {&d.HandrailFrom, b.HandrailFrom}, {&d.HandrailSides, b.HandrailSides}} {
		if x.n != nil {
			*x.of = *x.n
		}
	}
	for _, x := range []struct {
		field, name string
		of          *materials.Section
	}{
		{"riser_board", b.RiserBoard, &d.RiserBoard}, {"post", b.Post, &d.Post}, {"beam", b.Beam, &d.Beam}, {"joist", b.Joist, &d.Joist}, {"decking", b.Decking, &d.Decking},
		{"guard_post", b.GuardPost, &d.GuardPost}, {"guard_rail", b.GuardRail, &d.GuardRail}, {"baluster", b.Baluster, &d.Baluster}, {"handrail", b.Handrail, &d.Handrail},
	} {
		section(x.field, x.name, x.of)
	}
	if b.OpenRisers {
		d.RiserBoard = materials.Section{}
	}
	d.CompositeTread, d.Ledger = b.Composite, b.Ledger
	d.Words = m.words.length
	box := m.detail
	d.Bag, d.Coats, d.Coverage = m.bag(), box.Coats, box.Coverage
	d.Waste = materials.FramedWaste{Screws: box.Waste.Screws, Concrete: box.Waste.Concrete, Gravel: box.Waste.Gravel, Preservative: box.Waste.Preservative}
}

// framedLongest is the longest timber of the framed flights: what can be had of
// every section of theirs, and of handrails, which are commonly sold in short lengths, alone.
func (m *maker) framedLongest() {
	d, least := &m.framed, unit.Length(0)
	longest := func(s materials.Section) unit.Length {
		if m.sold(s.Name) {
			return m.longest(s.Name)
		}
		usual := maker{cut: m.cut, stock: materials.UsualStock(s)}
		return usual.longest(s.Name)
	}
	d.LongestRail = longest(d.Handrail)
	for _, s := range []materials.Section{d.Stringer, d.Tread, d.RiserBoard, d.Beam, d.Joist, d.Decking, d.GuardRail} {
		if s.Name == "" {
			continue
		}
		l := longest(s)
		if l > 0 && (least == 0 || l < least) {
			least = l
		}
	}
	if least > 0 {
		d.LongestTimber = least
	}
}

// checkFinding is a check of materials that did not pass: what it is about, how
// it stands, and why.
func (m *maker) checkFinding(rule string, c materials.Check, where string) Finding {
	severity := "stop"
	if c.Open {
		severity = "note"
	}
	name := strings.ReplaceAll(c.Name, "-", " ")
	f := Finding{Severity: severity, Rule: rule + c.Name, Source: cited(c.Source, c.Remembered), Where: where}
	if c.Actual.Of != "" {
		f.Actual = m.words.amount(c.Actual)
	}
	if c.Open {
		f.Says = sentence(name + ": " + c.Says)
		return f
	}
	f.Limit = m.words.amount(c.Limit)
	most := "at most"
	if c.AtLeast {
		most = "at least"
	}
	says := name + " is " + f.Actual + ", " + most + " " + f.Limit + " is wanted"
	if c.Says != "" {
		says += " (" + c.Says + ")"
	}
	f.Says = sentence(says)
	return f
}

// amount writes a length, a stress, a force, a moment, a ratio, a voltage, a
// power or a count.
func (w words) amount(a materials.Amount) string {
	switch a.Of {
	case materials.OfLength:
		return w.length(a.Length)
	case materials.OfPressure:
		if w.imperial {
			return number(a.Pressure.PoundsPerSquareInch(), 0) + " psi"
		}
		return number(a.Pressure.Megapascals(), 2) + " MPa"
	case materials.OfForce:
		if w.imperial {
			return number(a.Force.PoundForce(), 0) + " lb"
		}
		return number(a.Force.Newtons()/1000, 2) + " kN"
	case materials.OfMoment:
		if w.imperial {
			return number(float64(a.Moment)/1.3558179483314004, 0) + " ft lb"
		}
		return number(float64(a.Moment)/1000, 2) + " kN m"
	case materials.OfRatio:
		return number(100*a.Ratio, 2) + " %"
	case materials.OfVoltage:
		return number(a.Voltage.Volts(), 2) + " V"
	case materials.OfPower:
		return number(a.Power.Watts(), 0) + " W"
	}
	return number(float64(a.Count), 0)
}

// fromStock is what the members of a framed flight are of where the plan names no
// section and its usual sizes are metric: of its stock the smallest section in
// millimetres that is no smaller either way than the inch size that is taken otherwise,
// and at most a third larger (ours), if the wood's strength is known for it.
// Inch sizes that are in the stock stay.
func (m *maker) fromStock(wood string, of []*materials.Section) {
	if m.inInches() {
		return
	}
	for _, s := range of {
		usual := *s
		m.sized(&usual)
		var best materials.Section
		for i := range m.plan.Stock {
			x, err := m.dressed.ByName(m.plan.Stock[i].Section)
			if err != nil || x.Round || m.plan.Stock[i].OnHand > 0 {
				continue
			}
			if x.Name == usual.Name {
				best = usual
				break
			}
			by, _, _ := strings.Cut(x.Name, "x")
			mm, _ := strconv.Atoi(by) // of inches, 12 at most
			t, w := float64(x.Thickness/usual.Thickness), float64(x.Width/usual.Width)
			if _, err := materials.WoodFor(wood, x); err != nil {
				continue
			}
			if mm > 12 && t >= 1 && t <= 4.0/3 && w >= 1 && w <= 4.0/3 && (best.Name == "" || x.Area() < best.Area()) {
				best = x
			}
		}
		if best.Name != "" {
			*s = best
		}
	}
}
