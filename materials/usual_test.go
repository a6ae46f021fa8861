package materials

import (
	"strings"
	"testing"
)

// Every section has usual lengths, each once and without a price, and they can
// be cut.
func TestUsualStock(t *testing.T) {
	for _, s := range append(Sections(), FramedSections()...) {
		stock := UsualStock(s)
		if len(stock) < 2 {
			t.Errorf("%s: %v", s.Name, stock)
			continue
		}
		for i, x := range stock {
			if x.Section != s.Name || !x.Unpriced || x.Available != 0 || (i > 0 && x.Length <= stock[i-1].Length) {
				t.Errorf("%s: %+v", s.Name, x)
			}
		}
		plan, err := Cut([]Piece{{Section: s.Name, Length: mm(550), Count: 7}}, stock, CutOptions{Kerf: mm(3)})
		if err != nil || !plan.Proven || plan.Groups[0].Priced {
			t.Errorf("%s: %+v, %v", s.Name, plan, err)
		}
		if !s.Round && s.Width < mm(50) && stock[len(stock)-1].Length > mm(3000) {
			t.Errorf("%s of %v", s.Name, stock[len(stock)-1].Length)
		}
		if imperial := strings.HasPrefix(s.Name, "6x") || strings.HasPrefix(s.Name, "5/4x"); imperial && stock[0].Length != in(96) {
			t.Errorf("%s: shortest %v", s.Name, stock[0].Length)
		}
	}
}

func TestNominalInches(t *testing.T) {
	for name, want := range map[string]float64{
		"6x6": 6, "5/4x6": 1.25, "1x8": 1, "2x12": 2, "100x200": 0, "47x145": 0, "no4-bar": 0, "5/0x6": 0, "5/": 0, "/4x6": 0, "": 0, "NaNx6": 0, "-2x6": 0,
	} {
		if got := nominalInches(name); got != want {
			t.Errorf("%q: %v, want %v", name, got, want)
		}
	}
}
