package slopewright

import (
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/draw"
)

// Draw draws the result as an SVG document without scripts, styles or
// references to anything outside it. An unknown name gives "", and so does a
// drawing of what the result has none of.
func (r Result) Draw(d Drawing) string {
	if r.english != nil {
		return r.english.Draw(d)
	}
	return r.drawing(d, draw.Look{Prefix: d.Prefix})
}

// DrawToScale is Draw for print: 20 gives a drawing that measures 1:20 on
// paper, its size in millimetres, as large as it must be. Scales are from 1 to
// 10 000; with any other it is Draw. DrawToScale draws in the ink alone.
func (r Result) DrawToScale(d Drawing, scale float64) string {
	if r.english != nil {
		return r.english.DrawToScale(d, scale)
	}
	return r.drawing(d, draw.Look{Prefix: d.Prefix, Ink: true, Scale: scale, ScaleText: r.scaleText(scale)})
}

// scaleText says a scale as the trade does: 1:48 is 1/4 in to the foot.
func (r Result) scaleText(scale float64) string {
	s := "Scale 1:" + number(scale, 2)
	if r.Units == "imperial" && scale > 0 {
		if i := 12 / scale * 32; i == float64(int(i)) {
			s += ", " + r.words().length(unit.Length(12/scale)*unit.Inch) + " to 1 ft"
		} else if f := scale / 12; f == float64(int(f)) {
			s += ", 1 in to " + number(f, 0) + " ft"
		}
	}
	return r.say(s + " when printed at full size")
}

// inLanguage gives a look the language's mark before decimals.
func (r Result) inLanguage(look draw.Look) draw.Look {
	look.Comma = r.said != nil && r.said.Comma
	return look
}

func (r Result) drawing(d Drawing, look draw.Look) string {
	look = r.inLanguage(look)
	if d.Name == "section" {
		return r.section().SVG(d.Width, look)
	}
	return r.otherDrawing(d, look)
}

// lengthText writes metres as a length of the plan's units.
func (r Result) lengthText() func(m float64) string {
	w := r.words()
	return func(m float64) string { return r.say(w.length(Metres(m).Length)) }
}

// drawnSteps are the steps with the backs of their treads, and the formation
// under them: of framed treads only where the ground stands in their way.
func (r Result) drawnSteps() (steps []draw.Step, formation []draw.Piece) {
	ground := r.groundLine()
	if b := r.Layout.Built; b != nil {
		// The steps that stand below the first of the layout.
		first := r.Layout.Steps[0]
		at, level := first.Station, first.Level
		for k := len(b.Treads); k > 0; k-- {
			end := draw.XY{Station: at.Meters(), Level: (level - b.Heights[k]).Meters()}
			at -= b.Treads[k-1]
			level -= b.Heights[k] + unit.Length(r.Layout.Wash*float64(b.Treads[k-1]))
			steps = append([]draw.Step{{Riser: k, Station: at.Meters(), Level: level.Meters(), TreadEnd: end.Station, EndLevel: end.Level}}, steps...)
		}
	}
	for i, x := range r.Layout.Steps {
		step := draw.Step{Riser: x.Riser, Station: x.Station.Meters(), Level: x.Level.Meters(), Landing: x.Landing, Framed: r.framed(i)}
		step.TreadEnd = step.Station
		step.EndLevel = step.Level
		if i < len(r.Layout.Steps)-1 {
			step.TreadEnd = r.Layout.Steps[i+1].Station.Meters()
			step.EndLevel = step.Level + float64(r.Layout.Wash*(step.TreadEnd-step.Station))
			if i < len(r.Dig.Steps) {
				low := r.Dig.Steps[i].Formation.Meters()
				p := draw.Piece{
					From: draw.XY{Station: step.Station, Level: low},
					To:   draw.XY{Station: step.TreadEnd, Level: low + step.EndLevel - step.Level},
				}
				if step.Framed {
					formation = append(formation, p.Below(ground)...)
				} else {
					formation = append(formation, p)
				}
			}
		}
		steps = append(steps, step)
	}
	return steps, formation
}

// behindHead is the formation in the bank behind the last riser, where the sides of
// its box run, as far as the ground there was measured.
func (r Result) behindHead(ground []draw.XY) []draw.Piece {
	n := len(r.Layout.Steps)
	if n == 0 || r.Build.Box == nil || r.Layout.Steps[n-1].Kind == "framed" {
		return nil
	}
	from := r.Layout.Steps[n-1].Station.Meters()
	to := min(from+r.Build.Box.HeadReturn.Meters(), ground[len(ground)-1].Station)
	if to <= from {
		return nil
	}
	low := r.Dig.Steps[n-1].Formation.Meters()
	return []draw.Piece{{From: draw.XY{Station: from, Level: low}, To: draw.XY{Station: to, Level: low}}}
}

// framed says whether stringers carry the tread of a step.
func (r Result) framed(i int) bool {
	return i < len(r.Dig.Steps) && r.Dig.Steps[i].Kind == "framed"
}

// groundLine is the ground on the centreline.
func (r Result) groundLine() []draw.XY {
	var line []draw.XY
	for _, p := range r.Ground.Points {
		line = append(line, draw.XY{Station: p.Station.Meters(), Level: p.Level.Meters()})
	}
	return line
}

func (r Result) section() draw.Section {
	w := r.words()
	var foot, head draw.XY
	if n := len(r.Layout.Steps); n > 0 {
		// Of a path that is half built, rise and run are of what is still to come.
		last := r.Layout.Steps[n-1]
		head = draw.XY{Station: last.Station.Meters(), Level: last.Level.Meters()}
	}
	s := draw.Section{
		Title:      textOr(r.Title, r.say("Long section")),
		Desc:       r.say(r.describeSection()),
		Head:       head,
		Feet:       w.imperial,
		Chain:      r.chain(),
		LengthText: r.lengthText(),
		Words:      draw.In(draw.English(), r.say),
	}
	s.Ground = r.groundLine()
	for _, p := range r.Ground.Points {
		s.Readings = append(s.Readings, p.Station.Meters())
	}
	s.Steps, s.Formation = r.drawnSteps()
	s.Formation = append(s.Formation, r.behindHead(s.Ground)...)
	if b := r.Layout.Built; b != nil {
		foot = draw.XY{Station: s.Steps[0].Station, Level: s.Steps[0].Level - b.Heights[0].Meters()}
	}
	s.Foot = foot
	// The string that the stake-out's drops are measured below.
	s.String = &draw.LevelString{Level: head.Level, From: 0, To: head.Station}
	if x := r.Dig.Deepest; x.Depth > 0 {
		s.Deepest = &draw.Deepest{Station: x.Station.Meters(), Depth: x.Depth.Meters()}
	}
	return s
}

// passed marks the text of a flight or a landing that passes a limit, by where the
// finding says that is.
func (r Result) passed(where string, riser int, text string) string {
	where += strconv.Itoa(riser) + " "
	for i := range r.Findings {
		if f := &r.Findings[i]; text != "" && strings.HasPrefix(f.Where+" ", where) && (f.Severity == "stop" || f.Severity == "warn") {
			return draw.Passed + r.say(text)
		}
	}
	return r.say(text)
}

// chain dimensions the flights and the landings between them.
func (r Result) chain() []draw.Span {
	w := r.words()
	var out []draw.Span
	for i, f := range r.Layout.Flights {
		if f.Risers > 1 {
			s := draw.Span{From: f.Start.Meters(), To: f.End.Meters()}
			s.Text = "tread " + w.length(f.Tread)
			if f.Risers > 2 {
				s.Short = strconv.Itoa(f.Risers-1) + " × " + w.length(f.Tread)
				s.Text = s.Short + " = " + w.length(f.End-f.Start)
			}
			for _, x := range r.Layout.Steps {
				if x.Riser > f.First && x.Riser < f.First+f.Risers-1 {
					s.Ticks = append(s.Ticks, x.Station.Meters())
				}
			}
			s.Text, s.Short = r.passed("risers ", f.First, s.Text), r.passed("risers ", f.First, s.Short)
			out = append(out, s)
		}
		if i < len(r.Layout.Landings) {
			l := r.Layout.Landings[i]
			out = append(out, draw.Span{From: l.Start.Meters(), To: l.End.Meters(), Text: r.passed("landing behind riser ", l.After, "landing "+w.length(l.Depth))})
		}
	}
	return out
}

func (r Result) describeSection() string {
	w := r.words()
	return "Long section of the path: " + strconv.Itoa(r.Layout.Risers) + " risers of " + w.length(r.Layout.Riser) +
		" climb " + w.length(r.Layout.Rise) + " over " + w.length(r.Layout.Run) +
		"; deepest cut " + w.length(r.Dig.Deepest.Depth) + " at " + w.length(r.Dig.Deepest.Station) + " from the foot."
}
