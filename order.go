package slopewright

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/earthwork"
	"github.com/slopewright/slopewright/stair"
)

// CrewRates are outputs of one of the crew, where they are known better than by the
// handbooks; digging to 1.5 m is soil.digging.
type CrewRates struct {
	_           [0]func() // not comparable, which spares code: see DEVELOPERS.md
	DeepDigging *Quantity `json:"deep_digging,omitempty" unit:"m3/h" range:"[0.01,10]" doc:"m³ in the bank dug in an hour from below 1.5 m, or as \"1 yd3/h\""`
	Trimming    *Quantity `json:"trimming,omitempty" unit:"m2/h" range:"[0.1,1000]" doc:"m² of bottom and sides trimmed in an hour, or as \"100 ft2/h\""`
	Practised   *float64  `json:"practised,omitempty" range:"[1,5]" doc:"what practised people do, in parts of the usual output, for the low figure of every kind of work; default that of each source, commonly 1.2"`
	Slow        *float64  `json:"slow,omitempty" range:"[0.2,1]" doc:"and slow ones, for the high figure; default commonly 0.8"`
	Loading     *Quantity `json:"loading,omitempty" unit:"m3/h" range:"[0.05,50]" doc:"m³ loose shovelled into barrows in an hour, or as \"1 yd3/h\""`
	Barrow      *Quantity `json:"barrow,omitempty" unit:"m3" range:"[0.01,1]" doc:"m³ loose in a barrow, or as \"3 ft3\""`
	Wheeling    *Quantity `json:"wheeling,omitempty" unit:"m/min" range:"[1,300]" doc:"m a minute with a barrow, full and empty, or as \"150 ft/min\""`
	BarrowTrip  *float64  `json:"barrow_trip,omitempty" range:"[0.01,60]" doc:"minutes lost a trip with tipping and turning the barrow; default 0.75"`
	Climb       *float64  `json:"climb,omitempty" range:"[0,100]" doc:"metres of level way that a metre climbed takes as long as; default 7.92"`
	Filling     *Quantity `json:"filling,omitempty" unit:"m3/h" range:"[0.01,50]" doc:"m³ tamped of earth placed and rammed in an hour, or as \"1 yd3/h\""`
	Gravel      *Quantity `json:"gravel,omitempty" unit:"m3/h" range:"[0.01,50]" doc:"m³ tamped of gravel spread and tamped in an hour, or as \"1 yd3/h\""`
	Spreading   *Quantity `json:"spreading,omitempty" unit:"m3/h" range:"[0.05,50]" doc:"m³ loose of spoil spread in an hour, or as \"1 yd3/h\""`
	Topsoil     *Quantity `json:"topsoil,omitempty" unit:"m3/h" range:"[0.01,10]" doc:"m³ in the bank of topsoil stripped, kept and spread again in an hour, or as \"1 yd3/h\""`
	Carrying    *Quantity `json:"carrying,omitempty" unit:"m/min" range:"[1,300]" doc:"m a minute with a timber, full and empty, or as \"150 ft/min\""`
	CarryTrip   *float64  `json:"carry_trip,omitempty" range:"[0.01,60]" doc:"minutes lost a trip with lifting and laying down a timber; default 1"`
	Box         *float64  `json:"box,omitempty" range:"[0.05,100]" doc:"hours for the timber of a box step"`
	Framing     *float64  `json:"framing,omitempty" range:"[0.05,100]" doc:"hours for a riser of a framed flight, supports and platforms shared among the risers"`
	Footing     *float64  `json:"footing,omitempty" range:"[0.05,1000]" doc:"hours for the footing of the bottom step"`
	Face        *float64  `json:"face,omitempty" range:"[0.01,100]" doc:"hours for a face board"`
	Bank        *float64  `json:"bank,omitempty" range:"[0.01,100]" doc:"hours for a timber that holds the bank, ties shared among them"`
	Edging      *Quantity `json:"edging,omitempty" unit:"h/m" range:"[0.001,100]" doc:"hours for a metre of edging with its stakes, or as \"0.1 h/ft\""`
	Drain       *Quantity `json:"drain,omitempty" unit:"h/m" range:"[0.001,100]" doc:"hours for a metre of drain, laid and filled, beside the digging, or as \"0.1 h/ft\""`
	Light       *float64  `json:"light,omitempty" range:"[0.01,100]" doc:"hours for a light, transformer and checks shared among them"`
}

// WorkOrder is one entry of the order of work: from the bottom up, so that every step
// sits on one that is finished.
type WorkOrder struct {
	_      [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Number int       `json:"number"`
	Work   string    `json:"work" doc:"prepare, topsoil, drain, steps or finish"`
	First  int       `json:"first,omitempty" doc:"of steps: the lowest riser"`
	Last   int       `json:"last,omitempty" doc:"and the highest that is begun"`
	Hours  Hours     `json:"hours" doc:"likely person-hours"`
	Day    int       `json:"day" doc:"working day it is begun on; 0 is before the first"`
	ToDay  int       `json:"to_day" doc:"working day it is done on"`
	// Days between the two are whole ones of the crew.
	OnDay   Hours  `json:"on_day,omitempty" doc:"of hours, those on day"`
	OnToDay Hours  `json:"on_to_day,omitempty" doc:"and those on to_day, where that is another"`
	Date    string `json:"date,omitempty" doc:"of day, ISO 8601, where the plan has a start"`
	ToDate  string `json:"to_date,omitempty" doc:"of to_day"`
	Says    string `json:"says"`
}

// outputs are the crew's own, none of which need be given.
func (m *maker) outputs() *CrewRates {
	if r := m.plan.Crew.Rates; r != nil {
		return r
	}
	return new(CrewRates)
}

// climb is how many metres of level way a metre climbed counts as, and who says so.
func (m *maker) climb() (worth float64, source string) {
	if c := m.outputs().Climb; c != nil {
		return *c, thisPlan
	}
	return climbWorth, climbSource
}

// own is an output that the plan gives, or 0.
func own(x *Quantity) float64 { return quantityOr(x, 0) }

// rated puts the crew's own outputs into the work.
func (m *maker) rated(w *earthwork.Work) {
	r := m.outputs()
	w.Rates = earthwork.Rates{
		DeepDigging: own(r.DeepDigging), Trimming: own(r.Trimming), Loading: own(r.Loading), Filling: own(r.Filling), Gravel: own(r.Gravel),
		Barrow: unit.Volume(own(r.Barrow)), Wheeling: unit.Speed(own(r.Wheeling) / 60),
		Trip: unit.Duration(numberOr(r.BarrowTrip, 0)) * unit.Minute, Practised: numberOr(r.Practised, 0), Slow: numberOr(r.Slow, 0),
	}
	if h := numberOr(r.Box, 0); h > 0 {
		w.Box = m.activity("", "", h, "", false).Time
	}
}

// readLoose takes the swell from what a known volume of dug soil weighs.
func (m *maker) readLoose(all *Faults, soil *earthwork.Soil) {
	s := m.plan.Soil
	if s.Loose == nil {
		return
	}
	loose, bank := s.Loose.Value, soil.BankDensity.Value
	problem, fix := "is given beside swell", "leave one of the two out: either follows from the other"
	if s.Swell == nil {
		swell := bank/loose - 1
		if swell >= 0 && swell <= 1.5 {
			soil.Swell = earthwork.Figure{Value: swell, Source: "densities in the bank and loose: " + thisPlan}
			return
		}
		problem, fix = "does not go with "+m.words.density(bank)+" in the bank", "write less than that, no less than two fifths of it; or density as well"
	}
	all.Add("soil.loose_density", textOr(s.Loose.Text, m.words.density(loose)), problem, fix)
}

// framingHours is what framed flights take, in person-hours: each riser, flight, support
// and platform, and a metre of that.
type framingHours struct{ riser, flight, support, platform, metre float64 }

// framingHours are those of the plan, which has everything in the risers, or the usual ones.
func (m *maker) framingHours() framingHours {
	if h := m.outputs().Framing; h != nil {
		return framingHours{riser: *h}
	}
	return framingHours{framedRiserHours, framedFlightHours, framedSupportHours, framedPlatformHours, platformMetreHours}
}

const thisPlan = "this plan"

// weekdays are those a document may name, from Monday.
var weekdays = [...]string{"mon", "tue", "wed", "thu", "fri", "sat", "sun"}

// readWeek takes the days worked and the first of them.
func (m *maker) readWeek(all *Faults) {
	c := m.plan.Crew
	for _, d := range c.Days {
		if i := slices.Index(weekdays[:], d); i >= 0 && !slices.Contains(m.week, i) {
			m.week = append(m.week, i)
		}
	}
	if n := float64(len(m.week)); n > 0 {
		if c.DaysPerWeek != nil && *c.DaysPerWeek != n {
			all.Add("crew.days_per_week", number(*c.DaysPerWeek, 2), "is not how many days are listed, "+number(n, 0), "leave it out")
		}
		m.crew.DaysPerWeek = n
	} else {
		from := 0
		if m.crew.DaysPerWeek <= 2 {
			from = 5 // weekends
		}
		for i := range int(math.Ceil(m.crew.DaysPerWeek)) {
			m.week = append(m.week, (from+i)%7)
		}
	}
	if c.Start == "" {
		return
	}
	if m.start = dayOf(c.Start); m.start < 0 {
		all.Add("crew.start", c.Start, "is not a day of the calendar", "write year, month and day, such as 2026-05-02")
	}
}

// dayOf is the day of an ISO date since 1 March of the year 0, or -1.
func dayOf(s string) int {
	if len(s) != 10 || s[4] != '-' || s[7] != '-' {
		return -1
	}
	var n [3]int
	for i, part := range [3]string{s[:4], s[5:7], s[8:]} {
		for _, c := range []byte(part) {
			if c < '0' || c > '9' {
				return -1
			}
			n[i] = 10*n[i] + int(c-'0')
		}
	}
	if n[0] < 1 || n[1] < 1 || n[1] > 12 || n[2] < 1 {
		return -1
	}
	y, month := n[0], (n[1]+9)%12 // from March, so that a leap day ends the year
	if month > 9 {
		y--
	}
	d := 365*y + y/4 - y/100 + y/400 + (153*month+2)/5 + n[2] - 1
	if dateOf(d) != s {
		return -1 // the 31st of a month of 30
	}
	return d
}

// dateOf is the ISO date of a day since 1 March of the year 0.
func dateOf(d int) string {
	era, rest := d/146097, d%146097
	y := (rest - rest/1460 + rest/36524 - rest/146096) / 365
	rest -= 365*y + y/4 - y/100
	month := (5*rest + 2) / 153
	day := rest - (153*month+2)/5 + 1
	y += 400 * era
	if month > 9 {
		y++
	}
	return fmt.Sprintf("%04d-%02d-%02d", y, (month+2)%12+1, day)
}

// workday is the day of the calendar that a working day falls on, both from 0.
func (m *maker) workday(k int) int {
	per := m.crew.DaysPerWeek
	week := int(math.Floor(float64(k)/per + 1e-9))
	i := k - int(math.Ceil(float64(float64(week)*per)-1e-9))
	today := (m.start + 2) % 7 // 1 March of the year 0 was a Wednesday
	var after []int
	for _, d := range m.week {
		after = append(after, (d-today+7)%7)
	}
	sort.Slice(after, func(i, j int) bool { return after[i] < after[j] })
	if i >= len(after) {
		i = len(after) - 1
	}
	return m.start + 7*week + after[i]
}

// order is the order of work, bottom up, with the likely time of each entry.
func (m *maker) order() []WorkOrder {
	n := len(m.steps)
	hours := make([]float64, n)
	rest := map[string]float64{}
	var last []string // what is done at the end
	for _, a := range m.hours.Activities {
		h := a.Time.Likely.Hours()
		weigh := func(of func(i int) float64) {
			sum := 0.0
			for i := range n {
				sum += float64(of(i))
			}
			for i := range n {
				if sum > 0 {
					hours[i] += float64(h * (of(i) / sum))
				}
			}
			if !(sum > 0) {
				rest["finish"] += h
			}
		}
		boxed := func(i int) float64 {
			if m.steps[i].Kind == string(stair.Framed) {
				return 0
			}
			return 1
		}
		switch a.ID {
		case "dig", "spoil":
			drain := 0.0
			if m.balance.CutBank > 0 && m.water != nil {
				drain = float64(h * float64(m.water.Bank/m.balance.CutBank))
			}
			rest["drain"] += drain
			h -= drain
			weigh(func(i int) float64 {
				return math.Max(0, float64(m.steps[i].CutBank-m.steps[i].TopsoilBank-m.steps[i].drain))
			})
		case "fill", "borrow":
			weigh(func(i int) float64 { return float64(m.steps[i].FillCompacted + m.steps[i].BackfillCompacted) })
		case "topsoil", "drain":
			rest[a.ID] += h
		case "spread":
			rest["finish"] += h
			last = append(last, "spread the spoil")
		case "edging", "lights":
			rest["finish"] += h
			last = append(last, "set the "+a.ID)
		case "carry":
			weigh(func(int) float64 { return 1 })
		case "footing":
			weigh(func(i int) float64 {
				if m.steps[i].Riser == m.boxed[0].Number {
					return 1
				}
				return 0
			})
		case "gravel-haul", "gravel-place", "trim":
			weigh(func(i int) float64 { return boxed(i) * float64(m.layout.Steps[i].Tread) })
		case "framing":
			weigh(func(i int) float64 { return 1 - boxed(i) })
		default:
			weigh(boxed)
		}
	}
	var out []WorkOrder
	day := float64(m.crew.People) * m.crew.HoursPerDay
	spent := 0.0
	var begun []float64 // hours before each entry
	add := func(work string, h float64, first int, what string) {
		x := WorkOrder{Number: len(out) + 1, Work: work, Hours: Hours(h), First: first, Last: first}
		if work != "prepare" {
			x.Day = int(math.Floor(spent/day+1e-9)) + 1
			spent += h
			if x.ToDay = int(math.Ceil(spent/day - 1e-9)); x.ToDay < x.Day {
				x.ToDay = x.Day
			}
		}
		if k := len(out) - 1; work == "steps" && k >= 0 && out[k].Work == work && out[k].Day == x.Day && out[k].Says == what {
			out[k].Last, out[k].ToDay = first, x.ToDay
			out[k].Hours += x.Hours
			return
		}
		x.Says = what
		out, begun = append(out, x), append(begun, spent-h)
	}
	add("prepare", 0, 0, "have buried services marked, see the building office, set out by the table of stakes")
	if h := rest["drain"]; h > 0 {
		add("drain", h, 0, "the "+m.water.Drain+" above the head, before the hill is opened")
	}
	if h := rest["topsoil"]; h > 0 {
		add("topsoil", h, 0, "strip the topsoil and keep it apart; it is spread again at the end")
	}
	for i, s := range m.steps {
		what := ""
		if s.Kind == string(stair.Framed) {
			what = ", framed"
		}
		add("steps", hours[i], s.Riser, what)
	}
	if h := rest["finish"]; h > 0 {
		if len(last) == 0 {
			last = []string{"what is left"}
		}
		add("finish", h, 0, "at the end, "+list(last))
	}
	told := false
	for i := range out {
		x := &out[i]
		if x.Work == "steps" {
			framed := x.Says
			x.Says = "riser " + strconv.Itoa(x.First)
			if x.Last > x.First {
				x.Says = "risers " + strconv.Itoa(x.First) + " to " + strconv.Itoa(x.Last)
			}
			if x.Says += framed; framed == "" && !told {
				x.Says += ": each dug, built, backfilled and filled before the one above it"
				told = true
			}
		}
		when := "before the first day"
		if x.Day > 0 {
			when = "day " + strconv.Itoa(x.Day)
			to := strconv.Itoa(x.ToDay)
			if m.start > 0 {
				x.Date, when = m.dated(x.Day)
				x.ToDate, to = m.dated(x.ToDay)
			}
			x.OnDay = x.Hours
			if x.ToDay > x.Day {
				if m.start <= 0 {
					when = "days " + strconv.Itoa(x.Day)
				}
				when += " to " + to
				x.OnDay = Hours(math.Max(0, float64(day*float64(x.Day))-begun[i]))
				x.OnToDay = Hours(math.Max(0, float64(x.Hours-x.OnDay)-float64(day*float64(x.ToDay-x.Day-1))))
			}
		}
		x.Says = sentence(when + ": " + x.Says)
		if h := shown(begun[i]+float64(x.Hours), day) - shown(begun[i], day); h > 0 {
			one := " person-hours"
			if h == 1 {
				one = " person-hour"
			}
			x.Says = strings.TrimSuffix(x.Says, ".") + " (" + number(h, 2) + one + x.shares(begun[i], day) + ")."
		}
	}
	return out
}

// dated is the date of a working day, plain and with its day of the week.
func (m *maker) dated(day int) (iso, says string) {
	d := m.workday(day - 1)
	iso = dateOf(d)
	name := weekdays[(d+2)%7]
	return iso, strings.ToUpper(name[:1]) + name[1:] + " " + iso
}

// shown is hours from the beginning of the work as they are told: in whole ones, or
// so finely that a day's are told exactly, or in tenths. What lies between two is the
// difference of what is told of them, so that entries add up to days and to the whole.
func shown(h, day float64) float64 {
	for _, parts := range [...]float64{1, 2, 4} {
		if d := day * parts; math.Abs(d-math.Round(d)) < 1e-9 {
			return math.Round(h*parts) / parts
		}
	}
	return math.Round(h*10) / 10
}

// shares says what of an entry that is begun after so many hours is done on each of
// its days.
func (x *WorkOrder) shares(begun, day float64) string {
	n := x.ToDay - x.Day
	if n < 1 {
		return ""
	}
	some := func(from, to float64) string {
		h := shown(to, day) - shown(from, day)
		if h <= 0 {
			return "less than 1"
		}
		return number(h, 2)
	}
	between := ""
	if n > 1 {
		between = ", " + number(day, 2) + " on each day between"
	}
	return ": " + some(begun, day*float64(x.Day)) + " on the first day" + between +
		" and " + some(day*float64(x.ToDay-1), begun+float64(x.Hours)) + " on the last"
}
