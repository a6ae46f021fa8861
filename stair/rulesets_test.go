package stair

import (
	"encoding/json"
	"math"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"
)

// TestFigures holds every figure of every rule set to one typed from its source
// a second time, so that none can be changed by mistake, added or lost.
func TestFigures(t *testing.T) {
	var v struct {
		Figures map[string][][]any
	}
	load(t, "rules.json", &v)
	units := map[string]float64{"in": 0.0254, "mm": 0.001, "ratio": 1, "count": 1, "deg": math.Pi / 180}
	measures := map[string]Measure{"in": OfLength, "mm": OfLength, "ratio": OfRatio, "count": OfCount, "deg": OfAngle}
	same := func(where string, got Amount, want any, in string) {
		var x float64
		switch w := want.(type) {
		case nil:
			if got != (Amount{}) {
				t.Errorf("%s: %v, want none", where, got)
			}
			return
		case float64:
			x = w * units[in]
		case string: // 1:n
			n, err := strconv.ParseFloat(strings.TrimPrefix(w, "1:"), 64)
			if err != nil {
				t.Fatal(err)
			}
			x = 1 / n
		}
		if got.Of != measures[in] || math.Abs(got.SI()-x) > 1e-12 {
			t.Errorf("%s: %v, want %v %s", where, got, want, in)
		}
	}
	all := RuleSets()
	if len(v.Figures) != len(all) {
		t.Errorf("figures of %d rule sets for %d", len(v.Figures), len(all))
	}
	for _, s := range all {
		rows := v.Figures[s.ID]
		var rules []Rule
		for _, r := range s.Rules {
			if r.Quantity != Scope {
				rules = append(rules, r)
			}
		}
		if len(rows) != len(rules) {
			t.Errorf("%s: %d figures for %d rules", s.ID, len(rows), len(rules))
			continue
		}
		for i, r := range rules {
			row := rows[i]
			where := s.ID + " " + r.ID
			if row[0] != r.ID || row[1] != string(r.Quantity) || row[2] != string(r.Op) || row[6] != r.Remembered {
				t.Errorf("%s, %s, %s, from memory %v; want %v", where, r.Quantity, r.Op, r.Remembered, row)
			}
			if row[7] == "" {
				t.Errorf("%s: no source", where)
			}
			same(where+" min", r.Min, row[3], row[5].(string))
			same(where+" max", r.Max, row[4], row[5].(string))
		}
	}
}

// TestConditions: what narrows a rule, and where wedges are measured.
func TestConditions(t *testing.T) {
	type w struct {
		when  When
		walk  Walkline
		sides int
	}
	want := map[string]w{
		"IRC-OPEN":         {when: When{DropOver: 0.762}},
		"IRC-NOSE-DEPTH":   {when: When{TreadUnder: 0.2794, Faces: Solid}},
		"IRC-WIND-10":      {walk: Walkline{Offset: 0.3048}},
		"IRC-WIND-UNI":     {walk: Walkline{Offset: 0.3048}},
		"IRC-WIDTH-HR1":    {sides: 1},
		"IRC-WIDTH-HR2":    {sides: 2},
		"IRC-HR":           {sides: 1},
		"IBC-WIND":         {walk: Walkline{Offset: 0.3048}},
		"IBC-HR":           {sides: 2},
		"IBCR3-NOSE-DEPTH": {when: When{TreadUnder: 0.2794, Faces: Solid}},
		"IBCR3-WIND":       {walk: Walkline{Offset: 0.3048}},
		"IBCR3-HR":         {sides: 1},
		"ADA-HR":           {sides: 2},
		"WAC-HR":           {sides: 1},
		"UKM1-TAPER":       {walk: Walkline{Offset: 0.27}},
		"UKM1-HR":          {sides: 1},
		"UKM2-12":          {when: When{TreadUnder: 0.35}},
		"UKM2-18":          {when: When{TreadFrom: 0.35}},
		"UKK-TAPER-EXT":    {walk: Walkline{Offset: 0.27, MidBelow: 1}},
		"CA-TAPER":         {walk: Walkline{Offset: 0.3}},
		"CAP-TAPER":        {walk: Walkline{Offset: 0.3}},
		"CA-HR":            {sides: 1},
	}
	for _, id := range []string{"UKK", "UKKU", "UKKG"} {
		want[id+"-OVERLAP"] = w{when: When{Faces: Open}}
		want[id+"-HR"] = w{sides: 1}
		want[id+"-HR2"] = w{when: When{WidthFrom: 1}, sides: 2}
		want[id+"-TAPER"] = w{walk: Walkline{Offset: 0.27, MidBelow: 1}}
	}
	for _, id := range []string{"UKKU", "UKKG"} {
		want[id+"-12"] = w{when: When{TreadUnder: 0.35}}
		want[id+"-18"] = w{when: When{TreadFrom: 0.35}}
	}
	near := func(a, b unit.Length) bool { return math.Abs(float64(a-b)) < 1e-12 }
	for _, s := range RuleSets() {
		for _, r := range s.Rules {
			id := r.ID
			if strings.HasPrefix(id, "IRC24") {
				id = "IRC" + strings.TrimPrefix(id, "IRC24")
			}
			x := want[id]
			var when When
			if r.When != nil {
				when = *r.When
			}
			var walk Walkline
			if r.Walkline != nil {
				walk = *r.Walkline
			}
			if !near(when.TreadFrom, x.when.TreadFrom) || !near(when.TreadUnder, x.when.TreadUnder) || !near(when.WidthFrom, x.when.WidthFrom) ||
				!near(when.DropOver, x.when.DropOver) || when.Faces != x.when.Faces ||
				!near(walk.Offset, x.walk.Offset) || !near(walk.MidBelow, x.walk.MidBelow) || r.Sides != x.sides {
				t.Errorf("%s: when %+v, walkline %+v, sides %d; want %+v", r.ID, when, walk, r.Sides, x)
			}
		}
	}
}

// layOf lays flights on ground that fits them.
func layOf(t *testing.T, riser float64, fs ...FixedFlight) Layout {
	t.Helper()
	n, run := 0, 0.0
	for _, f := range fs {
		n += f.Risers
		run += float64(f.Risers-1)*float64(f.Tread) + float64(f.Landing)
	}
	l, err := Lay(Point{}, Point{unit.Length(run), unit.Length(float64(n) * riser)}, 0, fs)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

const onStringers = Kind("framed")

// framing makes framed flights of some flights of a layout.
func framing(l Layout, flights ...int) Layout {
	for _, i := range flights {
		l.Flights[i].Kind = onStringers
	}
	return l
}

// findings is the rules a set finds, without what is not checked, and that.
func findings(s RuleSet, l Layout, f Facts) (found, unchecked map[string]Finding) {
	found, unchecked = map[string]Finding{}, map[string]Finding{}
	for _, g := range s.Check(l, f) {
		if g.Actual.Of == "" && strings.Contains(g.Says, "not checked") {
			unchecked[g.Rule] = g
		} else {
			found[g.Rule] = g
		}
	}
	return found, unchecked
}

func set(t *testing.T, id string) RuleSet {
	t.Helper()
	s, ok := RuleSetByID(id)
	if !ok {
		t.Fatalf("no rule set %s", id)
	}
	return s
}

// TestTriggers: with three risers WAC 246-359 and AD M ask for a handrail, the
// IRC does not; at a drop of 25 in Wisconsin and AD K ask for a guard, the IRC
// does not; at two risers AD K asks for one outside dwellings.
func TestTriggers(t *testing.T) {
	for _, c := range []struct {
		set, rule string
		risers    int
		f         Facts
		want      bool
	}{
		{"irc-2021", "IRC-HR", 3, Facts{}, false},
		{"irc-2024", "IRC24-HR", 4, Facts{}, true},
		{"wa-camp", "WAC-HR", 2, Facts{}, false},
		{"wa-camp", "WAC-HR", 3, Facts{}, true},
		{"adm-dwelling", "UKM1-HR", 2, Facts{}, false},
		{"adm-dwelling", "UKM1-HR", 3, Facts{}, true},
		{"ca-private", "CA-HR", 3, Facts{}, false},
		{"ca-private", "CA-HR", 4, Facts{}, true},
		{"ada-504", "ADA-HR", 3, Facts{Handrails: 1}, true},
		{"ada-504", "ADA-HR", 3, Facts{Handrails: 2}, false},
		{"adk-private", "UKK-HR2", 3, Facts{Handrails: 1, Width: 0.999}, false},
		{"adk-private", "UKK-HR2", 3, Facts{Handrails: 1, Width: 1}, true},
		{"adk-private", "UKK-HR2", 3, Facts{Handrails: 2, Width: 1}, false},
		{"irc-2021", "IRC-GUARD", 3, Facts{Drop: 25 * unit.Inch}, false},
		{"wi-udc", "WI-GUARD", 3, Facts{Drop: 24 * unit.Inch}, false},
		{"wi-udc", "WI-GUARD", 3, Facts{Drop: 25 * unit.Inch}, true},
		{"adk-private", "UKK-GUARD", 3, Facts{Drop: 25 * unit.Inch}, true},
		{"ncc-private", "AU-BAR", 3, Facts{Drop: 0.999}, false},
		{"ncc-private", "AU-BAR", 3, Facts{Drop: 1}, true},
		{"adk-utility", "UKKU-GUARD", 1, Facts{}, false},
		{"adk-utility", "UKKU-GUARD", 2, Facts{}, true},
		{"adk-utility", "UKKU-GUARD", 2, Facts{Guard: true}, false},
	} {
		other := layOf(t, 0.15, FixedFlight{Risers: max(c.risers, 1), Tread: 0.3, Landing: 1.5}, FixedFlight{Risers: 1})
		found, _ := findings(set(t, c.set), other, c.f)
		if _, got := found[c.rule]; got != c.want {
			t.Errorf("%s %s, %d risers, %+v: %v, want %v", c.set, c.rule, c.risers, c.f, got, c.want)
		}
	}
}

// TestScope: a code used on a path that stands free says so once; on one that
// is attached and of both kinds it says which flights it binds.
func TestScope(t *testing.T) {
	mixed := framing(layOf(t, 0.15, FixedFlight{Risers: 3, Tread: 0.3, Landing: 1}, FixedFlight{Risers: 4, Tread: 0.3}), 1)
	boxes := layOf(t, 0.15, FixedFlight{Risers: 3, Tread: 0.3})
	for _, s := range RuleSets() {
		scope := func(l Layout, f Facts) (out []Finding) {
			for _, g := range s.Check(l, f) {
				if strings.HasSuffix(g.Rule, "-SCOPE") {
					out = append(out, g)
				}
			}
			return out
		}
		want := 0
		if s.Kind == Code {
			want = 1
		}
		free := scope(boxes, Facts{})
		if len(free) != want || want == 1 && (free[0].Severity != Note || !strings.Contains(free[0].Says, "yardstick") || free[0].Source == "") {
			t.Errorf("%s, standing free: %+v", s.ID, free)
		}
		if got := scope(boxes, Facts{AttachedTo: Building}); len(got) != 0 {
			t.Errorf("%s, attached: %+v", s.ID, got)
		}
		if got := scope(framing(boxesOf(boxes), 0), Facts{AttachedTo: Building}); len(got) != 0 {
			t.Errorf("%s, framed and attached: %+v", s.ID, got)
		}
		if strings.HasPrefix(s.ID, "adm-") || s.ID == "ada-504" || s.ID == "wa-camp" {
			want = 0 // what leads to the building is bound, however it is built
		}
		if got := scope(mixed, Facts{AttachedTo: Building}); len(got) != want || want == 1 && got[0].Where != "risers 4 to 7" {
			t.Errorf("%s, of both kinds: %+v", s.ID, got)
		}
	}
	irc := set(t, "irc-2021").Check(boxes, Facts{})[0]
	if !irc.Remembered || !strings.Contains(irc.Says, "R311.7") || !strings.Contains(irc.Says, "deck") {
		t.Errorf("%+v", irc)
	}
}

func boxesOf(l Layout) Layout {
	l.Flights = append([]Flight(nil), l.Flights...)
	return l
}

// TestOnly: boxes with long treads are held to one set, the framed flight above
// them to another.
func TestOnly(t *testing.T) {
	l := framing(layOf(t, 0.2, FixedFlight{Risers: 3, Tread: 0.6, Landing: 1.2}, FixedFlight{Risers: 2, Tread: 0.5, Landing: 0.5}, FixedFlight{Risers: 5, Tread: 0.2}), 2)
	irc := set(t, "irc-2021")
	found, unchecked := findings(irc, l, Facts{Only: onStringers, Width: 1, Drop: 2, HeadLanding: 0.5, AttachedTo: Building})
	for rule, where := range map[string]string{
		"IRC-RISE-MAX": "each riser", "IRC-TREAD-MIN": "risers 6 to 10", "IRC-HR": "risers 6 to 10", "IRC-LAND": "landing behind riser 5",
		"IRC-LAND-END": "head", "IRC-GUARD": "where the drop is",
	} {
		if found[rule].Where != where {
			t.Errorf("%s: %+v", rule, found[rule])
		}
	}
	if len(unchecked) != 0 {
		t.Errorf("not checked: %v", unchecked)
	}
	found, unchecked = findings(irc, l, Facts{Only: Box, Width: 1, Drop: 0.2, HeadLanding: 0.5, AttachedTo: Building})
	if len(found) != 2 || found["IRC-LAND"].Where != "landing behind riser 5" || unchecked["IRC-LAND-END"].Says == "" {
		t.Errorf("boxes: %v, not checked %v", found, unchecked)
	}
	if got := irc.Check(layOf(t, 0.3, FixedFlight{Risers: 3, Tread: 0.2}), Facts{Only: onStringers}); got != nil {
		t.Errorf("nothing is framed: %v", got)
	}
}

// TestUniform: steps as built against the tolerances, with the place.
func TestUniform(t *testing.T) {
	mm := func(x ...float64) []unit.Length {
		out := make([]unit.Length, len(x))
		for i, v := range x {
			out[i] = unit.Length(v * 1e-3)
		}
		return out
	}
	for _, c := range []struct {
		set            string
		risers, treads []unit.Length
		want           map[string]string // rule: where
	}{
		{"irc-2021", mm(150, 155, 159.525), mm(300, 300), map[string]string{}},
		{"irc-2021", mm(150, 155, 159.526), mm(300, 309.526), map[string]string{"IRC-RISE-UNI": "risers 4 to 6", "IRC-TREAD-UNI": "risers 4 to 6"}},
		{"ncc-private", mm(150, 155, 160, 155), nil, map[string]string{}},
		{"ncc-private", mm(150, 155, 160, 154), nil, map[string]string{"AU-RISE-NEXT": "risers 6 and 7"}},
		{"ncc-private", mm(150, 155, 160, 161), nil, map[string]string{"AU-RISE-UNI": "risers 4 to 7"}},
		{"ca-private", nil, mm(300, 306, 295), map[string]string{"CA-RUN-NEXT": "treads behind risers 5 and 6", "CA-RUN-UNI": "risers 4 to 7"}},
		{"ca-public", mm(150), mm(300), map[string]string{}},
		{"garden", mm(100, 200), mm(300, 400), map[string]string{}},
		{"ca-public", nil, nil, map[string]string{}},
	} {
		got := map[string]string{}
		for _, g := range set(t, c.set).Uniform(4, c.risers, c.treads) {
			got[g.Rule] = g.Where
			if g.Severity != Stop || g.Actual.Of != OfLength || g.Limit.Of != OfLength || g.Clause == "" {
				t.Errorf("%s: %+v", c.set, g)
			}
		}
		if !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s, %v, %v: %v, want %v", c.set, c.risers, c.treads, got, c.want)
		}
	}
	if s := SpreadOf(mm(160, 150, 158)); math.Abs(float64(s.Difference)-0.01) > 1e-12 || math.Abs(float64(s.Adjacent)-0.01) > 1e-12 || s.At != 0 {
		t.Errorf("%+v", s)
	}
	if s := SpreadOf(nil); s != (Spread{}) {
		t.Errorf("%+v", s)
	}

	// In a layout: each flight on its own, what is not built is as planned,
	// and a wedge tread stands out of the row.
	l := layOf(t, 0.15, FixedFlight{Risers: 3, Tread: 0.3, Landing: 1}, FixedFlight{Risers: 4, Tread: 0.3})
	found, _ := findings(set(t, "ca-private"), l, Facts{
		BuiltRisers: mm(150, 150, 150, 0, 156),
		BuiltTreads: mm(300, 300, 1000, 300, 320, 300),
		Wedges:      []Wedge{{Riser: 5, Inner: 0.2, Outer: 0.4, Width: 1}},
	})
	if g := found["CA-RISE-NEXT"]; g.Where != "risers 4 and 5" {
		t.Errorf("%+v", g)
	}
	for _, rule := range []string{"CA-RISE-UNI", "CA-RUN-NEXT", "CA-RUN-UNI"} {
		if g, ok := found[rule]; ok {
			t.Errorf("%+v", g)
		}
	}
	found, _ = findings(set(t, "ca-private"), l, Facts{BuiltTreads: mm(300, 300, 1000, 300, 320, 300)})
	if g := found["CA-RUN-UNI"]; g.Where != "risers 4 to 7" {
		t.Errorf("%+v", g)
	}
}

// TestWedges: a bend of 3 m in radius and a path 1 m wide; the depths worked
// out by proportion.
func TestWedges(t *testing.T) {
	w := Wedge{Riser: 2, Station: 0.3, Inner: 0.25, Outer: 0.35, Width: 1}
	for _, c := range []struct {
		at   *Walkline
		want float64
	}{
		{nil, 0.3}, {&Walkline{Offset: 0.3}, 0.28}, {&Walkline{Offset: 0.27, MidBelow: 1}, 0.277},
		{&Walkline{Offset: 0.27, MidBelow: 1.001}, 0.3}, {&Walkline{Offset: 2}, 0.35},
	} {
		near(t, "on the walkline", float64(w.Walk(c.at)), c.want, 1e-12)
		other := Wedge{Inner: w.Outer, Outer: w.Inner, Width: 1} // seen from the other side
		near(t, "on the walkline", float64(other.Walk(c.at)), c.want, 1e-12)
	}
	near(t, "at the edge", float64(w.DepthAt(0)), 0.25, 0)

	l := layOf(t, 0.15, FixedFlight{Risers: 4, Tread: 0.3})
	f := Facts{Wedges: []Wedge{w, {Riser: 3, Inner: 0.04, Outer: 0.6, Width: 0.9}, {Riser: 99}, {Riser: 1}}}
	for id, want := range map[string][]string{
		"irc-2021":     {"IRC-WIND-10 3 0.2297", "IRC-WIND-6 3 0.04"},
		"ibc-2015":     {"IBC-WIND 3 0.2297", "IBC-WIND-MIN 2 0.25", "IBC-WIND-MIN 3 0.04"},
		"ca-private":   {"CA-TAPER 3 0.2267", "CA-TAPER-MIN 3 0.04"},
		"adk-private":  {"UKK-TAPER 2 0.277", "UKK-TAPER-MIN 3 0.04", "UKK-TAPER-EXT 2 0.277"},
		"adm-dwelling": {"UKM1-TAPER 2 0.277", "UKM1-TAPER 3 0.208"},
		"garden":       nil,
	} {
		var got []string
		unchecked := false
		for _, g := range set(t, id).Check(l, f) {
			unchecked = unchecked || strings.HasPrefix(g.Says, "the wedge tread behind riser 1 is not given")
			if strings.HasPrefix(g.Where, "wedge tread behind riser ") && g.Actual.Of != "" {
				got = append(got, g.Rule+" "+g.Where[25:26]+" "+strconv.FormatFloat(math.Round(g.Actual.SI()*1e4)/1e4, 'g', -1, 64))
			}
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %v, want %v", id, got, want)
		}
		if unchecked != (want != nil) {
			t.Errorf("%s: the wedge without figures is not checked: %v", id, unchecked)
		}
	}
	// Wedges that differ on the walkline by 9.5 mm, and by more.
	for _, c := range []struct {
		more unit.Length
		want bool
	}{{0.0095, false}, {0.0096, true}} {
		v := w
		v.Riser, v.Inner, v.Outer = 3, w.Inner+c.more, w.Outer+c.more
		found, _ := findings(set(t, "irc-2021"), l, Facts{Wedges: []Wedge{w, v}})
		if _, got := found["IRC-WIND-UNI"]; got != c.want {
			t.Errorf("wedges that differ by %v: %v", c.more, got)
		}
	}
}

// TestOpenRisers: only framed flights have them when there are any; they need
// no nosing; IRC openings low above the ground are excepted.
func TestOpenRisers(t *testing.T) {
	l := framing(layOf(t, 0.15, FixedFlight{Risers: 3, Tread: 0.26, Landing: 1}, FixedFlight{Risers: 4, Tread: 0.26}), 1)
	irc, ada := set(t, "irc-2021"), set(t, "ada-504")
	found, _ := findings(irc, l, Facts{OpenRisers: true, RiserGap: 0.12, Drop: 1})
	if found["IRC-OPEN"].Where != "risers 4 to 7" || found["IRC-NOSE"].Where != "risers 1 to 3" {
		t.Errorf("%v", found)
	}
	for _, c := range []struct {
		f    Facts
		want bool
	}{
		{Facts{OpenRisers: true, RiserGap: 0.12, Drop: 30 * unit.Inch}, false},
		{Facts{OpenRisers: true, RiserGap: 0.12}, true},
		{Facts{RiserGap: 0.12}, false},
		{Facts{OpenRisers: true, RiserGap: 0.1, Drop: 2}, false},
	} {
		found, _ := findings(irc, l, c.f)
		if _, got := found["IRC-OPEN"]; got != c.want {
			t.Errorf("%+v: %v", c.f, got)
		}
	}
	if _, unchecked := findings(irc, l, Facts{OpenRisers: true, Drop: 1}); unchecked["IRC-OPEN"].Rule == "" {
		t.Error("an opening that is not known is not mentioned")
	}
	if found, unchecked := findings(irc, l, Facts{Drop: 1}); found["IRC-OPEN"].Rule != "" || unchecked["IRC-OPEN"].Rule != "" {
		t.Error("solid risers have an opening")
	}
	found, _ = findings(ada, l, Facts{OpenRisers: true})
	if g := found["ADA-OPEN"]; g.Actual.Count != 4 || g.Where != "risers 4 to 7" || g.Severity != Stop {
		t.Errorf("%+v", g)
	}
	// AD K wants treads to overlap over open risers.
	adk := set(t, "adk-private")
	if found, _ := findings(adk, l, Facts{OpenRisers: true, Nosing: 0.015}); found["UKK-OVERLAP"].Where != "risers 4 to 7" {
		t.Errorf("%v", found)
	}
	if _, unchecked := findings(adk, l, Facts{OpenRisers: true}); unchecked["UKK-OVERLAP"].Rule == "" {
		t.Error("an overlap that is not known is not mentioned")
	}
	if found, unchecked := findings(adk, l, Facts{Nosing: 0.015}); found["UKK-OVERLAP"].Rule != "" || unchecked["UKK-OVERLAP"].Rule != "" {
		t.Error("solid risers must overlap")
	}
	// The IRC's nosing is for treads under 11 in.
	for _, c := range []struct {
		tread unit.Length
		want  bool
	}{{0.279, true}, {11 * unit.Inch, false}} {
		found, _ := findings(irc, layOf(t, 0.15, FixedFlight{Risers: 3, Tread: c.tread}), Facts{Nosing: 0.01})
		if _, got := found["IRC-NOSE-DEPTH"]; got != c.want {
			t.Errorf("a tread of %v: %v", c.tread, got)
		}
	}
}

// TestNotChecked: what is not known is mentioned where it matters.
func TestNotChecked(t *testing.T) {
	boxes := layOf(t, 0.15, FixedFlight{Risers: 3, Tread: 0.3, Landing: 1}, FixedFlight{Risers: 4, Tread: 0.3})
	all := func(s string, l Layout, f Facts) string {
		var out []string
		for _, g := range set(t, s).Check(l, f) {
			if strings.Contains(g.Says, "not checked") {
				if g.Severity != Note {
					t.Errorf("%+v", g)
				}
				out = append(out, g.Rule)
			}
		}
		return strings.Join(out, " ")
	}
	level := 0.03
	for _, c := range []struct {
		set  string
		l    Layout
		f    Facts
		want string
	}{
		{"irc-2021", boxes, Facts{}, "IRC-WIDTH IRC-LAND-END"},
		{"irc-2021", boxes, Facts{Width: 1, HeadLanding: 1, FootLanding: 1}, ""},
		{"irc-2021", framing(boxesOf(boxes), 0), Facts{Width: 1, HeadLanding: 1, FootLanding: 1}, "IRC-GUARD"},
		{"irc-2021", framing(boxesOf(boxes), 0), Facts{Width: 1, HeadLanding: 1, FootLanding: 1, Guard: true}, ""},
		{"ibc-2015", boxes, Facts{}, "IBC-WIDTH IBC-LAND"},
		{"adk-private", boxes, Facts{}, "UKK-LAND"},
		{"trail-us", boxes, Facts{}, "FS-OUTSLOPE"},
		{"trail-us", boxes, Facts{Outslope: &level}, ""},
		{"ada-504", boxes, Facts{}, ""},
	} {
		if got := all(c.set, c.l, c.f); got != c.want {
			t.Errorf("%s %+v: %q, want %q", c.set, c.f, got, c.want)
		}
	}
}

// TestOutslope: treads may fall to either side; a fall across drains too.
func TestOutslope(t *testing.T) {
	l := layOf(t, 0.16, FixedFlight{Risers: 3, Tread: 0.5})
	for _, c := range []struct {
		x    float64
		want bool
	}{{0.02, false}, {0.05, false}, {-0.02, false}, {-0.05, false}, {0, true}, {0.019, true}, {0.051, true}, {-0.051, true}, {-0.019, true}} {
		found, _ := findings(set(t, "trail-us"), l, Facts{Outslope: &c.x})
		if _, got := found["FS-OUTSLOPE"]; got != c.want {
			t.Errorf("an outslope of %v: %v", c.x, got)
		}
		found, _ = findings(set(t, "ada-504"), l, Facts{Outslope: &c.x})
		if _, got := found["ADA-WET"]; got != (c.x == 0) {
			t.Errorf("an outslope of %v: holds water %v", c.x, got)
		}
	}
}

// TestFlightsByTread: at most 12 risers with treads under 350 mm, 18 from there;
// the fit keeps to the stricter.
func TestFlightsByTread(t *testing.T) {
	adm := set(t, "adm-other")
	for _, c := range []struct {
		tread  unit.Length
		risers int
		want   string
	}{{0.349, 12, ""}, {0.349, 13, "UKM2-12"}, {0.35, 13, ""}, {0.35, 18, ""}, {0.35, 19, "UKM2-18"}} {
		got := ""
		for _, g := range adm.Check(layOf(t, 0.16, FixedFlight{Risers: c.risers, Tread: c.tread}), Facts{Width: 2}) {
			if g.Severity == Stop {
				got += g.Rule
			}
		}
		if got != c.want {
			t.Errorf("%d risers, treads of %v: %q, want %q", c.risers, c.tread, got, c.want)
		}
	}
	if l := adm.Limits(); l.MaxFlightRisers != 12 || l.MinFlightRisers != 2 {
		t.Errorf("%+v", l)
	}
	// A landing from 12 ft on: the fit stays below.
	if l := set(t, "wi-udc").Limits(); l.MaxFlightRise >= 144*unit.Inch || l.MaxFlightRise < 144*unit.Inch-2e-6 {
		t.Errorf("%v", l.MaxFlightRise)
	}
}

// TestSmallFacts: rules that hang on one fact more.
func TestSmallFacts(t *testing.T) {
	l := layOf(t, 0.15, FixedFlight{Risers: 5, Tread: 0.26, Landing: 1}, FixedFlight{Risers: 3, Tread: 0.26}) // fewer risers above
	down := -0.06
	wedge := []Wedge{{Riser: 2, Inner: 0.2, Outer: 0.4, Width: 1}}
	mm := unit.Millimeter
	for _, c := range []struct {
		set, rule string
		f         Facts
		want      bool
	}{
		{"irc-2021", "IRC-NOSE", Facts{}, true},
		{"irc-2021", "IRC-NOSE", Facts{Nosing: 0.02}, false},
		{"irc-2021", "IRC-WIDTH-HR1", Facts{Handrails: 1, RailWidth: 28 * unit.Inch}, true},
		{"irc-2021", "IRC-WIDTH-HR2", Facts{Handrails: 1, RailWidth: 26 * unit.Inch}, false},
		{"irc-2021", "IRC-WIDTH-HR1", Facts{Handrails: 2, RailWidth: 28 * unit.Inch}, false},
		{"irc-2021", "IRC-WIDTH-HR2", Facts{Handrails: 2, RailWidth: 26 * unit.Inch}, true},
		{"irc-2021", "IRC-WIDTH-HR1", Facts{Handrails: 1}, false},
		{"adk-private", "UKK-LAND-GROUND", Facts{EndSlope: &down}, true},
		{"nz-outdoor", "AKL-EQUAL", Facts{}, true},
		// Across a wedge two treads do not follow each other.
		{"ca-private", "CA-RUN-NEXT", Facts{Wedges: wedge, BuiltTreads: []unit.Length{260 * mm, 300 * mm, 267 * mm, 267 * mm}}, false},
		{"ca-private", "CA-RUN-NEXT", Facts{BuiltTreads: []unit.Length{260 * mm, 260 * mm, 267 * mm, 267 * mm}}, true},
	} {
		found, _ := findings(set(t, c.set), l, c.f)
		if _, got := found[c.rule]; got != c.want {
			t.Errorf("%s %s, %+v: %v, want %v", c.set, c.rule, c.f, got, c.want)
		}
	}
}

// TestRuleSetsAsJSON: what a front end gets has all of it, and no bound that is
// not there.
func TestRuleSetsAsJSON(t *testing.T) {
	for _, s := range RuleSets() {
		b, err := json.Marshal(s)
		if err != nil {
			t.Fatal(err)
		}
		var back RuleSet
		if err := json.Unmarshal(b, &back); err != nil || !reflect.DeepEqual(s, back) {
			t.Errorf("%s does not come back the same: %v", s.ID, err)
		}
		if strings.Contains(string(b), "{}") || strings.ToLower(string(b[:6])) != string(b[:6]) {
			t.Errorf("%s: %s", s.ID, b)
		}
	}
	f := Facts{Width: 1, BuiltRisers: []unit.Length{1}, Wedges: []Wedge{{Riser: 1}}, Only: Box, AttachedTo: Building}
	b, err := json.Marshal(f)
	if err != nil {
		t.Fatal(err)
	}
	var back Facts
	if err := json.Unmarshal(b, &back); err != nil || !reflect.DeepEqual(f, back) {
		t.Errorf("%s: %v", b, err)
	}
}

// TestOddFacts: nothing a caller says makes a check panic or a figure absurd.
func TestOddFacts(t *testing.T) {
	nan, inf := math.NaN(), unit.Length(math.Inf(1))
	bad := unit.Length(nan)
	odd := []Facts{
		{Width: bad, RailWidth: bad, Headroom: bad, Drop: bad, FootLanding: bad, HeadLanding: inf, EndSlope: &nan, LandingBreadth: bad, Outslope: &nan, Nosing: bad, RiserGap: bad, OpenRisers: true},
		{BuiltRisers: []unit.Length{bad, inf, -1}, BuiltTreads: []unit.Length{bad, inf, -1, 2}},
		{Wedges: []Wedge{{Riser: -5}, {Riser: 1, Inner: bad, Outer: 1, Width: 1}, {Riser: 2, Inner: 1, Outer: 1, Width: inf}, {Riser: 2, Inner: 1, Outer: 1, Width: -1}}},
		{Only: "other", AttachedTo: "moon"},
		{Width: inf, Drop: inf, Handrails: -3},
	}
	layouts := []Layout{
		{}, layOf(t, 0.15, FixedFlight{Risers: 3, Tread: 0.3, Landing: 1}, FixedFlight{Risers: 1}),
		{Risers: 3, Flights: []Flight{{Risers: -2}, {First: math.MaxInt, Risers: 5}, {First: 1, Risers: math.MaxInt}}, Landings: make([]Landing, 9)},
	}
	for _, s := range RuleSets() {
		for _, f := range odd {
			for _, l := range layouts {
				for _, g := range s.Check(l, f) {
					if math.IsNaN(g.Actual.SI()) || g.Says == "" {
						t.Errorf("%s: %+v", s.ID, g)
					}
				}
			}
		}
		s.Uniform(math.MinInt, []unit.Length{bad, 1, inf}, []unit.Length{bad})
	}
}
