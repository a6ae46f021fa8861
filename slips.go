package slopewright

import (
	"math"
	"sort"
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/earthwork"
	"github.com/slopewright/slopewright/internal/tape"
)

// height is a field book's reading of a height at a known station, as a level, and
// what was read: of a level book those sights that carry no others.
type height struct {
	_    [0]func() // not comparable, which spares code: see DEVELOPERS.md
	from int       // the reading
	read *Length   // nil for one that is only held against
	key  string
	at   earthwork.Point
}

// slip is a fault of the reading that lies far off the line of those beside it, with
// what it may have been meant to be; n is which, from 1, or 0 where there is none.
func (m *maker) slip() (f Fault, n int) {
	if f, n = m.unitSlip(); n > 0 {
		return f, n
	}
	if m.plan.Ground.Method == "slope" {
		return m.legSlip()
	}
	if f, n = m.stationSlip(); n == 0 {
		f, n = m.levelSlip()
	}
	if n == 0 && m.plan.Ground.Method == "rod" {
		f, n = m.sightSlip()
	}
	return f, n
}

// What a reading must be to be blamed for its unit alone. Ours, as the measures of
// earthwork.FindBlunder are.
const (
	unitTimes = 99.5 // between its unit and that of most readings
	unitSure  = 999  // so far below it that no figure of theirs is read in it
	unitBelow = 5    // times that its figure may lie below theirs
	unitAbove = 3    // times that it may lie above them
)

// unitSlip is a reading in another unit than most of its kind, millimetres for metres, with
// a figure that belongs among theirs. One in centimetres may well be right: it is blamed
// where its figure is finer than a tape. Feet and inches are told by how they lie alone.
func (m *maker) unitSlip() (f Fault, n int) {
	g := m.plan.Ground.Readings
	m.strangers = [3]stranger{}
	for kind := range 3 {
		var cells []cell
		for i := range g {
			x := &g[i]
			for k, l := range [...]*Length{x.At, x.Length, x.Drop, x.Level, x.Back, x.Mid, x.Fore} {
				if min(k, 2) == kind && l != nil && l.Text != "" {
					c := cell{read: l, from: i, key: k}
					c.figure, c.of, c.unit = figureOf(l)
					cells = append(cells, c)
				}
			}
		}
		for i := range cells {
			c := &cells[i]
			low, high, others, of, odd := math.Inf(1), 0.0, 0, c, 0
			for k := range cells {
				y := &cells[k]
				if y.metric() != c.metric() {
					odd++
				}
				if y.unit != c.unit && y.read.Length != 0 {
					x := math.Abs(float64(y.read.Length))
					low, high, others, of = math.Min(low, x), math.Max(high, x), others+1, y
				}
			}
			if odd > 2 && odd == len(cells)-1 {
				u := of.of
				if of.unit == unit.Inch {
					u = " ft"
				}
				m.strangers[kind].read = c.read
				m.strangers[kind].meant, _ = ParseLength(c.figure + u)
			}
			times, point := float64(of.unit/c.unit), strings.LastIndexAny(c.figure, ".,")
			if 2*others < len(cells) || times < unitTimes && times > 1/unitTimes || times > 1 && times < unitSure && (point < 0 || len(c.figure)-point < 3) {
				continue
			}
			meant, err := ParseLength(c.figure + of.of)
			if x := math.Abs(float64(meant.Length)); err == nil && x >= low/unitBelow && x <= unitAbove*high {
				f.Problem = otherUnit
				return m.slipOf(f, c.from, [...]string{"at", "length", "drop", "level", "back", "mid", "fore"}[c.key], c.read.Text, meant.Text)
			}
		}
	}
	return f, 0
}

const otherUnit = "is in another unit than most readings beside it, and its figure would lie among theirs"

// strange is what a reading may have been meant to be that alone of its kind is in feet or
// inches among metres, or in metres among feet: its figure in the unit of the others.
func (m *maker) strange(l *Length) *Length {
	for k := range m.strangers {
		if x := &m.strangers[k]; x.read == l && l != nil {
			return &x.meant
		}
	}
	return nil
}

type stranger struct {
	_     [0]func()
	read  *Length
	meant Length
}

// metric is whether a unit is of tenths of a metre.
func (c *cell) metric() bool { return int(float64(float64(c.unit)*1e4)+0.5)%10 == 0 }

// cell is a reading as it was typed: its figure and its unit.
type cell struct {
	_          [0]func()
	read       *Length
	from, key  int
	figure, of string
	unit       unit.Length
}

// figureOf parts a reading into its figure and its unit, which is the last one it has.
func figureOf(l *Length) (figure, of string, size unit.Length) {
	i := strings.LastIndexAny(l.Text, "0123456789") + 1
	one, _ := ParseLength("1" + l.Text[i:])
	return l.Text[:i], l.Text[i:], one.Length
}

// stationSlip is a slip in a distance.
func (m *maker) stationSlip() (f Fault, n int) {
	g, w := &m.plan.Ground, m.words
	var stations []unit.Length
	var from []int
	for i := range g.Readings {
		if at := g.Readings[i].At; at != nil {
			stations, from = append(stations, at.Length), append(from, i)
		}
	}
	rod := g.Method == "rod"
	meant := func(i int) []unit.Length {
		if x := stations[i]; rod { // its lines may stand in any order: no more than the point misplaced
			return append(inFeet(g.Readings[from[i]].At), x/10, x*10, x/100, x*100)
		}
		return m.slipsOf(g.Readings[from[i]].At)
	}
	k, which, gap, ok := earthwork.FindStationBlunder(stations, rod, meant)
	if !ok {
		return f, 0
	}
	f.Problem = "is out of order with the distances beside it"
	if gap > 0 {
		f.Problem = "lies " + w.long(gap) + " from the reading beside it, many times as far as any others that are next to each other"
	}
	return m.slipOf(f, from[k], "at", typed(g.Readings[from[k]].At, w), w.long(meant(k)[which]))
}

// levelSlip is a slip in the height of one reading.
func (m *maker) levelSlip() (f Fault, n int) {
	g := &m.plan.Ground
	var book []height
	sign := unit.Length(-1)
	for i := range g.Readings {
		x := &g.Readings[i]
		h := height{from: i, read: x.Drop, key: "drop", at: earthwork.Point{Station: lengthOr(x.At, 0)}}
		switch g.Method {
		case "levels":
			h.read, h.key, sign = x.Level, "level", 1
		case "rod":
			if h.read, h.key = x.Mid, "mid"; h.read == nil && x.Back == nil {
				h.read, h.key = x.Fore, "fore" // the last
			}
			if i < len(m.survey.Book) {
				h.at.Level = m.survey.Book[i].Level
			}
		default:
			if g.From == "head" {
				h.at.Station = -h.at.Station
			}
		}
		if g.Method != "rod" && h.read != nil {
			h.at.Level = sign * h.read.Length
		}
		if x.At != nil && (h.read != nil || g.Method == "rod") {
			book = append(book, h)
		}
	}
	if g.Method == "rod" || g.From == "head" { // others are in order, or wrong
		sort.Slice(book, func(i, j int) bool { return book[i].at.Station < book[j].at.Station })
	}
	points := make([]earthwork.Point, len(book))
	for i, h := range book {
		points[i] = h.at
	}
	for i, h := range book {
		if y := m.strange(h.read); y != nil && earthwork.FitsBetter(points, i, h.at.Level+unit.Length(sign*(y.Length-h.read.Length))) {
			f.Problem = otherUnit
			return m.slipOf(f, h.from, h.key, h.read.Text, y.Text)
		}
	}
	b, ok := earthwork.FindBlunder(points, func(i int) (levels []unit.Length) {
		x := book[i].read
		if x != nil {
			for _, y := range m.slipsOf(x) {
				levels = append(levels, points[i].Level+unit.Length(sign*(y-x.Length)))
			}
		}
		return levels
	})
	if !ok || book[b.Index].read == nil {
		return f, 0
	}
	h, w := book[b.Index], m.words
	x := h.read
	f.Problem = "lies " + w.long(b.Off) + " off the line of the readings beside it"
	if len(book) > 3 {
		f.Problem += ", and without it no other more than " + w.length(b.Others)
	}
	meant := ""
	if b.Meant >= 0 {
		meant = w.long(m.slipsOf(x)[b.Meant])
	}
	return m.slipOf(f, h.from, h.key, textOr(x.Text, w.length(x.Length)), meant)
}

// What a stretch between two points must be for a sight to be blamed for it: higher than
// walls and steeper than soil stands, or further down than terraces fall, and both more
// than three times as much as any other. Ours, as the measures of earthwork.FindBlunder are.
const (
	sightRise, sightSteep = 4.0, 1.5 // m, and the grade
	sightFall, sightDown  = 1.0, 0.8
)

// sightSlip is a slip in a back or fore sight of a level book that closes on nothing:
// all that follows is then as much too high or too low.
func (m *maker) sightSlip() (f Fault, n int) {
	g, book := m.plan.Ground.Readings, m.survey.Book
	var first, last, points int  // the lines of the stretch that rises or falls most
	var most, next, run float64  // how much that one and any other do, and its length
	var low, high, grade float64 // of the others, and its own
	before := -1
	for i := range book {
		if g[i].At == nil {
			continue
		}
		if points++; before >= 0 {
			along := float64(g[i].At.Length - g[before].At.Length)
			rise := float64(book[i].Level - book[before].Level)
			if x := rise / along; math.Abs(rise) > math.Abs(most) {
				low, high, next = math.Min(low, grade), math.Max(high, grade), math.Abs(most)
				first, last, most, run, grade = before, i, rise, along, x
			} else {
				low, high, next = math.Min(low, x), math.Max(high, x), math.Max(next, math.Abs(rise))
			}
		}
		before = i
	}
	how := " rise "
	if grade < 0 {
		how = " fall "
	}
	height := math.Abs(most)
	if points < 4 || height < 3*next || !(grade >= sightSteep && height >= sightRise || grade <= -sightDown && height >= sightFall) {
		return f, 0
	}
	for i := first; i <= last; i++ {
		// What is sighted back moves what follows up, and forward down.
		for j, read := range [...]*Length{g[i].Back, g[i].Fore} {
			if read == nil || j == 0 && i == last || j == 1 && i == first {
				continue
			}
			for _, y := range m.slipsOf(read) {
				by := float64(y - read.Length)
				if j == 1 {
					by = -by
				}
				if x := (most + by) / run; y >= 0 && x >= low-0.1 && x <= high+0.1 {
					if n > 0 {
						return Fault{}, 0 // either of two
					}
					f.Problem = "makes the ground" + how + m.words.long(unit.Length(height)) + " over " + m.words.long(unit.Length(math.Abs(run))) + ", more than 3 times as much as between any other two points"
					f, n = m.slipOf(f, i, [...]string{"back", "fore"}[j], typed(read, m.words), m.words.long(y))
					break
				}
			}
		}
	}
	return f, n
}

// slipOf is a slip in a reading.
func (m *maker) slipOf(f Fault, i int, key, got, meant string) (Fault, int) {
	f.Field, f.Got = "ground.readings["+strconv.Itoa(i)+"]."+key, got
	f.Fix = "measure it again"
	if meant != "" {
		f.Fix = meant + " was perhaps meant: " + f.Fix
	}
	return f, i + 1
}

// legSlip is a slip in a leg of a clinometer.
func (m *maker) legSlip() (f Fault, n int) {
	s, ok := m.readings.(earthwork.SlopeReadings)
	if !ok || m.survey.Method == "" {
		return f, 0
	}
	legs := m.plan.Ground.Readings
	slopes := func(i int) []float64 {
		if x := legs[i].Angle; x != nil {
			return slopesOf(x.Text, float64(x.Angle), func(s string) (float64, error) {
				y, err := tape.ParseAngle(s)
				return float64(y), err
			})
		}
		return slopesOf(legs[i].Grade.Text, legs[i].Grade.Ratio, tape.ParseSlope)
	}
	b, ok := earthwork.FindLegBlunder(s.Readings, func(i int) []unit.Length { return m.slipsOf(legs[i].Length) }, slopes)
	if !ok {
		return f, 0
	}
	x, w := &legs[b.Index], m.words
	times := number(b.Times, 1)
	if b.Long {
		f.Problem = "is " + times + " times as long as any other leg"
		return m.slipOf(f, b.Index, "length", typed(x.Length, w), w.long(m.slipsOf(x.Length)[b.Meant]))
	}
	f.Problem = "is " + times + " times as steep as any other leg"
	meant := slopes(b.Index)[b.Meant]
	if x.Angle != nil {
		return m.slipOf(f, b.Index, "angle", textOr(x.Angle.Text, degrees(float64(x.Angle.Angle))), degrees(meant))
	}
	return m.slipOf(f, b.Index, "grade", textOr(x.Grade.Text, w.slope(x.Grade.Ratio)), w.slope(meant))
}

func degrees(rad float64) string { return number(rad*180/math.Pi, 1) + "°" }

// slopesOf are the slopes that a reading may have been meant to be: the point misplaced,
// two figures exchanged.
func slopesOf(text string, x float64, parse func(string) (float64, error)) []float64 {
	out := []float64{x / 10, x / 100}
	for _, s := range exchanged(text, text) {
		if y, err := parse(s); err == nil {
			out = append(out, y)
		}
	}
	return out
}

// slipsOf are the lengths that a reading may have been meant to be, the likeliest
// first: in the unit of the others, feet and inches run together, either for the other,
// the point misplaced, two figures exchanged, the sign.
func (m *maker) slipsOf(l *Length) (out []unit.Length) {
	x, text := l.Length, l.Text
	if y := m.strange(l); y != nil {
		out = append(out, y.Length)
	}
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
	if figures == text {
		out = append(out, inFeet(l)...)
	}
	out = append(out, x/10, x*10, x/100, x*100)
	for _, s := range exchanged(text, figures) {
		try(s)
	}
	return append(out, -x)
}

// inFeet is what a reading in inches would be in feet.
func inFeet(l *Length) []unit.Length {
	if _, _, size := figureOf(l); size == unit.Inch {
		return []unit.Length{l.Length * 12}
	}
	return nil
}

// exchanged are a text with two of its figures exchanged, those that stand together
// but for a point.
func exchanged(text, figures string) (out []string) {
	for i := 0; i+1 < len(figures); i++ {
		j := i + 1
		if figures[j] == '.' && j+1 < len(figures) {
			j++
		}
		b := []byte(text)
		b[i], b[j] = b[j], b[i]
		out = append(out, string(b))
	}
	return out
}

// withSlip puts a slip of the readings before the faults that may come of it, which
// count only where it is none.
func (m *maker) withSlip(err error) error {
	if err == nil {
		return nil
	}
	f, n := m.slip()
	if n > 0 {
		return before(f, err, ifRight)
	}
	f, able := m.exchangedColumns()
	switch {
	case f.Field == "":
		return m.withMisread(err)
	case !able: // what else is wrong with such a book comes of it
		return Faults{f}
	}
	return before(f, err, ifWritten)
}

// columnsSteep is the grade from which a ground is not one that steps are built on, if
// its distances and heights give gentler ground for each other: 51°. Ours; a private
// stair may be no steeper than 42° by Approved Document K, table 1.1, note 1.
const columnsSteep = 1.25

// exchangedColumns is the fault of a book whose distances stand where its heights should:
// as it is, it makes no ground, or one too steep for steps, and the other way round it
// makes one. able is whether it makes a ground as it is.
func (m *maker) exchangedColumns() (f Fault, able bool) {
	s, what := m.readings, "the columns of distances and drops look"
	field := "ground.readings"
	switch r := s.(type) {
	case earthwork.TotalReadings:
		r.Rise, r.Run = r.Run, r.Rise
		s, what, field = r, "the rise and the run look", "ground.run"
	case earthwork.StringReadings:
		r.Readings = append([]earthwork.StringReading(nil), r.Readings...)
		for i := range r.Readings {
			x := &r.Readings[i]
			x.At, x.Drop = x.Drop, x.At
		}
		s = r
	case earthwork.LevelReadings:
		r.Readings = append([]earthwork.LevelReading(nil), r.Readings...)
		for i := range r.Readings {
			x := &r.Readings[i]
			x.At, x.Level = x.Level, x.At
		}
		s, what = r, "the columns of distances and levels look"
	default:
		return f, false
	}
	meant, err := s.Survey()
	if err != nil {
		return f, false
	}
	rise, run := meant.Rise.Value, meant.Run.Value
	if !(rise > 0 && float64(run) > columnsSteep*float64(rise)) {
		return f, false
	}
	able = m.survey.Method != ""
	return Fault{
		Field: field, Got: m.words.slope(float64(run) / float64(rise)), Problem: "is steeper than ground that steps are built on: " + what + " exchanged",
		Fix: "exchange the two: the ground then rises " + m.words.long(rise) + " over " + m.words.long(run),
	}, able
}

// alsoSlip tells of a slip with what is wrong with the plan besides, first of all.
func (m *maker) alsoSlip(all *Faults) {
	f, n := m.slip()
	if n == 0 {
		if f, _ = m.exchangedColumns(); f.Field != "" {
			n = 1
		}
	}
	for _, g := range *all {
		if g.Field == f.Field && g.Problem == f.Problem {
			return // told already, or there is none
		}
	}
	if n > 0 {
		*all = append(Faults{f}, *all...)
	}
}

// before puts a slip before the faults that may come of it.
func before(slip Fault, err error, ifNone string) error {
	all := Faults{slip}
	all.Put("", err)
	for i := range all[1:] {
		if f := &all[1+i]; f.Fix != "" {
			f.Fix = ifNone + f.Fix
		}
	}
	return all
}

// ifRight begins what would do about faults that may come of a slip.
const ifRight = "if that reading is right: "

// ifWritten begins what would do about those that may come of exchanged columns.
const ifWritten = "if they are as written: "

// withMisread puts the sight of a level book that keeps it from closing, or from
// giving the levels booked, before those faults: the only one with which it does when
// it is what it may have been meant to be.
func (m *maker) withMisread(err error) error {
	g := &m.plan.Ground
	if g.Method != "rod" || len(g.Readings) > misreadLines {
		return err
	}
	all, _ := err.(Faults)
	for i := range all {
		if !strings.HasSuffix(all[i].Field, "].bench") && !strings.HasSuffix(all[i].Field, "].booked") {
			return err
		}
	}
	book := m.rodReadings()
	var found Faults
	for i := range g.Readings {
		x, y := &g.Readings[i], &book.Readings[i]
		for k, of := range [...]*Length{x.Back, x.Mid, x.Fore, x.Bench} {
			cell := [...]**unit.Length{&y.Back, &y.Mid, &y.Fore, &y.Bench}[k]
			if of == nil {
				continue
			}
			for _, meant := range m.slipsOf(of) {
				*cell = &meant
				if _, err := book.Survey(); err == nil {
					var f Fault
					f.Problem = "is the one reading that makes the book check once a slip of the pen in it is mended"
					f, _ = m.slipOf(f, i, [...]string{"back", "mid", "fore", "bench"}[k], textOr(of.Text, m.words.length(of.Length)), m.words.long(meant))
					found = append(found, f)
					break
				}
			}
			*cell = &of.Length
		}
	}
	if len(found) != 1 {
		return err
	}
	return before(found[0], err, ifRight)
}

// misreadLines are the most lines of a level book whose every sight is tried.
const misreadLines = 60

// slipFindings tells of a slip where steps fit in spite of it.
func (m *maker) slipFindings(out []Finding) []Finding {
	if f, n := m.slip(); n > 0 {
		out = append(out, Finding{
			Severity: "warn", Rule: "readings", Where: "reading " + strconv.Itoa(n), Says: sentence("the reading " + f.Got + " " + f.Problem + ": " + f.Fix),
			Source: "our own measure: a peak, a hollow, or an end that falls or rises higher than walls, at least three times as far off as any other, or a leg many times as long or as steep as the others, a unit a hundred times off that of the others or more, a distance out of order or many times as far, a sight that shifts all that follows; what is no more than the ground's own steps is not seen",
		})
	}
	return out
}

// typed is a length as it was typed, or in the plan's measure.
func typed(l *Length, w words) string {
	switch {
	case l == nil:
		return ""
	case l.Text != "":
		return l.Text
	}
	return w.length(l.Length)
}
