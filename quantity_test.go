package slopewright

import (
	"math"
	"testing"

	"github.com/slopewright/slopewright/internal/docjson"
)

// Quantities are read in the units that a contractor has, as they are said, and stay as
// they were typed.
func TestQuantities(t *testing.T) {
	for text, want := range map[string]struct {
		unit  string
		value float64
	}{
		`1800`: {"kg/m3", 1800}, `"1800 kg/m³"`: {"kg/m3", 1800}, `"1.8 t/m3"`: {"kg/m3", 1800}, `"1,8 toneladas por metro cúbico"`: {"kg/m3", 1800},
		`"112.37 lb/cu ft"`: {"kg/m3", 1800}, `"112.37 lbs per cubic foot"`: {"kg/m3", 1800}, `"3034 lb/yd3"`: {"kg/m3", 1800}, `"112,37 libras por pie cúbico"`: {"kg/m3", 1800},
		`"1.308 cu yd per hour"`: {"m3/h", 1}, `"1.308 cu. yd./hr"`: {"m3/h", 1}, `"1.308 yd³/h"`: {"m3/h", 1}, `"1.308 cubic yards an hour"`: {"m3/h", 1}, `"1,31 yardas cúbicas por hora"`: {"m3/h", 1},
		`"107.64 sq ft/h"`: {"m2/h", 10}, `"107.64 pies cuadrados por hora"`: {"m2/h", 10},
		`"2 cu ft"`: {"m3", 0.0566}, `"57 l"`: {"m3", 0.057},
		`"150 feet a minute"`: {"m/min", 45.72},
		`"75 sq ft per gal"`:  {"m2/l", 1.84}, `"75 ft2/gallon"`: {"m2/l", 1.84},
		`"0.1 h/ft"`: {"h/m", 0.328}, `"0.1 hours per foot"`: {"h/m", 0.328},
	} {
		n, err := docjson.Parse([]byte(text))
		if err != nil {
			t.Fatal(err)
		}
		q := new(Quantity)
		q.In(want.unit)
		if err := q.ReadNode(n); err != nil || math.Abs(q.Value/want.value-1) > 2e-3 {
			t.Errorf("%s is %v %s: %v", text, q.Value, want.unit, err)
		}
		if again := string(q.AppendJSON(nil)); again != text {
			t.Errorf("%s is written again as %s", text, again)
		}
	}
	for text, unit := range map[string]string{`"1800"`: "kg/m3", `"8 lb"`: "kg/m3", `"8 lb/ft2"`: "kg/m3", `"8 cu yd"`: "m3/h", `"1,800 kg/m3"`: "kg/m3", `"kg/m3"`: "kg/m3", `"5 gal"`: "m3", `"1 cu"`: "m3", `true`: "m3", `"1 cu cu ft"`: "m2/h"} {
		n, err := docjson.Parse([]byte(text))
		if err != nil {
			t.Fatal(err)
		}
		q := new(Quantity)
		q.In(unit)
		if q.ReadNode(n) == nil {
			t.Errorf("%s is read as %v %s", text, q.Value, unit)
		}
	}
}
