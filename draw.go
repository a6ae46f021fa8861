package slopewright

import (
	"strconv"

	"github.com/slopewright/slopewright/internal/draw"
)

// Draw draws the result: the long section, true to scale, as an SVG document
// without scripts, styles or references to anything outside it. An unknown name
// gives "".
func (r Result) Draw(d Drawing) string {
	if d.Name != "section" {
		return ""
	}
	w := r.words()
	head := draw.XY{Station: r.Layout.Run.Meters(), Level: r.Layout.Rise.Meters()}
	s := draw.Section{
		Title:      textOr(r.Title, "Long section"),
		Desc:       r.describeSection(),
		Head:       head,
		Feet:       w.imperial,
		LengthText: func(m float64) string { return w.length(Metres(m).Length) },
	}
	for _, p := range r.Ground.Points {
		s.Ground = append(s.Ground, draw.XY{Station: p.Station.Meters(), Level: p.Level.Meters()})
		s.Readings = append(s.Readings, p.Station.Meters())
	}
	for i, x := range r.Layout.Steps {
		step := draw.Step{Riser: x.Riser, Station: x.Station.Meters(), Level: x.Level.Meters(), Landing: x.Landing}
		step.TreadEnd = step.Station
		step.EndLevel = step.Level
		if i < len(r.Layout.Steps)-1 {
			step.TreadEnd = r.Layout.Steps[i+1].Station.Meters()
			step.EndLevel = step.Level + float64(r.Layout.Wash*(step.TreadEnd-step.Station))
			down := r.Dig.BuildUp.Meters()
			s.Formation = append(s.Formation, draw.Piece{
				From: draw.XY{Station: step.Station, Level: step.Level - down},
				To:   draw.XY{Station: step.TreadEnd, Level: step.EndLevel - down},
			})
		}
		s.Steps = append(s.Steps, step)
	}
	// The string that the stake-out's drops are measured below.
	s.String = &draw.LevelString{Level: head.Level, From: 0, To: head.Station}
	if x := r.Dig.Deepest; x.Depth > 0 {
		s.Deepest = &draw.Deepest{Station: x.Station.Meters(), Depth: x.Depth.Meters()}
	}
	return s.SVG(d.Width, draw.Look{Prefix: d.Prefix})
}

func (r Result) describeSection() string {
	w := r.words()
	return "Long section of the path: " + strconv.Itoa(r.Layout.Risers) + " risers of " + w.length(r.Layout.Riser) +
		" climb " + w.length(r.Layout.Rise) + " over " + w.length(r.Layout.Run) +
		"; deepest cut " + w.length(r.Dig.Deepest.Depth) + " at " + w.length(r.Dig.Deepest.Station) + " from the foot."
}
