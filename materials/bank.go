package materials

import (
	"fmt"
	"math"

	"github.com/martinlindhe/unit"
)

// Item ids of what ties a bank's timbers back. Price lists use the same words.
const (
	ItemDeadman      = "deadman"
	ItemDeadmanCross = "deadman-cross-piece"
)

// What ties a held bank back where the detail says nothing. Every second course
// from the second, in banks over about 2 ft, 4 to 6 ft or the wall's height
// into the slope with a cross piece: common practice, from memory. 8 ft apart at most: USDA
// Forest Service, Trail Construction and Maintenance Notebook (2007), Fig. 77,
// headers of crib walls. A cross piece of 2 ft: common practice.
const (
	deadmanFrom   = 24 * inch
	deadmanLength = 48 * inch
	deadmanEvery  = 96 * inch
	deadmanCross  = 24 * inch
)

// A bar goes through three timbers at least: the same, drift pins of 1/2 in.
const barThrough = 3

// deadmanSpikes hold a deadman's end to the course that it lies on: common
// practice.
const deadmanSpikes = 2

// BankPart is the timbers that hold the bank on one side of a box.
type BankPart struct {
	_ [0]func() // not comparable, which spares code: see DEVELOPERS.md
	// Right is the side, looking uphill.
	Right bool
	// Height of the bank above the tread, and Courses the timbers one above the
	// other on the box's side timbers.
	Height  unit.Length
	Courses int
	// Timber is the length along the box of the whole ones, Timbers how many of
	// them. In a course with deadmen the timber is cut to make room for them:
	// Cuts pieces of Cut.
	Timber, Cut   unit.Length
	Timbers, Cuts int
	// Deadmen lie in every second course from the second, so many in a course:
	// each Deadman long, of which the timber's breadth lies in the course, with a
	// cross piece of Cross on its far end and a bar of Anchor driven through both
	// into the ground.
	Deadmen, InCourse      int
	Deadman, Cross, Anchor unit.Length
	// Spikes hold each course, and the deadmen, to the one below. Bars, each Bar
	// long and through three timbers, take the place of those of the courses.
	Spikes, Bars int
	Bar          unit.Length
}

func orElse(l, other unit.Length) unit.Length {
	if l == 0 {
		return other
	}
	return l
}

// deadmanInto is how far a deadman reaches behind the timbers of a bank: no less
// than the bank is high.
func (d BoxDetail) deadmanInto(height unit.Length) unit.Length {
	if d.DeadmanLength == 0 && height > deadmanLength {
		return height
	}
	return orElse(d.DeadmanLength, deadmanLength)
}

// bank works out the timbers that hold the cut bank of one side, courses as long
// as that side of the box on its side timbers.
func (t *Takeoff) bank(p *BoxPart, right bool, height unit.Length, long float64) {
	d := t.detail
	if height <= unit.Micrometer {
		return
	}
	side := "left"
	if right {
		side = "right"
	}
	say := func(item, says string) { t.Notes = append(t.Notes, Note{Box: p.Number, Item: item, Says: says}) }
	if height > d.bankLimit()+unit.Micrometer {
		say(ItemBankTimber, fmt.Sprintf("the bank on the %s stands %s above the tread, more than the %s that side timbers hold: have an engineer design what holds it (%s)", side, d.show(height), d.show(d.bankLimit()), sourceBank))
		return
	}
	w, h := d.Breadth().Meters(), d.Course().Meters()
	b := BankPart{Right: right, Height: height, Courses: int(math.Ceil((height.Meters() - 1e-6) / h)), Timber: unit.Length(long)}
	b.Timbers = b.Courses
	// On the inside of a tight bend there may be no room for one.
	if !d.NoDeadmen && b.Courses > 1 && long >= 2*w && height > orElse(d.DeadmanFrom, deadmanFrom)+unit.Micrometer {
		b.InCourse = spaces(long, orElse(d.DeadmanEvery, deadmanEvery).Meters())
		if most := int(long / (2 * w)); b.InCourse > most {
			b.InCourse = most
		}
		tied := b.Courses / 2
		b.Timbers -= tied
		b.Deadmen = tied * b.InCourse
		b.Deadman, b.Cross = d.deadmanInto(height)+unit.Length(w), orElse(d.DeadmanCross, deadmanCross)
		// Where what is left beside them would be a stub, the last lies at the end.
		between := b.InCourse + 1
		left := long - float64(float64(b.InCourse)*w)
		if left < float64(float64(between)*2*w) {
			between = b.InCourse
		}
		b.Cut, b.Cuts = unit.Length(left/float64(between)), tied*between
		b.Spikes = deadmanSpikes * b.Deadmen
		if d.Pin.Name != "" {
			b.Anchor = d.PinLength
			if least := unit.Length(2*h) + d.PinGround; least > b.Anchor {
				b.Anchor = least
			}
		}
	}
	every := orTwoFeet(d.SpikeEvery).Meters()
	if d.BankBars {
		stack := b.Courses + 1 // with the side timber under them
		through := barThrough
		if stack < through {
			through = stack
		}
		b.Bar = unit.Length(float64(through) * h)
		// Each shares a timber with the one below.
		along := d.pins(b.Timber)
		if ends := 2 * (b.InCourse + 1); b.Deadmen > 0 && along < ends {
			along = ends
		}
		b.Bars = along * (stack / 2)
	} else {
		b.Spikes += b.Timbers*(spaces(long, every)+1) + b.Cuts*(spaces(b.Cut.Meters(), every)+1)
	}
	p.BankTimbers += b.Timbers
	if b.Timber > p.BankTimber {
		p.BankTimber = b.Timber
	}
	p.Spikes += b.Spikes
	p.Banks = append(p.Banks, b)
	held := "a timber on the side timber"
	if b.Courses > 1 {
		held = fmt.Sprintf("%d timbers on the side timber, one above the other", b.Courses)
	}
	say(ItemBankTimber, fmt.Sprintf("%s of bank on the %s held by %s; stone behind, so that water drains", d.show(height), side, held))
	if b.Deadmen > 0 {
		says := fmt.Sprintf("the bank on the %s is tied back: %d in every second course from the second, reaching %s into the bank, level, with a cross piece of %s on the far end", side, b.InCourse, d.show(b.Deadman-unit.Length(w)), d.show(b.Cross))
		if b.Anchor > 0 {
			says += " and a bar through both"
		}
		say(ItemDeadman, says)
	}
}

// run is the length of all timber of a bank.
func (b BankPart) run() float64 {
	return float64(float64(b.Timbers)*b.Timber.Meters()) + float64(float64(b.Cuts)*b.Cut.Meters()) + float64(float64(b.Deadmen)*(b.Deadman+b.Cross).Meters())
}

func (d BoxDetail) checkBank(c *checker) {
	c.length("bank_to", d.BankTo, 0, bankMost)
	c.spacing("spike_every", d.SpikeEvery)
	c.length("spike", d.Spike, 0, unit.Meter)
	c.length("deadman_from", d.DeadmanFrom, 0, bankMost)
	c.length("deadman_length", d.DeadmanLength, 0, 5*unit.Meter)
	c.spacing("deadman_every", d.DeadmanEvery)
	c.length("deadman_cross", d.DeadmanCross, 0, 3*unit.Meter)
	if d.BankBars && d.Pin.Name == "" {
		c.add("bank_bars", "true", "are bars, and the detail has none", "name a pin, or leave them out for spikes")
	}
}
