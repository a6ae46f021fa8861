package lang

import (
	"strings"
	"testing"
)

func TestSpanishReads(t *testing.T) {
	w, err := Spanish()
	if err != nil {
		t.Fatal(err)
	}
	if w.Tag != "es" {
		t.Errorf("its tag is %q", w.Tag)
	}
	// Nothing is there twice: the second would be what counts, or what never does.
	seen := map[string]bool{}
	part := ""
	for _, line := range strings.Split(spanish, "\n") {
		if strings.HasPrefix(line, "[") {
			part = line
		}
		english, other, _ := strings.Cut(line, " → ")
		if line == "" || line[0] == '#' || line[0] == '[' {
			continue
		}
		if seen[part+english] {
			t.Errorf("twice: %s", english)
		}
		seen[part+english] = true
		if strings.HasSuffix(english, ".") != strings.HasSuffix(other, ".") && other != "" {
			t.Errorf("a full stop on one side only: %s", line)
		}
	}
}

func TestBadCatalogues(t *testing.T) {
	for name, c := range map[string]string{
		"no format": "riser → contrahuella", "no language": Format + "\n", "no other side": Format + "es\n[texts]\nriser\n",
		"two holes side by side": Format + "es\n[texts]\n{n}{} → {} {}\n", "a hole too many": Format + "es\n[texts]\n{n} m → {} {}\n", "a strange hole": Format + "es\n[texts]\n{q} m → {}\n",
	} {
		if _, err := Read(c); err == nil {
			t.Errorf("%s: is read", name)
		}
	}
}

const few = Format + `es
[and]
y → e
[units]
m → m
cu yd → yd³
ft → ft
in → in
[texts]
riser → contrahuella
iron → hierro
spoil → escombro
idle → inactivo
{n} of {} → {} de {}
{n} of it goes {}: {} → {3}: {1} van {2}
to the {} → hacia: {}
the section is {w} → la sección es {}
it says {=} there → dice {} ahí
[same]
ABC 1.2.3
`

func TestSay(t *testing.T) {
	w, err := Read(few)
	if err != nil {
		t.Fatal(err)
	}
	var untold []string
	s := Speaker{Words: w, Comma: true, Missing: func(text string) { untold = append(untold, text) }}
	s.Keep("Skip of ours", "1.5 riser")
	for _, c := range [][2]string{
		{"riser", "contrahuella"}, {"Riser", "Contrahuella"}, {"Riser.", "Contrahuella."},
		{"2.5 m of riser", "2,5 m de contrahuella"}, {"2 cu yd of Skip of ours", "2 yd³ de Skip of ours"},
		{"5 ft 3 1/2 in", "5 ft 3 1/2 in"}, {"1.5:1", "1,5:1"}, {"1.2.3", "1.2.3"}, {"R311.7.5", "R311.7.5"}, {"12.50 USD", "12,50 USD"},
		{"ABC 1.2.3", "ABC 1.2.3"}, {"1.5 riser", "1.5 riser"}, {"A", "A"},
		{"riser, spoil and iron", "contrahuella, escombro y hierro"}, {"spoil and idle", "escombro e inactivo"}, {"riser; spoil", "contrahuella; escombro"},
		{"0.5 m of it goes to the spoil: riser", "contrahuella: 0,5 m van hacia: escombro"},
		{"the section is 6x6", "la sección es 6x6"}, {"it says is of in the there", "dice is of in the ahí"},
		{"Riser. Spoil. Iron.", "Contrahuella. Escombro. Hierro."},
		{"", ""},
	} {
		if got := s.Say(c[0]); got != c[1] {
			t.Errorf("%q is said %q, not %q", c[0], got, c[1])
		}
	}
	if len(untold) > 0 {
		t.Errorf("not known: %q", untold)
	}
	if got := s.Say("Riser. Something else."); got != "Contrahuella. Something else." || len(untold) != 1 || untold[0] != "Something else." {
		t.Errorf("%q, %q", got, untold)
	}
	s.Comma = false
	s.Keep()
	if got := s.Say("2.5 m of riser"); got != "2.5 m de contrahuella" {
		t.Error(got)
	}
	var nobody *Speaker
	if nobody.Say("riser") != "riser" || nobody.Told() != nil {
		t.Error("nobody says something else")
	}
}

// What was said to one is not said to another who calls it by a name.
func TestSayRemembers(t *testing.T) {
	w, err := Read(few)
	if err != nil {
		t.Fatal(err)
	}
	say := func(text string, names ...string) string {
		s := Speaker{Words: w, Comma: len(names) == 1}
		s.Keep(names...)
		return s.Say(text)
	}
	for range 2 {
		for _, c := range []struct {
			want, text string
			names      []string
		}{
			{"2.5 m de contrahuella", "2.5 m of riser", nil}, {"2,5 m de riser", "2.5 m of riser", []string{"riser"}}, {"2,5 m de contrahuella", "2.5 m of riser", []string{"spoil"}},
			{"Hacia: escombro", "To the spoil", nil}, {"Hacia: spoil", "To the spoil", []string{"spoil"}}, {"To the spoil", "To the spoil", []string{"to the spoil"}},
		} {
			if got := say(c.text, c.names...); got != c.want {
				t.Errorf("%q with %q is said %q, not %q", c.text, c.names, got, c.want)
			}
		}
	}
	for i := range 3 * maxSaid {
		say(strings.Repeat("riser, ", i%50+1) + "spoil")
		if n := len(w.said[0]); n > maxSaid {
			t.Fatalf("%d texts are kept", n)
		}
	}
}

// Whatever the text, it is said in bounded time, and never with a hole left open.
func FuzzSay(f *testing.F) {
	w, err := Spanish()
	if err != nil {
		f.Fatal(err)
	}
	for _, s := range []string{
		"7 risers of 6 in climb 3 ft over 9 ft, without a landing.", "{} {n} {=}", strings.Repeat("1 of 2 of ", 300), strings.Repeat("a, b and c; ", 200),
		"Soil: clay; swell 0.3 (this plan); shrinkage, 1 less compacted over bank 0.2 (this plan).", "\x00", "1 × 2 × 3 of", strings.Repeat("riser and ", 300),
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s := Speaker{Words: w, Comma: true}
		if out := s.Say(text); text != "" && out == "" {
			t.Errorf("%q is said as nothing", text)
		}
		if s.steps > 2*maxSteps {
			t.Errorf("%q took %d steps", text, s.steps)
		}
	})
}
