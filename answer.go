package slopewright

import (
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/materials"
	"github.com/slopewright/slopewright/stair"
)

// answerUpToDigging is what the sentences tell of the steps and the digging.
func (m *maker) answerUpToDigging() []Sentence {
	out := []Sentence{
		{"steps", m.sayTheSteps()}, {"walking", m.sayTheWalk()}, {"deepest", m.sayTheDeepest()}, {"earth", m.sayTheEarth()},
	}
	if s := m.sayTheHaul(); s != "" {
		out = append(out, Sentence{"haul", s})
	}
	if s := m.sayTheHidden(); s != "" {
		out = append(out, Sentence{"hidden", s})
	}
	return out
}

// answer is the plan in sentences, the most wanted first.
func (m *maker) answer() []Sentence {
	out := m.answerUpToDigging()
	say := func(key, text string) { out = append(out, Sentence{key, text}) }
	if m.certain != nil {
		say("certainty", m.certain.Says)
	}
	say("timber", m.sayTheTimber())
	say("gravel", m.sayTheGravel())
	say("money", m.sayTheMoney())
	say("time", m.sayTheTime())
	return out
}

func (m *maker) sayTheSteps() string {
	w, l := m.words, m.layout
	n := l.Risers
	s := ""
	if l.FirstStands {
		n--
		s = count(len(m.plan.Built), "riser stands", "risers stand") + ". Still to build: "
	}
	s += count(n, "riser", "risers") + " of " + w.length(l.Riser) + " climb " + w.long(l.Rise) + " over " + w.long(l.Run)
	if len(l.Landings) > 0 {
		s += ", in " + strconv.Itoa(len(l.Flights)) + " flights with " + count(len(l.Landings), "landing", "landings")
	} else {
		s += ", without a landing"
	}
	if parts := m.partsInWords(); len(parts) > 0 {
		from := "From the foot: "
		if l.FirstStands {
			from = "From there: "
		}
		s += ". " + from + strings.Join(parts, ", ")
	}
	s += "."
	if b := m.builtResult(); b != nil {
		s += " Built and planned risers differ by " + w.length(b.Spread) + " at most."
	}
	if f := m.plan.Path.Foot.Slack; f != nil && m.fitted && len(m.feet) > 1 {
		s += " The fit put the foot at " + w.long(m.foot.Station) + " of the readings."
	}
	if h := m.plan.Path.Head.Slack; h != nil && m.fitted && len(m.heads) > 1 {
		s += " The fit put the head at " + w.long(m.head.Station) + " of the readings."
	}
	return s
}

// partsInWords is the treads and landings of the layout, from the foot up.
func (m *maker) partsInWords() []string {
	w, l := m.words, m.layout
	mixed := m.anyFramed()
	var parts []string
	for i, f := range l.Flights {
		kind := ""
		if mixed && f.Kind == stair.Framed {
			kind = " framed"
		} else if mixed {
			kind = " box"
		}
		if f.Risers > 1 {
			parts = append(parts, strconv.Itoa(f.Risers-1)+kind+" "+plural(f.Risers-1, "tread", "treads")+" of "+w.length(f.Tread))
		}
		if i < len(l.Landings) {
			what := "a landing of "
			if l.Landings[i].Kind == stair.Framed {
				what = "a platform of "
			}
			parts = append(parts, what+w.length(l.Landings[i].Depth))
		}
	}
	return parts
}

func (m *maker) sayTheWalk() string {
	w := m.words
	var sums []string
	same := false
	for _, f := range m.layout.Walk(stair.OutdoorPace).Flights {
		if f.Tread == 0 {
			continue
		}
		sums = append(sums, w.length(f.StepSum)+" ("+count(f.Paces, "pace", "paces")+" a tread)")
		same = same || f.SameFoot
	}
	s := "One riser and no tread."
	if len(sums) > 0 {
		s = "Two risers and a tread make " + list(distinct(sums)) + "."
	}
	if same {
		s += " An even number of paces on a tread means that the same foot leads up every riser."
	}
	if m.layout.Wash > 0 {
		s += " Treads fall " + w.slope(m.layout.Wash) + " to the front."
	}
	return s
}

func (m *maker) sayTheDeepest() string {
	w := m.words
	if m.deepest.Depth <= 0 {
		return "Nothing is cut on the centreline: the boxes stand on the ground as it is."
	}
	if past := m.deepest.Station - m.layout.Head.Station; past > unit.Millimeter {
		return "Deepest cut " + w.length(m.deepest.Depth) + ", " + w.length(past) + " beyond the head, where the last box runs back into the bank."
	}
	return "Deepest cut " + w.length(m.deepest.Depth) + ", " + w.long(m.deepest.Station) +
		" from the foot, behind riser " + strconv.Itoa(m.deepest.Riser) + "."
}

func (m *maker) sayTheEarth() string {
	w, b := m.words, m.balance
	s := w.volume(m.total.Cut) + " to dig, measured in the bank"
	back := m.backAndLeft()[0]
	if t := m.earth.topsoil; t > 0 {
		s += ", " + w.volume(t) + " of it topsoil to keep apart; " + back + " goes back"
	} else {
		s += "; " + back + " of it goes back"
	}
	sizes := ""
	if b.SpoilLoose > 0 {
		s += " and " + w.volume(b.SpoilLoose) + " loose is left over"
		var loads []string
		for _, l := range m.loads() {
			s := count(l.Count, l.Carrier+" load", l.Carrier+" loads")
			if l.Count == 1 { // which may be less than full
				s += " (it takes up to " + l.holds + ")"
			} else {
				s += " of " + l.holds
			}
			loads = append(loads, s)
			if !l.Assumed {
				sizes = " but the barrow's"
			}
		}
		sizes = " Sizes of loads" + sizes + " are assumed."
		s += ": " + strings.Join(loads, ", or ")
	}
	if b.BorrowBank > 0 {
		s += "; another " + w.volume(b.BorrowBank) + " (in the bank) must be brought"
	}
	return s + "." + sizes
}

// backAndLeft are what of the digging, without topsoil, goes back and what is left.
func (m *maker) backAndLeft() []string {
	b := m.balance
	return m.words.shares(b.CutBank, b.ReusedBank, b.SpoilBank)
}

// sayTheHidden holds the digging against what rise over run would have told.
func (m *maker) sayTheHidden() string {
	w := m.words
	if m.unseen() {
		s := "Two numbers cannot show the ground between: the digging here is that of a straight slope."
		if b := m.bow; b != nil {
			s += " On a hill that bows up or down by " + w.length(b.Bow) + " halfway, the same steps would dig " + w.volume(b.Least) + " to " + w.volume(b.Most)
			if b.Fill > 0.05*unit.CubicMeter {
				s += ", or stand on as much as " + w.volume(b.Fill) + " of made ground"
			}
			s += "."
		}
		return s + " Measure the ground along the path before you trust it."
	}
	e := m.equal
	if e == nil {
		return ""
	}
	same := len(m.layout.Flights) == 1
	s := "Rise over run makes the same steps, but would"
	if !same {
		s = "Rise over run would make every tread " + w.length(e.Tread) + " and"
	}
	s += " look like " + w.volume(e.Thought) + " of digging; on this ground those steps would dig " + w.volume(e.CutBank)
	if e.FillCompacted > 0.05*unit.CubicMeter {
		s += " and stand on " + w.volume(e.FillCompacted) + " of made ground"
	}
	if !same && w.volume(e.CutBank) == w.volume(m.total.Cut) {
		s += ", as much as these dig"
	}
	return s + "."
}

func (m *maker) sayTheTimber() string {
	w := m.words
	type kind struct {
		section string
		length  unit.Length
	}
	counts := map[kind]int{}
	var order []kind
	here := 0
	for _, b := range m.cutplan.Boards {
		if b.OnHand {
			here += b.Count
			continue
		}
		k := kind{b.Section, b.Stock}
		if _, ok := counts[k]; !ok {
			order = append(order, k)
		}
		counts[k] += b.Count
	}
	var parts []string
	for _, k := range order {
		parts = append(parts, strconv.Itoa(counts[k])+" of "+k.section+" of "+w.distanceSold(k.length))
	}
	s := "Timber to buy: " + list(parts)
	if len(parts) == 0 {
		s = "No timber to buy"
	}
	if here > 0 {
		s += ", beside " + strconv.Itoa(here) + " on hand,"
	}
	if m.by() == "cost" {
		s += " for " + m.amount(m.cutplan.Cost)
		if m.cutplan.Proven {
			s += "; no other way of buying and cutting these pieces is cheaper"
		}
	} else if m.cutplan.Proven && m.by() == "length" {
		s += "; no other way of cutting these pieces takes less length (there are no prices)"
	} else if m.cutplan.Proven {
		s += "; nothing is cheaper of what has a price, and nothing of the rest takes less length"
	}
	return s + "."
}

// distanceSold writes a length as it is sold: 8 ft, 2.4 m.
func (w words) distanceSold(l unit.Length) string {
	if w.imperial {
		return strings.TrimSuffix(w.length(l), " 0 in")
	}
	return number(l.Meters(), 3) + " m"
}

func (m *maker) sayTheGravel() string {
	w := m.words
	var parts []string
	for _, id := range []string{materials.ItemBase, materials.ItemFill, materials.ItemTopping} {
		for _, i := range m.takeoff.Items {
			if i.ID == id && i.Order.Volume > 0 {
				parts = append(parts, w.ordered(i.Order.Volume)+" of "+itemName(id)+" ("+w.mass(i.Order.Mass)+")")
			}
		}
	}
	if len(parts) == 0 {
		return "No gravel."
	}
	return "Gravel to order, loose in the truck: " + list(parts) + "."
}

func (m *maker) sayTheTime() string {
	h := m.hours.Total
	s := "About " + number(h.Likely.Hours(), 0) + " person-hours (" + number(h.Low.Hours(), 0) + " to " + number(h.High.Hours(), 0) + "): " +
		count(m.crew.People, "person", "people") + " for " + count(m.schedule.Days.Likely, "day", "days")
	if w, ok := m.schedule.Weekends(); ok {
		return s + ", " + count(w.Likely, "weekend", "weekends") + "."
	}
	return s + ", " + count(m.schedule.Weeks.Likely, "week", "weeks") + "."
}

// itemName is an item of the take-off in words.
func itemName(id string) string { return strings.ReplaceAll(id, "-", " ") }
