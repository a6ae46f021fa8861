package slopewright

import (
	"fmt"
	"github.com/google/go-cmp/cmp"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"
)

// changed makes a demo plan after a change to its document.
func changed(t *testing.T, name string, change func(*Plan)) Result {
	t.Helper()
	p, err := ReadPlan(demo(t, name))
	if err != nil {
		t.Fatal(err)
	}
	change(&p)
	r, err := Make(p)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return r
}

func mm(x float64) *Length { l := Metres(x / 1000); return &l }

// Each preference is least in what it prefers: no other preference's layout of
// the same hill is better in it, as the fit measures it.
func TestPreferences(t *testing.T) {
	for _, name := range demos {
		got := map[string]Result{}
		for _, prefer := range []string{"digging", "hours", "cost", "walking"} {
			got[prefer] = changed(t, name, func(p *Plan) { p.Steps.Prefer = prefer })
			sound(t, got[prefer])
		}
		for prefer, r := range got {
			if d := got["digging"].Dig.CutBank; r.Dig.CutBank < d-1e-6 {
				t.Errorf("%s: %s digs %v, digging %v", name, prefer, r.Dig.CutBank, d)
			}
			if w := got["walking"].Layout.Misfit; r.Layout.Misfit < w-2e-3 {
				t.Errorf("%s: %s is %v out of step, walking %v", name, prefer, r.Layout.Misfit, w)
			}
			// Hours are fitted by linear rates; the full reckoning may differ a little.
			if h := got["hours"].Hours.Likely; r.Hours.Likely < h*0.97 {
				t.Errorf("%s: %s takes %v hours, hours %v", name, prefer, r.Hours.Likely, h)
			}
		}
	}
}

// An end free in a window digs no more than the same end fixed, lies within the
// window and on the ground.
func TestSlack(t *testing.T) {
	for _, name := range demos {
		fixed := changed(t, name, func(*Plan) {})
		free := changed(t, name, func(p *Plan) {
			p.Path.Foot.Slack, p.Path.Head.Slack = mm(250), mm(250)
		})
		sound(t, free)
		if free.Dig.CutBank > fixed.Dig.CutBank+1e-9 {
			// The trenches' share is left out where the ends are free.
			if d := free.Dig.CutBank - fixed.Dig.CutBank; d > 0.02 {
				t.Errorf("%s: with free ends %v is dug, with fixed ones %v", name, free.Dig.CutBank, fixed.Dig.CutBank)
			}
		}
		if d := free.Ground.Datum.Station - fixed.Ground.Datum.Station; math.Abs(d.Meters()) > 0.25+1e-9 {
			t.Errorf("%s: the foot moved by %v", name, d)
		}
		if p := free.Ground.Points; math.Abs(levelAt(p, 0)) > 1e-9 || math.Abs(levelAt(p, free.Layout.Run.Meters())-free.Layout.Rise.Meters()) > 1e-9 {
			t.Errorf("%s: the ends are not on the ground", name)
		}
	}
}

func levelAt(p []GroundPoint, x float64) float64 {
	for i := 1; i < len(p); i++ {
		a, b := p[i-1], p[i]
		if x <= b.Station.Meters()+1e-9 && x >= a.Station.Meters()-1e-9 {
			f := (x - a.Station.Meters()) / (b.Station - a.Station).Meters()
			return a.Level.Meters() + f*(b.Level-a.Level).Meters()
		}
	}
	return math.NaN()
}

// Framed flights: nothing but stringers digs only clearances and footings, buys
// no gravel but the pads', and needs no box; mixed, each kind has its own.
func TestFramed(t *testing.T) {
	all := changed(t, "steepening", func(p *Plan) { p.Steps.Kinds = []string{"framed"} })
	for _, f := range all.Layout.Flights {
		if f.Kind != "framed" {
			t.Errorf("a %s flight where only framed ones are allowed", f.Kind)
		}
	}
	if all.Dig.FootingBank <= 0 || all.Dig.BackfillCompacted != 0 && len(all.Layout.Landings) == 0 {
		t.Errorf("footings %v, backfill %v", all.Dig.FootingBank, all.Dig.BackfillCompacted)
	}
	items := map[string]bool{}
	for _, i := range all.Takeoff {
		items[i.Item] = true
	}
	for _, want := range []string{"stringer", "tread-board"} {
		if !items[want] {
			t.Errorf("the take-off of framed flights has no %s", want)
		}
	}
	if items["riser-timber"] {
		t.Error("framed flights with riser timbers of boxes")
	}
	// My own layout, a box flight and then a framed one.
	own := changed(t, "steepening", func(p *Plan) {
		p.Steps.Rules, p.Steps.MaxRise, p.Steps.MaxCut = "own", mm(1000), mm(3000)
		run := 11.3783
		p.Steps.Fixed = []Fixed{
			{Kind: "box", Risers: 11, Tread: mm(700), Landing: mm(1000 * (run - 10*0.7 - 9*0.3))},
			{Kind: "framed", Risers: 10, Tread: mm(300)},
		}
	})
	boxes, framed := 0, 0
	for _, s := range own.Dig.Steps {
		if s.Kind == "framed" {
			framed++
		} else {
			boxes++
		}
	}
	if boxes != 11 || framed != 10 {
		t.Errorf("%d treads on the ground, %d on stringers", boxes, framed)
	}
	// A rail along every open side: then somebody has to answer for its posts.
	guarded := changed(t, "steepening", func(p *Plan) {
		p.Steps.Kinds = []string{"framed"}
		p.Steps.Rules = "own"
		p.Ground = Ground{Method: "levels", Readings: []Reading{
			{At: mm(0), Level: mm(0)}, {At: mm(1500), Level: mm(100)}, {At: mm(2500), Level: mm(300)}, {At: mm(3200), Level: mm(2000)},
		}}
	})
	found := false
	for _, f := range guarded.Findings {
		if strings.Contains(f.Says, "tested connection") {
			found = true
		}
	}
	if !found {
		t.Error("nothing is said of the guard posts' connections")
	}
}

// A bend digs more on the side where more ground lies, makes wedges of the
// treads on it, and cuts their sides to two lengths; a full turn without
// crossfall digs what the straight path digs (Pappus).
func TestBends(t *testing.T) {
	straight := changed(t, "first", func(*Plan) {})
	bent := changed(t, "first", func(p *Plan) {
		p.Path.Bends = []Bend{{At: Metres(1), Radius: Metres(2), Turn: 60}}
		for _, f := range straight.Layout.Flights {
			x := Fixed{Risers: f.Risers, Tread: &Length{Length: f.Tread}}
			p.Steps.Fixed = append(p.Steps.Fixed, x)
		}
		for i, l := range straight.Layout.Landings {
			p.Steps.Fixed[i].Landing = &Length{Length: l.Depth}
		}
	})
	if d := math.Abs((bent.Dig.CutBank - straight.Dig.CutBank).CubicMeters()); d > 1e-9 {
		t.Errorf("without crossfall a bend changes the digging by %v m³", d)
	}
	if len(bent.Layout.Wedges) == 0 {
		t.Fatal("no wedges on the bend")
	}
	for _, w := range bent.Layout.Wedges {
		s := bent.Layout.Steps[w.Riser-1]
		// On an arc of radius R a path of width b is T·(1 ∓ b/2R) deep at its edges.
		part := 0.5 * 4 * 0.3048 / 2
		if whole := s.Station.Meters() >= 1 && (s.Station+s.Tread).Meters() <= 1+2*math.Pi/3; !whole {
			continue
		}
		if math.Abs(w.Inner.Meters()-s.Tread.Meters()*(1-part)) > 1e-9 || math.Abs(w.Outer.Meters()-s.Tread.Meters()*(1+part)) > 1e-9 {
			t.Errorf("riser %d: %v deep inside, %v outside, tread %v", w.Riser, w.Inner, w.Outer, s.Tread)
		}
	}
	lengths := map[unit.Length]bool{}
	for _, b := range bent.CutPlan.Boards {
		for _, p := range b.Pieces {
			if p.Use == "side-timber" {
				lengths[p.Length] = true
			}
		}
	}
	plain := map[unit.Length]bool{}
	for _, b := range straight.CutPlan.Boards {
		for _, p := range b.Pieces {
			if p.Use == "side-timber" {
				plain[p.Length] = true
			}
		}
	}
	if len(lengths) <= len(plain) {
		t.Errorf("sides are cut to %d lengths on the bend, %d on the straight", len(lengths), len(plain))
	}
	p, err := ReadPlan(demo(t, "first"))
	if err != nil {
		t.Fatal(err)
	}
	p.Path.Bends = []Bend{{At: Metres(1), Radius: Metres(0.3), Turn: 60}}
	if _, err := Make(p); err == nil || !strings.Contains(err.Error(), "radius") && !strings.Contains(err.Error(), "bend") {
		t.Errorf("a bend tighter than the path: %v", err)
	}
}

// Half built: the rest is planned from the last step that stands, its risers
// equal, and only the rest is dug and bought.
func TestBuilt(t *testing.T) {
	whole := changed(t, "steepening", func(*Plan) {})
	var stand []Built
	for _, s := range whole.Layout.Steps[:5] {
		// Each came out 4 mm too high.
		stand = append(stand, Built{Riser: s.Riser, At: Length{Length: s.Station}, Level: Length{Length: s.Level + 4*unit.Millimeter}})
	}
	rest := changed(t, "steepening", func(p *Plan) {
		p.Built = stand
		p.Steps.MaxRise = mm(150)
	})
	b := rest.Layout.Built
	if b == nil || b.Risers != 5 || len(b.Heights) != 5 || len(b.Treads) != 4 {
		t.Fatalf("built is %+v", b)
	}
	if d := b.Heights[0] - whole.Layout.Riser; math.Abs(d.Meters()-0.004) > 1e-9 {
		t.Errorf("the first riser stands %v high, planned %v", b.Heights[0], whole.Layout.Riser)
	}
	l := rest.Layout
	if climbed := float64(l.Risers)*l.Riser.Meters() + l.Wash*l.Run.Meters(); math.Abs(climbed-l.Rise.Meters()) > 1e-5 {
		t.Errorf("the rest climbs %.6f of %.6f", climbed, l.Rise.Meters())
	}
	last := rest.StakeOut[len(rest.StakeOut)-1]
	if rest.StakeOut[0].Riser != 6 || last.Riser != 5+l.Risers || last.Station != whole.StakeOut[len(whole.StakeOut)-1].Station {
		t.Errorf("stake-out goes from riser %d to %d at %v", rest.StakeOut[0].Riser, last.Riser, last.Station)
	}
	if rest.Dig.CutBank >= whole.Dig.CutBank || rest.Hours.Likely >= whole.Hours.Likely {
		t.Errorf("the rest digs %v of %v and takes %v of %v hours", rest.Dig.CutBank, whole.Dig.CutBank, rest.Hours.Likely, whole.Hours.Likely)
	}
	pieces := func(r Result, use string) (n int) {
		for _, b := range r.CutPlan.Boards {
			for _, p := range b.Pieces {
				if p.Use == use {
					n += b.Count
				}
			}
		}
		return n
	}
	courses := 1 // 200 mm on edge
	if got, want := pieces(rest, "riser-timber"), l.Risers*courses; got != want {
		t.Errorf("%d riser timbers for the %d risers left", got, want)
	}
	for name, change := range map[string]func(*Plan){
		"gap":  func(p *Plan) { p.Built = append([]Built{}, stand[1:]...) },
		"down": func(p *Plan) { p.Built = append([]Built{}, stand...); p.Built[3].Level = stand[1].Level },
		"head": func(p *Plan) { p.Built = append([]Built{}, stand...); p.Built[4].At = Metres(30) },
	} {
		p, err := ReadPlan(demo(t, "steepening"))
		if err != nil {
			t.Fatal(err)
		}
		change(&p)
		if _, err := Make(p); err == nil || !strings.Contains(err.Error(), "built[") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestCourses(t *testing.T) {
	r := changed(t, "first", func(p *Plan) { p.Steps.Courses = true })
	// A 6x6 is 5 1/2 in, and up to 1 in of bedding may lie under it.
	riser := r.Layout.Riser.Inches()
	if riser < 5.5-0.05 || riser > 6.5+1e-9 {
		t.Errorf("risers of %v in from one course of 6x6", riser)
	}
}

// The choices hold the best for each measure, no choice beats another in all of
// them, and each can be put into the plan as it is.
func TestChoices(t *testing.T) {
	for _, name := range []string{"bench", "steepening", "bench with free ends"} {
		file, _, loose := strings.Cut(name, " with ")
		p, err := ReadPlan(demo(t, file))
		if err != nil {
			t.Fatal(err)
		}
		if loose {
			slack := Metres(0.2)
			p.Path.Foot.Slack, p.Path.Head.Slack = &slack, &slack
		}
		all, err := Choices(p)
		if err != nil {
			t.Fatal(err)
		}
		if len(all) < 3 || len(all) > 7 {
			t.Errorf("%s: %d choices", name, len(all))
		}
		best := map[string]int{}
		for i, c := range all {
			for _, b := range c.BestFor {
				best[b] = i
			}
			// Least walking would be taken for the shortest way.
			if walks := slices.Contains(c.BestFor, "walking"); c.Says == "" || strings.Contains(c.Says, "walking") || walks != strings.Contains(c.Says, "fit the stride best") {
				t.Errorf("%s: choice %d, best for %v, says %q", name, i, c.BestFor, c.Says)
			}
		}
		if len(best) != 4 {
			t.Errorf("%s: best are %v", name, best)
		}
		if r := makeDemo(t, file); !loose && math.Abs((all[best["digging"]].CutBank-r.Dig.CutBank).CubicMeters()) > 1e-6 {
			t.Errorf("%s: the least digging is %v, the plan's %v", name, all[best["digging"]].CutBank, r.Dig.CutBank)
		}
		moved := false
		for i, c := range all {
			if loose != (c.Foot != nil && c.Head != nil) {
				t.Errorf("%s: choice %d has its ends at %v and %v", name, i, c.Foot, c.Head)
			}
			moved = moved || loose && (c.Foot.Length != all[0].Foot.Length || c.Head.Length != all[0].Head.Length)
			q := p
			q.Steps.Fixed, q.Steps.FixedFoot, q.Steps.FixedHead = slices.Clone(c.Steps), c.Foot, c.Head
			r, err := Make(q)
			if err != nil {
				t.Errorf("%s: choice %d laid as the plan's own: %v", name, i, err)
				continue
			}
			if d := math.Abs((r.Dig.CutBank - c.CutBank).CubicMeters()); d > 1e-6 || r.Layout.Risers != c.Risers {
				t.Errorf("%s: choice %d digs %v, laid as own %v", name, i, c.CutBank, r.Dig.CutBank)
			}
		}
		if loose && !moved {
			t.Errorf("%s: every choice has its ends in one place", name)
		}
	}
}

func ExampleMake() {
	plan, err := ReadPlan([]byte(`{
	  "format": "slopewright.plan/1", "units": "metric",
	  "ground": {"method": "levels", "readings": [
	    {"at": "0 m", "level": "0 m"}, {"at": "2 m", "level": "0.70 m"}, {"at": "4 m", "level": "1.35 m"}]},
	  "path": {"width": "1.2 m"}, "steps": {"rules": "own"}}`))
	if err != nil {
		fmt.Println(err)
		return
	}
	result, err := Make(plan)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(result.Layout.Risers, "risers of", result.Length(result.Layout.Riser))
	// Output: 13 risers of 98 mm
}

// What the fit lays keeps to what the rules of its plan forbid.
func TestFittedDemosBreakNoLimit(t *testing.T) {
	files, err := filepath.Glob("testdata/plans/*.json")
	if err != nil {
		t.Fatal(err)
	}
	fitted := 0
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".json")
		if name == "bad" {
			continue
		}
		r := makeDemo(t, name)
		if !r.Layout.Fitted {
			continue
		}
		fitted++
		for _, f := range r.Findings {
			if f.Severity == "stop" {
				t.Errorf("%s: %s: %s", name, f.Where, f.Says)
			}
		}
	}
	if fitted < 8 {
		t.Errorf("only %d demos are fitted", fitted)
	}
}

// Shown in other units, a plan with its sizes is the plan it was.
func TestSizesKeepThePlan(t *testing.T) {
	for _, name := range []string{"first", "bench", "terrace", "orchard"} {
		p, err := ReadPlan(demo(t, name))
		if err != nil {
			t.Fatal(err)
		}
		was, err := Make(p)
		if err != nil {
			t.Fatal(err)
		}
		p.Sizes = was.Units
		p.Units = map[string]string{"metric": "imperial", "imperial": "metric"}[was.Units]
		now, err := Make(p)
		if err != nil {
			t.Fatal(err)
		}
		if now.Units == was.Units {
			t.Errorf("%s: shown in %s", name, now.Units)
		}
		if diff := cmp.Diff(was.Layout.Steps, now.Layout.Steps); diff != "" || was.Dig.CutBank != now.Dig.CutBank || len(was.CutPlan.Boards) != len(now.CutPlan.Boards) ||
			!was.Bill.Total.Equal(now.Bill.Total.Decimal) || was.Bill.Currency != now.Bill.Currency {
			t.Errorf("%s: %d risers, %v m³ and %s %s, before %d, %v and %s %s\n%s", name, now.Layout.Risers, now.Dig.CutBank.CubicMeters(), now.Bill.Total, now.Bill.Currency,
				was.Layout.Risers, was.Dig.CutBank.CubicMeters(), was.Bill.Total, was.Bill.Currency, diff)
		}
	}
}

// TestChoicesDiffer: a line says what its money leaves out, and its treads where
// another has as many risers and flights.
func TestChoicesDiffer(t *testing.T) {
	p, err := ReadPlan(demo(t, "steepening"))
	if err != nil {
		t.Fatal(err)
	}
	all, err := Choices(p)
	if err != nil {
		t.Fatal(err)
	}
	alike := 0
	for i, c := range all {
		if c.Cost == nil || len(c.Unpriced) == 0 || !strings.Contains(c.Says, "The money is without "+list(c.Unpriced)+" (no price).") {
			t.Errorf("choice %d does not say that %v have no price: %s", i, c.Unpriced, c.Says)
		}
		for j, x := range all {
			if i == j || x.Risers != c.Risers || len(x.Flights) != len(c.Flights) {
				continue
			}
			alike++
			_, mine, ok := strings.Cut(c.Says, "From the foot: ")
			_, other, _ := strings.Cut(x.Says, "From the foot: ")
			if !ok || mine == other {
				t.Errorf("choices %d and %d read alike:\n%s\n%s", i, j, c.Says, x.Says)
			}
		}
	}
	if alike == 0 {
		t.Error("no two choices to tell apart")
	}
}

// TestChoicesAreComparedAsTheyStand: the one that digs least comes first and is named
// so, of whatever the fit took for it; the names are of the best when reckoned in full;
// money is compared where most of the goods have prices.
func TestChoicesAreComparedAsTheyStand(t *testing.T) {
	for _, name := range []string{"terrace", "bench"} {
		p, err := ReadPlan(demo(t, name))
		if err != nil {
			t.Fatal(err)
		}
		all, err := Choices(p)
		if err != nil {
			t.Fatal(err)
		}
		for i, c := range all {
			if c.CutBank < all[0].CutBank {
				t.Errorf("%s: choice %d digs less than the first", name, i)
			}
			for _, best := range c.BestFor {
				for j, x := range all {
					if best == "hours" && x.Hours < c.Hours || best == "walking" && x.Misfit < c.Misfit || best == "digging" && x.CutBank < c.CutBank ||
						best == "cost" && x.Cost.LessThan(c.Cost.Decimal) {
						t.Errorf("%s: choice %d is not best for %s: %d is", name, i, best, j)
					}
				}
			}
		}
		says := all[0].Says
		if !strings.Contains(says, " out of step: by so much") {
			t.Errorf("%s: what out of step is is not said: %s", name, says)
		}
		const blind = "Most of the goods have no price, so the money is not compared."
		if name == "terrace" != strings.Contains(says, blind) {
			t.Errorf("%s: %s", name, says)
		}
		for _, c := range all {
			if name == "terrace" == strings.Contains(c.Says, p.Prices.Currency) {
				t.Errorf("%s: money: %s", name, c.Says)
			}
		}
	}
}
