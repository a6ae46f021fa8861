package stair

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"
)

func TestText(t *testing.T) {
	for _, c := range []struct {
		m    float64
		want string
	}{
		{0, "0 mm (0 in)"},
		{7.75 * 0.0254, "196.9 mm (7 3/4 in)"},
		{11.9999 * 0.0254, "304.8 mm (1 ft 0 in)"},
		{0.5 * 0.0254, "12.7 mm (1/2 in)"},
		{1.609725, "1.610 m (5 ft 3 3/8 in)"},
		{8*0.3048 + 0.0127, "2.451 m (8 ft 0 1/2 in)"},
		{-0.3048, "-304.8 mm (-1 ft 0 in)"},
		{math.Inf(1), "+Inf"},
		{math.NaN(), "NaN"},
	} {
		if got := text(unit.Length(c.m)); got != c.want {
			t.Errorf("%v: %q, want %q", c.m, got, c.want)
		}
	}
	for _, c := range []struct {
		a    Amount
		want string
	}{
		{ratio(1.0 / 48), "1:48 (2.08 %)"}, {ratio(0), "0 %"}, {count(14), "14"}, {degrees(42), "42°"}, {Amount{}, ""},
		{length(0.15), "150 mm (5 7/8 in)"},
	} {
		if got := c.a.String(); got != c.want {
			t.Errorf("%+v: %q, want %q", c.a, got, c.want)
		}
	}
}

// TestTinySites: a site of one riser has no tread and can't be; one of two has
// one tread.
func TestTinySites(t *testing.T) {
	lim := Limits{RiserMin: 0.1, RiserMax: 0.2, TreadMin: 0.25, TreadMax: 0.9, LandingMin: 0.9}
	_, err := Fit(Point{}, Point{1, 0.15}, lim, plain(1, 0.15))
	var f Faults
	if !errors.As(err, &f) || !strings.Contains(err.Error(), "one riser has no tread") || !strings.Contains(err.Error(), "risers down to 50 mm") {
		t.Errorf("one riser: %v", err)
	}
	fit, err := Fit(Point{}, Point{0.6, 0.3}, lim, plain(0.6, 0.3))
	if err != nil || fit.Layout.Risers != 3 {
		t.Errorf("two or three risers: %+v %v", fit.Layout, err)
	}
	fit, err = Fit(Point{}, Point{0.25, 0.2}, lim, plain(0.25, 0.2))
	if err != nil || fit.Layout.Risers != 2 || len(fit.Layout.Steps) != 2 || fit.Layout.Steps[0].Tread != 0.25 {
		t.Errorf("two risers: %+v %v", fit.Layout, err)
	}
	// Two single risers with a landing between, where that is allowed.
	lim.MinFlightRisers = 1
	fit, err = Fit(Point{}, Point{2, 0.3}, lim, plain(2, 0.3))
	if err != nil || len(fit.Layout.Flights) < 2 || fit.Layout.Flights[0].Tread != 0 && fit.Layout.Flights[0].Risers == 1 {
		t.Errorf("single risers: %+v %v", fit.Layout, err)
	}
	if err == nil && fit.Layout.Validate() != nil {
		t.Error(fit.Layout.Validate())
	}
}
