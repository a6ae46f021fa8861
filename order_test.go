package slopewright

import (
	"math"
	"testing"
	"time"
)

// soundOrder holds the order of work to what is true of any: it takes the hours there
// are, goes uphill over every step once, and ends on the last of the crew's days.
func soundOrder(t *testing.T, r Result) {
	t.Helper()
	sum, next, day, date := 0.0, r.Dig.Steps[0].Riser, 0, ""
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
	r := changed(t, "bench", func(p *Plan) { p.Crew.Rates = &CrewRates{Box: &one, Loading: &fast} })
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
