package slopewright

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/slopewright/slopewright/materials"
)

// On random hills, with boxes built in random ways: every box has its riser and
// its sides, every landing its timber; the pieces of the boxes are those of the
// take-off, and those are what is cut; none is longer than its board; timber is
// its length times its section, and every mass is a volume times a density.
func TestTakeoffOfRandomPlans(t *testing.T) {
	r := rand.New(rand.NewPCG(20, 25))
	one := func(choices ...string) string { return choices[r.IntN(len(choices))] }
	made := 0
	for n := range 60 {
		var readings []string
		x, level := 0.0, 0.0
		for range 4 + r.IntN(6) {
			readings = append(readings, fmt.Sprintf(`{"at": %.3f, "level": %.3f, "crossfall": %.2f}`, x, level, r.Float64()*0.6-0.3))
			x += 0.8 + 1.6*r.Float64()
			level += 0.1 + 0.7*r.Float64()
		}
		bends := ""
		if r.IntN(3) == 0 {
			bends = fmt.Sprintf(`, "bends": [{"at": %.2f, "radius": "4 m", "turn": %d}]`, x/4, 10+r.IntN(30))
		}
		gravel := one("crushed-base", "ballast")
		build := fmt.Sprintf(`{"timber": %q, "joint": %q, "landing_back": true, "base_gravel": %q, "splice_lap": %q, "face": %q, "bank_to": "600 mm", "footing": {"kind": %q}, "waste": {"gravel": %.2f}}`,
			one("100x200", "6x6"), one("butt", "half-lap", "rebate"), gravel, one("0 mm", "300 mm"), one("", "2x6", "1x6"), one("piers", "buried", "concrete"), r.Float64()/2)
		doc := `{"format": "slopewright.plan/1", "units": "metric", "ground": {"method": "levels", "readings": [` + strings.Join(readings, ", ") + `]},
		  "path": {"width": "1.1 m"` + bends + `}, "steps": {"rules": "own", "max_cut": "3 m", "max_raise": "1 m", "landing": {"min": "0.9 m"}}, "build": ` + build + `}`
		p, err := ReadPlan([]byte(doc))
		if err != nil {
			t.Fatal(err)
		}
		res, err := Make(p)
		if err != nil {
			continue // no steps there, or none with such sides
		}
		made++
		type key struct {
			use, section string
			length       float64 // to 1/100 mm
		}
		at := func(use, section string, l float64) key { return key{use, section, math.Round(l * 1e5)} }
		boxes, cut := map[key]int{}, map[key]int{}
		uses := map[string]int{}
		for _, b := range res.Build.Boxes {
			count := map[string]int{}
			for _, x := range b.Pieces {
				boxes[at(x.Use, x.Section, float64(x.Length))] += x.Count
				count[x.Use] += x.Count
				uses[x.Use] += x.Count
			}
			s := res.Layout.Steps[b.Riser-1]
			courses := res.Build.Box.Courses
			if count["riser-timber"] < courses || count["side-timber"] < courses || s.Landing && count["landing-timber"] < courses {
				t.Errorf("plan %d: box %d of %d courses has %v (landing %v)", n, b.Riser, courses, count, s.Landing)
			}
		}
		if len(res.Build.Boxes) != len(res.Layout.Steps) {
			t.Errorf("plan %d: %d boxes for %d risers", n, len(res.Build.Boxes), len(res.Layout.Steps))
		}
		for _, b := range res.CutPlan.Boards {
			long := 0.0
			for _, x := range b.Pieces {
				cut[at(x.Use, b.Section, float64(x.Length))] += b.Count
				long += float64(x.Length)
			}
			if long > float64(b.Length)+1e-9 {
				t.Errorf("plan %d: pieces of %v m on a board of %v", n, long, b.Length)
			}
		}
		for k, c := range boxes {
			if k.use != "pin" && k.use != "foot-timber" && cut[k] != c {
				t.Errorf("plan %d: %d of %v are taken off, %d cut", n, c, k, cut[k])
			}
		}
		for _, i := range res.Takeoff {
			switch {
			case i.Section != "" && i.Volume != nil:
				s, err := materials.FramedSectionByName(i.Section)
				if err != nil {
					t.Fatal(err)
				}
				if want := s.Volume(*i.Length); math.Abs(float64(*i.Volume-want)) > 1e-9 {
					t.Errorf("plan %d: %s of %v m is %v m³, want %v", n, i.Item, *i.Length, *i.Volume, want)
				}
				density := materials.DefaultBoxDetail().TimberDensity
				if s.Round {
					density = materials.SteelDensity
				}
				if want := density.Of(*i.Volume).Kilograms(); math.Abs(i.Mass.Kilograms()-want) > 1e-6*want {
					t.Errorf("plan %d: %s weighs %v, want %v kg", n, i.Item, i.Mass.Kilograms(), want)
				}
				if c := uses[i.Item]; i.Item != "pin" && i.Item != "foot-timber" && c != i.Count {
					t.Errorf("plan %d: %d %s in the boxes, %d in the take-off", n, c, i.Item, i.Count)
				}
			case i.Item == "base-gravel":
				a, _ := materials.AggregateByID(gravel)
				if want := a.Compacted.Of(*i.Volume).Kilograms(); math.Abs(i.Mass.Kilograms()-want) > 1e-6*want {
					t.Errorf("plan %d: base weighs %v, want %v kg", n, i.Mass.Kilograms(), want)
				}
				if want := float64(*i.Volume) * (1 + i.Waste) * a.Factor(); math.Abs(float64(*i.Order)-want) > 1e-9 {
					t.Errorf("plan %d: order %v m³ of base, want %v", n, *i.Order, want)
				}
			}
		}
	}
	if made < 30 {
		t.Errorf("only %d plans could be made", made)
	}
}

// Many short blocks beside the treads, and rough ends that nothing is counted for, are told
// of with the cut plan, and what would do.
func TestCutPlanTellsOfShortBlocksAndRoughEnds(t *testing.T) {
	const blocks, ends = "80 of 92 side timbers are shorter than 300 mm, the shortest 130 mm", "squaring rough ends"
	for name, change := range map[string]func(*Plan){"earth": func(p *Plan) {}, "bench": func(p *Plan) {}, "trimmed": func(p *Plan) { p.Build.Trim = &Length{Length: 0.005} }} {
		demo := name
		if name == "trimmed" {
			demo = "earth"
		}
		if n := strings.Join(changed(t, demo, change).CutPlan.Notes, "\n"); strings.Contains(n, blocks) != (demo == "earth") || strings.Contains(n, ends) == (name == "trimmed") {
			t.Errorf("%s: %s", name, n)
		}
	}
}

// What of an item is needed is one figure, in the take-off as in the bill.
func TestNeededIsOneFigure(t *testing.T) {
	for _, name := range demos {
		r := makeDemo(t, name)
		need := map[string]string{}
		for _, l := range r.Bill.Lines {
			need[l.Item] = l.Need
		}
		for _, x := range r.Takeoff {
			_, of, _ := strings.Cut(x.Says, " ")
			_, unit, sold := strings.Cut(need[x.Item], " ")
			if sold && of == unit && x.Says != need[x.Item] {
				t.Errorf("%s: %s is %s in the take-off and %s in the bill", name, x.Item, x.Says, need[x.Item])
			}
		}
	}
}
