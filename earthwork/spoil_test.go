package earthwork

import (
	"math"
	"testing"

	"github.com/martinlindhe/unit"
)

func TestPublishedBalances(t *testing.T) {
	var v soilVectors
	readVectors(t, "soils.json", &v)
	if len(v.Balances) < 8 {
		t.Fatalf("only %d rows read", len(v.Balances))
	}
	for _, r := range v.Balances {
		t.Run(r.ID, func(t *testing.T) {
			b := soilOf(r.Swell, r.Shrink).Balance(unit.Volume(r.Cut), unit.Volume(r.Fill), unit.Volume(r.Backfill))
			check(t, "reused", b.ReusedBank.CubicMeters(), r.Reused, r.Within)
			check(t, "spoil", b.SpoilBank.CubicMeters(), r.Spoil, r.Within)
			check(t, "borrow", b.BorrowBank.CubicMeters(), r.Borrow, r.Within)
			check(t, "spoil loose", b.SpoilLoose.CubicMeters(), r.SpoilLoose, r.Within)
			check(t, "borrow loose", b.BorrowLoose.CubicMeters(), r.BorrowLoose, r.Within)
			if r.Carrier == 0 {
				return
			}
			c := Carrier{Name: "truck", Volume: unit.Volume(r.Carrier)}
			l, err := b.Loads(c)
			if b.SpoilBank == 0 { // what is hauled is the soil brought
				l, err = loads(b.BorrowLoose, 0, c)
			}
			if err != nil || l.Count != r.Loads || l.Binds != ByVolume {
				t.Errorf("%+v %v, published %d loads", l, err, r.Loads)
			}
		})
	}
}

// Earth in is earth out, to the last bit.
func TestEarthIsConserved(t *testing.T) {
	borrows, spoils := 0, 0
	for i, r := range rands(21, 20000) {
		soil := soils[r.IntN(len(soils))]
		if r.IntN(2) == 0 {
			soil.Swell.Value, soil.Shrink.Value = 1.5*r.Float64(), r.Float64()-0.5
		}
		size := math.Ldexp(1, r.IntN(50)-30)
		cut, fill, back := unit.Volume(size*r.Float64()), unit.Volume(size*r.Float64()), unit.Volume(0.1*r.Float64())
		b := soil.Balance(cut, fill, back)
		if b.CutBank+b.BorrowBank != b.ReusedBank+b.SpoilBank {
			t.Fatalf("%d: cut %v + borrow %v is not reused %v + spoil %v", i, b.CutBank, b.BorrowBank, b.ReusedBank, b.SpoilBank)
		}
		if b.CutBank != cut || b.BorrowBank*b.SpoilBank != 0 || b.BorrowBank < 0 || b.SpoilBank < 0 || b.ReusedBank < 0 {
			t.Fatalf("%d: %+v", i, b)
		}
		if got := soil.Compacted(b.ReusedBank); !near(float64(got), float64(fill+back), 1e-12*float64(fill+back+cut)) {
			t.Fatalf("%d: reused makes %v, needed %v", i, got, fill+back)
		}
		if !near(float64(b.SpoilLoose), float64(b.SpoilBank)*(1+soil.Swell.Value), 1e-12*float64(b.SpoilBank)) ||
			!near(float64(b.SpoilMass), float64(b.SpoilBank)*soil.BankDensity.Value, 1e-9*float64(b.SpoilBank)) {
			t.Fatalf("%d: %+v", i, b)
		}
		if b.SpoilBank > 0 {
			spoils++
		}
		if b.BorrowBank > 0 {
			borrows++
		}
	}
	if borrows < 1000 || spoils < 1000 {
		t.Errorf("%d with borrow, %d with spoil", borrows, spoils)
	}
	// What is no amount counts as nothing, and never as NaN.
	nan, inf := unit.Volume(math.NaN()), unit.Volume(math.Inf(1))
	soil := soilOf(0.25, 0.1)
	for _, b := range []Balance{soil.Balance(nan, nan, nan), soil.Balance(-1, -1, nan)} {
		if b != (Balance{}) {
			t.Errorf("%+v", b)
		}
	}
	if b := soil.Balance(inf, 1, inf); math.IsInf(float64(b.BorrowBank+b.SpoilLoose), 0) || math.IsNaN(float64(b.SpoilMass)) {
		t.Errorf("%+v", b)
	}
}

func TestLoads(t *testing.T) {
	soil, _ := SoilByID("loam") // 1601.8 kg/m³ in the bank, 1281.5 loose
	b := soil.Balance(8, 0, 0)  // 10 m³ loose, 12 815 kg
	for _, r := range []struct {
		carrier Carrier
		count   int
		binds   Binds
	}{
		{Carrier{Volume: 1}, 10, ByVolume},
		{Carrier{Volume: 3}, 4, ByVolume},
		{Carrier{Volume: 1, Payload: 1281.6}, 10, ByVolume},
		{Carrier{Volume: 1, Payload: 1281.4}, 11, ByPayload}, // 10.0008 loads
		{Carrier{Volume: 1, Payload: 640}, 21, ByPayload},    // 20.02
		{Carrier{Volume: 0.1}, 100, ByVolume},                // the rounding of 10/0.1 is no load
	} {
		l, err := b.Loads(r.carrier)
		if err != nil || l.Count != r.count || l.Binds != r.binds {
			t.Errorf("%+v: %+v %v, want %d by %s", r.carrier, l, err, r.count, r.binds)
		}
		if l.Volume > r.carrier.Volume || (r.carrier.Payload > 0 && float64(l.Mass) > float64(r.carrier.Payload)*(1+1e-12)) {
			t.Errorf("%+v: overloaded with %v m³, %v kg", r.carrier, l.Volume, l.Mass)
		}
		if carried := float64(l.Volume) * float64(l.Count); carried < 10*(1-1e-8) || carried-float64(l.Volume) > 10 {
			t.Errorf("%+v: %d loads carry %v of 10 m³", r.carrier, l.Count, carried)
		}
	}
	if l, err := soil.Balance(1, 5, 0).Loads(Carrier{Volume: 1}); err != nil || l.Count != 0 || l.Binds != "" {
		t.Errorf("no spoil: %+v %v", l, err)
	}
	// 0.30000000000000004 m³ in loads of 0.1 m³.
	if l, err := loads(0.30000000000000004, 1, Carrier{Volume: 0.1}); err != nil || l.Count != 3 {
		t.Errorf("%+v %v, want 3 loads", l, err)
	}
	_, err := b.Loads(Carrier{})
	wantFault(t, "zero carrier", err, "volume")
	_, err = b.Loads(Carrier{Volume: unit.Volume(math.NaN()), Payload: -1})
	wantFault(t, "bad carrier", err, "volume", "payload")
}

func TestCarriers(t *testing.T) {
	// One cubic metre of spoil from each soil: lighter soils by volume.
	for _, c := range Carriers() {
		if c.Name == "" || len(c.Source) < 12 {
			t.Errorf("%+v has no name or source", c)
		}
		if err := c.Validate(); err != nil {
			t.Errorf("%s: %v", c.Name, err)
		}
		for _, s := range Soils() {
			l, err := s.Balance(100, 0, 0).Loads(c)
			if err != nil || l.Count < 1 || l.Mass > c.Payload*(1+1e-12) || l.Volume > c.Volume*(1+1e-12) {
				t.Errorf("%s of %s: %+v %v", c.Name, s.ID, l, err)
			}
		}
	}
	// A pickup is full by weight before its bed is.
	loam, _ := SoilByID("loam")
	if l, _ := loam.Balance(100, 0, 0).Loads(Carriers()[2]); l.Binds != ByPayload {
		t.Errorf("pickup binds by %s", l.Binds)
	}
	if l, _ := loam.Balance(100, 0, 0).Loads(Carriers()[0]); l.Binds != ByVolume {
		t.Errorf("barrow binds by %s", l.Binds)
	}
}

func TestSpread(t *testing.T) {
	if d, err := SpreadDepth(3, 20); err != nil || d != 0.15 {
		t.Errorf("%v %v", d, err)
	}
	if a, err := SpreadArea(3, 0.15); err != nil || !near(float64(a), 20, 1e-12) {
		t.Errorf("%v %v", a, err)
	}
	for _, v := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		_, err := SpreadDepth(1, unit.Area(v))
		wantFault(t, "area", err, "area")
		_, err = SpreadArea(1, unit.Length(v))
		wantFault(t, "depth", err, "depth")
	}
}
