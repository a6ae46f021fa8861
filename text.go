package slopewright

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/tape"
)

// words writes values in the plan's units, for the parts of a result that
// people read.
type words struct{ imperial bool }

// length writes a length as it is read from a tape.
func (w words) length(l unit.Length) string { return tape.Style{Imperial: w.imperial}.Length(l) }

// long writes a length in running text: metres from a metre up.
func (w words) long(l unit.Length) string {
	return tape.Style{Imperial: w.imperial, Metres: l >= unit.Meter || l <= -unit.Meter}.Length(l)
}

// give writes a ± : what rounds to nothing is said to be under one mark.
func (w words) give(l unit.Length) string {
	if w.round(l) == 0 {
		if w.imperial {
			return "less than 1/16 in"
		}
		return "less than 1 mm"
	}
	return "±" + w.length(l)
}

// round rounds a length to what length writes: 1/16 in or 1 mm.
func (w words) round(l unit.Length) unit.Length { return tape.Style{Imperial: w.imperial}.Round(l) }

// distance writes a distance walked or hauled: to the foot, or to 0.1 m.
func (w words) distance(l unit.Length) string {
	if w.imperial {
		return strconv.FormatFloat(math.Round(l.Feet()), 'f', 0, 64) + " ft"
	}
	return number(l.Meters(), 1) + " m"
}

// rough writes a length that nobody sets out: to the inch or 50 mm.
func (w words) rough(l unit.Length) string {
	mark := 50 * unit.Millimeter
	if w.imperial {
		mark = unit.Inch
	}
	l = unit.Length(math.Round(float64(l/mark))) * mark
	if !w.imperial && l >= unit.Meter {
		return number(l.Meters(), 2) + " m"
	}
	return w.length(l)
}

// density writes kilograms a cubic metre, or pounds a cubic foot.
func (w words) density(x float64) string {
	if w.imperial {
		return number(x/poundPerFoot, 1) + " lb/cu ft"
	}
	return number(x, 1) + " kg/m³"
}

// little writes a volume that may be no more than a few shovels.
func (w words) little(v unit.Volume) string {
	switch {
	case w.imperial && v < 0.1*unit.CubicYard:
		return number(v.CubicFeet(), places(v.CubicFeet(), 1)) + " cu ft"
	case !w.imperial && v < 0.1*unit.CubicMeter:
		return number(v.Liters(), places(v.Liters(), 0)) + " l"
	}
	return w.volume(v)
}

// places is how many decimals leave something of x to be read, as many as usual
// or more; two at most.
func places(x float64, usual int) int {
	for range usual {
		x *= 10
	}
	for ; usual < 2 && math.Abs(x) < 0.95; usual++ {
		x *= 10
	}
	return usual
}

// volume writes a volume of earth or gravel: to 0.1 yd³, or 0.01 m³ where that
// is more than three digits would show.
func (w words) volume(v unit.Volume) string {
	one, of := w.cubic()
	x := float64(v / one)
	return number(x, decimals(x)) + of
}

// cubic is the unit that volume writes in, and its sign.
func (w words) cubic() (unit.Volume, string) {
	if w.imperial {
		return unit.CubicYard, " cu yd"
	}
	return unit.CubicMeter, " m³"
}

// sum writes what volumes come to as each of them is written elsewhere.
func (w words) sum(volumes ...unit.Volume) string {
	one, of := w.cubic()
	all := 0.0
	for _, v := range volumes {
		x := float64(v / one)
		grid := math.Pow10(decimals(x))
		all += math.Round(x*grid) / grid
	}
	return number(all, 2) + of
}

// ordered writes a volume to order rounded up to hundredths, as the bill buys it.
func (w words) ordered(v unit.Volume) string {
	one, of := w.cubic()
	return number(math.Ceil(float64(float64(v/one)*100)-1e-6)/100, 2) + of
}

// shares writes the parts of a volume so that they add up to it as volume writes it, each
// rounded up or down as little as can be, large ones sooner than small ones. Parts that are not all of it are rounded by themselves.
func (w words) shares(whole unit.Volume, parts ...unit.Volume) []string {
	one, of := w.cubic()
	x, grid, coarse, sum := float64(whole/one), 100.0, 1.0, 0.0
	switch decimals(x) {
	case 1:
		coarse = 10
	case 0:
		grid, coarse = 10, 10
	}
	rest, given := math.Round(x*grid/coarse)*coarse, make([]float64, len(parts))
	for i, p := range parts {
		given[i] = math.Round(float64(p/one) * grid)
		rest -= given[i]
		sum += float64(p / one)
	}
	for rest != 0 && math.Abs(sum-x) < 1e-6*x {
		best, least, step := 0, math.Inf(1), math.Copysign(1, rest)
		for i, p := range parts {
			exact := float64(float64(p/one) * grid)
			if off := step * (given[i] + step - exact) / math.Sqrt(exact); off < least && given[i]+step >= 0 {
				best, least = i, off
			}
		}
		given[best] += step
		rest -= step
	}
	says := make([]string, len(parts))
	for i, x := range given {
		says[i] = number(x/grid, 2) + of
	}
	return says
}

// area writes an area.
func (w words) area(a unit.Area) string {
	if w.imperial {
		return number(a.SquareFeet(), 0) + " sq ft"
	}
	return number(a.SquareMeters(), decimals(a.SquareMeters())) + " m²"
}

// mass writes a mass.
func (w words) mass(m unit.Mass) string {
	kg := m.Kilograms()
	if w.imperial {
		if lb := m.AvoirdupoisPounds(); lb < 4000 {
			return number(lb, 0) + " lb"
		}
		return number(kg/907.18474, 1) + " tons"
	}
	if kg < 1000 {
		return number(kg, 0) + " kg"
	}
	return number(kg/1000, 1) + " t"
}

// needed writes an amount that is needed as the bill does: rounded up to a tenth, or a
// hundredth below a hundred.
func needed(x float64, per string) string {
	grid := 10.0
	if x < 100 {
		grid = 100
	}
	return number(math.Ceil(float64(x*grid)-1e-6)/grid, 2) + per
}

// slope writes a ratio as a percentage.
func (w words) slope(r float64) string { return number(100*r, 1) + " %" }

// decimals is the number of places that leaves a quantity with about three
// digits.
func decimals(x float64) int {
	switch {
	case math.Abs(x) < 9.95:
		return 2
	case math.Abs(x) < 99.5:
		return 1
	}
	return 0
}

// number writes x with at most so many places, without trailing zeros.
func number(x float64, places int) string {
	s := strconv.FormatFloat(x, 'f', places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// sentence begins with a capital and ends with a full stop.
func sentence(s string) string {
	if s == "" {
		return s
	}
	r, size := utf8.DecodeRuneInString(s)
	s = string(unicode.ToUpper(r)) + s[size:]
	if last := s[len(s)-1]; last != '.' && last != '!' && last != '?' {
		s += "."
	}
	return s
}

// count writes a number and its noun: 1 riser, 12 risers.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// plural is the noun for a number.
func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// list joins words: a, b and c.
func list(items []string) string {
	if len(items) < 2 {
		return strings.Join(items, "")
	}
	return strings.Join(items[:len(items)-1], ", ") + " and " + items[len(items)-1]
}

// distinct leaves each of several equal items once, in order.
func distinct(items []string) []string {
	var out []string
	for _, x := range items {
		if !slices.Contains(out, x) {
			out = append(out, x)
		}
	}
	return out
}

// alike puts runs of equal neighbours together: 3 of 16 in, then 2 of 14 in.
func alike(items []string) []string {
	var out []string
	for i := 0; i < len(items); {
		j := i
		for j < len(items) && items[j] == items[i] {
			j++
		}
		if j-i > 1 {
			out = append(out, strconv.Itoa(j-i)+" of "+items[i])
		} else {
			out = append(out, items[i])
		}
		i = j
	}
	return out
}

// turned puts feet and inches first where a text has a length in both measures and
// the plan is in them, 3 ft 6 in (1.067 m), and pounds before newtons
// and kilograms.
func (w words) turned(s string) string { return w.inOne(s, false) }

// inOne is turned; alone it leaves the plan's own measure only.
func (w words) inOne(s string, alone bool) string {
	if !w.imperial && !alone {
		return s
	}
	for from := 0; ; {
		open := strings.Index(s[from:], " (")
		if open < 0 {
			return s
		}
		open += from
		from = open + 2
		shut := strings.IndexByte(s[from:], ')')
		if shut < 0 {
			return s
		}
		inside, before := s[from:from+shut], s[:open]
		metres, ok := before, false
		for _, unit := range [...]string{" m", " mm", " N", " kg", " kN/m2"} {
			if !ok {
				metres, ok = strings.CutSuffix(before, unit)
			}
		}
		of := inside[strings.LastIndexByte(inside, ' ')+1:]
		quantity := !ok && strings.IndexByte(before, ' ') > 0 && strings.ContainsAny(of, "23/") && (strings.Contains(of, "ft") || strings.Contains(of, "yd"))
		if quantity { // lb/ft3
			metres, ok = before[:strings.LastIndexByte(before, ' ')], true
		}
		at := strings.LastIndexByte(metres, ' ') + 1
		if strings.HasPrefix(metres[at:], "±") {
			at += len("±")
		}
		if !ok || at == len(metres) || !numeric(metres[at:]) || !numeric(inside[:strings.IndexByte(inside+" ", ' ')]) ||
			!strings.HasSuffix(inside, " in") && !strings.HasSuffix(inside, " ft") && !strings.HasSuffix(inside, " lb") && !strings.HasSuffix(inside, " psf") && !quantity {
			continue
		}
		switch rest := s[from+shut+1:]; {
		case !w.imperial:
			s, from = before+rest, open
		case alone:
			s, from = s[:at]+inside+rest, at
		default:
			s = s[:at] + inside + " (" + before[at:] + ")" + rest
		}
	}
}

// numeric is whether a word is a figure, a fraction or a decimal.
func numeric(s string) bool {
	for _, c := range []byte(s) {
		if (c < '0' || c > '9') && c != '.' && c != '/' && c != '-' {
			return false
		}
	}
	return s != ""
}

// own puts feet and inches before lengths that are in metres or millimetres alone, such
// as the bounds of what will do: at most 32 ft 9 11/16 in (10 m).
func (w words) own(s string) string {
	if !w.imperial {
		return s
	}
	depth := 0
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c == '(':
			depth++
		case c == ')':
			depth--
		case c >= '0' && c <= '9' && depth == 0:
			end := i
			for end < len(s) && numeric(s[end:end+1]) {
				end++
			}
			long, rest := unit.Length(0), ""
			x, err := strconv.ParseFloat(s[i:end], 64)
			for _, u := range [...]struct {
				name string
				size unit.Length
			}{{" mm", unit.Millimeter}, {" m", unit.Meter}} {
				if after, ok := strings.CutPrefix(s[end:], u.name); ok && long == 0 && (after == "" || strings.IndexByte(" ,;:.", after[0]) >= 0) {
					long, rest = unit.Length(x)*u.size, after
				}
			}
			alone := i == 0 || s[i-1] == ' '
			if i > 0 && s[i-1] == '-' {
				alone, long, i = i == 1 || s[i-2] == ' ', -long, i-1
			}
			if err == nil && alone && long != 0 && !strings.HasPrefix(rest, " (") {
				metric := s[i : len(s)-len(rest)]
				put := w.length(long) + " (" + metric + ")"
				s, end = s[:i]+put+rest, i+len(put)
			}
			i = end - 1
		}
	}
	return s
}

// ownFaults is turnedFaults, and what is in metres alone has the plan's own beside it.
func (w words) ownFaults(err error) error {
	if all, ok := w.turnedFaults(err).(Faults); ok && w.imperial {
		for i := range all {
			f := &all[i]
			f.Got, f.Problem, f.Fix = w.own(f.Got), w.own(f.Problem), w.own(f.Fix)
		}
	}
	return err
}

// inchesFirst are ways of writing a length, and the same with metres first.
var inchesFirst = [...][2]string{
	{`5' 3 3/8", 9.5 in, 1.61 m or 1610 mm`, `1.61 m, 1610 mm, 5' 3 3/8" or 9.5 in`},
	{`"5 ft 3 in" or "1.61 m"`, `"1.61 m" or "5 ft 3 in"`},
}

// turnedFaults turns what faults say.
func (w words) turnedFaults(err error) error {
	all, ok := err.(Faults)
	if !ok {
		return err
	}
	for i := range all {
		f := &all[i]
		if part, _, _ := strings.Cut(f.Field, "."); part == "prices" || strings.HasPrefix(f.Field, "build.waste") {
			// A share is no slope.
			if share, _, ok := strings.Cut(f.Fix, " %, "); ok && strings.HasSuffix(f.Problem, "per cent or a ratio?") {
				f.Problem, f.Fix = "is a number without a unit", share+" %"
			}
		}
		if !w.imperial {
			for _, x := range inchesFirst {
				f.Fix = strings.Replace(f.Fix, x[0], x[1], 1)
			}
			continue
		}
		f.Got, f.Problem, f.Fix = w.turned(f.Got), w.turned(f.Problem), w.turned(f.Fix)
	}
	return all
}
