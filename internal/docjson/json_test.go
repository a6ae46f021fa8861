package docjson

import (
	"bytes"
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
)

// plainOf is the value that encoding/json reads for a Node.
func plainOf(n Node) any {
	switch n.Kind {
	case Bool:
		return n.Bool
	case Number:
		return json.Number(n.Text)
	case String:
		return n.Text
	case List:
		out := []any{}
		for _, x := range n.Items {
			out = append(out, plainOf(x))
		}
		return out
	case Object:
		out := map[string]any{}
		for _, f := range n.Fields {
			out[f.Name] = plainOf(f.Value)
		}
		return out
	}
	return nil
}

// compare holds Parse against encoding/json: the same documents are read, as
// the same values.
func compare(t *testing.T, doc []byte) {
	t.Helper()
	n, err := Parse(doc)
	if err != nil && (strings.Contains(err.Error(), "written twice") || strings.Contains(err.Error(), "deep")) {
		return // encoding/json allows both
	}
	d := json.NewDecoder(bytes.NewReader(doc))
	d.UseNumber()
	var want any
	other := d.Decode(&want)
	if other == nil && len(bytes.TrimLeft(doc[d.InputOffset():], " \t\r\n")) > 0 {
		if err == nil {
			t.Errorf("%q: text after the document was let pass", doc)
		}
		return
	}
	if (err == nil) != (other == nil) {
		t.Errorf("%q: here %v, encoding/json %v", doc, err, other)
		return
	}
	if err == nil {
		if d := cmp.Diff(want, plainOf(n)); d != "" {
			t.Errorf("%q is read differently (-encoding/json +here):\n%s", doc, d)
		}
	}
}

var documents = []string{
	`{}`, `[]`, ` [ ] `, `{ "a" : 1 , "b" : [ true , false , null ] }`, `""`, `"a\"\\\/\b\f\n\r\tz"`, `"\u00e9\ud83d\ude00"`,
	`"\ud83d"`, `"\ud83dx"`, `"\ud83d\u0041"`, `"\udc00"`, "\"\xff\xfeé\"", "\"tab\there\"", `"\x"`, `"\u12"`, `"\u12g4"`, `"open`,
	`0`, `-0`, `-`, `01`, `1.`, `1.5`, `.5`, `1e5`, `1E+5`, `1e`, `1e-`, `-12.50e-3`, `1e999`, `+1`, `NaN`, `Infinity`,
	`tru`, `true`, `nul`, `truex`, `{"a"}`, `{"a":}`, `{"a":1,}`, `{,}`, `[1,]`, `[,1]`, `[1 2]`, `{"a":1 "b":2}`, `{a:1}`, `{'a':1}`,
	`{"a":1}}`, `[]]`, `{} {}`, `// x`, ``, `   `, `{"a":{"b":[{"c":[]}]}}`, `{"":""}`, "\"\x7f\"", "\ufeff{}", "[1]\x00",
}

func TestParseAgainstEncodingJSON(t *testing.T) {
	for _, doc := range documents {
		compare(t, []byte(doc))
	}
}

func FuzzParse(f *testing.F) {
	for _, doc := range documents {
		f.Add([]byte(doc))
	}
	f.Fuzz(func(t *testing.T, doc []byte) { compare(t, doc) })
}

type written struct {
	Name   string            `json:"name"`
	Number float64           `json:"number"`
	Count  int               `json:"count,omitempty"`
	List   []float64         `json:"list"`
	Parts  []written         `json:"parts,omitempty"`
	Inner  *written          `json:"inner,omitempty"`
	Zero   struct{ A int }   `json:"zero,omitzero"`
	Map    map[string]string `json:"map,omitempty"`
	Bool   bool              `json:"bool"`
	Hidden string            `json:"-"`
	secret string
}

func TestMarshalAgainstEncodingJSON(t *testing.T) {
	one := 1.0
	for _, v := range []any{
		written{}, &written{Name: "a\"\\\n\t\x01é\u2028😀\xff", Number: 0.1 + 0.2, Count: 3, List: []float64{1, -0.0, 1e-7, 1.5e-9, 1e21, 1e20, 123456789.125, math.SmallestNonzeroFloat64, math.MaxFloat64}},
		written{Parts: []written{{Name: "x"}, {}}, Inner: &written{Map: map[string]string{"b": "2", "a": "1"}}, Bool: true, Hidden: "h", secret: "s"},
		map[string]any{"z": 1.0, "a": []any{true, nil, "s", map[string]any{}}, "e": []any{}}, []string{"a"}, &one, (*float64)(nil),
	} {
		for _, indent := range []int{0, 2} {
			got, err := Marshal(v, indent)
			if err != nil {
				t.Fatal(err)
			}
			var b bytes.Buffer
			e := json.NewEncoder(&b)
			e.SetEscapeHTML(false)
			e.SetIndent("", strings.Repeat(" ", indent))
			if err := e.Encode(v); err != nil {
				t.Fatal(err)
			}
			want := strings.TrimSuffix(b.String(), "\n")
			// encoding/json writes an invalid byte as \ufffd, here as it is in
			// UTF-8; both mean the same.
			want = strings.ReplaceAll(want, `\ufffd`, "\ufffd")
			if d := cmp.Diff(want, string(got)); d != "" {
				t.Errorf("written differently (-encoding/json +here):\n%s", d)
			}
		}
	}
	if _, err := Marshal(math.NaN(), 0); err == nil {
		t.Error("NaN was written")
	}
}

func FuzzAppendString(f *testing.F) {
	f.Add("plain")
	f.Add("\x00\x1f\x7f\"\\ \u2028 \xff 😀")
	f.Fuzz(func(t *testing.T, s string) {
		var back string
		if err := json.Unmarshal(AppendString(nil, s), &back); err != nil {
			t.Fatal(err)
		}
		if back != strings.ToValidUTF8(s, "\ufffd") && utf8.ValidString(s) {
			t.Errorf("%q came back as %q", s, back)
		}
	})
}

func FuzzAppendFloat(f *testing.F) {
	f.Add(0.1)
	f.Add(-1e-7)
	f.Fuzz(func(t *testing.T, x float64) {
		got, ok := AppendFloat(nil, x)
		want, err := json.Marshal(x)
		if ok != (err == nil) || ok && string(got) != string(want) {
			t.Errorf("%v: here %s, encoding/json %s %v", x, got, want, err)
		}
	})
}

func FuzzRound(f *testing.F) {
	for _, x := range []float64{1.1999999999999993, -1e-17, 0.30000000000000004, 123456.78901234567, 999999999999.7, 1e12 - 0.3, 3e15, 5e-324, math.Inf(-1)} {
		f.Add(x)
	}
	f.Fuzz(func(t *testing.T, x float64) {
		got := Round(x)
		a := math.Abs(x)
		if math.IsNaN(x) || a >= 1e12 {
			if got != x && !math.IsNaN(x) {
				t.Errorf("%v became %v: it has no decimals to lose", x, got)
			}
			return
		}
		digits, decimals, _ := strings.Cut(strings.TrimLeft(strconv.FormatFloat(math.Abs(got), 'f', -1, 64), "0."), ".")
		if n := len(strings.TrimRight(digits+decimals, "0")); n > 12 {
			t.Errorf("%v became %v, of %d digits", x, got, n)
		}
		if got == 0 && math.Signbit(got) {
			t.Errorf("%v became -0", x)
		}
		// Half of the last digit kept, and what a product of two float64 is off.
		if off, most := math.Abs(got-x), 0.5e-12*math.Max(1, 10*a)*(1+1e-3); off > most {
			t.Errorf("%v became %v, off by %v of at most %v", x, got, off, most)
		}
	})
}
