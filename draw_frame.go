//go:build !js || whole

package slopewright

import (
	"strconv"

	"github.com/slopewright/slopewright/internal/draw"
	"github.com/slopewright/slopewright/materials"
)

// dressed is a section by its name; one that is not known has no size.
func (r Result) dressed(name string) materials.Section {
	s, _ := materials.FramedSectionByName(name)
	for _, x := range r.Build.Dressed {
		if x.Section == s.Name {
			s.Thickness, s.Width = x.Thickness, x.Width
		}
	}
	return s
}

// frame is one framed flight to draw.
func (r Result) frame(b FramedResult) draw.Frame {
	stringer, board := r.dressed(b.Stringer), r.dressed(b.Board)
	f := draw.Frame{
		First: b.First, Risers: b.Risers, Riser: r.Layout.Riser.Meters(), Tread: b.Tread.Meters(), Wash: r.Layout.Wash,
		Depth: stringer.Width.Meters(), Above: b.Above.Meters(), Solid: b.Solid,
		Board: board.Thickness.Meters(), BoardWidth: board.Width.Meters(), BoardGap: b.BoardGap.Meters(), Boards: b.Boards, Nosing: b.Nosing.Meters(),
		RiserBoards: b.RiserBoard != "", Pad: b.Pad.Meters(), PadDepth: b.PadDepth.Meters(), PadGravel: b.PadBase.Meters(),
		Bay: b.Bay.Meters(), Supports: b.Supports, Platform: b.Platform.Meters(), Handrail: b.Handrail.Meters(),
		Ground: r.groundLine(), LengthText: r.lengthText(), Feet: r.words().imperial,
	}
	f.PitchText = r.say(number(f.Measures().Pitch, 1) + "°")
	f.Words, f.Parts = draw.In(draw.English(), r.say), draw.In(draw.EnglishFrame(), r.say)
	for i, s := range r.Layout.Steps {
		if s.Riser != b.First || i+b.Risers > len(r.Layout.Steps) {
			continue
		}
		f.At = draw.XY{Station: s.Station.Meters(), Level: (s.Level - r.Layout.Riser).Meters()}
		end := r.Layout.Steps[i+b.Risers-1].Station.Meters()
		_, all := r.drawnSteps()
		for _, p := range all {
			if p.From.Station >= f.At.Station-1e-9 && p.To.Station <= end+1e-9 {
				f.Formation = append(f.Formation, p)
			}
		}
	}
	return f
}

func (r Result) drawFrame(name string, flight int, width float64, look draw.Look) string {
	if flight == 0 {
		flight = 1
	}
	if flight < 1 || flight > len(r.Build.Framed) {
		return ""
	}
	b, w := r.Build.Framed[flight-1], r.words()
	f, which := r.frame(b), r.frameNameOf(b)
	m := f.Measures()
	if name == "stringer" {
		f.Title = "Stringer to mark out: " + which
		f.Desc = "One of " + count(b.Stringers, "stringer", "stringers") + " of " + b.Stringer + " on its board, foot at the left: " + strconv.Itoa(b.Risers) + " risers of " + w.length(r.Layout.Riser) +
			", steps of " + w.length(Metres(m.Step).Length) + " along the edge, first riser cut " + w.length(Metres(m.FirstRiser).Length) + ", throat " + w.length(Metres(m.Throat).Length) + "."
		f.Title, f.Desc = r.say(f.Title), r.say(f.Desc)
		return f.TemplateSVG(width, look)
	}
	f.Title = "Framed flight from the side: " + which
	f.Desc = "Framed flight on " + count(b.Stringers, "stringer", "stringers") + " of " + b.Stringer + ": " + strconv.Itoa(b.Risers) + " risers of " + w.length(r.Layout.Riser) + ", treads of " + w.length(b.Tread) + "."
	f.Title, f.Desc = r.say(f.Title), r.say(f.Desc)
	return f.FlightSVG(width, look)
}
