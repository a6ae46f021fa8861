//go:build !js || whole

package slopewright

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"
)

// written is the figure that a volume is written as.
func written(t *testing.T, says string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.Fields(says)[0], 64)
	if err != nil {
		t.Fatal(says)
	}
	return x
}

// What a reader can add up adds up to what is written beside it.
func TestVolumesAddUp(t *testing.T) {
	for _, name := range []string{"bench", "earth", "gentle", "halfway", "offer", "orchard", "steepening", "terrace"} {
		r := makeDemo(t, name)
		parts, split := 0.0, map[string]float64{}
		for _, l := range r.Dig.Lines {
			if strings.HasPrefix(l.Key, "parts.") {
				parts += written(t, l.Says)
			} else if _, ok := split[l.Key]; !ok { // the last lines are checks
				split[l.Key] = written(t, l.Says)
			}
		}
		if whole := written(t, r.Volume(r.Dig.CutBank)); math.Abs(parts-whole) > 1e-9 {
			t.Errorf("%s: what is dug is written as parts of %v, and as %v", name, parts, whole)
		}
		if whole := written(t, r.Volume(r.Dig.CutBank-r.Dig.TopsoilBank)); r.Dig.BorrowBank == 0 && math.Abs(split["reused_bank"]+split["spoil_bank"]-whole) > 1e-9 {
			t.Errorf("%s: %v goes back and %v is left of %v", name, split["reused_bank"], split["spoil_bank"], whole)
		}
		cut, fill, backfill := r.StepVolumes()
		for what, x := range map[string]struct {
			says  []string
			whole unit.Volume
		}{"cut": {cut, r.Dig.CutBank}, "fill": {fill, r.Dig.FillCompacted}, "backfill": {backfill, r.Dig.BackfillCompacted}} {
			sum := 0.0
			for _, s := range x.says {
				sum += written(t, s)
			}
			if whole := written(t, r.Volume(x.whole)); math.Abs(sum-whole) > 1e-9 {
				t.Errorf("%s: the steps' %s is written as parts of %v, and as %v", name, what, sum, whole)
			}
		}
	}
}

func TestShares(t *testing.T) {
	for _, c := range []struct {
		imperial bool
		whole    float64
		parts    []unit.Volume
		want     string
	}{
		{false, 0.09, []unit.Volume{0.045, 0.045}, "0.04 m³, 0.05 m³"},
		{false, 0.016, []unit.Volume{0.004, 0.004, 0.004, 0.004, 0}, "0.01 m³, 0.01 m³, 0 m³, 0 m³, 0 m³"},
		{false, 12.34, []unit.Volume{12.3, 0.04}, "12.26 m³, 0.04 m³"},
		{false, 123.4, []unit.Volume{100.2, 23.2}, "99.9 m³, 23.1 m³"},
		{false, 1, []unit.Volume{0.514, 0.3}, "0.51 m³, 0.3 m³"}, // not all of it
		{false, 0, []unit.Volume{0, 0}, "0 m³, 0 m³"},
		{true, 1.5, []unit.Volume{1 * unit.CubicYard, 1.5 - 1*unit.CubicYard}, "1 cu yd, 0.96 cu yd"},
		{false, 1, nil, ""},
	} {
		if got := strings.Join((words{c.imperial}).shares(unit.Volume(c.whole), c.parts...), ", "); got != c.want {
			t.Errorf("%v of %v: %s, want %s", c.parts, c.whole, got, c.want)
		}
	}
}

// Gravel to order is told as it is bought where it comes in no packs.
func TestOrderedIsWhatIsBought(t *testing.T) {
	r := makeDemo(t, "orchard")
	for _, l := range r.Bill.Lines {
		if l.Item == "topping" && !strings.Contains(r.Answer[6].Says+r.Answer[7].Says+r.Answer[8].Says, l.Buy+" of topping") {
			t.Errorf("%s of topping are bought, and %q", l.Buy, r.Answer)
		}
	}
}

// Whose the sizes of loads are is said: assumed, or the plan's own barrow.
func TestSizesOfLoadsAreSaid(t *testing.T) {
	p, _, _ := readDemo(t, "testdata/plans/earth.json")
	for _, own := range []bool{false, true} {
		want, full, count := "88 barrow loads of 57 l", "Sizes of loads are assumed.", 88
		if own {
			p.Crew.Rates.Barrow = &Quantity{Value: 0.1, Text: "100 litres"}
			want, full, count = "50 barrow loads of 100 litres", "Sizes of loads but the barrow's are assumed.", 50
		}
		r, _ := made(t, p)
		if says := r.Answer[3].Says; !strings.Contains(says, want) || !strings.HasSuffix(says, full) {
			t.Error(says)
		}
		if l := r.Dig.Loads[0]; l.Count != count || l.Assumed == own || !r.Dig.Loads[1].Assumed {
			t.Errorf("%+v", r.Dig.Loads)
		}
	}
}

// One load is no full one: what it can be is said apart. And gravel is ordered by the
// number that is said of it.
func TestOneLoadAndItsGravel(t *testing.T) {
	r := makeDemo(t, "gentle")
	if says := r.Answer[3].Says; !strings.Contains(says, "or 1 dump truck load (it takes up to 7.65 m³)") {
		t.Error(says)
	}
	out, err := r.Bytes()
	if err != nil || !strings.Contains(string(out), "5/8 in minus: need is compacted in place, order is loose, 1.298 times that and the waste") {
		t.Errorf("%v: what is said of topping is not 3700/2850", err)
	}
}

// Numbers in documents have no more digits than mean something.
func TestNumbersOfResultsAreShort(t *testing.T) {
	out, err := makeDemo(t, "gentle").Bytes()
	if err != nil {
		t.Fatal(err)
	}
	for _, doc := range [][]byte{Call(demo(t, "gentle")), out} {
		if long := regexp.MustCompile(`[:,\[ ]-?[0-9]+\.[0-9]{13,}`).Find(doc); long != nil {
			t.Errorf("%s", long)
		}
	}
}
