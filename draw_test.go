//go:build !js || whole

package slopewright

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/materials"
)

var pathPoint = regexp.MustCompile(`([ML])(-?[0-9.]+) (-?[0-9.]+)`)

// drawnPaths reads the paths of a class back out of a drawing at a scale, in
// metres of the work, x to the right and y downwards.
func drawnPaths(t testing.TB, svg, class string, scale float64) (out [][][2]float64) {
	t.Helper()
	for _, e := range regexp.MustCompile(`<path class="`+class+`"[^>]* d="([^"]*)"`).FindAllStringSubmatch(svg, -1) {
		for _, m := range pathPoint.FindAllStringSubmatch(e[1], -1) {
			if m[1] == "M" {
				out = append(out, nil)
			}
			out[len(out)-1] = append(out[len(out)-1], [2]float64{atScale(t, m[2], scale), atScale(t, m[3], scale)})
		}
	}
	return out
}

func atScale(t testing.TB, px string, scale float64) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(px, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v * mmPerPx * scale / 1000
}

// bounds of what is drawn.
func bounds(p [][2]float64) (x0, y0, x1, y1 float64) {
	x0, y0, x1, y1 = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, v := range p {
		x0, y0, x1, y1 = math.Min(x0, v[0]), math.Min(y0, v[1]), math.Max(x1, v[0]), math.Max(y1, v[1])
	}
	return x0, y0, x1, y1
}

func isNear(t testing.TB, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s measures %.4f m, want %.4f", what, got, want)
	}
}

// framedDemo is a demo with all its steps on stringers.
func framedDemo(t testing.TB, name string) Result {
	t.Helper()
	p, _, _ := readDemo(t, "testdata/plans/"+name+".json")
	p.Steps.Kinds, p.Stock = []string{"framed"}, nil
	r, err := Make(p)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Frames measure in the plan what the result has of them: stringers, beams,
// posts, landings and their boards.
func TestPlanFramesDrawing(t *testing.T) {
	const scale = 20.0
	platforms := 0
	terrace := func() Result { _, r, _ := readDemo(t, "testdata/plans/terrace.json"); return r }
	for name, r := range map[string]Result{"first": framedDemo(t, "first"), "steepening": framedDemo(t, "steepening"), "terrace": terrace()} {
		svg := r.DrawToScale(Drawing{Name: "plan"}, scale)
		risers := drawnPaths(t, svg, "sw-riser", scale)
		x0, top, _, bottom := bounds(risers[0])
		width := r.Build.Width.Meters()
		isNear(t, name+": width", bottom-top, width, 1e-3)
		x0 -= r.Layout.Steps[0].Station.Meters()
		half := (top + bottom) / 2

		var posts, beams, decks, edges int
		drawnPosts, drawnBeams := drawnPaths(t, svg, "sw-post", scale), drawnPaths(t, svg, "sw-beam", scale)
		drawnDecks, drawnEdges := drawnPaths(t, svg, "sw-deck-board", scale), drawnPaths(t, svg, "sw-stringer-edge", scale)
		inner := drawnPaths(t, svg, "sw-stringer", scale)
		stringers := 0
		for _, f := range r.Build.Framed {
			from := r.stationOf(f.First)
			to := from + f.Tread.Meters()*float64(f.Risers-1)
			thick := r.dressed(f.Stringer).Thickness.Meters()
			// The outer stringers, then the edges of the landing.
			for _, o := range []float64{-width / 2, -width/2 + thick, width/2 - thick, width / 2} {
				e := drawnEdges[edges]
				edges++
				isNear(t, name+": stringer from", e[0][0]-x0, from, 1e-3)
				isNear(t, name+": stringer to", e[len(e)-1][0]-x0, to, 1e-3)
				isNear(t, name+": stringer beside the middle", e[0][1]-half, o, 1e-3)
			}
			for i := 1; i < f.Stringers-1; i++ {
				for k := range 2 {
					e := inner[stringers]
					stringers++
					isNear(t, name+": inner stringer", e[0][1]-half, -width/2+f.Spacing.Meters()*float64(i)+thick*float64(k), 1e-3)
				}
			}
			count := map[string]int{}
			section := map[string]materials.Section{}
			for _, p := range f.Pieces {
				count[p.Use] += p.Count
				section[p.Use] = r.dressed(p.Section)
			}
			var at []float64
			for k := range f.Supports {
				at = append(at, from+f.Bay.Meters()*float64(k+1))
			}
			if f.Platform > 0 {
				platforms++
				ply := section["beam"].Thickness.Meters() * float64(count["beam"]) / float64(f.Supports+2)
				at = append(at, to+ply/2, to+f.Platform.Meters()-ply/2)
				for _, o := range []float64{-width / 2, width / 2} {
					e := drawnEdges[edges]
					edges++
					isNear(t, name+": edge of the landing", e[0][1]-half, o, 1e-3)
					isNear(t, name+": landing", e[len(e)-1][0]-e[0][0], f.Platform.Meters(), 1e-3)
					isNear(t, name+": landing from", e[0][0]-x0, to, 1e-3)
				}
				edges++ // across the head
				for k := 1; k < count["deck-board"]; k++ {
					isNear(t, name+": joint of the decking", drawnDecks[decks][0][0]-x0, to+f.Platform.Meters()*float64(k)/float64(count["deck-board"]), 1e-3)
					decks++
				}
			}
			for _, s := range at {
				a, b := drawnBeams[beams], drawnBeams[beams+1]
				beams += 2
				isNear(t, name+": beam", (a[0][0]+b[0][0])/2-x0, s, 1e-3)
				isNear(t, name+": beam's thickness", b[0][0]-a[0][0], section["beam"].Thickness.Meters()*float64(count["beam"])/float64(len(at)), 1e-3)
			}
			if count["post"] > 0 {
				side := section["post"].Thickness.Meters()
				rows := count["post"] / f.Posts
				for _, s := range at[len(at)-rows:] {
					for i := range f.Posts {
						x, y, x1, y1 := bounds(drawnPosts[posts])
						posts++
						isNear(t, name+": post along", (x+x1)/2-x0, s, 1e-3)
						isNear(t, name+": post", x1-x, side, 1e-3)
						isNear(t, name+": post across", (y+y1)/2-half, -width/2+side/2+(width-side)*float64(i)/float64(f.Posts-1), 1e-3)
					}
				}
			}
		}
		// The key has four lines of decking of its own.
		if posts != len(drawnPosts) || beams != len(drawnBeams) || decks+4*min(decks, 1) != len(drawnDecks) || edges != len(drawnEdges) || stringers != len(inner) {
			t.Errorf("%s: drawn are %d posts, %d lines of beams, %d of decking, %d and %d of stringers; the result has %d, %d, %d, %d and %d", name,
				len(drawnPosts), len(drawnBeams), len(drawnDecks), len(drawnEdges), len(inner), posts, beams, decks, edges, stringers)
		}
	}
	if platforms < 2 {
		t.Errorf("only %d landings are looked at", platforms)
	}
}

// The heap in the plan is as broad as the result's, one for each place that has
// one, and told of beside it.
func TestPlanHeapDrawing(t *testing.T) {
	const scale = 25.0
	for _, name := range []string{"bench", "orchard", "earth"} {
		_, r, _ := readDemo(t, "testdata/plans/"+name+".json")
		svg := r.DrawToScale(Drawing{Name: "plan"}, scale)
		var got, want []float64
		for _, m := range regexp.MustCompile(`<circle class="sw-heap" cx="[^"]*" cy="[^"]*" r="([^"]*)"`).FindAllStringSubmatch(svg, -1) {
			if v := atScale(t, m[1], scale); v > 0.1 { // the key has one too
				got = append(got, 2*v)
			}
		}
		places := 0
		for _, p := range r.Haul.Places {
			places++
			if p.Breadth > 0 {
				want = append(want, p.Breadth.Meters())
			}
			if !strings.Contains(svg, p.Name[1:]) {
				t.Errorf("%s: nothing is said of the %s", name, p.Name)
			}
		}
		if len(got) != len(want) || places != len(drawnPaths(t, svg, "sw-way", scale))/2 {
			t.Fatalf("%s: heaps of %v m are drawn, want %v", name, got, want)
		}
		for i := range got {
			isNear(t, name+": heap", got[i], want[i], 2e-3)
		}
	}
}

// The flight from the side measures what the result has: rise, going, treads,
// bays, pad and handrail.
func TestFlightDrawing(t *testing.T) {
	const scale = 20.0
	seen := map[string]int{}
	for name, r := range map[string]Result{"first": framedDemo(t, "first"), "steepening": framedDemo(t, "steepening"), "terrace": func() Result { _, r, _ := readDemo(t, "testdata/plans/terrace.json"); return r }()} {
		for i, f := range r.Build.Framed {
			svg := r.DrawToScale(Drawing{Name: "flight", Flight: i + 1}, scale)
			up := r.Layout.Riser + unit.Length(r.Layout.Wash)*f.Tread
			long := func(class string, k int) (x, y float64) {
				p := drawnPaths(t, svg, class, scale)
				if len(p) <= k {
					t.Fatalf("%s: flight %d has no %s", name, i+1, class)
				}
				seen[class]++
				x0, y0, x1, y1 := bounds(p[k])
				return x1 - x0, y1 - y0
			}
			going, _ := long("sw-going", 0)
			isNear(t, name+": going", going, f.Tread.Meters()*float64(f.Risers-1), 1e-3)
			_, rise := long("sw-total-rise", 0)
			isNear(t, name+": rise", rise, (r.Layout.Riser + up*unit.Length(f.Risers-1)).Meters(), 1e-3)
			for range f.Supports + 1 {
				if f.Supports > 0 {
					bay, _ := long("sw-bay", 0)
					isNear(t, name+": bay", bay, f.Bay.Meters(), 1e-3)
				}
			}
			if f.Pad > 0 {
				wide, deep := long("sw-pad", 0)
				isNear(t, name+": pad", wide, f.Pad.Meters(), 1e-3)
				isNear(t, name+": pad's depth", deep, f.PadDepth.Meters(), 1e-3)
			}
			boards := drawnPaths(t, svg, "sw-tread-board", scale)
			if len(boards) != f.Boards*(f.Risers-1) {
				t.Errorf("%s: %d boards are drawn, want %d treads of %d", name, len(boards), f.Risers-1, f.Boards)
			}
			for k := 1; k < f.Risers-1; k++ {
				a, b := boards[(k-1)*f.Boards][0], boards[k*f.Boards][0]
				isNear(t, name+": a tread's run", b[0]-a[0], f.Tread.Meters(), 1e-3)
				isNear(t, name+": a tread's rise", a[1]-b[1], up.Meters(), 1e-3)
			}
			// The cut edge of the stringer lies a board under the treads' tops, and
			// its corners where the risers stand.
			s := drawnPaths(t, svg, "sw-stringer", scale)[0]
			for k := 1; k < f.Risers && !f.Solid; k++ {
				isNear(t, name+": corner of the stringer, along", s[2*k-1][0]-s[0][0], f.Tread.Meters()*float64(k-1), 1e-3)
				isNear(t, name+": corner of the stringer, up", s[0][1]-s[2*k-1][1], (r.Layout.Riser + up*unit.Length(k-1) - r.dressed(f.Board).Thickness).Meters(), 1e-3)
			}
		}
	}
	if seen["sw-pad"] == 0 || seen["sw-bay"] == 0 {
		t.Errorf("looked at %v", seen)
	}
}

// The choices lie where their figures are: the grid's figures, read off the
// drawing, give every point's digging and hours back.
func TestChoicesDrawingMeasures(t *testing.T) {
	p, r, _ := readDemo(t, "testdata/plans/bench.json")
	var err error
	if r.Choices, err = Choices(p); err != nil {
		t.Fatal(err)
	}
	svg := r.Draw(Drawing{Name: "choices", Width: 800})
	// Figures on the axes: those along x are set in the middle, those up y end at it.
	type mark struct{ px, v float64 }
	var xs, ys []mark
	for _, m := range regexp.MustCompile(`<text class="sw-axis-text" x="([0-9.]+)" y="([0-9.]+)" font-size="11" text-anchor="(middle|end)">(-?[0-9.]+)</text>`).FindAllStringSubmatch(svg, -1) {
		x, _ := strconv.ParseFloat(m[1], 64)
		y, _ := strconv.ParseFloat(m[2], 64)
		v, _ := strconv.ParseFloat(m[4], 64)
		if m[3] == "middle" {
			xs = append(xs, mark{x, v})
		} else {
			ys = append(ys, mark{y - 4, v})
		}
	}
	if len(xs) < 2 || len(ys) < 2 {
		t.Fatalf("the axes have %d and %d figures", len(xs), len(ys))
	}
	off := func(m []mark, px float64) float64 {
		a, b := m[0], m[len(m)-1]
		return a.v + (px-a.px)*(b.v-a.v)/(b.px-a.px)
	}
	points := regexp.MustCompile(`class="sw-point" cx="([0-9.]+)" cy="([0-9.]+)"`).FindAllStringSubmatch(svg, -1)
	for i, c := range r.Choices {
		x, _ := strconv.ParseFloat(points[i][1], 64)
		y, _ := strconv.ParseFloat(points[i][2], 64)
		dig, hours := c.CutBank.CubicMeters()/unit.CubicYard.CubicMeters(), float64(c.Hours)
		if math.Abs(off(xs, x)-dig) > 0.01*(1+dig) || math.Abs(off(ys, y)-hours) > 0.01*(1+hours) {
			t.Errorf("choice %d is drawn at %.3f cu yd and %.2f h, it is %.3f and %.2f", i, off(xs, x), off(ys, y), dig, hours)
		}
	}
}

// The view measures along its axes: across the path, along it and up are at one
// scale, for every riser of a straight path.
func TestViewDrawing(t *testing.T) {
	for _, name := range []string{"bench", "terrace", "first"} {
		_, r, _ := readDemo(t, "testdata/plans/"+name+".json")
		faces := drawnPaths(t, r.Draw(Drawing{Name: "view", Width: 900}), "sw-riser-face", 1)
		if len(faces) != len(r.Layout.Steps) {
			t.Fatalf("%s: %d risers in the view, want %d", name, len(faces), len(r.Layout.Steps))
		}
		k := math.Hypot(faces[0][1][0]-faces[0][0][0], faces[0][1][1]-faces[0][0][1]) / r.Build.Width.Meters()
		foot := faces[len(faces)-1][1]
		for i, s := range r.Layout.Steps {
			p := faces[len(faces)-1-i][1] // its front upper corner
			along := (s.Station - r.Layout.Steps[0].Station).Meters()
			up := (s.Level - r.Layout.Steps[0].Level).Meters()
			isNear(t, name+": along the view", (p[0]-foot[0])/k, along*math.Sqrt(3)/2, 2e-3)
			isNear(t, name+": up the view", (foot[1]-p[1])/k, along/2+up, 2e-3)
		}
	}
}

// What is dug beyond the head, for the sides of the last box, is told of as lying there
// and drawn: on a hill that goes on it can be the deepest.
func TestDugBeyondTheHead(t *testing.T) {
	p, err := ReadPlan([]byte(`{"format": "slopewright.plan/1", "units": "metric", "path": {"width": "1.2 m", "head": {"at": "3.6 m", "level": "1.14 m"}}, "ground": {"method": "levels",
		"readings": [{"at": 0, "level": 0}, {"at": "3 m", "level": "0.9 m"}, {"at": "4 m", "level": "1.3 m"}, {"at": "6 m", "level": "2.6 m"}]}}`))
	if err != nil {
		t.Fatal(err)
	}
	r, _ := made(t, p)
	if says := r.Answer[2].Says; !strings.Contains(says, ", 600 mm beyond the head,") {
		t.Error(says)
	}
	cut := drawnPaths(t, r.DrawToScale(Drawing{Name: "section"}, 20), "sw-cut", 20)
	if len(cut) == 0 {
		t.Fatal("no cut is drawn")
	}
	_, y0, x1, y1 := bounds(cut[len(cut)-1])
	x0, _, _, _ := bounds(cut[0])
	isNear(t, "cut to beyond the head", x1-x0, r.Dig.Deepest.Station.Meters(), 0.01)
	isNear(t, "cut there", y1-y0, r.Dig.Deepest.Depth.Meters(), 0.01)
}

// In the plan every riser has its number, round bends too, where a tread is as wide as that.
func TestPlanNumbersSlantedTreads(t *testing.T) {
	r := changed(t, "orchard", func(*Plan) {})
	svg := r.Draw(Drawing{Name: "plan", Width: 724})
	for n := 1; n <= r.Layout.Risers; n++ {
		if !strings.Contains(svg, ">"+strconv.Itoa(n)+"</text>") {
			t.Errorf("riser %d has no number", n)
		}
	}
}
