package tape

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

// exact is num/den, rounded once.
func exact(num, den int64) float64 {
	f, _ := big.NewRat(num, den).Float64()
	return f
}

func TestParseLength(t *testing.T) {
	// The inch is 25.4 mm exactly, so every expectation is a whole number of
	// tenths of a micrometre over 1e7.
	for _, c := range []struct {
		text string
		num  int64 // of 1/1e7 m; 1/16 in is 15875, 1 in 254000, 1 ft 3048000
	}{
		{`0`, 0}, {`0.00`, 0}, {`5' 3 3/8"`, 16097250}, {`5 ft 3 3/8 in`, 16097250}, {`5-3 3/8`, 16097250}, {`5'3-3/8"`, 16097250},
		{`5'-3 3/8"`, 16097250}, {`5'-3-3/8"`, 16097250}, {`5-3-3/8`, 16097250}, {`5′ 3⅜″`, 16097250},
		{`5’3 3/8”`, 16097250}, {`5'3 3/8''`, 16097250}, {`5’3⅜’’`, 16097250}, {`5 feet 3 3⁄8 inches`, 16097250},
		{`5 FT. 3 3/8 IN.`, 16097250}, {`5 ft, 3 3/8 in`, 16097250}, {`5ft3⅜in`, 16097250}, {`5 ft - 3 3/8 in`, 16097250},
		{`63.375 in`, 16097250}, {`63,375.0 in`, -1}, {`5' 3,375"`, -1}, {`5' 3 3/8`, 16097250}, {`5'3`, 16002000},
		{`1.609725 m`, 16097250}, {`1609.725 mm`, 16097250}, {`1609,7250 mm`, 16097250}, {`160.9725 cm`, 16097250},
		{`9.5 in`, 2413000}, {`.5 in`, 127000}, {`-.5 in`, -127000}, {`9,5 in`, 2413000}, {`47"`, 11938000}, {`47''`, 11938000}, {`3/8 in`, 95250},
		{`½"`, 127000}, {`1½"`, 381000}, {`1-1/2"`, 381000}, {`1 1/2 ft`, 4572000}, {`1 foot`, 3048000}, {`5 ft 0 in`, 15240000},
		{`1 yd`, 9144000}, {`2 yd 1 ft 6 in`, 22860000}, {`1 yd 30 in`, 16764000}, {`1.5 yards`, 13716000},
		{`6 pies 2 pulgadas`, 18796000}, {`1 pie`, 3048000}, {`9 pulg`, 2286000}, {`1,5 metros`, 15000000}, {`30 centímetros`, 3000000}, {`5 milímetros`, 50000},
		{`1.61 m`, 16100000}, {`1,61 m`, 16100000}, {`1610 mm`, 16100000}, {`0,610 m`, 6100000}, {`1610,125 mm`, 16101250}, {`1 m 61 cm`, 16100000},
		{`1 m 5 cm`, 10500000}, {`1 metre 50 millimetres`, 10500000}, {`1 m, 5 cm`, 10500000}, {`1 m 5.5 cm`, 10550000},
		{"1\u202f610,5 mm", -1}, {"1.61\u00a0m", 16100000}, {"1.61\u2009m", 16100000}, {"\t1.61 m \n", 16100000}, {"1.61\u202fm", 16100000},
		{`-1.61 m`, -16100000}, {"\u22121.61 m", -16100000}, {`- 5' 3 3/8"`, -16097250}, {`-5-3 3/8`, -16097250}, {`+2 in`, 508000},
		{`0 in`, 0}, {`-0 in`, 0}, {`0/4 in`, 0}, {`1000000 m`, 10000000000000},
	} {
		got, err := ParseLength(c.text)
		if c.num == -1 {
			if err == nil {
				t.Errorf("%q read as %v; want it refused", c.text, got)
			}
			continue
		}
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		if want := exact(c.num, 1e7); math.Float64bits(got.Meters()) != math.Float64bits(want) {
			t.Errorf("%q = %v m, want %v", c.text, got.Meters(), want)
		}
	}
}

func TestParseLengthRefuses(t *testing.T) {
	for _, c := range []struct{ text, problem, fix string }{
		{"", "no text", "5' 3 3/8\""},
		{"  \u00a0 ", "no text", "1.61 m"},
		{"47", "no unit", "47 in"},
		{"1.61", "no unit", "1.61 m"},
		{"3/8", "no unit", "3/8 in"},
		{"7 fft", "“fft” is no unit", "5' 3 3/8\""},
		{"1e3 m", "“e” is no unit", ""},
		{"2 ft 1O in", "a letter for a figure", "write 2 ft 10 in"},
		{"1.7Om", "a letter for a figure", "write 1.70m"},
		{"O.96 m", "a letter for a figure", "write 0.96 m"},
		{"-O,5 ft", "a letter for a figure", "write -0,5 ft"},
		{"O ft 5 in", "a letter for a figure", "write 0 ft 5 in"},
		{"l.71m", "a letter for a figure", "write 1.71m"},
		{"l0 ft l in", "a letter for a figure", "write 10 ft 1 in"},
		{"I.5 m", "a letter for a figure", "write 1.5 m"},
		{"lots of m", "stands where a number should", "write a length like"},
		{"0.32", "has no unit", "write 0.32 in, 0.32 ft, 0.32 mm or 0.32 m"},
		{"-3", "has no unit", "write -3 in, -3 ft, -3 mm or -3 m"},
		{"-5 ft 14 in", "has a whole ft or more", "write -6 ft 2 in"},
		{"1 yd 2 in 3", "has no unit after “3”", "write 3 in,"},
		{"NaN m", "“nan” stands where a number", ""},
		{"ft", "“ft” stands", ""},
		{"-", "number is missing", ""},
		{"--5 m", "“-” stands", ""},
		{"5 ft 14 in", "whole ft or more in its in", "write 6 ft 2 in"},
		{`5' 12"`, "whole ft or more", "write 6 ft 0 in"},
		{"5-14", "whole ft or more", "write 6 ft 2 in"},
		{"1 yd 4 ft", "whole yd or more in its ft", "write 7 ft 0 in"},
		{"1 m 105 cm", "whole m or more in its cm", "write 205 cm"},
		{"1 m 5 cm 12 mm", "whole cm or more in its mm", "write 1062 mm"},
		{"9/8 in", "fraction of 1 or more, “9/8”", "write 1 1/8"},
		{"5 16/8 in", "fraction of 1 or more", "write 7"},
		{"-3 5/4 in", "fraction of 1 or more, “5/4”", "write -4 1/4"},
		{"-1,610 m", "may mean -1610 or -1.610", "write -1610 or -1.610"},
		{"3/0 in", "nothing but 0 below the line", "3/8"},
		{"3/00 in", "nothing but 0 below the line", "3/8"},
		{"1.5/8 in", "decimals in the fraction", "3/8"},
		{"9.5 1/2 in", "both decimals and a fraction", "9 1/2"},
		{"1.2.3 m", "more than one decimal mark", "1234.5"},
		{"1..2 m", "more than one decimal mark", ""},
		{"1,234.5 mm", "more than one decimal mark", "1234.5"},
		{"5. m", "no digit after the decimal mark", ""},
		{"1,610 mm", "may mean 1610 or 1.610", "write 1610 or 1.610"},
		{"1,610 m", "may mean 1610 or 1.610", ""},
		{"1 610 mm", "two numbers side by side", "1610 mm"},
		{"5 ft 3 cm", "mixes ft with cm", "all of it"},
		{"1 m 5 in", "mixes m with in", "all of it"},
		{"3 in 5 ft", "ft after in", "larger unit first: 5 ft 3 in"},
		{"5 ft 3 ft", "ft twice", "write 8 ft 0 in"},
		{"5.5 ft 3 in", "fraction of ft before in", "5 ft 9 in"},
		{"1.5 m 5 cm", "fraction of m before cm", "155 cm"},
		{"5 ft 3 in ok", "“ok” stands where a number", ""},
		{"5 ft 3 in /", "“/” is left over", ""},
		{"5 ft per", "“per” is left over", ""},
		{"5 ft -", "number is missing", ""},
		{"5-3/8", "feet and inches or inches only", `write 5' 3/8" or 5 3/8 in`},
		{"5-6 in", "or a range", `write 5' 6"`},
		{"5.5-6", "fraction of ft before in", ""},
		{"1 m - 5 cm", "“-” stands", ""},
		{"5 ft \u22123 in", "“−” stands", ""},
		{"5 ft.5 in", "may be a decimal mark or not", "write a space"},
		{"5',3 in", "may be a decimal mark or not", "write a space"},
		{"1000000.001 m", "longer than 1000000 m", "up to"},
		{"-1000001 m", "longer than 1000000 m", "up to"},
		{strings.Repeat("9", 64), "no unit", ""},
		{strings.Repeat("9", 63) + "m", "longer than 1000000 m", ""},
		{strings.Repeat("9", 64) + "m", "longer than 64 characters", ""},
		{strings.Repeat(" ", 1<<20) + "1 m", "longer than 64 characters", ""},
		{"5\x00 m", "“U+0000” has no place", ""},
		{"\xff5 m", "invalid UTF-8", ""},
		{"٣ m", "has no place in it", ""},
		{"5 (m)", "“(” has no place", ""},
		{"5° m", "“°” is no unit", ""},
		{"1 m 5", "no unit after “5”", "write 5 cm or 5 mm there"},
		{"1 yd 5", "no unit after “5”", "5 in"},
		{"2 %", "no unit", ""},
	} {
		got, err := ParseLength(c.text)
		checkFault(t, c.text, got, err, c.problem, c.fix)
	}
}

func checkFault(t *testing.T, text string, got any, err error, problem, fix string) {
	t.Helper()
	var f fault.Fault
	switch {
	case err == nil:
		t.Errorf("%q read as %v; want it refused: %s", text, got, problem)
	case !errors.As(err, &f):
		t.Errorf("%q: error is a %T, want fault.Fault", text, err)
	case !strings.Contains(f.Problem, problem) || !strings.Contains(f.Fix, fix):
		t.Errorf("%q: %v\nwant problem with %q and fix with %q", text, err, problem, fix)
	case f.Fix == "" || f.Field != "":
		t.Errorf("%q: fault %+v has no fix, or a field", text, f)
	}
}

func TestFixesDo(t *testing.T) {
	// A fix that the reader itself would refuse helps nobody.
	for _, c := range []struct{ text, want string }{
		{"5 ft 14 in", "6 ft 2 in"}, {"3 in 5 ft", "5 ft 3 in"}, {"1 m 105 cm", "205 cm"},
		{"5.5 ft 3 1/3 in", "69.333333 in"}, {"1 yd 4 ft 1/2 in", "7 ft 0 in"},
	} {
		_, err := ParseLength(c.text)
		var f fault.Fault
		if !errors.As(err, &f) || !strings.HasSuffix(f.Fix, c.want) {
			t.Errorf("%q: %v, want a fix ending in %q", c.text, err, c.want)
		}
		if _, err := ParseLength(c.want); err != nil {
			t.Errorf("the fix %q is refused: %v", c.want, err)
		}
	}
}

func TestStyle(t *testing.T) {
	imperial := Style{Imperial: true}
	for _, c := range []struct {
		s    Style
		m    float64
		want string
	}{
		{imperial, 1.609725, "5 ft 3 3/8 in"},
		{imperial, 0.0254 * 11.999, "1 ft 0 in"}, // 11 15.99/16 in carries
		{imperial, 0.0254 * 23.97, "2 ft 0 in"},
		{imperial, 0.0254 * 11.95, "11 15/16 in"},
		{imperial, 0.0254 * 12.5, "1 ft 0 1/2 in"},
		{imperial, 0.0254 * 0.375, "3/8 in"},
		{imperial, 0.0254 * 9.5, "9 1/2 in"},
		{imperial, -0.0254 * 14, "-1 ft 2 in"},
		{imperial, -0.0254 * 0.02, "0 in"},
		{imperial, 0, "0 in"},
		{imperial, math.Copysign(0, -1), "0 in"},
		{Style{Imperial: true, Denominator: 64}, 0.0254 / 64, "1/64 in"},
		{Style{Imperial: true, Denominator: 2}, 0.0254 * 7.8, "8 in"},
		{Style{Imperial: true, Denominator: 8}, 0.0254 * 7.8, "7 3/4 in"},
		{Style{Imperial: true, Denominator: 10}, 0.0254 * 7.8, "7 4/5 in"},
		{Style{Imperial: true, Denominator: 1}, 0.0254 * 7.8, "7 13/16 in"},
		{Style{}, 1.61, "1610 mm"},
		{Style{}, 0.0005, "1 mm"},
		{Style{}, -0.0015, "-2 mm"},
		{Style{}, -0.0004, "0 mm"},
		{Style{Metres: true}, 1.61, "1.610 m"},
		{Style{Metres: true}, -0.007, "-0.007 m"},
		{Style{Metres: true}, 0.9996, "1.000 m"},
		{Style{}, 1e6, "1000000000 mm"},
		{Style{}, 1e7, "1e+07 m"},
		{imperial, math.NaN(), "NaN m"},
		{imperial, math.Inf(-1), "-Inf m"},
	} {
		if got := c.s.Length(unit.Length(c.m)); got != c.want {
			t.Errorf("%+v prints %v m as %q, want %q", c.s, c.m, got, c.want)
		}
	}
	for d, ok := range map[int]bool{0: true, 1: false, 2: true, 16: true, 64: true, 65: false, -3: false} {
		if err := (Style{Denominator: d}).Validate(); (err == nil) != ok {
			t.Errorf("denominator %d: %v", d, err)
		}
	}
}

// styles are all the ways to print, for the properties below.
func styles() []Style {
	s := []Style{{}, {Metres: true}, {Imperial: true}}
	for d := 2; d <= 64; d++ {
		s = append(s, Style{Imperial: true, Denominator: d})
	}
	return s
}

func TestRoundTrip(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 63375))
	all := styles()
	for i := range 40_000 {
		s := all[i%len(all)]
		// Lengths of every size from a hair to the limit, both signs, some
		// right on a mark or half way between two.
		x := (rng.Float64() - 0.5) * math.Pow(10, float64(rng.IntN(11)-4))
		switch rng.IntN(4) {
		case 0:
			x = float64(rng.IntN(100_000)) * 0.0254 / float64(2*s.denominator())
		case 1:
			x = math.Round(x*2000) / 2000
		}
		checkRoundTrip(t, s, unit.Length(x))
	}
	for _, s := range all {
		for _, x := range []float64{1e6, -1e6, math.Nextafter(1e6, 0), 0, math.Copysign(0, -1), math.SmallestNonzeroFloat64} {
			checkRoundTrip(t, s, unit.Length(x))
		}
	}
}

func checkRoundTrip(t *testing.T, s Style, x unit.Length) {
	t.Helper()
	text := s.Length(x)
	got, err := ParseLength(text)
	if err != nil {
		t.Errorf("%+v prints %v as %q, which is refused: %v", s, x.Meters(), text, err)
		return
	}
	want := s.Round(x)
	if math.Float64bits(got.Meters()) != math.Float64bits(want.Meters()) {
		t.Errorf("%+v: %v prints as %q, reads as %v, rounds to %v", s, x.Meters(), text, got.Meters(), want.Meters())
	}
	if again := s.Length(got); again != text {
		t.Errorf("%+v: %q read and printed again is %q", s, text, again)
	}
	// Half a mark at most, with room for the rounding of the difference.
	mark := s.measure().metres().float()
	if d := math.Abs(got.Meters() - x.Meters()); d > mark*0.5000001+1e-9 && math.Abs(x.Meters()) < 999_999 {
		t.Errorf("%+v: %v is printed as %q, %v m away", s, x.Meters(), text, d)
	}
}

func TestParseSlope(t *testing.T) {
	for _, c := range []struct {
		text     string
		num, den int64
	}{
		{"2 %", 1, 50}, {"2%", 1, 50}, {"2 percent", 1, 50}, {"2 per cent", 1, 50}, {"2.5 %", 1, 40}, {"2,5 %", 1, 40}, {"2½ %", 1, 40},
		{"20 ‰", 1, 50}, {"-2 %", -1, 50}, {"\u22122\u202f%", -1, 50}, {"0 %", 0, 1},
		{"1:48", 1, 48}, {"1 : 48", 1, 48}, {"1∶48", 1, 48}, {"2:1", 2, 1}, {"0.5:12", 1, 24}, {"1/4:12", 1, 48}, {"-1:48", -1, 48},
		{"1 in 48", 1, 48}, {"1 in 12.5", 2, 25},
		{"1/4 in per ft", 1, 48}, {`1/4" per foot`, 1, 48}, {`1/4"/ft`, 1, 48}, {`¼″⁄′`, 1, 48}, {"0.25 in per ft", 1, 48}, {"1 in per 4 ft", 1, 48}, {"1/4 pulg por pie", 1, 48},
		{"20 mm per m", 1, 50}, {"20 mm/m", 1, 50}, {"2 cm per 1 m", 1, 50}, {"-20 mm per m", -1, 50}, {"1 in per 48 in", 1, 48}, {"100:1", 100, 1},
	} {
		got, err := ParseSlope(c.text)
		if want := exact(c.num, c.den); err != nil || math.Float64bits(got) != math.Float64bits(want) {
			t.Errorf("%q = %v, %v; want %v", c.text, got, err, want)
		}
	}
	for _, c := range []struct {
		text string
		deg  float64
	}{
		{"12°", 12}, {"12 deg", 12}, {"12 degrees", 12}, {"-12.5°", -12.5}, {"12° 30'", 12.5}, {"12 deg 30 min", 12.5}, {"0°", 0}, {"45º", 45},
	} {
		got, err := ParseSlope(c.text)
		if want := math.Tan(c.deg * math.Pi / 180); err != nil || math.Abs(got-want) > 1e-15 {
			t.Errorf("%q = %v, %v; want %v", c.text, got, err, want)
		}
	}
	for _, c := range []struct{ text, problem, fix string }{
		{"", "no text", "2 %"},
		{"2", "number without a unit", "write 2 %, 2° or 2:1 (rise:run)"},
		{"0.02", "number without a unit", "write 0.02 %, 0.02° or 0.02:1"},
		{"1/48", "number without a unit", "1:48"},
		{"1:0", "no run", "1:48"},
		{"20 mm per 0 m", "no run", "1:48"},
		{"20 mm", "a length, not a slope", "20 mm per m"},
		{"20 mm per", "unit it rises in is missing", ""},
		{"20 mm per fathom", "“fathom” is no unit", ""},
		{"1 in 48 in", "in twice", ""},
		{"2 % up", "“up” is left over", ""},
		{"1:48:2", "“:” is left over", ""},
		{"1:-48", "“-” stands", ""},
		{"101:1", "steeper than 100:1", ""},
		{"20000 %", "steeper than 100:1", ""},
		{"90°", "steeper than 100:1", "89.4°"},
		{"100°", "steeper than 100:1", "89.4°"},
		{"89.9°", "steeper than 100:1", "89.4°"},
		{"-90°", "steeper than 100:1", "89.4°"},
		{"12 rad", "“rad” is no unit", ""},
		{"2 %%", "“%” is left over", ""},
	} {
		got, err := ParseSlope(c.text)
		checkFault(t, c.text, got, err, c.problem, c.fix)
	}
}

func TestParseAngle(t *testing.T) {
	for _, c := range []struct {
		text string
		deg  float64
	}{
		{"12°", 12}, {"12.5 deg", 12.5}, {"12,5°", 12.5}, {"12° 30'", 12.5}, {"12°30′", 12.5}, {"12 deg 30 min", 12.5},
		{`12° 30' 36"`, 12.51}, {`12° 36"`, 12.01}, {"12° 30' 36''", 12.51}, {"12½°", 12.5}, {"-12°", -12}, {"+90 degrees", 90}, {"360°", 360}, {"-0°", 0},
		{"12° 30.6'", 12.51},
	} {
		got, err := ParseAngle(c.text)
		if want := float64(unit.Angle(c.deg) * unit.Degree); err != nil || math.Float64bits(float64(got)) != math.Float64bits(want) {
			t.Errorf("%q = %v, %v; want %v", c.text, float64(got), err, want)
		}
	}
	for _, c := range []struct{ text, problem, fix string }{
		{"", "no text", "12°"},
		{"12", "no unit", "write 12° "},
		{"12 %", "a grade, not an angle", "12°"},
		{"12 per cent", "a grade, not an angle", "12°"},
		{"1:48", "a grade, not an angle", "12°"},
		{"1 in 48", "a grade, not an angle", "12°"},
		{"12 ft", "“ft” stands", "12.5 deg"},
		{"12.5° 30'", "fraction before its minutes", "12.5°"},
		{`12° 30.5' 10"`, "fraction before its seconds", ""},
		{"12° 60'", "60 or more minutes", ""},
		{`12° 30' 60"`, "60 or more seconds", ""},
		{`12° 30" 20'`, "left over", ""},
		{"12° 30", "each with its mark", ""},
		{"12° 30' x", "“x” stands", ""},
		{"361°", "more than a full turn", ""},
		{`360° 0' 1"`, "more than a full turn", ""},
	} {
		got, err := ParseAngle(c.text)
		checkFault(t, c.text, got, err, c.problem, c.fix)
	}
}

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{`5' 3 3/8"`, "5-3 3/8", "1,61 m", "-1 m 5 cm", "9/8 in", "½″", "5 ft.3 in", "1\u202f610 mm", "5-3/8"} {
		f.Add(s)
	}
	all := styles()
	f.Fuzz(func(t *testing.T, s string) {
		x, err := ParseLength(s)
		checkPlain(t, s)
		if err != nil {
			checkFuzzFault(t, err)
			return
		}
		if !(math.Abs(x.Meters()) <= maxMetres) {
			t.Fatalf("%q read as %v", s, x)
		}
		if y, err := ParseLength(" " + s + "\t"); len(s) < 60 && (err != nil || y != x) {
			t.Errorf("%q reads otherwise with spaces around it: %v, %v", s, y, err)
		}
		for _, style := range all {
			checkRoundTrip(t, style, x)
		}
	})
}

func FuzzParseSlope(f *testing.F) {
	for _, s := range []string{"2 %", "1:48", "1 in 48", "1/4 in per ft", "20 mm/m", "12° 30'", "89.5 deg", "0.02", "1:0"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if x, err := ParseSlope(s); err != nil {
			checkFuzzFault(t, err)
		} else if !(math.Abs(x) <= maxSlope) {
			t.Errorf("slope %q read as %v", s, x)
		}
		if x, err := ParseAngle(s); err != nil {
			checkFuzzFault(t, err)
		} else if !(math.Abs(float64(x)) <= 2*math.Pi) {
			t.Errorf("angle %q read as %v", s, x)
		}
	})
}

func checkFuzzFault(t *testing.T, err error) {
	t.Helper()
	var f fault.Fault
	if !errors.As(err, &f) || f.Problem == "" || f.Fix == "" || f.Field != "" {
		t.Errorf("error %#v is no fault with a problem and a fix", err)
	}
	if text := f.Error(); strings.ToValidUTF8(text, "") != text {
		t.Errorf("message %q is not valid UTF-8", text)
	}
}

// checkPlain holds what is read without ratios against the same read with them.
func checkPlain(t *testing.T, s string) {
	t.Helper()
	got, ok := plainLength(s)
	if !ok {
		got, ok = plainMarks(s)
	}
	if !ok {
		return
	}
	if want, err := anyLength(s); err != nil || math.Float64bits(float64(got)) != math.Float64bits(float64(want)) {
		t.Errorf("%q is read as %v, with ratios as %v, %v", s, got, want, err)
	}
}

// A decimal number and a unit is read the same with ratios and without.
func TestPlainLengths(t *testing.T) {
	r := rand.New(rand.NewPCG(53, 10))
	units, read := []string{"m", "mm", "cm", "ft", "in", "yd", "km", ""}, 0
	for range 40000 {
		digits := r.IntN(18)
		b := make([]byte, digits)
		for i := range b {
			b[i] = byte('0' + r.IntN(10))
		}
		s := string(b)
		if at := r.IntN(digits + 4); at <= digits {
			s = s[:at] + "." + s[at:]
		}
		if r.IntN(3) > 0 {
			s += " "
		}
		s += units[r.IntN(len(units))]
		if checkPlain(t, s); t.Failed() {
			return
		}
		if _, ok := plainLength(s); ok {
			read++
		}
	}
	if read < 8000 {
		t.Errorf("only %d of 40000 were read without ratios", read)
	}
	marked := 0
	for range 20000 {
		s := fmt.Sprintf(`%d' %d`, r.IntN(4000), r.IntN(13))
		if r.IntN(3) > 0 {
			s += fmt.Sprintf(" %d/%d", r.IntN(17), r.IntN(33))
		}
		s += `"`
		if checkPlain(t, s); t.Failed() {
			return
		}
		if _, ok := plainMarks(s); ok {
			marked++
		}
	}
	if marked < 8000 {
		t.Errorf("only %d of 20000 were read without ratios", marked)
	}
	for _, s := range []string{`5'`, `5' 3`, `5' 12"`, `5' 3 8/8"`, `5' 3 3/0"`, `0' 0"`, `5' 3/8"`, `5'3"`, `5' 3" `, `123456' 1"`, `5' 3.5"`} {
		if got, ok := plainMarks(s); ok {
			t.Errorf("%q is read without ratios, as %v", s, got)
		}
	}
	for _, s := range []string{"5. m", ".5 m", "5", "0 m", "-1 m", "1  m", "1 m ", "1e3 m", "1.2.3 m", "1,5 m", "1000000 m", "999999999999999 mm", "9007199254740993 mm", "3 kg", "1 M"} {
		if got, ok := plainLength(s); ok {
			t.Errorf("%q is read without ratios, as %v", s, got)
		}
	}
}

func BenchmarkParseLength(b *testing.B) {
	for _, s := range []string{`5' 3 3/8"`, "1.61 m"} {
		b.Run(s, func(b *testing.B) {
			for b.Loop() {
				if _, err := ParseLength(s); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkLength(b *testing.B) {
	s := Style{Imperial: true}
	for b.Loop() {
		s.Length(1.609725)
	}
}

// What is counted in whole numbers only where it is near to half a mark is the
// mark that exact arithmetic gives.
func TestMarksAreExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 9))
	for range 20000 {
		s := Style{Imperial: rng.IntN(2) == 0, Denominator: 2 + rng.IntN(63)}
		m := s.measure()
		x := rng.Float64() * math.Pow(10, float64(rng.IntN(8)-1))
		if rng.IntN(2) == 0 { // half a mark, or next to it
			x = (math.Floor(x*1000) + 0.5) * float64(m.num) / float64(m.den)
			for range rng.IntN(3) {
				x = math.Nextafter(x, float64(rng.IntN(2))*1e9)
			}
		}
		if rng.IntN(2) == 0 {
			x = -x
		}
		if math.Abs(x) > maxMetres {
			continue
		}
		exact := new(big.Rat).SetFloat64(math.Abs(x))
		exact.Mul(exact, big.NewRat(m.den, m.num)).Add(exact, big.NewRat(1, 2))
		want := new(big.Int).Quo(exact.Num(), exact.Denom()).Int64()
		if x < 0 {
			want = -want
		}
		if got := s.marks(unit.Length(x) * unit.Meter); got != want {
			t.Fatalf("%+v: %v m is %d marks, counted as %d", s, x, want, got)
		}
		whole, _ := new(big.Rat).SetFrac64(want*m.num, m.den).Float64()
		if got := s.Round(unit.Length(x) * unit.Meter).Meters(); got != whole {
			t.Fatalf("%+v: %v m is rounded to %v, not %v", s, x, got, whole)
		}
	}
}
