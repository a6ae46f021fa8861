package earthwork

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"
)

func m(v float64) *unit.Length {
	l := unit.Length(v)
	return &l
}

type bookVector struct {
	ID, Unit, Source string
	Lines            []struct {
		Point                  string
		Back, Mid, Fore, Bench *float64
	}
	Levels, Collimations, Steps []float64
	Sums                        struct{ Back, Fore, Rise, Fall float64 }
	Close                       *struct {
		Bench, Misclose float64
		Setups          int
	}
	Booked *struct {
		Line  int
		Level float64
	}
}

func (v bookVector) unit() unit.Length {
	if v.Unit == "ft" {
		return unit.Foot
	}
	return unit.Meter
}

// readings gives the book, one line a metre: published books have no stations
// of ours.
func (v bookVector) readings() RodReadings {
	var r RodReadings
	cell := func(f *float64) *unit.Length {
		if f == nil {
			return nil
		}
		return m((unit.Length(*f) * v.unit()).Meters())
	}
	for i, l := range v.Lines {
		r.Readings = append(r.Readings, RodReading{At: m(float64(i)), Back: cell(l.Back), Mid: cell(l.Mid), Fore: cell(l.Fore), Bench: cell(l.Bench)})
	}
	return r
}

func bookVectors(t testing.TB) []bookVector {
	var v []bookVector
	readJSON(t, "readings_books.json", &v)
	return v
}

func TestBookVectors(t *testing.T) {
	vectors := bookVectors(t)
	if len(vectors) < 8 {
		t.Fatalf("%d books", len(vectors))
	}
	for _, v := range vectors {
		t.Run(v.ID, func(t *testing.T) {
			s := mustSurvey(t, v.readings())
			u := v.unit().Meters()
			const within = 1e-9
			for i, l := range s.Book {
				wantNear(t, fmt.Sprintf("level %d", i), l.Level.Meters()/u, v.Levels[i], within)
				wantNear(t, fmt.Sprintf("corrected %d", i), l.Corrected.Meters()/u, v.Levels[i], within)
				if v.Collimations != nil {
					wantNear(t, fmt.Sprintf("collimation %d", i), l.Collimation.Meters()/u, v.Collimations[i], within)
				}
				if v.Steps != nil {
					wantNear(t, fmt.Sprintf("step %d", i), (l.Rise-l.Fall).Meters()/u, v.Steps[i], within)
				}
				if l.Rise < 0 || l.Fall < 0 || l.Rise > 0 && l.Fall > 0 {
					t.Errorf("line %d rises %v and falls %v", i, l.Rise, l.Fall)
				}
			}
			sums := SumBook(s.Book)
			wantNear(t, "ΣBS", sums.Back.Meters()/u, v.Sums.Back, within)
			wantNear(t, "ΣFS", sums.Fore.Meters()/u, v.Sums.Fore, within)
			if v.Sums.Rise != 0 {
				wantNear(t, "Σrise", sums.Rise.Meters()/u, v.Sums.Rise, within)
				wantNear(t, "Σfall", sums.Fall.Meters()/u, v.Sums.Fall, within)
			}
			if c := checkNamed(t, s, "book arithmetic"); !c.OK {
				t.Errorf("%+v", c)
			}
			// The vector's own figures agree with one another.
			n := len(v.Levels)
			wantNear(t, "source's check", v.Sums.Back-v.Sums.Fore, v.Levels[n-1]-v.Levels[0], within)
		})
	}
}

func vectorNamed(t testing.TB, id string) bookVector {
	for _, v := range bookVectors(t) {
		if v.ID == id {
			return v
		}
	}
	t.Fatalf("no book %s", id)
	return bookVector{}
}

// L2 misses its closing bench by far more than levelling may, and the message
// states both. With the limit widened the misclose is shared out by set-ups.
func TestMiscloseOfL2(t *testing.T) {
	v := vectorNamed(t, "L2")
	r := v.readings()
	last := len(r.Readings) - 1
	r.Readings[last].Bench = m(v.Close.Bench)
	_, err := r.Survey()
	wantFaults(t, err, fmt.Sprintf("readings[%d].bench", last))
	for _, want := range []string{"168.334 m", "166 mm (6.54 in) too low", "the limit is 10 mm (0.39 in)", "5 mm (0.2 in) for one set-up times √4"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%v\ndoes not say %q", err, want)
		}
	}

	r.PerSetup = 0.083 // √4 × 83 mm = 166 mm: just within
	s := mustSurvey(t, r)
	c := checkNamed(t, s, "misclose")
	wantNear(t, "misclose", c.Value.Meters(), 0.166, 1e-9)
	wantNear(t, "limit", c.Limit.Meters(), 0.166, 1e-9)
	for i, l := range s.Book {
		setups := float64(l.Setup)
		if i == 0 {
			setups = 0
		}
		wantNear(t, fmt.Sprintf("line %d", i), l.Corrected.Meters(), v.Levels[i]+0.166*setups/4, 1e-9)
	}
	wantNear(t, "closing level", s.Book[last].Corrected.Meters(), v.Close.Bench, 1e-9)
	wantNear(t, "ground's head", s.Ground.Head().Level.Meters(), v.Close.Bench, 1e-9)

	r.PerSetup = 0.0829
	_, err = r.Survey()
	wantFaults(t, err, fmt.Sprintf("readings[%d].bench", last))
}

// L4 as printed does not check: the fault is on the line of the slip, with the
// figures of the arithmetic check.
func TestWrongPrintedBookL4(t *testing.T) {
	v := vectorNamed(t, "L4")
	r := v.readings()
	for i := range r.Readings {
		r.Readings[i].Level = m(v.Levels[i])
	}
	mustSurvey(t, r) // the right levels pass
	r.Readings[v.Booked.Line].Level = m(v.Booked.Level)
	_, err := r.Survey()
	faults := wantFaults(t, err, "readings[4].level", "readings")
	for i, wants := range [][]string{
		{"100.415 m", "101.305 m", "a rise of 445 mm"},
		{"ΣBS 4.02 m − ΣFS 2.715 m = 1.305 m", "Σrise 1.86 m − Σfall 0.555 m = 1.305 m", "as booked = 0.415 m"},
	} {
		for _, want := range wants {
			if !strings.Contains(faults[i].Error(), want) {
				t.Errorf("%v\ndoes not say %q", faults[i], want)
			}
		}
	}
}

// A slip carries on into every later level; only its own line is named.
func TestBookedSlipIsNamedOnce(t *testing.T) {
	v := vectorNamed(t, "L5")
	r := v.readings()
	for i := range r.Readings {
		level := v.Levels[i]
		if i >= 6 {
			level -= 0.2
		}
		r.Readings[i].Level = m(level)
	}
	_, err := r.Survey()
	wantFaults(t, err, "readings[6].level", "readings")

	// Levels booked from another datum than the bench's are no slip.
	for i := range r.Readings {
		r.Readings[i].Level = m(v.Levels[i] - 100)
	}
	r.Readings[0].Bench = nil
	r.Readings[12].Bench = m(101.310)
	s := mustSurvey(t, r)
	wantNear(t, "datum", s.Book[0].Level.Meters(), 100, 1e-9)

	// A bench booked at another level than its own.
	r = v.readings()
	r.Readings[0].Level = m(99)
	_, err = r.Survey()
	if f := wantFaults(t, err, "readings[0].level"); !strings.Contains(f[0].Problem, "its bench, 100.000 m") {
		t.Errorf("%v does not give the bench", err)
	}

	// Booked to the millimetre is near enough, 1.1 mm is not.
	r = v.readings()
	r.Readings[3].Level = m(v.Levels[3] + 0.001)
	mustSurvey(t, r)
	r.Readings[3].Level = m(v.Levels[3] + 0.0011)
	_, err = r.Survey()
	wantFaults(t, err, "readings[3].level")
}

func TestRodDatum(t *testing.T) {
	base := func() RodReadings {
		return RodReadings{Readings: []RodReading{
			{Back: m(1.0)},
			{At: m(0), Mid: m(2.0)},
			{At: m(2), Mid: m(1.2)},
			{At: m(4), Fore: m(0.3)},
		}}
	}
	s := mustSurvey(t, base())
	sameGround(t, s.Ground, ground(t, []Point{{}, {Station: 2, Level: 0.8}, {Station: 4, Level: 1.7}}))
	if !strings.Contains(s.Notes[0], "does not close") {
		t.Errorf("notes %q", s.Notes)
	}
	r := base()
	r.Readings[2].Level = m(50)
	wantNear(t, "booked datum", mustSurvey(t, r).Ground.Foot().Level.Meters(), 49.2, 1e-9)
	r.Readings[2].Level = nil
	r.Readings[3].Bench = m(10)
	s = mustSurvey(t, r)
	wantNear(t, "bench datum", s.Ground.Foot().Level.Meters(), 8.3, 1e-9)
	wantNear(t, "rise", s.Rise.Value.Meters(), 1.7, 1e-9)
}

// Benches seen from one set-up, in the middle and at the end: each section
// between known points carries its own misclose.
func TestMiscloseBySections(t *testing.T) {
	r := RodReadings{Readings: []RodReading{
		{Back: m(1), Bench: m(10)},                 // 10
		{At: m(0), Fore: m(1), Back: m(2)},         // 10, set-up 1
		{Fore: m(1), Back: m(2), Bench: m(11.006)}, // 11, set-up 2: 6 mm low over 2
		{At: m(3), Mid: m(1.5)},                    // 11.5, set-up 3
		{At: m(5), Fore: m(1), Bench: m(12.002)},   // 12, set-up 3: 4 mm high over 1, the 6 mm being known
	}}
	s := mustSurvey(t, r)
	for i, want := range []float64{10, 10.003, 11.006, 11.502, 12.002} {
		wantNear(t, fmt.Sprintf("line %d", i), s.Book[i].Corrected.Meters(), want, 1e-9)
	}
	var got []float64
	for _, c := range s.Checks {
		if c.Name == "misclose" {
			got = append(got, c.Value.Millimeters(), c.Limit.Millimeters())
		}
	}
	for i, want := range []float64{6, 5 * math.Sqrt2, 4, 5} {
		wantNear(t, fmt.Sprintf("misclose %d", i), got[i], want, 1e-9)
	}
	r.Readings[2].Bench = m(11.008)
	_, err := r.Survey()
	wantFaults(t, err, "readings[2].bench", "readings[4].bench")

	// Two benches seen from one set-up leave nothing to share out.
	same := RodReadings{Readings: []RodReading{
		{Back: m(1)},
		{At: m(0), Mid: m(2), Bench: m(5)},
		{At: m(1), Mid: m(1.5), Bench: m(5.504)},
		{At: m(2), Fore: m(1)},
	}}
	s = mustSurvey(t, same)
	sameGround(t, s.Ground, ground(t, []Point{{Level: 5}, {Station: 1, Level: 5.5}, {Station: 2, Level: 6}}))
	wantNear(t, "misclose", checkNamed(t, s, "misclose").Value.Millimeters(), 4, 1e-9)
	same.Readings[2].Bench = m(5.506)
	_, err = same.Survey()
	wantFaults(t, err, "readings[2].bench")
}

func TestClassOfLevelling(t *testing.T) {
	r := RodReadings{PerSetup: 1, Readings: []RodReading{
		{At: m(0), Back: m(1), Bench: m(10)},
		{At: m(3), Fore: m(0.5), Bench: m(10.5)},
	}}
	for _, tc := range []struct {
		misclose, distance float64
		want               string
		ok                 bool
	}{
		{0.0018, 100, "precise", true}, {0.0020, 100, "accurate", true}, {0.0078, 100, "ordinary levelling, 7.9 mm", true},
		{0.0315, 100, "rough", true}, {0.0317, 100, "more than rough", false},
	} {
		r.Readings[1].Bench = m(10.5 + tc.misclose)
		r.Distance = unit.Length(tc.distance)
		c := checkNamed(t, mustSurvey(t, r), "class of levelling")
		if c.OK != tc.ok || !strings.Contains(c.Says, tc.want) {
			t.Errorf("%v over %v: %+v", tc.misclose, tc.distance, c)
		}
	}
}

func TestRodFaults(t *testing.T) {
	good := func() RodReadings {
		return RodReadings{Readings: []RodReading{
			{At: m(0), Back: m(2)},
			{At: m(1), Mid: m(1.5)},
			{At: m(2), Fore: m(1), Back: m(2)},
			{At: m(3), Mid: m(1.5)},
			{At: m(4), Fore: m(1)},
		}}
	}
	mustSurvey(t, good())
	for _, tc := range []struct {
		name   string
		change func(q []RodReading, r *RodReadings)
		fields []string
	}{
		{"no lines", func(q []RodReading, r *RodReadings) { r.Readings = nil }, []string{"readings"}},
		{"one line", func(q []RodReading, r *RodReadings) { r.Readings = q[:1] }, []string{"readings"}},
		{"too many", func(q []RodReading, r *RodReadings) { r.Readings = make([]RodReading, maxReadings+1) }, []string{"readings"}},
		{"blank line", func(q []RodReading, r *RodReadings) { q[1] = RodReading{} }, []string{"readings[1]"}},
		{"first is a mid", func(q []RodReading, r *RodReadings) { q[0].Back, q[0].Mid = nil, m(2) }, []string{"readings[0]"}},
		{"mid and fore", func(q []RodReading, r *RodReadings) { q[1].Fore = m(1) }, []string{"readings[1]"}},
		{"back without fore", func(q []RodReading, r *RodReadings) { q[2].Fore = nil }, []string{"readings[2].back"}},
		{"fore without back", func(q []RodReading, r *RodReadings) { q[2].Back = nil }, []string{"readings[2].fore"}},
		{"ends on a mid", func(q []RodReading, r *RodReadings) { q[4].Fore, q[4].Mid = nil, m(1) }, []string{"readings[4]"}},
		{"ends on a back", func(q []RodReading, r *RodReadings) { q[4].Back = m(1) }, []string{"readings[4].back"}},
		{"rod too long", func(q []RodReading, r *RodReadings) { q[1].Mid = m(1500) }, []string{"readings[1].mid"}},
		{"station twice", func(q []RodReading, r *RodReadings) { q[3].At = m(1) }, []string{"readings[3].at"}},
		{"no stations", func(q []RodReading, r *RodReadings) {
			for i := range q[1:] {
				q[i+1].At = nil
			}
		}, []string{"readings"}},
		{"not numbers", func(q []RodReading, r *RodReadings) {
			nan := m(math.NaN())
			q[0].Back, q[1].Mid, q[2].Fore, q[3].At, q[4].Bench = nan, nan, m(math.Inf(1)), nan, nan
			q[4].Level, q[4].Crossfall, r.Accuracy, r.AtAccuracy, r.PerSetup, r.Distance = nan, math.NaN(), *nan, -1, 2, -1
		}, []string{"accuracy", "at_accuracy", "per_setup", "distance", "readings[0].back", "readings[1].mid", "readings[2].fore", "readings[3].at",
			"readings[4].bench", "readings[4].level", "readings[4].crossfall"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			r := good()
			tc.change(r.Readings, &r)
			_, err := r.Survey()
			wantFaults(t, err, tc.fields...)
		})
	}

	r := good()
	r.Readings[3].At = m(0.5)
	if c := checkNamed(t, mustSurvey(t, r), "stations in order"); c.OK || !strings.Contains(c.Says, "line 4") {
		t.Errorf("%+v", c)
	}
	if c := checkNamed(t, mustSurvey(t, good()), "stations in order"); !c.OK {
		t.Errorf("%+v", c)
	}
	r = good()
	r.Readings[3].Mid = m(-1.5)
	if notes := strings.Join(mustSurvey(t, r).Notes, "\n"); !strings.Contains(notes, "upside down, the point above the line of sight: line 4.") {
		t.Errorf("notes:\n%s", notes)
	}
}

// The ± of the rise counts the set-ups between foot and head, the fewest where
// one of them is a turning point and so was seen from two.
func TestRodPlusMinusCountsSetups(t *testing.T) {
	book := func(foot, head int) RodReadings {
		r := RodReadings{Accuracy: 0.004, Readings: []RodReading{
			{Back: m(2)},
			{Mid: m(1.5)},
			{Fore: m(1), Back: m(2)},
			{Mid: m(1.5)},
			{Fore: m(1), Back: m(2)},
			{Mid: m(1.5)},
			{Fore: m(1)},
		}}
		r.Readings[foot].At, r.Readings[head].At = m(0), m(4)
		return r
	}
	for _, tc := range []struct{ foot, head, setups int }{
		{0, 1, 1}, {1, 2, 1}, {2, 3, 1}, {2, 4, 1}, {3, 4, 1}, {1, 3, 2}, {2, 5, 2}, {2, 6, 2}, {0, 6, 3}, {1, 5, 3}, {5, 1, 3}, {4, 2, 1},
	} {
		got := mustSurvey(t, book(tc.foot, tc.head)).Rise.PlusMinus.Meters()
		wantNear(t, fmt.Sprintf("lines %d to %d", tc.foot, tc.head), got, 0.004*math.Sqrt(float64(2*tc.setups)), 1e-12)
	}
}

// The survey shares nothing with the readings it was made from.
func TestBookIsACopy(t *testing.T) {
	r := vectorNamed(t, "L1").readings()
	s := mustSurvey(t, r)
	*r.Readings[0].Back = 99
	if *s.Book[0].Back != 6.482 {
		t.Errorf("the book's back is %v", *s.Book[0].Back)
	}
}

// rodBookOf reads a ground with a turning point at every second point.
func rodBookOf(g Ground) RodReadings {
	var r RodReadings
	sight := 1.5
	n := len(g.points)
	for i, p := range g.points {
		q := RodReading{At: m(p.Station.Meters()), Crossfall: p.Crossfall}
		if i > 0 {
			sight -= (p.Level - g.points[i-1].Level).Meters()
		}
		switch {
		case i == 0:
			q.Back = m(sight)
		case i == n-1:
			q.Fore = m(sight)
		case i%2 == 0:
			q.Fore = m(sight)
			sight = 1.7
			q.Back = m(sight)
		default:
			q.Mid = m(sight)
		}
		r.Readings = append(r.Readings, q)
	}
	return r
}

// randomBook levels a random ground: from a bench off the path, with turning
// points on and off it, up or down the path, the rod now and then upside down,
// and closes on a second bench that is out by misclose.
func randomBook(rnd *rand.Rand, g Ground, misclose func(setups int) float64) (r RodReadings, setups int) {
	const bench = 3.21
	points := g.Points()
	if rnd.IntN(2) == 0 {
		for i, k := 0, len(points)-1; i < k; i, k = i+1, k-1 {
			points[i], points[k] = points[k], points[i]
		}
	}
	height := func(level float64) float64 { return level + rnd.Float64()*6 - 1 }
	start := points[0].Level.Meters() + rnd.Float64()
	sight := height(start)
	setups = 1
	r.Readings = []RodReading{{Back: m(sight - start), Bench: m(bench)}}
	for _, p := range points {
		level := p.Level.Meters()
		q := RodReading{At: m(p.Station.Meters()), Crossfall: p.Crossfall}
		if rnd.IntN(4) == 0 || math.Abs(sight-level) > 5 {
			q.Fore = m(sight - level)
			sight = height(level)
			q.Back = m(sight - level)
			setups++
		} else {
			q.Mid = m(sight - level)
		}
		r.Readings = append(r.Readings, q)
	}
	end := points[len(points)-1].Level.Meters() + rnd.Float64()
	known := bench + end - start + misclose(setups)
	r.Readings = append(r.Readings, RodReading{Fore: m(sight - end), Bench: m(known)})
	return r, setups
}

func TestRodGivesTheGroundBack(t *testing.T) {
	rnd := rand.New(rand.NewPCG(31, 32))
	for range 400 {
		g := randomGround(rnd)
		sameGround(t, mustSurvey(t, rodBookOf(g)).Ground, g.Shift(0, g.Foot().Level))

		r, _ := randomBook(rnd, g, func(int) float64 { return 0 })
		s := mustSurvey(t, r)
		first := s.Ground.Foot()
		sameGround(t, s.Ground.Shift(0, first.Level-g.Foot().Level), g)
		if c := checkNamed(t, s, "book arithmetic"); !c.OK {
			t.Fatalf("%+v", c)
		}
	}
}

// A misclose within the limit is shared out so that the book ends on the bench,
// and never moves a line by more than the misclose; one beyond it is refused.
func TestRodMisclose(t *testing.T) {
	rnd := rand.New(rand.NewPCG(41, 42))
	for range 300 {
		g := randomGround(rnd)
		share := rnd.Float64()*2 - 1
		seed := rnd.Uint64()
		r, _ := randomBook(rand.New(rand.NewPCG(seed, 1)), g, func(n int) float64 { return share * 0.005 * math.Sqrt(float64(n)) })
		s := mustSurvey(t, r)
		last := s.Book[len(s.Book)-1]
		wantNear(t, "closing level", last.Corrected.Meters(), last.Bench.Meters(), 1e-9)
		wantNear(t, "first level", s.Book[0].Corrected.Meters(), s.Book[0].Level.Meters(), 0)
		missed := (*last.Bench - last.Level).Meters()
		for i, l := range s.Book {
			moved := (l.Corrected - l.Level).Meters()
			if math.Abs(moved) > math.Abs(missed)+1e-12 || moved*missed < -1e-15 {
				t.Fatalf("line %d moved %v of %v", i, moved, missed)
			}
		}

		over := 1.001
		if share < 0 {
			over = -over
		}
		r, _ = randomBook(rand.New(rand.NewPCG(seed, 1)), g, func(n int) float64 { return over * 0.005 * math.Sqrt(float64(n)) })
		_, err := r.Survey()
		wantFaults(t, err, fmt.Sprintf("readings[%d].bench", len(r.Readings)-1))
	}
}

func FuzzRodBook(f *testing.F) {
	encode := func(r RodReadings) []byte {
		var out []byte
		for _, q := range r.Readings {
			var has byte
			var cells []byte
			for k, v := range []*unit.Length{q.At, q.Back, q.Mid, q.Fore, q.Bench, q.Level} {
				if v != nil {
					has |= 1 << k
					cells = binary.LittleEndian.AppendUint64(cells, math.Float64bits(v.Meters()))
				}
			}
			out = append(append(out, has), cells...)
		}
		return out
	}
	for _, v := range bookVectors(f) {
		f.Add(encode(v.readings()))
	}
	f.Add([]byte{})
	f.Add([]byte{2, 0, 0, 0, 0, 0, 0, 0xf0, 0x7f})
	f.Fuzz(func(t *testing.T, data []byte) {
		var r RodReadings
		for len(data) > 0 {
			has := data[0]
			data = data[1:]
			var q RodReading
			for k, cell := range []**unit.Length{&q.At, &q.Back, &q.Mid, &q.Fore, &q.Bench, &q.Level} {
				if has&(1<<k) == 0 || len(data) < 8 {
					continue
				}
				*cell = m(math.Float64frombits(binary.LittleEndian.Uint64(data)))
				data = data[8:]
			}
			r.Readings = append(r.Readings, q)
		}
		s, err := r.Survey()
		if err != nil {
			var faults Faults
			if !errors.As(err, &faults) || len(faults) == 0 {
				t.Fatalf("error %v is no Faults", err)
			}
			return
		}
		if len(s.Book) != len(r.Readings) {
			t.Fatalf("%d lines in the book, %d readings", len(s.Book), len(r.Readings))
		}
		if _, err := NewGround(s.Ground.Points()); err != nil {
			t.Fatalf("the ground is none: %v", err)
		}
		if apart := SumBook(s.Book).Apart(); apart > arithmeticSlack {
			t.Fatalf("the sums are %v apart", apart)
		}
		for i, l := range s.Book {
			q := r.Readings[i]
			read := q.Fore
			if read == nil {
				read = q.Mid
			}
			if i > 0 {
				// The line of sight of the set-up, less the reading, is the level.
				if got := s.Book[i-1].Collimation - *read; math.Abs((got - l.Level).Meters()) > 1e-6 {
					t.Fatalf("line %d: %v by collimation, %v by rise and fall", i, got, l.Level)
				}
			}
		}
	})
}

func ExampleRodReadings() {
	at := func(v float64) *unit.Length { l := unit.Length(v) * unit.Meter; return &l }
	// From a bench by the door down to the gate and back up to it. Scenario of
	// our own.
	s, err := RodReadings{Readings: []RodReading{
		{Back: at(0.412), Bench: at(20.000)},
		{At: at(6.0), Mid: at(0.655)},
		{At: at(4.1), Mid: at(1.390)},
		{At: at(2.3), Fore: at(2.705), Back: at(0.880)},
		{At: at(0), Fore: at(2.204), Back: at(3.310)},
		{Fore: at(1.006), Back: at(2.118)},
		{Fore: at(0.801), Bench: at(20.000)},
	}}.Survey()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("rise %.3f ± %.3f m\n", s.Rise.Value.Meters(), s.Rise.PlusMinus.Meters())
	for _, c := range s.Checks[:2] {
		fmt.Println(c.Says)
	}
	// Output:
	// rise 3.375 ± 0.006 m
	// ΣBS 6.72 m − ΣFS 6.716 m = 0.004 m; Σrise 3.621 m − Σfall 3.617 m = 0.004 m; last level − first = 0.004 m.
	// The bench of line 7 is known as 20.000 m (65.62 ft): the book comes to 20.004 m (65.63 ft) there, 4 mm (0.16 in) too high; the limit is 10 mm (0.39 in), 5 mm (0.2 in) for one set-up times √4.
}

func BenchmarkRodSurvey(b *testing.B) {
	rnd := rand.New(rand.NewPCG(51, 52))
	r, _ := randomBook(rnd, randomGround(rnd), func(int) float64 { return 0 })
	for b.Loop() {
		if _, err := r.Survey(); err != nil {
			b.Fatal(err)
		}
	}
}
