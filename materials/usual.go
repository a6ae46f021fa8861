package materials

import (
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"
)

// UsualStock returns the lengths that a section is usually sold in, without
// prices; for a bar, 20 ft and the shorter pieces kept beside it. The lengths
// are trade custom, from memory: ask the yard.
func UsualStock(s Section) []Stock {
	var lengths []unit.Length
	of := func(u unit.Length, n ...float64) {
		for _, x := range n {
			lengths = append(lengths, unit.Length(x)*u)
		}
	}
	switch {
	case s.Round:
		of(unit.Foot, 2, 3, 4, 10, 20)
	case s.Width < 50*unit.Millimeter && nominalInches(s.Name) > 0: // balusters and furring
		of(unit.Foot, 4, 8)
	case nominalInches(s.Name) >= 4:
		of(unit.Foot, 8, 10, 12, 16)
	case nominalInches(s.Name) > 0:
		of(unit.Foot, 8, 10, 12, 14, 16, 20)
	case s.Thickness >= 75*unit.Millimeter || s.Width < 50*unit.Millimeter:
		of(unit.Meter, 2.4, 3)
	default:
		of(unit.Meter, 2.4, 3, 3.6, 4.2, 4.8, 5.4, 6)
	}
	stock := make([]Stock, len(lengths))
	for i, l := range lengths {
		stock[i] = Stock{Section: s.Name, Length: l, Unpriced: true}
	}
	return stock
}

// InInches is whether a section is named in nominal inches, as 2x12, and not in
// millimetres.
func InInches(section string) bool { return nominalInches(section) > 0 }

// nominalInches is the first number of a name such as 6x6 or 5/4x6, or 0 for a
// name in millimetres, whose numbers are larger.
func nominalInches(name string) float64 {
	first, _, _ := strings.Cut(name, "x")
	over, under, fraction := strings.Cut(first, "/")
	n, err := strconv.ParseFloat(over, 64)
	if err == nil && fraction {
		var by float64
		if by, err = strconv.ParseFloat(under, 64); by > 0 {
			n /= by
		} else {
			return 0
		}
	}
	if err != nil || !(n > 0) || n >= 20 {
		return 0
	}
	return n
}
