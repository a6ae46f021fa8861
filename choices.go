package slopewright

import (
	"math"
	"slices"
	"strings"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/stair"
)

// ChoiceResult is one layout worth choosing: nothing else found beats it on digging,
// hours, cost and walking all at once.
type ChoiceResult struct {
	// BestFor is what no other layout does better: digging, hours, cost,
	// walking, by the measures of the fit.
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
// the rates); what is told of each choice is reckoned in full. Cost takes part
// where the timber has prices. The error is a [Faults].
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
		return nil, m.words.ownFaults(fitFaults(err))
	}
	out := make([]ChoiceResult, 0, len(found))
	parts := make([]string, 0, len(found))
	for _, f := range found {
		c, in, err := m.choice(p, f)
		if err != nil {
			return nil, err
		}
		out, parts = append(out, c), append(parts, in)
	}
	m.sayChoices(out, parts)
	return out, nil
}

// timberPriced reports whether the timbers that a layout may be made of have
// prices: without them cost says nothing.
func (m *maker) timberPriced() bool {
	if m.perMetre(m.detail.Timber.Name) == 0 {
		return false
	}
	return !m.framing() || m.perMetre(m.framed.Stringer.Name) > 0 && m.perMetre(m.framed.Tread.Name) > 0
}

// choice reckons one layout in full, and says its treads and landings.
func (m *maker) choice(p Plan, f stair.Choice) (ChoiceResult, string, error) {
	var x maker
	if err := x.read(p); err != nil {
		return ChoiceResult{}, "", err
	}
	x.fitted = true
	if err := x.settle(f.Layout); err != nil {
		return ChoiceResult{}, "", err
	}
	if err := x.dig(); err != nil {
		return ChoiceResult{}, "", err
	}
	if err := x.build(); err != nil {
		return ChoiceResult{}, "", err
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
	return c, strings.Join(x.partsInWords(), ", "), nil
}

// sayChoices gives each choice a line that says what it trades against the
// choice that digs least; parts are the treads and landings of each.
func (m *maker) sayChoices(all []ChoiceResult, parts []string) {
	if len(all) == 0 {
		return
	}
	for _, name := range []string{"digging", "hours", "cost", "walking"} {
		oneBest(all, name)
	}
	least := 0
	for i, c := range all {
		if c.CutBank < all[least].CutBank {
			least = i
		}
	}
	base, w := all[least], m.words
	for i := range all {
		c := &all[i]
		s := count(c.Risers, "riser", "risers") + " of " + w.length(c.Riser) + " in " + count(len(c.Flights), "flight", "flights")
		s += ": " + bestFor(c.BestFor)
		if i == least {
			s += ". It digs " + w.volume(c.CutBank) + " and takes " + number(float64(c.Hours), 0) + " person-hours"
			if c.Cost != nil {
				s += " and " + m.amount(c.Cost.Decimal)
			}
			c.Says = s + "." + m.apart(all, parts, i, base)
			continue
		}
		var against []string
		more := func(d float64, than float64, text, after string) {
			switch {
			case d > than:
				against = append(against, text+" more"+after)
			case d < -than:
				against = append(against, text+" less"+after)
			}
		}
		d := c.CutBank - base.CutBank
		more(d.CubicMeters(), 0.005, w.volume(absVolume(d)), " to dig")
		h := float64(c.Hours - base.Hours)
		more(h, 0.5, count(int(math.Round(absFloat(h))), "person-hour", "person-hours"), "")
		if c.Cost != nil && base.Cost != nil {
			money := c.Cost.Sub(base.Cost.Decimal)
			more(nearest(money), 0.005, m.amount(money.Abs()), "")
		}
		step := c.Misfit - base.Misfit
		more(step.Meters(), 0.0005, w.length(absLength(step)), " out of step")
		if len(against) > 0 {
			s += ". Against the least digging: " + list(against)
		}
		c.Says = s + "." + m.apart(all, parts, i, base)
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

// apart is what a choice's line must say so that it is not taken for what it is
// not: what its money, or that it is held against, leaves out; and its treads and
// landings, where another has as many risers and flights.
func (m *maker) apart(all []ChoiceResult, parts []string, i int, base ChoiceResult) string {
	c, s := all[i], ""
	if c.Cost != nil {
		if without := distinct(append(slices.Clone(c.Unpriced), base.Unpriced...)); len(without) > 0 {
			s = " The money is without " + list(without) + " (no price)."
		}
	}
	alike, same := false, false
	for j, x := range all {
		if j != i && x.Risers == c.Risers && len(x.Flights) == len(c.Flights) {
			alike, same = true, same || parts[j] == parts[i]
		}
	}
	if alike {
		s += " From the foot: " + parts[i] + "."
	}
	if same && c.Foot != nil {
		s += " It begins at " + m.words.long(c.Foot.Length) + " of the readings."
	}
	if same && c.Head != nil {
		s += " It ends at " + m.words.long(c.Head.Length) + " of the readings."
	}
	return s
}

// oneBest leaves the name of a measure with one choice: of those that the fit
// found equally good, the one that is best when reckoned in full.
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
	best := -1
	for i, c := range all {
		if slices.Contains(c.BestFor, name) && (best < 0 || value(c) < value(all[best])) {
			best = i
		}
	}
	for i := range all {
		if i != best {
			all[i].BestFor = slices.DeleteFunc(all[i].BestFor, func(x string) bool { return x == name })
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
