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

// checker collects the faults of the fields of one thing, whose path At is, with
// its dot. Built so, a check that finds nothing wrong puts no names together.
type checker struct {
	at string
	f  *Faults
}

// below is the checker of what stands at a path; "" is the whole input.
func below(at string, f *Faults) *checker {
	if at != "" {
		at += "."
	}
	return &checker{at, f}
}

func (c *checker) add(name, got, problem, fix string) { c.f.Add(c.at+name, got, problem, fix) }

// wrong adds a fault of a length.
func (c *checker) wrong(name string, l unit.Length, problem, fix string) {
	c.add(name, show(l), problem, fix)
}

// length adds a fault unless least <= l <= most.
func (c *checker) length(name string, l, least, most unit.Length) bool {
	switch {
	case !finite(l.Meters()):
		c.add(name, showFloat(l.Meters()), "is not a length", "give a finite length")
	case l < least && least <= 0:
		c.wrong(name, l, "is negative", "give nought or more")
	case l < least:
		c.wrong(name, l, "is less than "+show(least), "give "+show(least)+" or more")
	case l > most:
		c.wrong(name, l, "is more than "+show(most), "give "+show(most)+" or less")
	default:
		return true
	}
	return false
}

// number adds a fault unless least <= x <= most.
func (c *checker) number(name string, x, least, most float64) bool {
	if finite(x) && x >= least && x <= most {
		return true
	}
	c.add(name, showFloat(x), "is not from "+showFloat(least)+" to "+showFloat(most),
		"give "+showFloat(least)+" to "+showFloat(most))
	return false
}

// count adds a fault unless least <= n <= most.
func (c *checker) count(name string, n, least, most int) bool {
	if n >= least && n <= most {
		return true
	}
	c.add(name, strconv.Itoa(n), "is not from "+strconv.Itoa(least)+" to "+strconv.Itoa(most),
		"give "+strconv.Itoa(least)+" to "+strconv.Itoa(most))
	return false
}

// spacing adds a fault unless a spacing is 0 or 0.1 m to 100 m.
func (c *checker) spacing(name string, l unit.Length) {
	if c.length(name, l, 0, 100*unit.Meter) && l > 0 && l < 100*unit.Millimeter {
		c.wrong(name, l, "is less than 0.1 m", "give 0, or 0.1 m or more")
	}
}
