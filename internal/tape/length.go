// Package tape reads and prints lengths, slopes and angles as people write
// them: 5' 3 3/8", 1.61 m, 1:48, 12°.
//
// Reading is exact: a text becomes a whole-number ratio and is rounded once, to
// the nearest float64, so 5' 3 3/8", 63.375 in and 1609.725 mm are the same
// bits. What can be read two ways is refused, with a text that would do; every
// error is a [fault.Fault] with an empty Field. Texts are capped at 64
// characters, so time and memory are bounded whatever is given.
package tape

import (
	"strings"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

const (
	likeLength = "a length like 5' 3 3/8\", 9.5 in, 1.61 m or 1610 mm"
	// maxMetres bounds the lengths read and printed, either sign.
	maxMetres = 1_000_000
)

// measure is a unit of length. All are exact in metres: the inch is 25.4 mm by
// definition (NIST Special Publication 811, 2008 edition, appendix B.6, the
// international foot).
type measure struct {
	name     string
	imperial bool
	num, den int64 // metres in one
}

func (m measure) metres() ratio { return ratioOf(m.num, m.den) }

var (
	yard       = measure{"yd", true, 1143, 1250}
	feet       = measure{"ft", true, 381, 1250}
	inches     = measure{"in", true, 127, 5000}
	metre      = measure{"m", false, 1, 1}
	centimetre = measure{"cm", false, 1, 100}
	millimetre = measure{"mm", false, 1, 1000}
)

// measureNamed gives the unit of a word.
func measureNamed(s string) (measure, bool) {
	switch s {
	case "yd", "yds", "yard", "yards":
		return yard, true
	case "ft", "foot", "feet":
		return feet, true
	case "in", "ins", "inch", "inches":
		return inches, true
	case "m", "metre", "metres", "meter", "meters":
		return metre, true
	case "cm", "centimetre", "centimetres", "centimeter", "centimeters":
		return centimetre, true
	case "mm", "millimetre", "millimetres", "millimeter", "millimeters":
		return millimetre, true
	}
	return measure{}, false
}

// ParseLength reads a length:
//
//	5' 3 3/8"   5 ft 3 3/8 in   5'3-3/8"   5'-3 3/8"   5-3 3/8 (feet-inches)
//	9.5 in   47"   3/8 in   2 yd 1 ft   1.61 m   1,61 m   1610 mm   1 m 5 cm
//	6 pies 2 pulgadas   1,61 metros
//
// with typographic marks (′ ″ ’ ” ” and ”), ready-made fractions (⅜), the
// fraction slash, spaces of any width or none, and a leading + or minus sign.
// After feet the inch mark may be left out (5' 3), and 0 needs no unit. The result is at most
// 1 000 000 m either way and is the float64 nearest to what was written.
//
// Refused are: a number without a unit; feet with metres; 12 or more inches
// after feet and the like; fractions of 1 or more; decimals before a smaller
// unit; 1,610 (thousands or decimals?), 5-3/8 (feet or inches?) and 5-6 in
// (feet and inches, or from 5 to 6?). The error is a fault.Fault.
func ParseLength(s string) (unit.Length, error) {
	if l, ok := plainLength(s); ok {
		return l, nil
	}
	if l, ok := plainMarks(s); ok {
		return l, nil
	}
	l, err := anyLength(s)
	if err != nil {
		err = letters(s, "a length", func(t string) bool { _, err := anyLength(t); return err == nil }, err)
	}
	return l, err
}

// plainLength reads what most lengths are, a decimal number and a unit, like
// 1.61 m: numerator and denominator of the metres are whole numbers that a float64
// holds, and so their quotient is the float64 nearest to what was written.
func plainLength(s string) (unit.Length, bool) {
	const exact = 1 << 53
	n, decimals, i := int64(0), -1, 0
	for ; i < len(s); i++ {
		if c := s[i]; c == '.' && decimals < 0 && i > 0 {
			decimals = 0
		} else if c < '0' || c > '9' {
			break
		} else {
			if n = 10*n + int64(c-'0'); decimals >= 0 {
				decimals++
			}
		}
		if i > 15 {
			return 0, false
		}
	}
	// "5. m" is a slip.
	if i == 0 || decimals == 0 || n == 0 {
		return 0, false
	}
	if i < len(s) && s[i] == ' ' {
		i++
	}
	var m measure
	switch s[i:] {
	case "m":
		m = metre
	case "mm":
		m = millimetre
	case "cm":
		m = centimetre
	case "ft":
		m = feet
	case "in":
		m = inches
	default:
		return 0, false
	}
	den := m.den
	for ; decimals > 0; decimals-- {
		if den *= 10; den > exact {
			return 0, false
		}
	}
	if n > exact/m.num {
		return 0, false
	}
	f := float64(n*m.num) / float64(den)
	return unit.Length(f) * unit.Meter, f < maxMetres
}

// plainMarks reads what most lengths in feet are, 5' 3" or 5' 3 3/8", likewise.
func plainMarks(s string) (unit.Length, bool) {
	ft, s, ok := wholeUpTo(s, '\'')
	if !ok || len(s) < 3 || s[0] != ' ' {
		return 0, false
	}
	in, rest, ok := wholeUpTo(s[1:], '"')
	num, den := int64(0), int64(1)
	if !ok {
		if in, rest, ok = wholeUpTo(s[1:], ' '); !ok {
			return 0, false
		}
		if num, rest, ok = wholeUpTo(rest, '/'); !ok {
			return 0, false
		}
		if den, rest, ok = wholeUpTo(rest, '"'); !ok || num >= den {
			return 0, false
		}
	}
	n := (12*ft+in)*den + num
	if rest != "" || in >= 12 || n == 0 {
		return 0, false
	}
	return unit.Length(float64(n*inches.num)/float64(inches.den*den)) * unit.Meter, true
}

// wholeUpTo reads up to five digits and what has to stand after them.
func wholeUpTo(s string, mark byte) (n int64, rest string, ok bool) {
	for i := 0; i < len(s) && i < 6; i++ {
		if s[i] == mark {
			return n, s[i+1:], i > 0
		}
		if s[i] < '0' || s[i] > '9' {
			break
		}
		n = 10*n + int64(s[i]-'0')
	}
	return 0, "", false
}

// anyLength is ParseLength of any text.
func anyLength(s string) (unit.Length, error) {
	r, err := scan(s, "a length", likeLength)
	if err != nil {
		return 0, err
	}
	negative := r.sign()
	v, err := r.length()
	if err != nil {
		return 0, err
	}
	if t := r.peek(); t.kind != end {
		return 0, r.bad("is not a length: "+quote(t.text)+" is left over", "write "+likeLength)
	}
	if v.cmp(ratioOf(maxMetres, 1)) > 0 {
		return 0, r.bad("is longer than 1000000 m", "write a length up to 1000000 m")
	}
	f := v.float() // rounds to nearest even
	if negative && f != 0 {
		f = -f
	}
	return unit.Length(f) * unit.Meter, nil
}

// length reads numbers with units up to the end, a slash or "per", and gives
// metres. The sign has been read.
func (r *reader) length() (ratio, error) {
	sum := ratioOf(0, 1)
	var last measure
	var lastQ quantity
	for n := 0; ; n++ {
		q, err := r.quantity()
		if err != nil {
			return ratio{}, err
		}
		m, ok, err := r.measure()
		if err != nil {
			return ratio{}, err
		}
		if !ok {
			switch {
			case n > 0 && last == feet && r.done():
				m = inches // 5' 3
			case n == 0 && q.val.sign() == 0 && r.peek().kind == end:
				m = metre // nothing is nothing in any unit
			case n == 0 && r.peek().kind == hyphen && r.at(1).kind != end:
				return r.feetInches(q)
			case n == 0 && q.joined:
				a, b, _ := strings.Cut(q.text, " ")
				return ratio{}, r.bad("may be feet and inches or inches only", "write "+r.minus+a+"' "+b+"\" or "+r.minus+q.text+" in")
			case q.plain && r.peek().kind == number:
				return ratio{}, r.bad("has two numbers side by side, "+quote(q.text+" "+r.peek().text),
					"write a number without spaces and a unit after each, like 1610 mm or 5 ft 3 in")
			case r.peek().kind != end:
				return ratio{}, r.bad("is not "+r.what+": "+quote(r.peek().text)+" is no unit of length", "write "+r.like)
			case n > 0 && !last.imperial:
				return ratio{}, r.bad("has no unit after "+quote(q.text), "write "+q.text+" cm or "+q.text+" mm there")
			default:
				x, problem, kind := q.text, "has no unit after "+quote(q.text), ""
				if n == 0 {
					x, problem, kind = r.minus+x, "has no unit", fault.Unitless
				}
				f := r.bad(problem, "write "+x+" in, "+x+" ft, "+x+" mm or "+x+" m")
				f.Kind = kind
				return ratio{}, f
			}
		}
		value := q.val.times(m.metres())
		if n > 0 {
			if err := r.follows(sum, last, lastQ, value, m); err != nil {
				return ratio{}, err
			}
		}
		sum = sum.plus(value)
		last, lastQ = m, q
		if r.done() {
			return sum, nil
		}
		// Feet and inches may be joined by a hyphen; metres may not, where
		// it could only be a slip of the minus sign.
		if r.peek().kind == hyphen && last.imperial {
			r.i++
		}
	}
}

// done says whether a length may end here.
func (r *reader) done() bool {
	t := r.peek()
	return t.kind == end || t.kind == '/' || t.kind == word && t.text == "per"
}

// measure reads a unit: a word or a mark.
func (r *reader) measure() (m measure, ok bool, err error) {
	t := r.peek()
	switch t.kind {
	case foot:
		m, ok = feet, true
	case inch:
		m, ok = inches, true
	case word:
		if m, ok = measureNamed(t.text); !ok && t.text != "per" {
			return m, false, r.bad("is not "+r.what+": "+quote(t.text)+" is no unit known here", "write "+r.like)
		}
	}
	if ok {
		r.i++
	}
	return m, ok, nil
}

// follows checks that a part may stand after the last one.
func (r *reader) follows(sum ratio, last measure, lastQ quantity, value ratio, m measure) error {
	told := r.minus + said(sum.plus(value), m)
	larger := last.metres().cmp(m.metres())
	switch {
	case last.imperial != m.imperial:
		return r.bad("mixes "+last.name+" with "+m.name, "write all of it in feet and inches or all of it in metres and millimetres")
	case larger == 0:
		return r.bad("has "+m.name+" twice", "write "+told)
	case larger < 0:
		return r.bad("has "+m.name+" after "+last.name, "write the larger unit first: "+told)
	case !lastQ.plain:
		return r.bad("has a fraction of "+last.name+" before "+m.name, "give only the smallest unit a fraction: "+told)
	case value.cmp(last.metres()) >= 0:
		return r.bad("has a whole "+last.name+" or more in its "+m.name, "write "+told)
	}
	return nil
}

// said words a length that would do: in marks of 1/64 in where it is a whole
// number of them, else as a decimal of unit m.
func said(v ratio, m measure) string {
	if m.imperial {
		marks := v.times(ratioOf(64*inches.den, inches.num))
		if marks.isWhole() && marks.num.IsInt64() {
			return printMarks(marks.num.Int64(), 64)
		}
	}
	t := v.over(m.metres()).millionths()
	return strings.TrimSuffix(strings.TrimRight(t, "0"), ".") + " " + m.name
}

// feetInches reads the rest of 5-3 3/8, whose feet have been read.
func (r *reader) feetInches(ft quantity) (ratio, error) {
	r.i++ // the hyphen
	in, err := r.quantity()
	if err != nil {
		return ratio{}, err
	}
	if !r.done() {
		return ratio{}, r.bad("may be feet and inches or a range", "write "+r.minus+ft.text+"' "+in.text+"\" or one length")
	}
	if !ft.plain {
		return ratio{}, r.bad("has a fraction of ft before in", "give only the inches a fraction, like 5-3 3/8")
	}
	sum := ft.val.times(feet.metres())
	value := in.val.times(inches.metres())
	if err := r.follows(sum, feet, ft, value, inches); err != nil {
		return ratio{}, err
	}
	return sum.plus(value), nil
}
