package stair

import (
	"math"
	"testing"
)

// TestLayoutWedges holds wedges to the geometry of circles: chords of the same angle
// on the inner and the outer edge.
func TestLayoutWedges(t *testing.T) {
	l, err := Lay(Point{}, Point{3, 1}, 0, []FixedFlight{{Risers: 7, Tread: 0.5}})
	if err != nil {
		t.Fatal(err)
	}
	bend := Bend{From: 0.5, To: 1.75, Radius: 2, Width: 1.2, Right: true}
	w, err := l.Wedges([]Bend{bend})
	if err != nil || len(w) != 3 {
		t.Fatalf("%v, %v; want the treads behind risers 2, 3 and 4", w, err)
	}
	for i, want := range []struct{ inner, outer float64 }{{0.5 * 1.4 / 2, 0.5 * 2.6 / 2}, {0.5 * 1.4 / 2, 0.5 * 2.6 / 2}, {0.25 + 0.25*1.4/2, 0.25 + 0.25*2.6/2}} {
		if w[i].Riser != i+2 {
			t.Errorf("wedge %d lies behind riser %d", i, w[i].Riser)
		}
		near(t, "inner", float64(w[i].Inner), want.inner, 1e-12)
		near(t, "outer", float64(w[i].Outer), want.outer, 1e-12)
	}
	// A bend to the left right behind one to the right turns the tread back.
	bend.To = 0.75
	back := bend
	back.From, back.To, back.Right = 0.75, 1, false
	if w, err = l.Wedges([]Bend{bend, back}); err != nil || len(w) != 1 {
		t.Fatalf("%v, %v", w, err)
	}
	near(t, "inner of both", float64(w[0].Inner), 0.5, 1e-12)
	if _, err := l.Wedges([]Bend{back, bend}); err == nil {
		t.Error("bends out of order are taken")
	}
}

// TestBendsBind: the fit keeps to what a bend asks, and stops keeping to it
// where the limit is a hair less.
func TestBendsBind(t *testing.T) {
	lim := Limits{RiserMin: 0.19, RiserMax: 0.21, TreadMin: 0.25, TreadMax: 0.5, LandingMin: 0.9}
	bend := Bend{From: 1.1, To: 1.9, Radius: 2, Width: 1.2, MinInner: 0.25}
	lim.Bends = []Bend{bend}
	site := plain(4.0, 2.0)
	f, err := Fit(Point{}, Point{4, 2}, lim, site)
	if err != nil {
		t.Fatal(err)
	}
	wedges, _ := f.Layout.Wedges(lim.Bends)
	if len(wedges) == 0 {
		t.Fatal("no tread lies on the bend")
	}
	least := math.Inf(1)
	for _, w := range wedges {
		least = math.Min(least, float64(w.Inner))
		if w.Inner < 0.25-tol {
			t.Errorf("wedge behind riser %d is %v at the inner edge", w.Riser, w.Inner)
		}
	}
	free := lim
	free.Bends = nil
	g, err := Fit(Point{}, Point{4, 2}, free, site)
	if err != nil || g.Cost > f.Cost {
		t.Fatalf("%v: the bend saves %v", err, g.Cost-f.Cost)
	}
	lim.Bends[0].MinInner = 0.5
	if h, err := Fit(Point{}, Point{4, 2}, lim, site); err == nil {
		if ws, _ := h.Layout.Wedges(lim.Bends); len(ws) > 0 {
			t.Errorf("wedges %v with 0.5 m asked for", ws)
		}
	}
}
