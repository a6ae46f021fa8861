package earthwork

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"testing"
)

// readVectors reads a file of published check values into v, refusing any
// field it does not know, so that a misspelt one is not silently left out.
func readVectors(t *testing.T, name string, v any) {
	t.Helper()
	text, err := os.ReadFile("../testdata/earthwork/" + name)
	if err != nil {
		t.Fatal(err)
	}
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(v); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
}

func near(got, want, within float64) bool { return math.Abs(got-want) <= within }

// check reports got when it is not the published figure, if there is one.
func check(t *testing.T, what string, got float64, want *float64, within float64) {
	t.Helper()
	if want != nil && !near(got, *want, within) {
		t.Errorf("%s = %.9g, published %.9g ± %g", what, got, *want, within)
	}
}
