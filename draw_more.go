//go:build !js || whole

package slopewright

import (
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/draw"
	"github.com/slopewright/slopewright/materials"
)

// terrain is the ground with its crossfalls and the cross-section of the work.
func (r Result) terrain() draw.Terrain {
	t := draw.Terrain{
		Width: r.Build.Width.Meters(), Formation: r.Dig.FormationWidth.Meters(), Batter: r.Dig.Batter, FillBatter: r.Build.FillBatter,
	}
	t.Ground = r.groundLine()
	for _, p := range r.Ground.Points {
		t.Crossfall = append(t.Crossfall, p.Crossfall)
	}
	return t
}

// course is the centreline in plan.
func (r Result) course() draw.Course {
	var c draw.Course
	for _, b := range r.Layout.Bends {
		x := draw.Bend{From: b.From.Meters(), To: b.To.Meters(), Curvature: 1 / b.Radius.Meters()}
		if b.Turn < 0 {
			x.Curvature = -x.Curvature
		}
		c.Bends = append(c.Bends, x)
	}
	return c
}

func (r Result) planDrawing() (draw.Plan, bool) {
	if r.Build.Width <= 0 {
		return draw.Plan{}, false
	}
	w := r.words()
	p := draw.Plan{
		Title: "Plan",
		Desc: "Plan of the path from above, foot at the left: " + w.length(r.Build.Width) + " wide on a formation of " + w.length(r.Dig.FormationWidth) +
			", sides of the cut at " + number(r.Dig.Batter, 2) + " horizontal to 1 vertical.",
		Course: r.course(), Terrain: r.terrain(), SetBack: setBack.Meters(),
		LengthText: r.lengthText(), Feet: w.imperial,
	}
	if n := len(r.Layout.Bends); n > 0 {
		p.Desc += " The path has " + count(n, "bend", "bends") + "."
	}
	if b := r.Build.Box; b != nil {
		p.Breadth = b.Breadth.Meters()
		if n := len(r.Layout.Steps); n > 0 && r.Layout.Steps[n-1].Kind != "framed" {
			p.Return = b.HeadReturn.Meters()
		}
	}
	p.Boxes = r.planBoxes()
	for _, f := range r.Build.Framed {
		x := draw.PlanFrame{From: r.stationOf(f.First), Thickness: r.dressed(f.Stringer).Thickness.Meters(), Stringers: f.Stringers, Pad: f.Pad.Meters(), PadWidth: f.PadWidth.Meters(), Seat: r.frame(f).Measures().Seat}
		x.To = x.From + float64(f.Tread*unit.Length(f.Risers-1))
		r.bearings(&x, f)
		p.Frames = append(p.Frames, x)
	}
	for _, x := range r.Haul.Places {
		// Where it is and how much; how it may lie there is for the sheet.
		says, _, _ := strings.Cut(x.Says, "). ")
		if says != x.Says {
			says += ")."
		}
		p.Places = append(p.Places, draw.PlanPlace{At: x.Station.Meters(), Breadth: x.Breadth.Meters(), Fetch: x.Fetch, Says: r.say(says)})
	}
	p.Title, p.Desc = r.say(p.Title), r.say(p.Desc)
	p.Words, p.Parts = draw.In(draw.English(), r.say), draw.In(draw.EnglishFrame(), r.say)
	p.Steps, p.Formation = r.drawnSteps()
	p.Formation = append(p.Formation, r.behindHead(p.Terrain.Ground)...)
	for _, g := range r.Ground.Points {
		p.Stations = append(p.Stations, g.Station.Meters())
	}
	return p, true
}

// bearings sets what a framed flight and the landing above it stand on: rows of
// a beam each, ascending, and what the pieces say of beams, posts and decking.
func (r Result) bearings(x *draw.PlanFrame, f FramedResult) {
	x.Platform, x.Posts = f.Platform.Meters(), f.Posts
	for _, p := range f.Pieces {
		s := r.dressed(p.Section)
		switch p.Use {
		case materials.ItemBeam:
			x.Beam = s.Thickness.Meters() * float64(p.Count) / float64(max(f.beams(), 1))
		case materials.ItemPost:
			// Beams without posts lie on their footings, and are the lowest.
			x.Post = s.Thickness.Meters()
			x.PostRows += p.Count / max(f.Posts, 1)
		case materials.ItemDeckBoard:
			x.Deck += p.Count
		case materials.ItemJoist:
			x.Joists += p.Count
		}
	}
	for k := 1; k <= f.Supports; k++ {
		x.Beams = append(x.Beams, x.From+float64(f.Bay*unit.Length(k)))
	}
	if x.Platform > 0 {
		x.Beams = append(x.Beams, x.To+x.Beam/2, x.To+x.Platform-x.Beam/2)
	}
}

// planBoxes are the boxes that a plan shows more of than a riser and two sides.
func (r Result) planBoxes() []draw.PlanBox {
	s := sheetMaker{r: r, box: r.Build.Box}
	var out []draw.PlanBox
	for _, b := range r.Build.Boxes {
		x := draw.PlanBox{From: r.stationOf(b.Riser)}
		for _, p := range b.Pieces {
			switch n := s.joined(p); p.Use {
			case materials.ItemRiserTimber:
				x.Across = n
			case materials.ItemSideTimber:
				x.Along, x.Side = n, p.Length.Meters()*float64(n)
			case materials.ItemCrossPiece:
				x.Crosses = p.Count
			case materials.ItemLandingTimber:
				x.Back = true
			}
		}
		if x.Across > 1 || x.Along > 1 || x.Crosses > 0 || x.Back {
			out = append(out, x)
		}
	}
	return out
}

// stationOf is where a riser stands.
func (r Result) stationOf(riser int) float64 {
	for _, s := range r.Layout.Steps {
		if s.Riser == riser {
			return s.Station.Meters()
		}
	}
	return 0
}

func (r Result) view() (draw.View, bool) {
	if r.Build.Width <= 0 {
		return draw.View{}, false
	}
	v := draw.View{
		Title:   "The path in the hill",
		Desc:    "View of the " + strconv.Itoa(r.Layout.Risers) + " steps in the hill from in front and above, foot at the left; the ground in front is taken away along the edge of the path.",
		Course:  r.course(),
		Terrain: r.terrain(),
	}
	v.Title, v.Desc, v.Words = r.say(v.Title), r.say(v.Desc), draw.In(draw.English(), r.say)
	v.Steps, v.Formation = r.drawnSteps()
	return v, true
}

func (r Result) detail() (draw.Detail, bool) {
	b := r.Build.Box
	if b == nil {
		return draw.Detail{}, false
	}
	w := r.words()
	out := draw.Detail{
		Title: "One box step, cut along the path",
		Riser: r.Layout.Riser.Meters(), Tread: r.typicalTread().Meters(), Wash: r.Layout.Wash,
		Courses: b.Courses, Course: b.Course.Meters(), Breadth: b.Breadth.Meters(), Bedding: b.Bedding.Meters(), Buried: b.Buried.Meters(),
		Topping: b.Layers[0].Meters(), Fill: b.Layers[1].Meters(), Base: b.Layers[2].Meters(),
		Pin: b.Pin.Meters(), PinEnd: b.PinEnd.Meters(), Width: r.Build.Width.Meters(), Working: (r.Dig.FormationWidth - r.Build.Width).Meters() / 2, Batter: r.Dig.Batter,
		BatterText: number(r.Dig.Batter, 2) + " to 1 upright",
		LengthText: r.lengthText(), Feet: w.imperial,
	}
	if w.round(b.Bedding) == 0 {
		out.Bedding = 0 // less than a tape shows
	}
	if r.Layout.Wash > 0 {
		out.WashText = w.slope(r.Layout.Wash) + " to the front"
	}
	out.Desc = "Box step with a riser of " + w.length(r.Layout.Riser) + " made of " + count(b.Courses, "course", "courses") + " of timber, on a build-up of " + w.length(r.Dig.BuildUp) + " of gravel."
	out.Title, out.Desc = r.say(out.Title), r.say(out.Desc)
	out.WashText, out.BatterText = r.say(out.WashText), r.say(out.BatterText)
	out.Words, out.Parts = draw.In(draw.English(), r.say), draw.In(draw.EnglishDetail(), r.say)
	return out, true
}

// typicalTread is the tread that most boxes have, the first of equals.
func (r Result) typicalTread() unit.Length {
	var best unit.Length
	most := 0
	for _, f := range r.Layout.Flights {
		if f.Kind == "box" && f.Risers-1 > most {
			most, best = f.Risers-1, f.Tread
		}
	}
	if most == 0 {
		for _, s := range r.Layout.Steps {
			if s.Kind == "box" && s.Tread > 0 {
				return s.Tread
			}
		}
	}
	return best
}
