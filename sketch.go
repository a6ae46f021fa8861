package slopewright

import "github.com/slopewright/slopewright/stair"

// SketchFormat is the format of the sketches this version writes.
const SketchFormat = "slopewright.sketch/1"

// Sketch is a plan as far as the digging: all that changes in the drawing while
// a point of the ground or an end of the path is moved, told in time to be seen.
// Timber, money and time come with the plan.
type Sketch struct {
	Format  string `json:"format"`
	Version string `json:"version"`
	Units   string `json:"units"`

	Answer []Sentence   `json:"answer" doc:"of steps, walking, deepest, earth and hidden"`
	Ground GroundResult `json:"ground"`
	Layout LayoutResult `json:"layout"`
	Dig    DigResult    `json:"dig"`
	// Drawings are SVG documents by name: the section, when it was asked for.
	Drawings map[string]string `json:"drawings,omitempty"`
}

// MakeSketch makes a plan as far as the digging. What it tells is what [Make]
// tells of the same plan. The error is a [Faults], as of Make.
func MakeSketch(p Plan) (Sketch, error) {
	r, err := makeSketch(p, nil, false)
	if err != nil {
		return Sketch{}, err
	}
	return r.sketch(), nil
}

func (r Result) sketch() Sketch {
	return Sketch{SketchFormat, r.Version, r.Units, r.Answer, r.Ground, r.Layout, r.Dig, nil}
}

// makeSketch gives the sketch as the result that it is a part of.
func makeSketch(p Plan, earlier *stair.Earlier, stretch bool) (Result, error) {
	var m maker
	m.earlier, m.stretch = earlier, stretch
	err := m.read(p)
	if err == nil {
		err = m.lay()
	}
	if err == nil {
		err = m.dig()
	}
	if err != nil {
		return Result{}, m.tell(err)
	}
	r := m.dugOut()
	r.Answer = m.answerUpToDigging()
	return r, nil
}

// sketched answers a request for a sketch.
func sketched(q Request, words *Words, earlier *stair.Earlier) (Sketch, error) {
	r, err := makeSketch(*q.Plan, earlier, q.Stretch)
	if err != nil {
		return Sketch{}, err
	}
	if words != nil {
		r.said = words.speaker(*q.Plan)
	}
	s := r.sketch()
	told(r.said, &s)
	for _, d := range q.Drawings {
		if d.Name == "section" {
			s.Drawings = map[string]string{d.Name: r.Draw(d)}
		}
	}
	return s, nil
}
