package slopewright

import (
	"reflect"
	"strings"
	"testing"
)

// codes are the fields of answers that are no text: codes, names that refer to
// one, amounts, what somebody typed.
const codes = " BestFor Binds Board By Carrier Class Currency Date Deliveries Drain Field Format Goods Got ID Item " +
	" Key Kind Labour Markups Method More OtherTotal Part RiserBoard Rule Section Severity Sign Soil Stringer Tax Text " +
	" Timber Title ToDate Total Units Use Version Work "

// Every field with a string in it is a text or a code; a new one has to be put
// among the one or the other.
func TestEveryFieldIsTextOrCode(t *testing.T) {
	seen := map[reflect.Type]bool{}
	var walk func(x reflect.Type, field string)
	walk = func(x reflect.Type, field string) {
		switch x.Kind() {
		case reflect.Pointer, reflect.Slice:
			walk(x.Elem(), field)
		case reflect.String:
			if in := " " + field + " "; strings.Contains(said, in) == strings.Contains(codes, in) {
				t.Errorf("%s is not either a text or a code", field)
			}
		case reflect.Struct:
			if seen[x] {
				return
			}
			seen[x] = true
			for i := range x.NumField() {
				if f := x.Field(i); f.IsExported() {
					walk(f.Type, f.Name)
				}
			}
		}
	}
	for _, x := range []any{Result{}, Sketch{}, About{}, Faults{}} {
		walk(reflect.TypeOf(x), "")
	}
	if len(seen) < 30 {
		t.Errorf("only %d types were seen", len(seen))
	}
}
