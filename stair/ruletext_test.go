package stair

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/martinlindhe/unit"
)

// Every line of the tables is understood, and every figure is one.
func TestRuleTexts(t *testing.T) {
	for _, text := range ruleTexts {
		if text == "" {
			continue // made from another
		}
		s, strange := readRules(text)
		if len(strange) > 0 {
			t.Errorf("%s: not understood: %q", s.ID, strange)
		}
		if s.ID == "" || s.Name == "" || s.Applies == "" || len(s.Rules) == 0 {
			t.Errorf("a table without its head or rules: %+v", s)
		}
		for _, r := range s.Rules {
			if all := r.ID + r.Clause + r.Edition + r.Source + r.Text; strings.ContainsAny(all, "{}|") || r.ID == "" || r.Clause == "" || r.Source == "" {
				t.Errorf("%s: %+v", s.ID, r)
			}
			if !slices.Contains([]Severity{Stop, Warn, Note}, r.Severity) {
				t.Errorf("%s %s: severity %q", s.ID, r.ID, r.Severity)
			}
			if !slices.Contains([]Op{AtLeast, AtMost, Within, MoreThan, LessThan, From, Over, Under, Binds, BindsAll}, r.Op) {
				t.Errorf("%s %s: op %q", s.ID, r.ID, r.Op)
			}
		}
	}
}

const (
	in = unit.Inch
	mm = unit.Millimeter
)

func TestReadRules(t *testing.T) {
	s, strange := readRules(`
let | book | A book
set | x | advice | Here | A name
applies | nobody
edition | 2001
source | {book}
A | riser range 4 in to 7.75 in | stop | 1 | text what | sides 2
B | wash max 1/48 | warn | 2 | edition 1999 | source {book}, page 2 | memory | tread_under 350 mm | faces open
C | wedge_walkline min 6 in | stop | 3 | walkline 270 mm below 1000 mm
D | pitch max 42 deg | note | 4 | drop_over 30 in
E | landing_width min to 48 in | stop | 5
`)
	if len(strange) > 0 {
		t.Errorf("not understood: %q", strange)
	}
	want := []Rule{
		{ID: "A", Quantity: RiserHeight, Op: Within, Min: length(4 * in), Max: length(7.75 * in), Sides: 2, Severity: Stop, Clause: "1", Edition: "2001", Source: "A book", Text: "what"},
		{ID: "B", Quantity: TreadWash, Op: AtMost, Max: ratio(1.0 / 48), When: &When{TreadUnder: 350 * mm, Faces: Open}, Severity: Warn, Clause: "2", Edition: "1999", Source: "A book, page 2", Remembered: true},
		{ID: "C", Quantity: WedgeWalkline, Op: AtLeast, Min: length(6 * in), Walkline: &Walkline{Offset: 270 * mm, MidBelow: 1000 * mm}, Severity: Stop, Clause: "3", Edition: "2001", Source: "A book"},
		{ID: "D", Quantity: FlightPitch, Op: AtMost, Max: degrees(42), When: &When{DropOver: 30 * in}, Severity: Note, Clause: "4", Edition: "2001", Source: "A book"},
		{ID: "E", Quantity: LandingAsWide, Op: AtLeast, Max: length(48 * in), Severity: Stop, Clause: "5", Edition: "2001", Source: "A book"},
	}
	if d := cmp.Diff(RuleSet{ID: "x", Name: "A name", Kind: Advice, Place: "Here", Applies: "nobody", Rules: want}, s); d != "" {
		t.Errorf("read otherwise (-want +got):\n%s", d)
	}
	for _, line := range []string{"A | riser max 7 yd | stop | 1", "A | riser max x in | stop | 1", "A | riser max 1.5 | stop | 1", "A | riser max 7 in | stop | 1 | colour red", "nonsense"} {
		if _, strange := readRules(line); len(strange) == 0 {
			t.Errorf("%q was understood", line)
		}
	}
}
