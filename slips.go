package slopewright

import (
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/earthwork"
)

// heights are a field book's readings of heights at known stations, as levels, and
// what was read: of a level book those sights that carry no others, whose slips its
// own checks find.
type heights struct {
	points []earthwork.Point
	from   []int     // of each point, its reading
	read   []*Length // nil for one that is only held against
	sign   unit.Length
}

// meant are the levels that a point may have been meant to have.
func (h *heights) meant(i int) []unit.Length {
	x := h.read[i]
	if x == nil {
		return nil
	}
	all := slipsOf(x)
	for k, y := range all {
		all[k] = h.points[i].Level + h.sign*(y-x.Length)
	}
	return all
}

// slip is a fault of the reading that lies far off the line of those beside it, with
// what it may have been meant to be; n is which, from 1, or 0 where there is none.
// Legs of a clinometer are steep or not by themselves.
func (m *maker) slip() (f Fault, n int) {
	h := heights{sign: -1}
	method, key := m.plan.Ground.Method, "].drop"
	for i := range m.plan.Ground.Readings {
		x := &m.plan.Ground.Readings[i]
		of := x.Drop
		level := unit.Length(0)
		switch method {
		case "levels":
			of, key, h.sign = x.Level, "].level", 1
		case "rod":
			if of, key = x.Mid, "].mid"; i < len(m.survey.Book) {
				level = m.survey.Book[i].Level
			}
		}
		if method != "rod" && of != nil {
			level = h.sign * of.Length
		}
		if x.At != nil {
			h.points = append(h.points, earthwork.Point{Station: x.At.Length, Level: level})
			h.from, h.read = append(h.from, i), append(h.read, of)
		}
	}
	b, ok := earthwork.FindBlunder(h.points, h.meant)
	if !ok || h.read[b.Index] == nil {
		return f, 0
	}
	x, w := h.read[b.Index], m.words
	n = h.from[b.Index]
	f.Field = "ground.readings[" + strconv.Itoa(n) + key
	f.Got = textOr(x.Text, w.length(x.Length))
	f.Problem = "lies " + w.long(b.Off) + " off the line of the readings beside it, and without it no other more than " + w.length(b.Others)
	f.Fix = "measure it again"
	if b.Meant >= 0 {
		f.Fix = w.long(slipsOf(x)[b.Meant]) + " was perhaps meant: " + f.Fix
	}
	return f, n + 1
}

// slipsOf are the lengths that a reading may have been meant to be, the likeliest
// first: feet and inches run together, feet for inches, the point misplaced, two
// figures exchanged, the sign.
func slipsOf(l *Length) (out []unit.Length) {
	x, text := l.Length, l.Text
	try := func(s string) {
		if y, err := ParseLength(s); err == nil {
			out = append(out, y.Length)
		}
	}
	figures, of := text, ""
	for _, of = range [...]string{" ft", "ft", "'"} {
		if before, ok := strings.CutSuffix(text, of); ok {
			figures = before
			for i := 1; i < len(figures); i++ {
				try(figures[:i] + " ft " + figures[i:] + " in")
			}
			out = append(out, x/12)
			break
		}
	}
	out = append(out, x/10, x*10, x/100, x*100)
	for i := 0; i+1 < len(figures); i++ {
		j := i + 1
		if figures[j] == '.' && j+1 < len(figures) {
			j++
		}
		b := []byte(text)
		b[i], b[j] = b[j], b[i]
		try(string(b))
	}
	return append(out, -x)
}

// withSlip puts a slip of the readings before the faults that may come of it.
func (m *maker) withSlip(err error) error {
	f, n := m.slip()
	if n == 0 || err == nil {
		return err
	}
	all := Faults{f}
	all.Put("", err)
	return all
}

// slipFindings tells of a slip where steps fit in spite of it.
func (m *maker) slipFindings(out []Finding) []Finding {
	if f, n := m.slip(); n > 0 {
		out = append(out, Finding{
			Severity: "warn", Rule: "readings", Where: "reading " + strconv.Itoa(n), Says: sentence("the reading " + f.Got + " " + f.Problem + ": " + f.Fix),
			Source: "our own measure: a peak, a hollow or a last reading, at least three times as far off as any other; what is no more than the ground's own steps is not seen",
		})
	}
	return out
}
