package tape

import (
	"math"
	"strconv"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

// Style says how lengths are printed. The zero value prints millimetres.
type Style struct {
	// Imperial prints feet, inches and fractions.
	Imperial bool
	// Denominator is the finest fraction of an inch, 2 to 64; 0 is 16, and
	// so is what Validate refuses.
	Denominator int
	// Metres prints metres with three decimals rather than millimetres.
	Metres bool
}

// Validate refuses a Denominator that is neither 0 nor 2 to 64.
func (s Style) Validate() error {
	if s.Denominator == 0 || s.Denominator >= 2 && s.Denominator <= 64 {
		return nil
	}
	return fault.Fault{
		Field:   "denominator",
		Got:     strconv.Itoa(s.Denominator),
		Problem: "is not a fraction of an inch to print to",
		Fix:     "give 2 to 64, usually 8, 16 or 32, or 0 for 16",
	}
}

func (s Style) denominator() int64 {
	if s.Denominator < 2 || s.Denominator > 64 {
		return 16
	}
	return int64(s.Denominator)
}

// Length prints l rounded as by Round: 5 ft 3 3/8 in, -1 ft 2 in, 3/8 in,
// 1610 mm or 1.610 m. ParseLength reads the text back to exactly Round(l).
// A length beyond 1 000 000 m or not a number, which ParseLength never gives,
// prints as its value in m and is not read back.
func (s Style) Length(l unit.Length) string {
	if !printable(l) {
		return strconv.FormatFloat(l.Meters(), 'g', 6, 64) + " m"
	}
	n := s.marks(l)
	if s.Imperial {
		return printMarks(n, s.denominator())
	}
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	if !s.Metres {
		return sign + strconv.FormatInt(n, 10) + " mm"
	}
	mm := strconv.FormatInt(1000+n%1000, 10)[1:]
	return sign + strconv.FormatInt(n/1000, 10) + "." + mm + " m"
}

// Round gives the length that Length prints: to the nearest mark of the tape
// (fraction of an inch, or millimetre), halves away from zero. What does not
// fit in 1 000 000 m is returned as it is.
func (s Style) Round(l unit.Length) unit.Length {
	if !printable(l) {
		return l
	}
	n, m := s.marks(l), s.measure()
	if n > -1<<40 && n < 1<<40 {
		// Both are whole and below 2^53: their quotient is rounded once.
		return unit.Length(float64(n*m.num)/float64(m.den)) * unit.Meter
	}
	return unit.Length(ratioOf(n, 1).times(m.metres()).float()) * unit.Meter
}

func printable(l unit.Length) bool {
	return math.Abs(l.Meters()) <= maxMetres // false for NaN
}

// measure is the distance between two marks.
func (s Style) measure() measure {
	if s.Imperial {
		return measure{num: inches.num, den: inches.den * s.denominator()}
	}
	return millimetre
}

// marks counts the marks nearest to l, halves away from zero, exactly.
func (s Style) marks(l unit.Length) int64 {
	m := s.measure()
	// Three roundings put x off by far less than a thousandth of a mark: whole
	// numbers matter only where it is that near to half of one.
	x := math.Abs(l.Meters()) * float64(m.den) / float64(m.num)
	if n := math.Floor(x); math.Abs(l.Meters()) < maxMetres/2 && math.Abs(x-n-0.5) > 1e-3 {
		if x-n > 0.5 {
			n++
		}
		if l < 0 {
			n = -n
		}
		return int64(n)
	}
	mark := m.metres()
	v := exactly(math.Abs(l.Meters())).over(mark)
	sign := int64(v.sign())
	if l < 0 {
		sign = -sign
	}
	n := v.plus(ratioOf(1, 2)).whole()
	// The last mark must not pass the limit, or it would not be read back.
	if last := ratioOf(maxMetres, 1).over(mark).whole(); n.Cmp(last) > 0 {
		n = last
	}
	return sign * n.Int64()
}

// printMarks prints n marks of 1/den inch in feet and inches.
func printMarks(n, den int64) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	in, num := n/den, n%den
	ft := in / 12
	t := sign
	if ft > 0 {
		t += strconv.FormatInt(ft, 10) + " ft "
		in %= 12
	}
	// Feet are followed by inches even when there are none, so that nobody
	// looks for them.
	if in > 0 || num == 0 || ft > 0 {
		t += strconv.FormatInt(in, 10) + " "
	}
	if num > 0 {
		g := gcd(num, den)
		t += strconv.FormatInt(num/g, 10) + "/" + strconv.FormatInt(den/g, 10) + " "
	}
	return t + "in"
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
