//go:build !js || whole

package slopewright

import (
	"math"
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/sheet"
	"github.com/slopewright/slopewright/materials"
)

// piece writes so many of one piece with its mark.
func (s *sheetMaker) piece(p PieceResult) string {
	mark := ""
	if i := findMark(s.marks, p.Section, BoardPiece{Use: p.Use, Length: p.Length}); i >= 0 {
		mark = s.marks[i].mark + ", "
	}
	text := strconv.Itoa(p.Count) + " × " + mark + itemName(p.Use) + " " + s.w.length(p.Length)
	if n := s.joined(p); n > 1 {
		text += " (" + strconv.Itoa(n) + " joined to one)"
	}
	return text
}

// joined is how many pieces of a box's timber make one member: a course has one
// riser timber and two sides.
func (s *sheetMaker) joined(p PieceResult) int {
	if s.box == nil {
		return 1
	}
	switch p.Use {
	case materials.ItemRiserTimber:
		return p.Count / s.box.Courses
	case materials.ItemSideTimber:
		return max(p.Count/(2*s.box.Courses), 1)
	}
	return 1
}

func (s *sheetMaker) cards() {
	d, r, w := s.d, s.r, s.w
	d.Part("Step by step", true, false)
	d.Small("Letters are the pieces of the cut plan. Distances and drops are those of the stake-out; gravel is in place, tamped, without what the timbers are bedded on in trenches.")
	boxes := map[int]BoxResult{}
	for _, b := range r.Build.Boxes {
		boxes[b.Riser] = b
	}
	flights := map[int]FramedResult{}
	for _, f := range r.Build.Framed {
		flights[f.First] = f
	}
	marks := map[int]Mark{}
	for _, m := range r.StakeOut {
		marks[m.Riser] = m
	}
	var cards []sheet.Card
	for i, x := range r.Layout.Steps {
		if f, ok := flights[x.Riser]; ok {
			cards = append(cards, s.flightCard(f))
		}
		c := sheet.Card{Head: "Riser " + strconv.Itoa(x.Riser)}
		switch {
		case i == len(r.Layout.Steps)-1:
			c.Kind = "lands on the head"
		case x.Landing:
			c.Kind = "landing " + w.length(x.Tread)
		default:
			c.Kind = "tread " + w.length(x.Tread)
		}
		if r.framed(i) || i == len(r.Layout.Steps)-1 && x.Kind == "framed" {
			c.Kind += ", framed"
		}
		if x.Stands {
			c.Kind += "; the riser stands"
		}
		line := func(lead, says string) {
			if says != "" {
				c.Lines = append(c.Lines, [2]string{lead, says})
			}
		}
		if m, ok := marks[x.Riser]; ok {
			line("At", m.Text.Station+" from foot, "+m.Text.FromHead+" from head")
			line("Top", m.Text.Drop+" below string")
			line("Dig to", m.Text.DigTo+" below string; deepest "+s.depth(x.Riser))
			c.Checks = append(c.Checks, "drop", "level")
		}
		if p, ok := boxes[x.Riser]; ok {
			s.boxLines(&c, p)
		} else if m := r.framedStep(x.Riser); m != "" {
			line("Tread", m)
			c.Checks = append(c.Checks, "screwed at every stringer")
		}
		c.Write = []string{"Built, below string:"}
		cards = append(cards, c)
	}
	d.Cards(cards)
}

// boxLines is what goes into one box.
func (s *sheetMaker) boxLines(c *sheet.Card, p BoxResult) {
	w, b := s.w, s.box
	line := func(lead, says string) {
		if says != "" {
			c.Lines = append(c.Lines, [2]string{lead, says})
		}
	}
	lead, risers := "Timber", false
	for _, x := range p.Pieces {
		if x.Use == materials.ItemPin {
			continue
		}
		risers = risers || x.Use == materials.ItemRiserTimber
		line(lead, s.piece(x))
		lead = ""
	}
	if risers {
		switch {
		case w.round(b.Bedding) > 0:
			line("Bedding", w.length(b.Bedding)+" of gravel under the riser")
		case w.round(b.Buried) > 0:
			line("Buried", w.length(b.Buried)+" below the tread in front")
		}
	}
	line("Gravel", s.layers(p))
	line("Fixings", s.fixings(p))
	if d := s.diagonal(p); d > 0 {
		c.Checks = append(c.Checks, "diagonals "+w.length(d))
	} else {
		c.Checks = append(c.Checks, "faces on the bend's radii")
	}
	c.Checks = append(c.Checks, "ends brushed")
	if p.Pins > 0 {
		c.Checks = append(c.Checks, "pins driven")
	}
}

// diagonal is that of a box's frame, corner to corner over all; 0 on a bend,
// where it is no rectangle, and for what has no sides.
func (s *sheetMaker) diagonal(p BoxResult) unit.Length {
	var side unit.Length
	for _, x := range p.Pieces {
		if x.Use == materials.ItemSideTimber {
			if side > 0 {
				return 0
			}
			side = x.Length * unit.Length(s.joined(x))
		}
	}
	if side == 0 {
		return 0
	}
	return unit.Length(math.Hypot(float64(s.r.Build.Width), float64(s.box.Breadth+side)))
}

// layers are the gravel of one box.
func (s *sheetMaker) layers(p BoxResult) string {
	var parts []string
	for _, l := range []struct {
		name  string
		thick unit.Length
	}{{"base", s.box.Layers[2]}, {"fill", s.box.Layers[1]}, {"topping", s.box.Layers[0]}} {
		if l.thick > 0 {
			parts = append(parts, s.w.length(l.thick)+" "+l.name)
		}
	}
	return strings.Join(parts, ", ") + ": " + s.w.little(p.Gravel)
}

// fixings are the screws, pins and spikes of one box, and the bars of other
// lengths, which hold footings and banks.
func (s *sheetMaker) fixings(p BoxResult) string {
	var parts []string
	if p.Screws > 0 {
		parts = append(parts, count(p.Screws, "screw", "screws"))
	}
	if p.Pins > 0 {
		parts = append(parts, count(p.Pins, "pin", "pins"))
	}
	if p.Spikes > 0 {
		parts = append(parts, count(p.Spikes, "spike", "spikes"))
	}
	pins := p.Pins
	for _, x := range p.Pieces {
		if x.Use != materials.ItemPin {
			continue
		}
		n := x.Count
		if x.Length == s.box.Pin {
			n = max(0, n-pins)
			pins -= x.Count - n
		}
		if n > 0 {
			parts = append(parts, count(n, "bar", "bars")+" of "+s.w.length(x.Length))
		}
	}
	return strings.Join(parts, ", ")
}

// framedStep says what a tread on stringers is made of; "" for another.
func (r Result) framedStep(riser int) string {
	for _, f := range r.Build.Framed {
		if riser < f.First || riser >= f.First+f.Risers-1 {
			continue
		}
		text := count(f.Boards, "board", "boards") + " of " + f.Board
		switch {
		case f.Nosing > 0:
			text += ", nosing " + r.words().length(f.Nosing)
		case f.Nosing < 0:
			text += ", " + r.words().length(-f.Nosing) + " open at the back"
		}
		if f.RiserBoard != "" {
			text += "; riser closed with " + f.RiserBoard
		}
		return text
	}
	return ""
}

// frameNameOf is a framed flight in words.
func (r Result) frameNameOf(f FramedResult) string {
	return "risers " + strconv.Itoa(f.First) + " to " + strconv.Itoa(f.First+f.Risers-1)
}

// flightCard is what a framed flight takes as a whole.
func (s *sheetMaker) flightCard(f FramedResult) sheet.Card {
	w := s.w
	c := sheet.Card{Head: "Framed flight", Kind: s.r.frameNameOf(f)}
	line := func(lead, says string) {
		if says != "" {
			c.Lines = append(c.Lines, [2]string{lead, says})
		}
	}
	if f.PadDepth > 0 {
		line("Pad", w.length(f.Pad)+" along, "+w.length(f.PadWidth)+" across, "+w.length(f.PadDepth)+" of concrete on "+w.length(f.PadBase)+" of gravel")
	} else {
		line("Foot", "on the framed landing below")
	}
	line("Stringers", count(f.Stringers, "stringer", "stringers")+" of "+f.Stringer+", "+w.length(f.Spacing)+" between centres; marked from the drawing")
	if f.Supports > 0 {
		line("Supports", count(f.Supports, "beam", "beams")+" on posts, bays of "+w.length(f.Bay))
	}
	if f.Platform > 0 {
		line("Landing", w.length(f.Platform)+" deep above it, on posts")
	}
	lead := "Cut"
	for _, p := range f.Pieces {
		line(lead, s.piece(p))
		lead = ""
	}
	if f.Handrail > 0 {
		line("Handrail", w.length(f.Handrail)+" above the nosings, in one run")
	}
	if f.Guard > 0 {
		line("Guard", w.length(f.Guard)+" above the nosings; every post on a tested connection")
	}
	m := s.r.frame(f).Measures()
	c.Checks = append(c.Checks, "crowns up", "throat "+w.length(Metres(m.Throat).Length)+" at least", "first riser cut "+w.length(Metres(m.FirstRiser).Length), w.length(f.Gap)+" clear below", "ends brushed")
	return c
}

// checked lists what was checked of a framed flight: where it failed a finding says so.
func (s *sheetMaker) checked(f FramedResult) {
	var rows [][]string
	for _, c := range f.Checks {
		limit, ok := "at most "+c.Limit, "yes"
		if c.AtLeast {
			limit = "at least " + c.Limit
		}
		if !c.OK {
			ok = "no"
		}
		rows = append(rows, []string{itemName(strings.TrimPrefix(c.Rule, framedRule)), c.Actual, limit, ok, c.Source})
	}
	if len(rows) == 0 {
		return
	}
	s.d.Heading("What was checked")
	s.d.Table("tight", []sheet.Column{{Head: "Check", Set: "w"}, {Head: "Found", Set: "n"}, {Head: "Wanted", Set: "n"}, {Head: "Passed"}, {Head: "Source", Set: "w"}}, rows)
}

// framed draws each framed flight and the stringer it is marked from.
func (s *sheetMaker) framed() {
	d, w := s.d, s.w
	for i, f := range s.r.Build.Framed {
		// The table of marks stands below.
		s.pages("Framed flight, "+s.r.frameNameOf(f), i+1, 32+float64(4.6*float64(f.Risers)), "flight", "stringer")
		d.Heading("Marks on the stringer")
		d.Paragraph("Step off along the edge from the first mark; set the square at each mark to the rise and the run. Level above the bearing is that of the finished tread's front edge.")
		var rows [][]string
		var drop unit.Length
		if !f.Solid {
			drop = s.r.dressed(f.Board).Thickness
		}
		step := Metres(s.r.frame(f).Measures().Step).Length
		for k := 1; k <= f.Risers; k++ {
			run, rise := f.Tread*unit.Length(k-1), unit.Length(s.r.Layout.Riser*unit.Length(k))+unit.Length(unit.Length(s.r.Layout.Wash)*f.Tread*unit.Length(k-1))
			cut := w.length(rise - drop)
			if k == f.Risers && !f.Solid {
				cut = "head"
			}
			rows = append(rows, []string{strconv.Itoa(k), strconv.Itoa(f.First + k - 1), w.length(step * unit.Length(k-1)), w.length(run), w.length(rise), cut})
		}
		d.Table("tight", []sheet.Column{{Head: "Mark", Set: "n"}, {Head: "Riser", Set: "n"}, {Head: "Along the edge", Set: "n"}, {Head: "Run from the first", Set: "n"}, {Head: "Tread above the bearing", Set: "n"}, {Head: "Cut above the bearing", Set: "n"}}, rows)
		s.checked(f)
	}
}
