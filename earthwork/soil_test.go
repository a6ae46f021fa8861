package earthwork

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"
)

type soilVectors struct {
	About   string
	Weights []struct {
		ID, Source             string
		Bank, Loose, Compacted float64
		Swell, Shrink          *float64
		LoadFactor             *float64 `json:"load_factor"`
		ShrinkFactor           *float64 `json:"shrink_factor"`
		FromLoose              float64  `json:"from_loose"`
		ToBank                 *float64 `json:"to_bank"`
		ToCompacted            *float64 `json:"to_compacted"`
		Within                 float64
	}
	Balances []struct {
		ID, Source            string
		Swell, Shrink         float64
		Cut, Fill, Backfill   float64
		Reused, Spoil, Borrow *float64
		SpoilLoose            *float64 `json:"spoil_loose"`
		BorrowLoose           *float64 `json:"borrow_loose"`
		Carrier               float64
		Loads                 int
		Within                float64
	}
	Heaps []struct {
		ID, Source    string
		Bank          float64 `json:"bank_yd3"`
		Swell, Repose float64
		Length        float64  `json:"length_ft"`
		Breadth       *float64 `json:"breadth_ft"`
		Height        *float64 `json:"height_ft"`
		Within        float64
	}
	Table []struct {
		Soil, Figure, Source string
		Value                float64
	}
	Trimming []struct {
		Source, Soil string
		PerHour      []float64 `json:"per_hour"`
	}
	Barrows []struct {
		ID, Source string
		Steep      bool
		Feet       []float64
		Hours      []float64 `json:"hours_per_yd3"`
		Within     float64
	}
}

// soilOf is a soil that passes, with these figures.
func soilOf(swell, shrink float64) Soil {
	s, _ := SoilByID("loam")
	s.Swell.Value, s.Shrink.Value = swell, shrink
	return s
}

func TestPublishedWeights(t *testing.T) {
	var v soilVectors
	readVectors(t, "soils.json", &v)
	if len(v.Weights) < 6 {
		t.Fatalf("only %d rows read", len(v.Weights))
	}
	for _, r := range v.Weights {
		t.Run(r.ID, func(t *testing.T) {
			// What the same mass takes, loose and rammed, makes swell and shrinkage.
			swell, shrink := 0.0, 0.0
			if r.Loose > 0 {
				swell = r.Bank/r.Loose - 1
			}
			if r.Compacted > 0 {
				shrink = 1 - r.Bank/r.Compacted
			}
			s := soilOf(swell, shrink)
			check(t, "swell", s.Loose(1).CubicMeters()-1, r.Swell, r.Within)
			check(t, "shrinkage", 1-s.Compacted(1).CubicMeters(), r.Shrink, r.Within)
			check(t, "load factor", s.BankOfLoose(1).CubicMeters(), r.LoadFactor, r.Within)
			check(t, "shrinkage factor", s.Compacted(1).CubicMeters(), r.ShrinkFactor, r.Within)
			bank := s.BankOfLoose(unit.Volume(r.FromLoose))
			check(t, "bank", bank.CubicMeters(), r.ToBank, r.Within)
			check(t, "compacted", s.Compacted(bank).CubicMeters(), r.ToCompacted, r.Within)
			if back := s.Loose(bank).CubicMeters(); !near(back, r.FromLoose, 1e-9*r.FromLoose) {
				t.Errorf("loose and back: %v", back)
			}
			if back := s.BankOfCompacted(s.Compacted(bank)); !near(float64(back), float64(bank), 1e-9*float64(bank)) {
				t.Errorf("compacted and back: %v", back)
			}
		})
	}
}

func TestPublishedHeaps(t *testing.T) {
	var v soilVectors
	readVectors(t, "soils.json", &v)
	if len(v.Heaps) < 2 {
		t.Fatalf("only %d rows read", len(v.Heaps))
	}
	for _, r := range v.Heaps {
		s := soilOf(r.Swell, 0)
		s.Repose.Value = r.Repose
		loose := s.Loose(unit.Volume(r.Bank) * unit.CubicYard)
		breadth, height := s.Cone(loose)
		if r.Length > 0 {
			breadth, height = s.Ridge(loose, unit.Length(r.Length)*unit.Foot)
		}
		check(t, r.ID+" breadth", breadth.Feet(), r.Breadth, r.Within)
		check(t, r.ID+" height", height.Feet(), r.Height, r.Within)
	}
}

func TestTangent(t *testing.T) {
	for d := 0.25; d < 89; d += 0.25 {
		if got, want := tangent(d), math.Tan(d*math.Pi/180); math.Abs(got/want-1) > 1e-14 {
			t.Errorf("tangent(%v°) = %v, want %v", d, got, want)
		}
	}
}

func TestSoilTable(t *testing.T) {
	want := []string{"topsoil", "loam", "sand", "dry-sand", "wet-sand", "gravel", "sandy-clay", "clay", "dry-clay", "wet-clay", "hardpan", "weathered-rock", "rock"}
	soils := Soils()
	if len(soils) != len(want) {
		t.Fatalf("%d soils", len(soils))
	}
	slowest := math.Inf(1)
	for i, s := range soils {
		if s.ID != want[i] || s.Name == "" {
			t.Errorf("soil %d is %q %q, want %q", i, s.ID, s.Name, want[i])
		}
		if err := s.Validate(); err != nil {
			t.Errorf("%s: %v", s.ID, err)
		}
		for name, f := range map[string]Figure{"swell": s.Swell, "shrink": s.Shrink, "density": s.BankDensity, "digging": s.Digging, "fast": s.Fast, "slow": s.Slow, "batter": s.Batter, "shallow": s.ShallowBatter, "repose": s.Repose, "dig class": s.DigClass} {
			if len(f.Source) < 12 {
				t.Errorf("%s: %s has the source %q", s.ID, name, f.Source)
			}
			// A figure nobody published must say so, and one of a book must not.
			if strings.Contains(f.Source, "common practice") && f.FromMemory {
				t.Errorf("%s: %s is both a common practice and a source recalled", s.ID, name)
			}
		}
		if s.ShallowBatter.Value > s.Batter.Value {
			t.Errorf("%s: a shallow cut lies flatter than a deep one", s.ID)
		}
		// The slope cut is that of its type of soil, 29 CFR 1926 Subpart P, App. B.
		if slope := map[string]float64{"stable rock": 0, "A": 0.75, "B": 1, "C": 1.5}; s.Batter.Value != slope[s.SafetyType] || s.SafetyType == "" {
			t.Errorf("%s: batter %v for type %q", s.ID, s.Batter.Value, s.SafetyType)
		}
		if c := s.DigClass.Value; c != math.Trunc(c) || c < 1 || c > 5 {
			t.Errorf("%s: dig class %v", s.ID, c)
		}
		// From hardpan on the list goes by hardness.
		if i >= 10 {
			if s.Digging.Value >= slowest {
				t.Errorf("%s is dug as quickly as what is before it", s.ID)
			}
		}
		slowest = math.Min(slowest, s.Digging.Value)
		got, ok := SoilByID(s.ID)
		if !ok || !reflect.DeepEqual(got, s) {
			t.Errorf("SoilByID(%q) is not that soil", s.ID)
		}
	}
	if _, ok := SoilByID("cheese"); ok {
		t.Error("there is a soil called cheese")
	}
	// The list is the caller's own.
	soils[0].Swell.Value = 9
	if s, _ := SoilByID("topsoil"); s.Swell.Value == 9 {
		t.Error("a caller changed the table")
	}
}

// The figures as the sources print them, against the table in the code.
func TestSoilTableIsAsPublished(t *testing.T) {
	var v soilVectors
	readVectors(t, "soils.json", &v)
	if len(v.Table) < 20 {
		t.Fatalf("only %d rows read", len(v.Table))
	}
	for _, r := range v.Table {
		s, ok := SoilByID(r.Soil)
		loose := s.BankDensity
		loose.Value = s.LooseDensity() / poundPerCubicFoot
		f, known := map[string]Figure{
			"swell": s.Swell, "shrink": s.Shrink, "digging": s.Digging, "repose": s.Repose, "dig_class": s.DigClass,
			"loose, lb/ft3": loose, "bank, lb/ft3": {s.BankDensity.Value / poundPerCubicFoot, s.BankDensity.Source, s.BankDensity.FromMemory},
		}[r.Figure]
		if !ok || !known {
			t.Errorf("no %s of %s", r.Figure, r.Soil)
		}
		if !near(f.Value, r.Value, 5e-5*math.Max(1, r.Value)) {
			t.Errorf("%s of %s is %v, published %v (%s)", r.Figure, r.Soil, f.Value, r.Value, r.Source)
		}
		if strings.Contains(r.Source, "from memory") != f.FromMemory {
			t.Errorf("%s of %s: from memory is %v, of %s", r.Figure, r.Soil, f.FromMemory, r.Source)
		}
	}
}

// Version 1 documents name sand and clay, whose figures stay what they were: wet and
// dry are classes of their own, of the same family.
func TestSandAndClayStayWhatTheyWere(t *testing.T) {
	for id, want := range map[string][7]float64{
		"sand": {0.11, 0.05, 1842.1232, 0.25, 1.5, 1, 34},
		"clay": {3000.0/2310 - 1, 0.20, 1779.8292, 0.1742424, 1, 0.25, 25},
	} {
		s, _ := SoilByID(id)
		for i, got := range [7]float64{s.Swell.Value, s.Shrink.Value, s.BankDensity.Value, s.Digging.Value, s.Batter.Value, s.ShallowBatter.Value, s.Repose.Value} {
			if !near(got, want[i], 1e-4) {
				t.Errorf("%s: figure %d is %v, was %v", id, i, got, want[i])
			}
		}
		dry, _ := SoilByID("dry-" + id)
		wet, _ := SoilByID("wet-" + id)
		if s.Family() != id || dry.Family() != id || wet.Family() != id {
			t.Errorf("%s is of the family %s, its kinds of %s and %s", id, s.Family(), dry.Family(), wet.Family())
		}
		if !(dry.BankDensity.Value < wet.BankDensity.Value) || dry.Swell != wet.Swell || dry.Repose == wet.Repose {
			t.Errorf("%s dry and wet: %+v, %+v", id, dry, wet)
		}
		// A face is trimmed as fast in every kind.
		work := Work{TrimArea: 10}
		if a, b := s.Hours(work), wet.Hours(work); a.Total != b.Total {
			t.Errorf("%s is trimmed in %v, wet in %v", id, a.Total, b.Total)
		}
	}
	if s, _ := SoilByID("sandy-clay"); s.Family() != "sandy-clay" {
		t.Errorf("sandy clay is of the family %s", s.Family())
	}
}

// Densities in the units of their sources.
func TestSoilDensities(t *testing.T) {
	for id, want := range map[string]float64{
		"loam": 1601.846, "sand": 1842.123, "clay": 1779.829, "rock": 2402.770, "topsoil": 1329.532, // 100, 115, 3000/27, 150, 83 lb/ft³
	} {
		s, _ := SoilByID(id)
		if got := s.Mass(2*unit.CubicMeter).Kilograms() / 2; !near(got, want, 5e-4) {
			t.Errorf("%s: %v kg/m³, want %v", id, got, want)
		}
	}
}

func TestSoilFaults(t *testing.T) {
	wantFault(t, "zero soil", Soil{}.Validate(), "density", "digging", "fast", "slow", "repose")
	for field, f := range map[string]func(*Soil) *Figure{
		"dig_class":      func(s *Soil) *Figure { return &s.DigClass },
		"swell":          func(s *Soil) *Figure { return &s.Swell },
		"shrink":         func(s *Soil) *Figure { return &s.Shrink },
		"density":        func(s *Soil) *Figure { return &s.BankDensity },
		"digging":        func(s *Soil) *Figure { return &s.Digging },
		"fast":           func(s *Soil) *Figure { return &s.Fast },
		"slow":           func(s *Soil) *Figure { return &s.Slow },
		"batter":         func(s *Soil) *Figure { return &s.Batter },
		"shallow_batter": func(s *Soil) *Figure { return &s.ShallowBatter },
		"repose":         func(s *Soil) *Figure { return &s.Repose },
	} {
		for _, v := range []float64{-1, 1e6, math.NaN(), math.Inf(1)} {
			s := soilOf(0.25, 0.1)
			f(&s).Value = v
			wantFault(t, field, s.Validate(), field)
		}
	}
	for _, edge := range []struct{ swell, shrink float64 }{{0, -0.5}, {1.5, 0.5}} {
		if err := soilOf(edge.swell, edge.shrink).Validate(); err != nil {
			t.Error(err)
		}
	}
}
