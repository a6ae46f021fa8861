package materials

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/martinlindhe/unit"
)

type framedVectors struct {
	Throats struct {
		Rows []struct {
			Riser   float64 `json:"riser_in"`
			Tread   float64 `json:"tread_in"`
			Notch   float64 `json:"notch_in"`
			Throat  float64 `json:"throat_2x12_in"`
			Shallow float64 `json:"throat_2x10_in"`
		}
	}
	Pitch struct {
		Rows []struct {
			Riser            float64 `json:"riser_in"`
			Tread            float64 `json:"tread_in"`
			Degrees, Minutes float64
		}
	}
	Strings []struct {
		Rise   float64 `json:"rise_mm"`
		Going  float64 `json:"going_mm"`
		Risers int
		Tread  float64 `json:"tread_mm"`
		String float64 `json:"string_mm"`
	}
	Triangles struct {
		Rows []struct {
			Riser float64 `json:"riser_in"`
			Tread float64 `json:"tread_in"`
			Gap   float64 `json:"gap_in"`
			Ball  float64 `json:"ball_in"`
		}
	}
}

func TestStringerVectors(t *testing.T) {
	var v framedVectors
	readVectors(t, "framed.json", &v)
	if len(v.Throats.Rows) != 6 || len(v.Pitch.Rows) != 5 || len(v.Strings) != 2 {
		t.Fatal("vectors are missing")
	}
	d := DefaultFramedDetail()
	for _, c := range v.Throats.Rows {
		for _, board := range []struct {
			section string
			throat  float64
			ok      bool
		}{{"2x12", c.Throat, true}, {"2x10", c.Shallow, false}} {
			d.Stringer = sections(t, board.section)[0]
			f := FramedFlight{Risers: 5, Riser: in(c.Riser), Tread: in(c.Tread), Width: in(36)}
			s, err := f.Stringer(d)
			if err != nil {
				t.Fatal(err)
			}
			wants(t, "notch", s.Notch.Meters()/0.0254, c.Notch, 0.0005)
			wants(t, "throat of "+board.section, s.Throat.Meters()/0.0254, board.throat, 0.0006)
			checks, err := f.Checks(d)
			if err != nil {
				t.Fatal(err)
			}
			if got := checkOf(t, checks, "stringer-throat"); got.OK != board.ok {
				t.Errorf("%v / %v, %s: %+v", c.Riser, c.Tread, board.section, got)
			}
		}
	}
	d = DefaultFramedDetail()
	for _, c := range v.Pitch.Rows {
		s, err := FramedFlight{Risers: 3, Riser: in(c.Riser), Tread: in(c.Tread), Width: in(36)}.Stringer(d)
		if err != nil {
			t.Fatal(err)
		}
		want := c.Degrees + c.Minutes/60
		wants(t, "pitch", s.Pitch.Radians()*180/math.Pi, want, 0.0001)
		wants(t, "plumb cut", s.PlumbCut.Radians()*180/math.Pi, want, 0.0001)
		wants(t, "level cut", s.LevelCut.Radians()*180/math.Pi, 90-want, 0.0001)
	}
	for _, c := range v.Strings {
		wants(t, "string", StringLength(mm(c.Rise), mm(c.Going), mm(c.Tread)).Meters()*1000, c.String, 0.0005)
		s, err := FramedFlight{Risers: c.Risers, Riser: mm(c.Rise / float64(c.Risers)), Tread: mm(c.Tread), Width: mm(900)}.Stringer(d)
		if err != nil {
			t.Fatal(err)
		}
		wants(t, "string of a flight", s.StringLength.Meters()*1000, c.String, 0.0005)
	}
	for _, c := range v.Triangles.Rows {
		wants(t, "ball", GuardTriangle(in(c.Riser), in(c.Tread), in(c.Gap)).Meters()/0.0254, c.Ball, 1e-9)
	}
}

func checkOf(t *testing.T, list []Check, name string) Check {
	t.Helper()
	for _, c := range list {
		if c.Name == name {
			return c
		}
	}
	t.Fatalf("no check %s", name)
	return Check{}
}

// A stringer drawn point by point, turned so that its edge lies level, must
// just fit the board: its Length and its Depth.
func TestStringerFitsItsBoard(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for n := 0; n < 500; n++ {
		d := DefaultFramedDetail()
		d.Solid = n%2 == 1
		d.Stringer.Width = in(11.25 + 6*r.Float64())
		d.Above = in(2 * r.Float64())
		f := FramedFlight{Risers: 2 + r.IntN(14), Riser: in(4 + 4*r.Float64()), Tread: in(9 + 8*r.Float64()), Width: in(36)}
		s, err := f.Stringer(d)
		if err != nil {
			continue
		}
		R, T, m := f.Riser.Meters(), f.Tread.Meters(), float64(f.Risers)
		h := math.Hypot(R, T)
		plumb, board := d.Stringer.Width.Meters()*h/T, d.Tread.Thickness.Meters()
		xm := (m - 1) * T
		type point struct{ x, z float64 }
		var outline []point
		var upper float64 // height of the board's upper edge over the foot's corner
		if d.Solid {
			upper = R + d.Above.Meters()*h/T
			outline = append(outline, point{0, 0}, point{0, upper}, point{xm, m * R})
		} else {
			upper = R - board
			for k := 1.0; k < m; k++ {
				outline = append(outline, point{(k - 1) * T, (k-1)*R - board}, point{(k - 1) * T, k*R - board})
			}
			outline[0].z = 0
			outline = append(outline, point{xm, (m-1)*R - board})
		}
		lower := func(x float64) float64 { return upper - plumb + x*R/T }
		outline = append(outline, point{xm, lower(xm)}, point{(plumb - upper) * T / R, 0})
		wants(t, "seat", s.Seat.Meters(), math.Min(math.Max(0, (plumb-upper)*T/R), xm), 1e-9)
		top := (m-1)*R - board
		if d.Solid {
			top = m * R
		}
		wants(t, "head bearing", s.HeadBearing.Meters(), top-lower(xm), 1e-9)
		minS, maxS, minQ, maxQ := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
		for _, p := range outline {
			if p.x > xm { // a seat longer than the flight
				continue
			}
			along, across := (p.x*T+p.z*R)/h, (p.z*T-p.x*R)/h
			minS, maxS = math.Min(minS, along), math.Max(maxS, along)
			minQ, maxQ = math.Min(minQ, across), math.Max(maxQ, across)
		}
		if math.Abs(maxS-minS-s.Length.Meters()) > 1e-9 || maxQ-minQ > d.Stringer.Width.Meters()+1e-9 {
			t.Fatalf("case %d solid %v: outline %v × %v, board %v × %v", n, d.Solid, maxS-minS, maxQ-minQ, s.Length, d.Stringer.Width)
		}
		if s.Length > s.StringLength {
			t.Errorf("the trade's length %v is less than %v", s.StringLength, s.Length)
		}
		// Marks are cumulative and meet the rise.
		last := s.Marks[len(s.Marks)-1]
		if len(s.Marks) != f.Risers || last.Rise != f.Rise() || last.Run != f.Going() || last.Cut != 0 || s.Marks[0].Along != 0 {
			t.Errorf("marks end at %+v", last)
		}
		for k, mark := range s.Marks[:len(s.Marks)-1] {
			wants(t, "mark along", mark.Along.Meters(), math.Hypot(float64(k)*R, float64(k)*T), 1e-9)
			wants(t, "cut", mark.Cut.Meters(), mark.Rise.Meters()-board, 1e-12)
		}
		// The clearance reaches the lower edge at each tread's front, and covers
		// it everywhere else under the tread.
		clear := FramedClearance(d, f.Riser, f.Tread) - d.Gap
		if front := R - lower(0); front > board {
			wants(t, "clearance", clear.Meters(), front, 1e-9)
		}
		if R-lower(T/2) > clear.Meters() {
			t.Error("the stringer is deeper in the middle of a tread")
		}
	}
}

func TestFirstRiserDrop(t *testing.T) {
	s, err := FramedFlight{Risers: 6, Riser: in(7), Tread: in(11), Width: in(36)}.Stringer(DefaultFramedDetail())
	if err != nil {
		t.Fatal(err)
	}
	if !near(s.FirstRiser.Meters(), in(5.5).Meters(), 1e-12) || s.Drop != in(1.5) {
		t.Errorf("first riser %v, drop %v", s.FirstRiser, s.Drop)
	}
	// Finished: 5.5 and the tread board are 7; the last rise is from the fifth
	// tread, 35 high, to the landing at 42.
	if !near(s.Marks[5].Rise.Meters(), in(42).Meters(), 1e-12) || !near(s.Marks[4].Cut.Meters(), in(33.5).Meters(), 1e-12) {
		t.Errorf("marks %+v", s.Marks[4:])
	}
}

func TestFlightFaults(t *testing.T) {
	good := FramedFlight{Risers: 6, Riser: in(7), Tread: in(11), Width: in(36)}
	for _, c := range []struct {
		field string
		with  func(*FramedFlight, *FramedDetail)
	}{
		{"flights[0].risers", func(f *FramedFlight, d *FramedDetail) { f.Risers = 1 }},
		{"flights[0].risers", func(f *FramedFlight, d *FramedDetail) { f.Risers = 1e9 }},
		{"flights[0].riser", func(f *FramedFlight, d *FramedDetail) { f.Riser = 0 }},
		{"flights[0].riser", func(f *FramedFlight, d *FramedDetail) { d.Stringer = sectionOf("2x6") }},
		{"flights[0].tread", func(f *FramedFlight, d *FramedDetail) { f.Tread = unit.Length(math.NaN()) }},
		{"flights[0].tread", func(f *FramedFlight, d *FramedDetail) { d.Solid, d.Stringer = true, sectionOf("2x8") }},
		{"flights[0].width", func(f *FramedFlight, d *FramedDetail) { f.Width = unit.Length(math.Inf(1)) }},
		{"flights[0].drop", func(f *FramedFlight, d *FramedDetail) { f.Drop = -1 }},
		{"flights[0].platform", func(f *FramedFlight, d *FramedDetail) { f.Platform = in(1) }},
		{"detail.stringer.name", func(f *FramedFlight, d *FramedDetail) { d.Stringer = Section{} }},
		{"detail.wood", func(f *FramedFlight, d *FramedDetail) { d.Wood = "balsa" }},
		{"detail.values.bending", func(f *FramedFlight, d *FramedDetail) { d.Wood = "" }},
		{"detail.live", func(f *FramedFlight, d *FramedDetail) { d.Live = unit.Pressure(math.NaN()) }},
		{"detail.waste.concrete", func(f *FramedFlight, d *FramedDetail) { d.Waste.Concrete = 2 }},
		{"detail.longest_timber", func(f *FramedFlight, d *FramedDetail) { d.LongestTimber = in(1) }},
	} {
		f, d := good, DefaultFramedDetail()
		c.with(&f, &d)
		_, err := FramedTakeOff([]FramedFlight{f}, d)
		wantFault(t, err, c.field)
	}
	_, err := FramedTakeOff(nil, DefaultFramedDetail())
	wantFault(t, err, "flights")
	_, err = FramedTakeOff(make([]FramedFlight, MaxFlights+1), DefaultFramedDetail())
	wantFault(t, err, "flights")
	_, err = FramedTakeOff([]FramedFlight{good}, FramedDetail{})
	wantFault(t, err, "detail.stringer.name")
}

func sectionOf(name string) Section {
	s, err := FramedSectionByName(name)
	if err != nil {
		panic(err)
	}
	return s
}
