package slopewright

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
)

// soundOrder holds the order of work to what is true of any: it takes the hours there
// are, goes uphill over every step once, and ends on the last of the crew's days.
func soundOrder(t *testing.T, r Result) {
	t.Helper()
	sum, next, day, date := 0.0, r.Dig.Steps[0].Riser, 0, ""
	// What the crew works on a day, by the entries begun, done or spanning it.
	full, worked := 0.0, map[int]float64{}
	for _, x := range r.Order {
		worked[x.Day] += float64(x.OnDay)
		worked[x.ToDay] += float64(x.OnToDay)
		if x.ToDay > x.Day+1 {
			full = float64(x.Hours-x.OnDay-x.OnToDay) / float64(x.ToDay-x.Day-1)
		}
		if !(x.OnDay >= 0 && x.OnToDay >= 0) || x.ToDay == x.Day && x.OnDay != x.Hours || (x.ToDate == "") != (x.Date == "") || x.ToDate < x.Date {
			t.Errorf("an entry's days are %+v", x)
		}
	}
	for d := 1; d < r.Hours.Days.Likely; d++ {
		if h, ok := worked[d]; ok && h > 0 {
			if full == 0 {
				full = h
			}
			if math.Abs(h-full) > 1e-6*(1+full) {
				t.Errorf("%v hours are worked on day %d, %v on others", h, d, full)
			}
		}
	}
	if h := worked[r.Hours.Days.Likely]; full > 0 && h > full*(1+1e-6) {
		t.Errorf("%v hours are worked on the last day, %v on others", h, full)
	}
	for i, x := range r.Order {
		sum += float64(x.Hours)
		if x.Number != i+1 || x.Day < day || x.ToDay < x.Day || x.Date < date && x.Date != "" || x.Says == "" || !(x.Hours >= 0) {
			t.Errorf("the order of work goes back: %+v after day %d, %s", x, day, date)
		}
		day, date = x.Day, x.Date
		if x.Work == "steps" {
			if x.First != next || x.Last < x.First {
				t.Errorf("risers %d to %d come after %d", x.First, x.Last, next-1)
			}
			next = x.Last + 1
		}
	}
	if math.Abs(sum-float64(r.Hours.Likely)) > 1e-6*(1+sum) {
		t.Errorf("the order of work takes %v hours of %v", sum, r.Hours.Likely)
	}
	if want := r.Dig.Steps[len(r.Dig.Steps)-1].Riser + 1; next != want {
		t.Errorf("the order of work ends at riser %d of %d", next-1, want-1)
	}
	if last := r.Order[len(r.Order)-1].ToDay; last != r.Hours.Days.Likely && !(r.Hours.Likely < 1e-6) {
		t.Errorf("the order of work ends on day %d of %d", last, r.Hours.Days.Likely)
	}
}

// Days of the calendar, held against package time.
func TestDates(t *testing.T) {
	for d := time.Date(1999, 12, 1, 0, 0, 0, 0, time.UTC); d.Year() < 2105; d = d.AddDate(0, 0, 1) {
		iso := d.Format("2006-01-02")
		n := dayOf(iso)
		if got := dateOf(n); got != iso || weekdays[(n+2)%7] != [...]string{"sun", "mon", "tue", "wed", "thu", "fri", "sat"}[d.Weekday()] {
			t.Fatalf("%s is day %d, %s, %s", iso, n, got, weekdays[(n+2)%7])
		}
	}
	for _, bad := range []string{"", "2026-02-29", "2026-04-31", "2026-13-01", "2026-00-10", "0000-01-01", "2026-1-01", "2026/01/01", "2026-01-0x"} {
		if dayOf(bad) >= 0 {
			t.Errorf("%q is a day", bad)
		}
	}
}

// A crew of weekends that starts on a Monday begins on the Saturday after; one of a
// day and a half a week works two days, then one, and so on.
func TestWorkdays(t *testing.T) {
	for _, c := range []struct {
		per  float64
		days []string
		want []string
	}{
		{2, nil, []string{"2026-05-09", "2026-05-10", "2026-05-16", "2026-05-17"}},
		{0.5, nil, []string{"2026-05-09", "2026-05-23"}},
		{5, nil, []string{"2026-05-04", "2026-05-05", "2026-05-06", "2026-05-07", "2026-05-08", "2026-05-11"}},
		{0, []string{"sat", "wed"}, []string{"2026-05-06", "2026-05-09", "2026-05-13"}},
	} {
		r := changed(t, "bench", func(p *Plan) {
			p.Crew.Start, p.Crew.Days, p.Crew.People = "2026-05-04", c.days, 2
			if c.per > 0 {
				p.Crew.DaysPerWeek = &c.per
			}
			hours := 0.5
			p.Crew.HoursPerDay = &hours
		})
		sound(t, r)
		dates := map[int]string{}
		for _, x := range r.Order {
			dates[x.Day] = x.Date
		}
		for i, want := range c.want {
			if got, ok := dates[i+1]; ok && got != want {
				t.Errorf("%v days a week: day %d is %s, want %s", c.per, i+1, got, want)
			}
		}
	}
}

// A crew's own outputs take the place of the published ones: 21 boxes of an hour.
func TestCrewRates(t *testing.T) {
	one, fast := 1.0, 20.0
	r := changed(t, "bench", func(p *Plan) { p.Crew.Rates = &CrewRates{Box: &one, Loading: &Quantity{Value: fast}} })
	usual := makeDemo(t, "bench")
	of := func(r Result, name string) Hours {
		for _, a := range r.Hours.Work {
			if a.Name == name {
				return a.Likely
			}
		}
		return -1
	}
	if got := of(r, "building boxes"); math.Abs(float64(got)-21) > 1e-9 {
		t.Errorf("21 boxes of an hour take %v", got)
	}
	if a, b := of(r, "loading and barrowing spoil"), of(usual, "loading and barrowing spoil"); !(a > 0 && a < b) {
		t.Errorf("quick loading takes %v, usual %v", a, b)
	}
}

// Every output that hours follow from can be the plan's own, which is then its source.
func TestEveryRateIsTheirOwn(t *testing.T) {
	doc := `{"format":"slopewright.plan/1",
	 "ground":{"method":"levels","readings":[{"at":0,"level":0},{"at":2,"level":1},{"at":4,"level":1.2},{"at":6,"level":3.5}]},
	 "path":{"width":1},
	 "steps":{"rules":"own","max_cut":3,"fixed":[{"kind":"box","risers":9,"tread":"350 mm","landing":"1 m"},{"kind":"framed","risers":9,"tread":"275 mm"}]},
	 "soil":{"class":"loam","topsoil":"100 mm","spread":"100 mm","digging":0.3},
	 "build":{"face":"2x6","bank_to":"600 mm","edging":{},"lights":{"every":"2 m"},"footing":{"kind":"piers"}},
	 "water":{"length":20,"width":10,"rain":"40 mm","drain":"pipe"},
	 "crew":{"rates":{"deep_digging":0.2,"trimming":8,"loading":2,"barrow":0.06,"wheeling":50,"barrow_trip":1,"climb":6,"filling":0.5,"gravel":0.6,
	  "spreading":2,"topsoil":0.2,"carrying":40,"carry_trip":2,"box":2,"framing":4,"footing":3,"face":0.4,"bank":0.6,"edging":0.2,"drain":0.5,"light":1,"practised":1.5,"slow":0.5}}}`
	p, err := ReadPlan([]byte(doc))
	if err != nil {
		t.Fatal(err)
	}
	r, err := Make(p)
	if err != nil {
		t.Fatal(err)
	}
	sound(t, r)
	likely := map[string]float64{}
	for _, a := range r.Hours.Work {
		likely[a.Name] = float64(a.Likely)
		if !strings.Contains(a.Source, "this plan") && !strings.Contains(a.Source, "this work") {
			t.Errorf("%s is by %s", a.Name, a.Source)
		}
		if math.Abs(float64(a.Low)-float64(a.Likely)/1.5) > 1e-9*float64(a.Likely) || math.Abs(float64(a.High)-float64(a.Likely)/0.5) > 1e-9*float64(a.Likely) {
			t.Errorf("%s takes %v to %v, likely %v", a.Name, a.Low, a.High, a.Likely)
		}
	}
	lights, pipe := 0.0, 0.0
	for _, i := range r.Takeoff {
		switch i.Item {
		case "light":
			lights = float64(i.Count)
		case "drain-pipe":
			pipe = i.Length.Meters()
		}
	}
	for name, want := range map[string]float64{
		"building framed flights": 4 * 9, "footing of the bottom step": 3, "lights": lights, "laying the drain": 0.5 * pipe,
		"stripping topsoil and spreading it again": float64(r.Dig.TopsoilBank) / 0.2, "spreading spoil": float64(r.Dig.SpoilLoose) / 2,
	} {
		if got, ok := likely[name]; !ok || math.Abs(got-want) > 1e-9*(1+want) {
			t.Errorf("%s takes %v hours, want %v", name, got, want)
		}
	}
	for _, name := range []string{"edging", "face boards", "building boxes", "carrying timber", "digging", "trimming to line and level"} {
		if !(likely[name] > 0) {
			t.Errorf("no time for %s in %v", name, likely)
		}
	}
	if r.Haul.Climb != 6 || r.Haul.Source != thisPlan {
		t.Errorf("a metre climbed counts as %v by %s", r.Haul.Climb, r.Haul.Source)
	}
	// Spoil that leaves the site is not spread.
	p.Soil.Places = []EarthPlace{{Name: "skip", Away: true}}
	if r, err = Make(p); err != nil {
		t.Fatal(err)
	}
	for _, a := range r.Hours.Work {
		if a.Name == "spreading spoil" {
			t.Errorf("%v hours to spread what is taken away", a.Likely)
		}
	}
}

// A weighed bucket gives the swell, and a competent person's type of soil the batter.
func TestOwnSoilFigures(t *testing.T) {
	loose, bank, repose := 1250.0, 1600.0, 40.0
	r := changed(t, "bench", func(p *Plan) {
		deep := Metres(2)
		p.Soil.Loose, p.Soil.Density, p.Soil.Repose, p.Soil.Type, p.Steps.MaxCut = &Quantity{Value: loose}, &Quantity{Value: bank}, &repose, "A", &deep
	})
	sound(t, r)
	for name, want := range map[string]float64{
		"swell": 0.28, "density loose, kg/m³": 1250, "slope it lies at when tipped, degrees": 40, "batter, horizontal per vertical": 0.75,
	} {
		if got := figure(t, r, name); math.Abs(got-want) > 1e-9 {
			t.Errorf("%s is %v, want %v", name, got, want)
		}
	}
	if got := r.Haul.Places[0].Repose; got != 40 {
		t.Errorf("the heap lies at %v°", got)
	}
}

// What an entry says of its days adds up to what it takes, and the entries to days
// and to the whole work.
func TestSharesOfDays(t *testing.T) {
	for _, c := range []struct {
		x     WorkOrder
		begun float64
		day   float64
		want  string
	}{
		{WorkOrder{Day: 1, ToDay: 1, Hours: 12}, 0, 12, ""},
		{WorkOrder{Day: 1, ToDay: 2, Hours: 17.6}, 0, 12, ": 12 on the first day and 6 on the last"},
		{WorkOrder{Day: 1, ToDay: 2, Hours: 10.9}, 6.55, 12, ": 5 on the first day and 5 on the last"},
		{WorkOrder{Day: 2, ToDay: 3, Hours: 12.2}, 12, 12, ": 12 on the first day and less than 1 on the last"},
		{WorkOrder{Day: 2, ToDay: 5, Hours: 40}, 17, 12, ": 7 on the first day, 12 on each day between and 9 on the last"},
		{WorkOrder{Day: 1, ToDay: 3, Hours: 17.3}, 0.1, 7.5, ": 7.5 on the first day, 7.5 on each day between and 2.5 on the last"},
	} {
		if got := c.x.shares(c.begun, c.day); got != c.want {
			t.Errorf("%+v: %q, want %q", c.x, got, c.want)
		}
	}
	said := regexp.MustCompile(`\(([0-9.]+) person-hours?(?:: ([0-9.]+|less than 1) on the first day(?:, ([0-9.]+) on each day between)? and ([0-9.]+|less than 1) on the last)?\)`)
	for _, name := range []string{"bench", "earth", "offer", "steepening", "terrace"} {
		r := makeDemo(t, name)
		total, days := 0.0, map[int]float64{}
		for _, x := range r.Order {
			m := said.FindStringSubmatch(x.Says)
			if m == nil {
				continue // nothing worth an hour
			}
			hours := func(s string) float64 { h, _ := strconv.ParseFloat(s, 64); return h } // less than 1 is none
			total += hours(m[1])
			if m[2] == "" {
				days[x.Day] += hours(m[1])
				continue
			}
			days[x.Day] += hours(m[2])
			days[x.ToDay] += hours(m[4])
			for d := x.Day + 1; d < x.ToDay; d++ {
				days[d] += hours(m[3])
			}
		}
		if want := math.Round(float64(r.Hours.Likely)); total != want {
			t.Errorf("%s: the entries tell %v person-hours of %v", name, total, want)
		}
		last := r.Hours.Days.Likely
		for d := 1; d < last; d++ {
			if days[d] != days[1] {
				t.Errorf("%s: %v person-hours are told of day %d, %v of the first", name, days[d], d, days[1])
			}
		}
	}
}

// Framed flights are no boxes that are dug, built and filled one above the other.
func TestFramedRisersInOrder(t *testing.T) {
	r := makeDemo(t, "terrace")
	var steps []string
	for _, x := range r.Order {
		if x.Work == "steps" {
			steps = append(steps, x.Says[strings.Index(x.Says, ": ")+2:strings.LastIndex(x.Says, " (")])
		}
	}
	const want = "risers 1 to 4: each dug, built, backfilled and filled before the one above it; risers 5 to 7; riser 8, framed; risers 9 to 12, framed; risers 13 to 17, framed; risers 18 to 19, framed"
	if got := strings.Join(steps, "; "); got != want {
		t.Error(got)
	}
	if says := r.Answer[len(r.Answer)-2].Says; says != "Materials have no price yet; without them labour 2576.00 USD." {
		t.Error(says)
	}
	if says := r.Answer[len(r.Answer)-4].Says; !strings.HasPrefix(says, "Timber to buy: 3 of 1x8 of 16 ft, 4 of 2x12 of 14 ft") {
		t.Error(says)
	}
}
