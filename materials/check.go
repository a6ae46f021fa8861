package materials

import (
	"math"
	"strconv"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/fault"
)

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// millimetres returns n mm, rounded once.
func millimetres(n int) unit.Length { return unit.Length(float64(n) / 1000) }

// show writes a length for a message.
func show(l unit.Length) string { return strconv.FormatFloat(l.Meters(), 'g', 6, 64) + " m" }

// inWords writes a length for a note, by the caller's words where there are any.
func inWords(words func(unit.Length) string, l unit.Length) string {
	if words == nil {
		return show(l)
	}
	return words(l)
}

func showFloat(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) }

func shorten(s string) string { return fault.Shorten(s) }

// checkLength adds a fault unless least <= l <= most.
func checkLength(field string, l, least, most unit.Length, faults *Faults) bool {
	switch {
	case !finite(l.Meters()):
		faults.Add(field, showFloat(l.Meters()), "is not a length", "give a finite length")
	case l < least && least <= 0:
		faults.Add(field, show(l), "is negative", "give nought or more")
	case l < least:
		faults.Add(field, show(l), "is less than "+show(least), "give "+show(least)+" or more")
	case l > most:
		faults.Add(field, show(l), "is more than "+show(most), "give "+show(most)+" or less")
	default:
		return true
	}
	return false
}

// checkNumber adds a fault unless least <= x <= most.
func checkNumber(field string, x, least, most float64, faults *Faults) bool {
	if finite(x) && x >= least && x <= most {
		return true
	}
	faults.Add(field, showFloat(x), "is not from "+showFloat(least)+" to "+showFloat(most),
		"give "+showFloat(least)+" to "+showFloat(most))
	return false
}

// checkCount adds a fault unless least <= n <= most.
func checkCount(field string, n, least, most int, faults *Faults) bool {
	if n >= least && n <= most {
		return true
	}
	faults.Add(field, strconv.Itoa(n), "is not from "+strconv.Itoa(least)+" to "+strconv.Itoa(most),
		"give "+strconv.Itoa(least)+" to "+strconv.Itoa(most))
	return false
}
