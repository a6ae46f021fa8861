package slopewright

import (
	"fmt"
	"math"
	"strconv"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/materials"
)

// bankFrom is the lowest bank that side timbers are set for: less is tamped to a
// slope. Common practice.
const bankFromImperial, bankFromMetric = 4 * unit.Inch, 100 * unit.Millimeter

// readBank takes how side timbers hold the bank; its usual sizes are common practice.
func (m *maker) readBank(d *materials.BoxDetail) {
	b := m.plan.Build
	d.BankTo, d.Spike = lengthOr(b.BankTo, d.BankTo), lengthOr(b.Spike, 0)
	d.SpikeEvery = lengthOr(b.SpikeEvery, m.either(24*unit.Inch, 600*unit.Millimeter))
	d.BankBars, d.NoDeadmen = b.BankBars, b.NoDeadmen
	d.DeadmanFrom = lengthOr(b.DeadmanFrom, m.either(24*unit.Inch, 600*unit.Millimeter))
	d.DeadmanLength = lengthOr(b.DeadmanLength, 0)
	d.DeadmanEvery = lengthOr(b.DeadmanEvery, m.either(8*unit.Foot, 2400*unit.Millimeter))
	d.DeadmanCross = lengthOr(b.DeadmanCross, m.either(2*unit.Foot, 600*unit.Millimeter))
}

// bank gives a box the height of the bank at its sides, where the plan has side
// timbers hold it: how far the ground at the boxes' edges stands above the tread
// at most. Where it is lower than a bank worth holding it is 0.
func (m *maker) bank(b *materials.Box, i int) {
	if m.plan.Build.BankTo == nil {
		return
	}
	s := m.layout.Steps[i]
	end := s.Station + m.detail.HeadReturn
	if i < len(m.layout.Steps)-1 {
		end = m.layout.Steps[i+1].Station
	}
	least := lengthOr(m.plan.Build.BankFrom, m.either(bankFromImperial, bankFromMetric))
	for _, side := range []struct {
		of   *unit.Length
		sign float64
	}{{&b.BankLeft, -1}, {&b.BankRight, 1}} {
		at := func(x unit.Length) {
			ground, ok := m.ground.LevelAt(x)
			if !ok {
				return
			}
			slope, _ := m.ground.CrossfallAt(x)
			high := ground - s.Level - unit.Length(m.layout.Wash*float64(x-s.Station)) +
				unit.Length(float64(side.sign*slope)*float64(m.section.Width)/2)
			if high > *side.of {
				*side.of = high
			}
		}
		at(s.Station)
		at(end)
		for _, p := range m.ground.Points() {
			if p.Station > s.Station && p.Station < end {
				at(p.Station)
			}
		}
		if *side.of < least {
			*side.of = 0
		}
	}
}

// bankFindings are the banks that side timbers do not hold.
func (m *maker) bankFindings() []Finding {
	var out []Finding
	for _, b := range m.boxed {
		high := b.BankLeft
		if b.BankRight > high {
			high = b.BankRight
		}
		if high > m.detail.BankTo+tolerance {
			out = append(out, Finding{
				Severity: "stop", Rule: "bank-held", Source: "IRC 2009 R404.4: walls with more than 24 in of unbalanced fill need an engineered design; 48 in in later editions, from memory",
				Says:  "The bank beside the box stands higher than what its side timbers may hold: have an engineer design what holds it, slope it back, or move the path.",
				Limit: m.words.length(m.detail.BankTo), Actual: m.words.length(high), Where: "riser " + strconv.Itoa(b.Number),
			})
		}
	}
	return out
}

// digDeadmen digs the trenches that deadmen lie in, beyond what is dug beside
// the boxes already, and tamps the earth back over them.
func (m *maker) digDeadmen() error {
	boxes := m.boxes()
	tied := false
	for _, b := range boxes {
		tied = tied || b.BankLeft > m.detail.DeadmanFrom || b.BankRight > m.detail.DeadmanFrom
	}
	if !tied || m.detail.NoDeadmen {
		return nil
	}
	d := m.detail
	d.LongestTimber = 0
	t, err := materials.TakeOff(boxes, d)
	if err != nil {
		return m.madeFaults(err, "build", boxes)
	}
	at := 0 // the step of the box: both are in order
	for _, p := range t.Boxes {
		for m.steps[at].Riser != p.Number {
			at++
		}
		for _, b := range p.Banks {
			m.digTrenches(at, b)
		}
	}
	return nil
}

// digTrenches digs those of one bank: what lies over a deadman and its cross
// piece behind the sloping side of the cut.
func (m *maker) digTrenches(at int, b materials.BankPart) {
	d := m.detail
	slope, _ := m.ground.CrossfallAt(m.layout.Steps[at].Station)
	if !b.Right {
		slope = -slope
	}
	wide, long := float64(m.trenchWidth()), float64(b.Deadman-d.Breadth())
	wood := unit.Volume(float64(d.Breadth()) * float64(d.Course()) * float64(b.Deadman+b.Cross-d.Breadth()))
	for course := 2; b.Deadmen > 0 && course <= b.Courses; course += 2 {
		under := float64(float64(course-1) * float64(d.Course()))
		// The side of the cut is as high as that, and as the ground, at:
		edge, batter := float64(m.section.Working), m.section.Batter
		foot := edge + float64(batter*(under+float64(m.buildUp)))
		top := edge + float64(batter*float64(b.Height+m.buildUp))
		if flat := 1 - float64(slope*batter); flat > 1e-3 {
			top /= flat
		}
		deep := func(x float64) float64 {
			part := 1.0
			if x < top {
				part, x = (x-foot)/(top-foot), top
			}
			return math.Max(0, part*(float64(b.Height)+float64(slope*x)-under))
		}
		// Straight between the places where it bends.
		area := func(from, to float64) float64 {
			sum := 0.0
			for _, next := range []float64{math.Min(top, to), to} {
				if from = math.Max(from, foot); next > from {
					sum += (next - from) * (deep(from) + deep(next)) / 2
					from = next
				}
			}
			return sum
		}
		// The cross piece lies across the end.
		dug := unit.Volume(float64(wide*area(0, long)) + float64(math.Max(0, float64(b.Cross)-wide)*area(long-wide, long)))
		dug = unit.Volume(dug * unit.Volume(b.InCourse))
		back := dug - unit.Volume(wood*unit.Volume(b.InCourse))
		if back < 0 {
			back = 0
		}
		m.steps[at].deadmen += dug
		m.steps[at].CutBank += dug
		m.steps[at].BackfillCompacted += back
		m.total.Cut += dug
		m.total.Backfill += back
	}
}

// turnMost is the most that a landing turns and is still built as a wedge, with
// straight sides: an eighth of a turn. Common practice.
const turnMost = math.Pi / 4

// turned is how far the path turns behind step i, positive to the right.
func (m *maker) turned(i int) float64 {
	angle := 0.0
	if i == len(m.layout.Steps)-1 {
		return 0
	}
	from, to := m.layout.Steps[i].Station, m.layout.Steps[i+1].Station
	for _, b := range m.bends {
		on := math.Min(float64(to), float64(b.To)) - math.Max(float64(from), float64(b.From))
		if on <= float64(tolerance) {
			continue
		}
		if !b.Right {
			on = -on
		}
		angle += on / float64(b.Radius)
	}
	return angle
}

// turn gives a box on a bend the radius that turns it as far as the path turns
// there.
func (m *maker) turn(b *materials.Box, i int) {
	angle := m.turned(i)
	if math.Abs(angle) < 1e-4 || b.Landing && math.Abs(angle) > turnMost {
		return
	}
	b.Radius, b.Right = unit.Length(float64(b.Tread)/math.Abs(angle)), angle > 0
}

// turnNotes are about the landings that turn too far for straight sides.
func (m *maker) turnNotes() []materials.Note {
	var out []materials.Note
	for i, s := range m.layout.Steps {
		if a := math.Abs(m.turned(i)) * 180 / math.Pi; s.Landing && a > turnMost*180/math.Pi {
			out = append(out, materials.Note{Box: s.Riser + m.below(), Item: materials.ItemSideTimber,
				Says: fmt.Sprintf("the landing turns by %.0f°: its sides are taken off as long as the centreline; cut them to the bend, in parts", a)})
		}
	}
	return out
}
