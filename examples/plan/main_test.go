package main

import (
	"fmt"
	"math"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright"
)

const bench = "../../testdata/plans/bench.json"

// A command line that will not do is told what is wrong and what would do.
func TestMisused(t *testing.T) {
	for _, c := range []struct{ args, want string }{
		{bench + " x.json", "x.json: is a second file; give one plan, or set two side by side with -compare x.json " + bench},
		{bench + " -json", "-json: stands after the file; write options before it"},
		{"-table bill -json " + bench, "-json: does not go with -table"},
		{"-table bill -compare x.json -choices " + bench, "-choices: does not go with -table"},
		{"-table bill -section s.svg " + bench, "-section: does not go with -table"},
		{"-table biil " + bench, `-table: "biil" is not a table; write one of takeoff, pieces, cutplan, bill, prices`},
	} {
		var out, complaints strings.Builder
		if code := run(strings.Fields(c.args), nil, &out, &complaints); code != 2 || out.Len() > 0 || !strings.Contains(complaints.String(), c.want) {
			t.Errorf("plan %s exits with %d: %s", c.args, code, complaints.String())
		}
	}
	var out, complaints strings.Builder
	if code := run([]string{"-table", "bill", "-json=false", bench}, nil, &out, &complaints); code != 0 || out.Len() == 0 {
		t.Errorf("-table alone exits with %d: %s", code, complaints.String())
	}
}

// The hours that are printed add up.
func TestHoursAddUp(t *testing.T) {
	line := regexp.MustCompile(`(?m)^  (.+?) +([0-9.]+)  \(([0-9.]+) to ([0-9.]+)\)$`)
	for _, name := range []string{"bench", "earth", "terrace", "halfway", "steepening"} {
		var out, complaints strings.Builder
		if code := run([]string{"../../testdata/plans/" + name + ".json"}, nil, &out, &complaints); code != 0 {
			t.Fatal(complaints.String())
		}
		var sum [3]float64
		found := false
		for _, m := range line.FindAllStringSubmatch(out.String(), -1) {
			for i := range sum {
				var x float64
				fmt.Sscan(m[2+i], &x)
				if m[1] != "all" {
					sum[i] += x
				} else if found = true; math.Abs(x-sum[i]) > 1e-6 {
					t.Errorf("%s: lines of %s add up to %v", name, m[0], sum[i])
				}
			}
		}
		if !found {
			t.Errorf("%s: no hours in all", name)
		}
	}
}

// Of two bills one of which has no prices there is no telling how much more the other is.
func TestCompareUnpriced(t *testing.T) {
	for other, total := range map[string]bool{"orchard": false, "steepening": true} {
		var out, complaints strings.Builder
		if code := run([]string{"-compare", "../../testdata/plans/" + other + ".json", "../../testdata/plans/gentle.json"}, nil, &out, &complaints); code != 0 {
			t.Fatal(complaints.String())
		}
		_, beside, _ := strings.Cut(out.String(), "\nBeside ")
		if beside, _, _ = strings.Cut(beside, "\nCut plan"); strings.Contains(beside, "total, EUR") != total {
			t.Errorf("beside %s: %s", other, beside)
		}
	}
}

// Every move is told, alone or with others, and not too many alone.
func TestMoves(t *testing.T) {
	for _, name := range []string{"bench", "earth", "halfway"} {
		data, err := os.ReadFile("../../testdata/plans/" + name + ".json")
		if err != nil {
			t.Fatal(err)
		}
		plan, err := slopewright.ReadPlan(data)
		if err != nil {
			t.Fatal(err)
		}
		r, err := slopewright.Make(plan)
		if err != nil {
			t.Fatal(err)
		}
		check(t, name, r)
		many := r
		many.Haul.Moves = nil
		many.Haul.Moved = 0
		for i := range 40 {
			x := slopewright.HaulMove{Loose: unit.Volume(40-i) * unit.CubicFoot, Says: "Alone.", FromRiser: i + 1, ToPlace: "heap"}
			if i%3 == 0 {
				x.ToPlace, x.ToRiser = "", i+2
			}
			many.Haul.Moves = append(many.Haul.Moves, x)
			many.Haul.Moved += x.Loose
		}
		if alone := check(t, name+" of 40 moves", many); alone != most {
			t.Errorf("%d of 40 moves are told alone", alone)
		}
	}
}

func check(t *testing.T, name string, r slopewright.Result) (alone int) {
	t.Helper()
	says := moves(r)
	smaller := regexp.MustCompile(`^(.+) loose in (\d+) smaller moves? (to|from) `)
	told := map[string]int{}
	for _, x := range r.Haul.Moves {
		told[x.Says]++
	}
	rest, left := 0, map[string]bool{}
	for _, s := range says {
		if m := smaller.FindStringSubmatch(s); m != nil {
			n := 0
			fmt.Sscan(m[2], &n)
			rest += n
			left[m[1]] = true
		} else if told[s] > 0 {
			alone++
		}
	}
	if alone+rest != len(r.Haul.Moves) {
		t.Errorf("%s: %d moves alone and %d with others are told of %d:\n%s", name, alone, rest, len(r.Haul.Moves), strings.Join(says, "\n"))
	}
	if want := fmt.Sprintf("%s loose in all, in %d moves.", r.Volume(r.Haul.Moved), len(r.Haul.Moves)); says[len(says)-1] != want {
		t.Errorf("%s: ends with %q, want %q", name, says[len(says)-1], want)
	}
	return alone
}
