package earthwork

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/martinlindhe/unit"
)

// hours gives the activity of an id in person-hours, low, likely and high.
func hours(h Hours, id string) [3]float64 {
	for _, a := range h.Activities {
		if a.ID == id {
			return [3]float64{a.Time.Low.Hours(), a.Time.Likely.Hours(), a.Time.High.Hours()}
		}
	}
	return [3]float64{}
}

func wantHours(t *testing.T, what string, got, want [3]float64, within float64) {
	t.Helper()
	if diff := cmp.Diff(want, got, cmpopts.EquateApprox(0, within)); diff != "" {
		t.Errorf("%s: %s", what, diff)
	}
}

func TestDiggingHours(t *testing.T) {
	soil, _ := SoilByID("topsoil")
	// 0.66 m³/h, 0.25 m³/h, and a fifth less.
	wantHours(t, "topsoil", hours(soil.Hours(Work{CutBank: 10, DigDepth: 1}), "dig"), [3]float64{15.1515, 40, 50}, 1e-4)
	// To 3 m: half of the volume at 0.45 instead of 0.66.
	wantHours(t, "deep", hours(soil.Hours(Work{CutBank: 10, DigDepth: 3}), "dig"), [3]float64{15.1515 * 1.23333, 40 * 1.23333, 50 * 1.23333}, 1e-3)
	// To 6 m: the lower half at 0.33, and a note.
	h := soil.Hours(Work{CutBank: 10, DigDepth: 6})
	wantHours(t, "deeper", hours(h, "dig"), [3]float64{15.1515 * 1.61667, 40 * 1.61667, 50 * 1.61667}, 1e-3)
	if len(h.Notes) != 1 || !strings.Contains(h.Notes[0], "4.5 m") {
		t.Errorf("notes %q", h.Notes)
	}
	loam, _ := SoilByID("loam")
	wantHours(t, "loam", hours(loam.Hours(Work{CutBank: 10}), "dig"), [3]float64{10 / 0.57, 10 / (0.25 * 0.57 / 0.66), 12.5 / (0.25 * 0.57 / 0.66)}, 1e-9)
	rock, _ := SoilByID("rock")
	wantHours(t, "rock", hours(rock.Hours(Work{CutBank: 1}), "dig"), [3]float64{16 / 1.2, 16, 20}, 1e-9)
	mine := loam.WithDigging(0.5, "measured on the site")
	wantHours(t, "measured", hours(mine.Hours(Work{CutBank: 10}), "dig"), [3]float64{20 / 1.2, 20, 25}, 1e-9)
	if err := mine.Validate(); err != nil {
		t.Error(err)
	}
}

func TestBarrowHours(t *testing.T) {
	var v soilVectors
	readVectors(t, "soils.json", &v)
	if len(v.Barrows) < 2 {
		t.Fatalf("only %d rows read", len(v.Barrows))
	}
	soil, _ := SoilByID("loam")
	for _, r := range v.Barrows {
		for i, d := range r.Feet {
			work := Work{SpoilLoose: unit.CubicYard, HaulDistance: unit.Length(d) * unit.Foot, Steep: r.Steep}
			got := hours(soil.Hours(work), "spoil")
			work.HaulDistance = 0
			loading := 1 / 1.5 // h a yd³
			if !near(got[1]-loading, r.Hours[i], r.Within) {
				t.Errorf("%s %v ft: %v h/yd³ without loading, published %v", r.ID, d, got[1]-loading, r.Hours[i])
			}
			wheel := got[1] - loading
			wantHours(t, "spread", got, [3]float64{0.5 + wheel/1.2, loading + wheel, 1/1.2 + wheel/0.8}, 1e-9)
		}
	}
	if h := soil.Hours(Work{SpoilLoose: 1, HaulDistance: 31}); len(h.Notes) != 1 {
		t.Errorf("a barrow beyond 100 ft: notes %q", h.Notes)
	}
	// Gravel at 1750 kg/m³ fills a barrow by weight: 300 lb are 0.0777 m³.
	got := hours(soil.Hours(Work{GravelCompacted: 2950.0 / 3700 * unit.CubicYard}), "gravel-haul")
	trips := unit.CubicYard.CubicMeters() * 1750.165 / (300 * 0.45359237)
	if want := 1/1.3 + trips*0.75/60; !near(got[1], want, 1e-4) {
		t.Errorf("gravel: %v h, want %v", got[1], want)
	}
}

func TestTrimmingHours(t *testing.T) {
	var v soilVectors
	readVectors(t, "soils.json", &v)
	if len(v.Trimming) < 6 {
		t.Fatalf("only %d rows read", len(v.Trimming))
	}
	for _, r := range v.Trimming {
		soil, _ := SoilByID(r.Soil)
		got := hours(soil.Hours(Work{TrimArea: 10}), "trim")
		wantHours(t, r.Soil, got, [3]float64{10 / r.PerHour[0], 10 / r.PerHour[1], 10 / r.PerHour[2]}, 1e-9)
	}
}

func TestOtherHours(t *testing.T) {
	soil, _ := SoilByID("sand")
	h := soil.Hours(Work{
		TrimArea: 11.1, FillCompacted: 3, GravelCompacted: 9, Boxes: 4,
		Other: []Activity{{ID: "rail", Name: "handrail", Time: Range{unit.Hour, 2 * unit.Hour, 3 * unit.Hour}, Source: "ours"}},
	})
	wantHours(t, "trim", hours(h, "trim"), [3]float64{0.555, 1, 11.1 / 5.6}, 1e-9)
	wantHours(t, "fill", hours(h, "fill"), [3]float64{5, 6, 7.5}, 1e-9)
	wantHours(t, "place", hours(h, "gravel-place"), [3]float64{9 * (8/13.5 + 8.0/9) / 1.2, 8*9/13.5 + 8, 18}, 1e-9)
	wantHours(t, "boxes", hours(h, "boxes"), [3]float64{6, 10, 16}, 1e-9)
	wantHours(t, "rail", hours(h, "rail"), [3]float64{1, 2, 3}, 1e-9)
	var sum Range
	for _, a := range h.Activities {
		sum = sum.Plus(a.Time)
		if a.Name == "" || a.Source == "" {
			t.Errorf("%+v has no name or source", a)
		}
	}
	if sum != h.Total || len(h.Activities) != 6 {
		t.Errorf("total %v of %d activities, sum %v", h.Total, len(h.Activities), sum)
	}
	h = soil.Hours(Work{Boxes: 2, Box: Range{unit.Hour, unit.Hour, 2 * unit.Hour}})
	wantHours(t, "own boxes", hours(h, "boxes"), [3]float64{2, 2, 4}, 1e-9)
	if h := soil.Hours(Work{}); len(h.Activities) != 0 || h.Total != (Range{}) {
		t.Errorf("no work: %+v", h)
	}
}

func TestDays(t *testing.T) {
	h := Hours{Total: Range{47 * unit.Hour, 48 * unit.Hour, 49 * unit.Hour}}
	s, err := h.Days(Crew{People: 2, HoursPerDay: 6, DaysPerWeek: 2})
	if err != nil || s.Days != (Span{4, 4, 5}) || s.Weeks != (Span{2, 2, 3}) {
		t.Errorf("%+v %v", s, err)
	}
	if w, ok := s.Weekends(); !ok || w != s.Weeks {
		t.Errorf("weekends %v %v", w, ok)
	}
	s, err = h.Days(Crew{People: 1, HoursPerDay: 0.1, DaysPerWeek: 7})
	if err != nil || s.Days.Likely != 480 || s.Weeks.Likely != 69 {
		t.Errorf("%+v %v", s, err)
	}
	if _, ok := s.Weekends(); ok {
		t.Error("weekends of a crew that works all week")
	}
	// The rounding of a whole number of days is not another day.
	if n := wholes(3.0000000000000004); n != 3 {
		t.Errorf("3 days are %d", n)
	}
	if n := wholes(3.001); n != 4 {
		t.Errorf("3.001 days are %d", n)
	}
	if s, err := (Hours{}).Days(Crew{1, 8, 5}); err != nil || s.Days != (Span{}) || s.Weeks != (Span{}) {
		t.Errorf("no work: %+v %v", s, err)
	}
	_, err = h.Days(Crew{})
	wantFault(t, "no crew", err, "people", "hours_per_day", "days_per_week")
	_, err = h.Days(Crew{1000, math.NaN(), math.Inf(1)})
	wantFault(t, "bad crew", err, "people", "hours_per_day", "days_per_week")
}

func TestWorkFaults(t *testing.T) {
	if err := (Work{}).Validate(); err != nil {
		t.Error(err)
	}
	nan := math.NaN()
	wantFault(t, "everything", Work{
		CutBank: -1, DigDepth: unit.Length(nan), TrimArea: unit.Area(math.Inf(1)), SpoilLoose: 1e12, BorrowLoose: -1, HaulDistance: -1,
		FillCompacted: -1, GravelCompacted: unit.Volume(nan), GravelDistance: 1e9, Boxes: -1, Box: Range{3, 2, 1},
		Other: []Activity{{}, {Time: Range{High: unit.Duration(nan)}}},
	}.Validate(), "cut_bank", "dig_depth", "trim_area", "spoil_loose", "borrow_loose", "haul_distance",
		"fill_compacted", "gravel_compacted", "gravel_distance", "boxes", "box", "other[1].time")
	wantFault(t, "other", Work{Other: make([]Activity, 200)}.Validate(), "other")
}

// More work never takes less time, and nothing is negative, infinite or NaN,
// whatever the amounts are.
func TestHoursAreSound(t *testing.T) {
	wild := []float64{0, -1, 1e-300, 1, 7, 1e5, 1e300, math.Inf(1), math.NaN()}
	for i, r := range rands(31, 3000) {
		soil := soils[r.IntN(len(soils))]
		draw := func(r *rand.Rand) float64 {
			if i%2 == 0 {
				return 20 * r.Float64()
			}
			return wild[r.IntN(len(wild))]
		}
		w := Work{
			unit.Volume(draw(r)), unit.Length(draw(r)), unit.Area(draw(r)), unit.Volume(draw(r)), unit.Volume(draw(r)), unit.Length(draw(r)), unit.Volume(draw(r)), unit.Volume(draw(r)), unit.Length(draw(r)), unit.Length(draw(r)), unit.Length(draw(r)),
			r.IntN(2) == 0, r.IntN(20) - 2, Range{unit.Duration(draw(r)), unit.Duration(draw(r)), unit.Duration(draw(r))},
			Rates{}, []Activity{{Time: Range{High: unit.Duration(draw(r))}}},
		}
		if i%4 == 1 {
			w.Rates = Rates{draw(r), draw(r), draw(r), draw(r), draw(r), unit.Volume(draw(r)), unit.Speed(draw(r)), unit.Duration(draw(r)), draw(r), draw(r)}
		}
		h := soil.Hours(w)
		for _, a := range append(h.Activities, Activity{Time: h.Total}) {
			if !(a.Time.Low >= 0 && a.Time.Low <= a.Time.Likely && a.Time.Likely <= a.Time.High) || math.IsInf(float64(a.Time.High), 0) {
				t.Fatalf("%d: %+v of %+v", i, a, w)
			}
		}
		s, err := h.Days(Crew{1 + r.IntN(100), 0.1 + 23*r.Float64(), 0.1 + 6*r.Float64()})
		if err != nil || s.Days.Low < 0 || s.Days.High < s.Days.Likely || s.Weeks.High < s.Weeks.Low {
			t.Fatalf("%d: %+v %v", i, s, err)
		}
		if i%2 == 0 {
			more := w
			more.CutBank *= 2
			more.HaulDistance += 5
			more.DigDepth += 1
			if m := soil.Hours(more); m.Total.Likely < h.Total.Likely {
				t.Fatalf("%d: more work in less time: %v, %v", i, h.Total, m.Total)
			}
		}
	}
}

// An output of the plan's own takes the place of the published one, with a fifth
// either way: 10 m³ at 0.5 m³/h are 20 h.
func TestOwnRates(t *testing.T) {
	soil := soil(t, "topsoil")
	own := Rates{DeepDigging: 0.125, Trimming: 4, Loading: 2, Filling: 0.5, Gravel: 0.8, Barrow: 0.1, Wheeling: 0.5}
	h := soil.Hours(Work{CutBank: 10, DigDepth: 3, TrimArea: 10, SpoilLoose: 10, HaulDistance: 10, HaulClimb: 5, FillCompacted: 10, GravelCompacted: 8, Rates: own})
	// Half the cut at the soil's 0.25 m³/h, half at 0.125: 20 + 40 h.
	wantHours(t, "deep", hours(h, "dig"), [3]float64{60 * 0.25 / 0.66, 60, 75}, 1e-6)
	wantHours(t, "trim", hours(h, "trim"), [3]float64{2.5 / 1.2, 2.5, 2.5 / 0.8}, 1e-9)
	quick := own
	quick.Practised, quick.Slow = 2, 0.5
	wantHours(t, "a wider spread", hours(soil.Hours(Work{TrimArea: 10, Boxes: 1, Rates: quick}), "boxes"), [3]float64{1.25, 2.5, 5}, 1e-9)
	wantFault(t, "spread", Work{Rates: Rates{Practised: 0.5, Slow: 0.9}}.Validate(), "rates")
	// 5 h to load; 100 trips of 30 m at 30 m/min and 3/4 min.
	wheel := 100 * (1 + 0.75) / 60
	wantHours(t, "spoil", hours(h, "spoil"), [3]float64{(5 + wheel) / 1.2, 5 + wheel, (5 + wheel) / 0.8}, 1e-9)
	wantHours(t, "fill", hours(h, "fill"), [3]float64{20 / 1.2, 20, 20 / 0.8}, 1e-9)
	wantHours(t, "gravel", hours(h, "gravel-place"), [3]float64{10 / 1.2, 10, 10 / 0.8}, 1e-9)
	for _, a := range h.Activities {
		if a.ID != "gravel-haul" && !strings.Contains(a.Source, "this work") {
			t.Errorf("%s does not say whose output it is: %s", a.ID, a.Source)
		}
	}
	wantFault(t, "rates", Work{Rates: Rates{Loading: -1, Wheeling: unit.Speed(math.NaN())}}.Validate(), "rates", "rates")
}

func BenchmarkHours(b *testing.B) {
	soil, _ := SoilByID("loam")
	for b.Loop() {
		if h := soil.Hours(Work{CutBank: 4, DigDepth: 1, SpoilLoose: 3, HaulDistance: 20, FillCompacted: 1, GravelCompacted: 2, Boxes: 12}); len(h.Activities) == 0 {
			b.Fatal(fmt.Sprint(h))
		}
	}
}
