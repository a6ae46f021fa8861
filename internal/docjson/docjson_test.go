package docjson

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/slopewright/slopewright/internal/fault"
)

type hill struct {
	Name     string    `json:"name" need:"true" most:"5" doc:"write a name"`
	Colour   string    `json:"colour,omitempty" one:"red green"`
	Size     int       `json:"size,omitempty" range:"[1,9]"`
	Weight   float64   `json:"weight,omitempty" range:"(0,2]"`
	Wet      bool      `json:"wet,omitempty"`
	Parts    []part    `json:"parts,omitempty" most:"3"`
	Survey   *survey   `json:"survey,omitempty"`
	Optional *float64  `json:"optional,omitempty"`
	Words    []string  `json:"words,omitempty" one:"a b"`
	Numbers  []float64 `json:"numbers,omitempty"`
}

type part struct {
	At int `json:"at" need:"true"`
}

type survey struct {
	Way   string    `json:"way" variant:"true" need:"true" one:"short long"`
	Total int       `json:"total,omitempty" for:"short!" doc:"write the total"`
	Lines []reading `json:"lines,omitempty" for:"long!"`
}

type reading struct {
	Drop int `json:"drop,omitempty" for:"long!"`
}

func faultsOf(t *testing.T, err error) []string {
	t.Helper()
	if err == nil {
		return nil
	}
	var l fault.List
	if !errors.As(err, &l) {
		t.Fatalf("error is %T, not a fault.List", err)
	}
	out := []string{}
	for _, f := range l {
		out = append(out, f.Field+": "+f.Problem)
	}
	return out
}

func TestDecode(t *testing.T) {
	for _, c := range []struct {
		name, doc string
		want      []string
	}{
		{"all there", `{"name":"top","colour":"red","size":3,"weight":0.5,"wet":true,"parts":[{"at":1}],"survey":{"way":"long","lines":[{"drop":2}]},"optional":0,"words":["a","b"],"numbers":[1,2.5]}`, nil},
		{"nothing there", `{}`, []string{"name: is missing"}},
		{"several faults at once", `{"name":"too long","colour":"blue","size":0,"weight":0,"wet":"yes"}`,
			[]string{"name: is too long", "colour: is not one of the choices", "size: is out of range", "weight: is out of range", "wet: is neither true nor false"}},
		{"range includes its closed end", `{"name":"x","size":9,"weight":2}`, nil},
		{"beyond the closed end", `{"name":"x","size":10,"weight":2.0001}`, []string{"size: is out of range", "weight: is out of range"}},
		{"unknown field", `{"name":"x","color":"red"}`, []string{"color: is not a field of a hill"}},
		{"repeated field in a list", `{"name":"x","parts":[{"at":1},{}]}`, []string{"parts[1].at: is missing"}},
		{"list too long", `{"name":"x","parts":[{"at":1},{"at":1},{"at":1},{"at":1}]}`, []string{"parts: is too long"}},
		{"variant decides what is needed", `{"name":"x","survey":{"way":"short"}}`, []string{"survey.total: is missing"}},
		{"variant decides what is allowed", `{"name":"x","survey":{"way":"short","total":1,"lines":[]}}`, []string{"survey.lines: is not used by method \"short\""}},
		{"variant reaches into lists", `{"name":"x","survey":{"way":"long","lines":[{}]}}`, []string{"survey.lines[0].drop: is missing"}},
		{"bad variant", `{"name":"x","survey":{"way":"tall","total":1}}`, []string{"survey.way: is not one of the choices"}},
		{"null", `{"name":null}`, []string{"name: is not a value"}},
		{"number where text belongs", `{"name":7}`, []string{"name: is not text"}},
		{"fraction where a whole number belongs", `{"name":"x","size":2.5}`, []string{"size: is not a whole number"}},
		{"huge number", `{"name":"x","optional":1e999}`, []string{"optional: is not a number"}},
		{"list of words", `{"name":"x","words":["a","c"]}`, []string{"words[1]: is not one of the choices"}},
		{"not an object", `{"name":"x","survey":[]}`, []string{"survey: is not an object"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			n, err := Parse([]byte(c.doc))
			if err != nil {
				t.Fatal(err)
			}
			var h hill
			got := faultsOf(t, Decode(n, &h))
			if d := cmp.Diff(c.want, got); d != "" {
				t.Errorf("faults differ (-want +got):\n%s", d)
			}
		})
	}
}

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct{ name, doc, says string }{
		{"empty", "", "is empty"},
		{"cut off", `{"a": [1`, "ends too early"},
		{"not JSON", "{\n  \"a\": x}", "line 2, column"},
		{"two documents", `{} {}`, "more text"},
		{"deep", strings.Repeat("[", 100) + strings.Repeat("]", 100), "at most 16 deep"},
		{"written twice", `{"a":1,"a":2}`, "is written twice"},
		{"large", strings.Repeat(" ", MaxBytes+1), "at most"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Parse([]byte(c.doc))
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("got %v, want it to say %q", err, c.says)
			}
		})
	}
}

func TestFaultsAreBounded(t *testing.T) {
	doc := `{"name":"x"` + strings.Repeat(`,"zz":1`, 10) + `,"parts":[` + strings.Repeat(`7,`, 2) + `7]`
	for i := range 5000 {
		doc += `,"u` + string(rune('a'+i%26)) + strings.Repeat("q", i%9) + string(rune('a'+i/26%26)) + string(rune('a'+i/676)) + `":1`
	}
	n, err := Parse([]byte(doc + "}"))
	if len(faultsOf(t, err)) > MaxFaults {
		t.Errorf("%d faults of repeated names", len(faultsOf(t, err)))
	}
	var h hill
	if got := faultsOf(t, Decode(n, &h)); len(got) != MaxFaults+1 || !strings.Contains(got[MaxFaults], "more faults") {
		t.Errorf("%d faults, last %q", len(got), got[len(got)-1])
	}
}

func TestNearestField(t *testing.T) {
	n, _ := Parse([]byte(`{"name":"x","wieght":1,"colr":"red","quite else":1}`))
	var h hill
	err := Decode(n, &h)
	for _, want := range []string{"perhaps weight was meant", "perhaps colour was meant", "the fields here are name, colour"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%v\ndoes not say %q", err, want)
		}
	}
}

// The schema allows what Decode allows: the fields, and by variant.
func TestSchemaNamesEveryField(t *testing.T) {
	var s map[string]any
	if err := json.Unmarshal(Schema(hill{}, "id", "a hill", false), &s); err != nil {
		t.Fatal(err)
	}
	p := s["properties"].(map[string]any)
	if len(p) != 10 || s["additionalProperties"] != false {
		t.Errorf("schema has %d properties", len(p))
	}
	choices := p["survey"].(map[string]any)["oneOf"].([]any)
	short := choices[0].(map[string]any)["properties"].(map[string]any)
	if _, ok := short["lines"]; ok || len(choices) != 2 {
		t.Errorf("variant short has the fields %v", short)
	}
	size := p["size"].(map[string]any)
	if size["minimum"] != 1.0 || size["maximum"] != 9.0 {
		t.Errorf("range of size is %v", size)
	}
}
