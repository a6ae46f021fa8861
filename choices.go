package slopewright

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/stair"
)

// ChoiceResult is one layout worth choosing: nothing else found beats it on digging,
// hours, cost and walking all at once.
type ChoiceResult struct {
	// BestFor is what none of the others does better when all of it is reckoned:
	// digging, hours, cost, walking.
	BestFor  []string       `json:"best_for"`
	Risers   int            `json:"risers"`
	Riser    unit.Length    `json:"riser"`
	Flights  []FlightResult `json:"flights"`
	Landings int            `json:"landings"`
	CutBank  unit.Volume    `json:"cut_bank"`
	Hours    Hours          `json:"hours" doc:"likely"`
	Cost     *Money         `json:"cost,omitempty" doc:"total of the bill; absent without prices"`
	Unpriced []string       `json:"unpriced,omitempty" doc:"what of the bill has no price: the cost leaves it out"`
	Misfit   unit.Length    `json:"misfit" doc:"how far out of step a walker is in all"`
	// Steps lays the choice as the plan's own: put it in steps.fixed.
	Steps []Fixed `json:"steps"`
	// Foot and Head are where its ends lie, where they may move: put them in
	// steps.fixed_foot and steps.fixed_head.
	Foot *Length `json:"foot,omitempty"`
	Head *Length `json:"head,omitempty"`
	Says string  `json:"says"`
}

// Choices makes the plan and the layouts to choose between: the best for each
// of digging, hours, cost and walking, and what lies between them, at most
// seven. The fit compares hours and cost by linear rates (see the comment of
// the rates), so that of two layouts that cost or take nearly the same it may find the
// other; what is told of each choice is reckoned in full, and which is best is told by
// that: of choices with the same bill, the one that digs less, then the one that takes
// fewer hours, then the one that walks better. Cost takes part where the timber has
// prices. The first tells as well which limits of the plan the digging hangs on
// ([HeldBack]). The error is a [Faults].
func Choices(p Plan) ([]ChoiceResult, error) {
	var m maker
	if err := m.read(p); err != nil {
		return nil, m.words.ownFaults(err)
	}
	p.Steps.Fixed, p.Steps.FixedFoot, p.Steps.FixedHead = nil, nil, nil
	m.plan = p
	sites := []*site{m.site(weights{digging: 1}), m.site(weights{hours: 1}), m.site(weights{})}
	measures := []stair.Measured{
		{Name: "digging", Site: sites[0]},
		{Name: "hours", Site: sites[1]},
		{Name: "walking", Site: sites[2], Walking: 1},
	}
	if m.timberPriced() {
		money := m.site(m.money())
		sites = append(sites, money)
		measures = append(measures, stair.Measured{Name: "cost", Site: money})
	}
	found, err := stair.Choices(m.task(), measures)
	for _, s := range sites {
		if err == nil {
			err = s.err
		}
	}
	if err != nil {
		return nil, m.words.ownFaults(m.fitFaults(err))
	}
	out := make([]ChoiceResult, 0, len(found))
	more := make([]beside, 0, len(found))
	for _, f := range found {
		c, b, err := m.choice(p, f)
		if err != nil {
			return nil, err
		}
		out, more = append(out, c), append(more, b)
	}
	m.sayChoices(out, more)
	if len(out) < 3 { // a reader would look for more
		by := "digging, hours and walking"
		if len(measures) > 3 {
			by = "digging, hours, walking and cost"
		}
		out[0].Says += " However " + by + " were weighed against each other, no other steps came out best."
	}
	for _, says := range HeldBack(p) {
		out[0].Says += " " + says
	}
	return out, nil
}

// beside is what the line of a choice goes by beside the choice.
type beside struct {
	parts string      // its treads and landings
	blind bool        // most of its goods have no price
	give  unit.Volume // ± of its digging, 0 where that is not known
}

// choice reckons one layout in full.
func (m *maker) choice(p Plan, f stair.Choice) (ChoiceResult, beside, error) {
	x, err := reckoned(p, f.Layout)
	if err != nil {
		return ChoiceResult{}, beside{}, err
	}
	l := x.layoutResult()
	c := ChoiceResult{
		BestFor: append([]string{}, f.BestFor...), Risers: l.Risers, Riser: l.Riser, Flights: l.Flights, Landings: len(l.Landings),
		CutBank: x.total.Cut, Hours: Hours(x.hours.Total.Likely.Hours()), Misfit: l.Misfit,
	}
	if x.bill.Total.IsPositive() {
		cost := x.coins(x.bill.Total)
		c.Cost, c.Unpriced = &cost, x.withoutPrice()
	}
	if len(x.feet) > 1 {
		c.Foot = &Length{Length: x.foot.Station}
	}
	if len(x.heads) > 1 {
		c.Head = &Length{Length: x.head.Station}
	}
	for _, s := range flightsOf(x.layout) {
		w := Fixed{Kind: string(s.Kind), Risers: s.Risers, Platform: s.Platform}
		if s.Risers > 1 {
			w.Tread = &Length{Length: s.Tread}
		}
		if s.Landing > 0 {
			w.Landing = &Length{Length: s.Landing}
		}
		c.Steps = append(c.Steps, w)
	}
	unpriced := 0
	for _, l := range x.bill.Lines {
		if !l.Priced {
			unpriced++
		}
	}
	b := beside{parts: strings.Join(x.partsInWords(), ", "), blind: 2*unpriced > len(x.bill.Lines)}
	if sure := x.certainty(); sure != nil && !x.unseen() {
		b.give = sure.CutBank
	}
	return c, b, nil
}

// sayChoices puts the choice that digs least first, and gives each a line that says
// what it trades against that one.
func (m *maker) sayChoices(all []ChoiceResult, more []beside) {
	if len(all) == 0 {
		return
	}
	for _, name := range []string{"digging", "hours", "cost", "walking"} {
		oneBest(all, name)
	}
	least, blind := 0, false
	for i, c := range all {
		if c.CutBank < all[least].CutBank {
			least = i
		}
		blind = blind || more[i].blind
	}
	for i := least; i > 0; i-- {
		all[i], all[i-1], more[i], more[i-1] = all[i-1], all[i], more[i-1], more[i]
	}
	base, w := all[0], m.words
	money := !blind && base.Cost != nil
	for i := range all {
		c := &all[i]
		s := count(c.Risers, "riser", "risers") + " of " + w.length(c.Riser) + ", in " + count(len(c.Flights), "flight", "flights")
		s += ": " + bestFor(c.BestFor)
		if i == 0 {
			s += ". It digs " + w.volume(c.CutBank) + " and takes " + number(float64(c.Hours), 0) + " person-hours"
			if money {
				s += " and " + m.amount(c.Cost.Decimal)
			}
			if len(all) > 1 {
				s += ". It is " + w.long(c.Misfit) + " out of step: by so much in all its treads and landings miss a walker's whole paces"
			}
			if blind && c.Cost != nil {
				s += ". Most of the goods have no price, so the money is not compared"
			}
			for _, other := range all[1:] {
				if w.volume(other.CutBank) != w.volume(c.CutBank) && absVolume(other.CutBank-c.CutBank) < more[0].give {
					s += ". Its digging is known to ±" + w.volume(more[0].give) + " from these readings: a choice that differs by less digs as much"
					break
				}
			}
			c.Says = s + "." + m.apart(all, more, i, money)
			continue
		}
		var against []string
		than := func(d float64, than float64, text, after string) {
			switch {
			case d > than:
				against = append(against, text+" more"+after)
			case d < -than:
				against = append(against, text+" less"+after)
			}
		}
		d := c.CutBank - base.CutBank
		than(d.CubicMeters(), 0.005, w.volume(absVolume(d)), " to dig")
		h := float64(c.Hours - base.Hours)
		than(h, 0.5, count(int(math.Round(absFloat(h))), "person-hour", "person-hours"), "")
		if money && c.Cost != nil {
			x := c.Cost.Sub(base.Cost.Decimal)
			than(nearest(x), 0.005, m.amount(x.Abs()), "")
		}
		step := c.Misfit - base.Misfit
		than(step.Meters(), 0.0005, w.long(absLength(step)), " out of step")
		if len(against) > 0 {
			s += ". Against the least digging: " + list(against)
		}
		c.Says = s + "." + m.apart(all, more, i, money)
	}
}

// bestFor says what a choice is best for. Least walking would be a short way: what is
// least is how far its steps are from the stride.
func bestFor(names []string) string {
	const stride = "steps that fit the stride best, by two risers and a tread"
	var least []string
	walks := false
	for _, name := range names {
		if name == "walking" {
			walks = true
		} else {
			least = append(least, name)
		}
	}
	switch {
	case len(least) > 0 && walks:
		return "least " + list(least) + "; " + stride
	case len(least) > 0:
		return "least " + list(least)
	case walks:
		return stride
	}
	return "between the others"
}

// fewNames are the most goods that a line names.
const fewNames = 3

// apart is what a choice's line must say so that it is not taken for what it is
// not: what its money, or that it is held against, leaves out; and its treads and
// landings, where another has as many risers and flights.
func (m *maker) apart(all []ChoiceResult, more []beside, i int, money bool) string {
	c, s := all[i], ""
	if money && c.Cost != nil {
		without := distinct(append(slices.Clone(c.Unpriced), all[0].Unpriced...))
		if n := len(without); n > fewNames {
			s = " The money is without " + strconv.Itoa(n) + " goods that have no price" + "."
		} else if n > 0 {
			s = " The money is without " + list(without) + " (no price)."
		}
	}
	alike, same := false, false
	for j, x := range all {
		if j != i && x.Risers == c.Risers && len(x.Flights) == len(c.Flights) {
			alike, same = true, same || more[j].parts == more[i].parts
		}
	}
	if alike {
		s += " From the foot: " + more[i].parts + "."
	}
	if same && c.Foot != nil {
		s += " It begins at " + m.words.long(c.Foot.Length) + " of the readings."
	}
	if same && c.Head != nil {
		s += " It ends at " + m.words.long(c.Head.Length) + " of the readings."
	}
	return s
}

// oneBest gives the name of a measure that the fit went by to one choice, the one that
// is best when reckoned in full; of equals, to the one that digs less, takes fewer hours
// or walks better, in that order, and else to one that the fit found best.
func oneBest(all []ChoiceResult, name string) {
	value := func(c ChoiceResult) float64 {
		switch name {
		case "digging":
			return float64(c.CutBank)
		case "hours":
			return float64(c.Hours)
		case "cost":
			if c.Cost != nil {
				return nearest(c.Cost.Decimal)
			}
		}
		return float64(c.Misfit)
	}
	fits := func(c ChoiceResult) bool { return slices.Contains(c.BestFor, name) }
	best := slices.IndexFunc(all, fits)
	if best < 0 {
		return
	}
	for i, c := range all {
		x, y := value(c), value(all[best])
		for _, other := range [...][2]float64{
			{float64(c.CutBank), float64(all[best].CutBank)}, {float64(c.Hours), float64(all[best].Hours)}, {float64(c.Misfit), float64(all[best].Misfit)},
		} {
			if x == y {
				x, y = other[0], other[1]
			}
		}
		if x < y || x == y && fits(c) && !fits(all[best]) {
			best = i
		}
	}
	for i := range all {
		c := &all[i]
		if i != best {
			c.BestFor = slices.DeleteFunc(c.BestFor, func(x string) bool { return x == name })
		} else if !fits(*c) {
			c.BestFor = append(c.BestFor, name)
		}
	}
}

func absFloat(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}

func absVolume(x unit.Volume) unit.Volume { return unit.Volume(absFloat(float64(x))) }
func absLength(x unit.Length) unit.Length { return unit.Length(absFloat(float64(x))) }
