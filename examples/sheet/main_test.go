package main

import (
	"strings"
	"testing"
)

// What will not do is told with what would.
func TestComplaints(t *testing.T) {
	const plans = "../../testdata/plans/"
	for _, c := range []struct{ args, want string }{
		{"-kind foo " + plans + "bench.json", `-kind: "foo" is no kind of sheet; write build, field or quote`},
		{"-paper a5 " + plans + "bench.json", `-paper: "a5" is no paper known here; write a4 or letter`},
		{plans + "bench.json x.json", "x.json: is a second file; give one plan at a time"},
		{plans + "bench.json -kind quote", "-kind: stands after the file; write options before it"},
		{"-name Bob " + plans + "bench.json", "-name: stands on a quote alone; write -kind quote, or leave it out"},
		{"-kind quote -rate 1" + strings.Repeat("7", 1e6) + " " + plans + "bench.json", "-rate: \"1777777777777777777777777777777777777777\" is not a price"},
		{"-kind quote -rate 1,200 " + plans + "bench.json", "-rate: \"1,200\" is not a price"},
		{"-kind quote -markup 15 -rate cheap " + plans + "bench.json", "-markup: 15 is not a fraction from 0 to 10; write 15 % as 0.15\n-rate: \"cheap\" is not a price"},
		{"-kind quote -markup -0.1 " + plans + "bench.json", "-markup: -0.1 is not a fraction"},
		{"-", "This plan has 1 fault:\n  "},
	} {
		var out, complaints strings.Builder
		in := strings.NewReader(`{"format":"slopewright.plan/1","ground":{"method":"total","rise":"7 fft","run":"20 ft"},"path":{"width":"4 ft"}}`)
		if code := run(strings.Fields(c.args), in, &out, &complaints); code != 2 || out.Len() > 0 || !strings.Contains(complaints.String(), c.want) {
			t.Errorf("sheet %s exits with %d: %s", c.args, code, complaints.String())
		}
	}
}
