package slopewright

import (
	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/materials"
)

// BuildResult is how the steps are made: what a drawing, a sheet or a saw needs
// beside the layout and the dig.
type BuildResult struct {
	Width      unit.Length `json:"width" doc:"over the timbers' ends or the outer stringers"`
	FillBatter float64     `json:"fill_batter" doc:"of made ground, horizontal per vertical"`
	Box        *BoxMake    `json:"box,omitempty" doc:"what all boxes have alike"`
	// Boxes are from the foot; Framed are the flights on stringers.
	Boxes  []BoxResult    `json:"boxes"`
	Framed []FramedResult `json:"framed"`
	// Dressed are sections that measure what the stock says.
	Dressed []DressedSection `json:"dressed,omitempty"`
}

// BoxMake is what all boxes have alike.
type BoxMake struct {
	Timber string `json:"timber"`
	OnEdge bool   `json:"on_edge,omitempty"`
	// Course is the height of one course, Breadth a timber's other side.
	Course  unit.Length `json:"course"`
	Breadth unit.Length `json:"breadth"`
	Courses int         `json:"courses"`
	// Bedding is gravel under the lowest course, Buried how far that stands
	// below the surface in front.
	Bedding unit.Length `json:"bedding"`
	Buried  unit.Length `json:"buried"`
	// Layers are topping, fill and base gravel, from the surface down, tamped.
	Layers []unit.Length `json:"layers" doc:"topping, fill, base"`
	// HeadReturn is the length of the sides behind the last riser.
	HeadReturn unit.Length `json:"head_return"`
	// Pin is the length of one, 0 for none, PinEnd its distance from the
	// timber's end.
	Pin    unit.Length `json:"pin"`
	PinEnd unit.Length `json:"pin_end"`
	// Trenches are below the formation in front of a riser; there is no box in
	// front of the first, whose trench is from the finished surface.
	FirstTrench unit.Length `json:"first_trench"`
	Trench      unit.Length `json:"trench"`
	TrenchWidth unit.Length `json:"trench_width"`
}

// PieceResult is so many pieces cut alike.
type PieceResult struct {
	_       [0]func()   // not comparable, which spares code: see DEVELOPERS.md
	Use     string      `json:"use"`
	Section string      `json:"section"`
	Length  unit.Length `json:"length"`
	Count   int         `json:"count"`
}

// BoxResult is one box: what is cut for it and what goes into it. A riser that
// stands has no pieces of its own; the sides on a bend are one inner and one
// outer to a course.
type BoxResult struct {
	Riser  int           `json:"riser"`
	Pieces []PieceResult `json:"pieces"`
	Screws int           `json:"screws"`
	Pins   int           `json:"pins"`
	Spikes int           `json:"spikes,omitempty" doc:"through the timbers that hold its banks"`
	Gravel unit.Volume   `json:"gravel" doc:"tamped"`
}

// FramedResult is one flight on stringers.
type FramedResult struct {
	First  int         `json:"first"`
	Risers int         `json:"risers"`
	Tread  unit.Length `json:"tread"`
	// Solid stringers are not cut; their edge stands Above the nosings, square
	// to it.
	Solid    bool        `json:"solid,omitempty"`
	Above    unit.Length `json:"above"`
	Stringer string      `json:"stringer"`
	// Stringers stand Spacing apart by centres, on Supports between foot and
	// head, with level spans of Bay.
	Stringers int         `json:"stringers"`
	Spacing   unit.Length `json:"spacing"`
	Supports  int         `json:"supports"`
	Bay       unit.Length `json:"bay"`
	// Boards to a tread, BoardGap apart; they go Nosing beyond the riser below,
	// or leave as much open at the back when it is negative.
	Board    string      `json:"board"`
	Boards   int         `json:"boards"`
	BoardGap unit.Length `json:"board_gap"`
	Nosing   unit.Length `json:"nosing"`
	// RiserBoard is empty where risers are open.
	RiserBoard string `json:"riser_board,omitempty"`
	// Gap is the air wanted under the stringers.
	Gap unit.Length `json:"gap"`
	// The pad under the foot: along the path, across it, concrete and gravel
	// under that; all 0 where the foot bears on a framed landing.
	Pad      unit.Length `json:"pad"`
	PadWidth unit.Length `json:"pad_width"`
	PadDepth unit.Length `json:"pad_depth"`
	PadBase  unit.Length `json:"pad_gravel"`
	// Platform is the depth of the framed landing at its head.
	Platform unit.Length `json:"platform"`
	// Posts, or footings where a beam lies low, carry one beam.
	Posts int `json:"posts"`
	// Handrail and Guard are heights above the nosings; 0 is none.
	Handrail unit.Length   `json:"handrail"`
	Guard    unit.Length   `json:"guard"`
	Pieces   []PieceResult `json:"pieces"`
	// Checks are all that were decided, those that failed too.
	Checks []StrengthCheck `json:"checks"`
}

// StrengthCheck is one check of a framed flight against a design value or the
// limit of a guide. Where it failed a finding of the same rule says so.
type StrengthCheck struct {
	_       [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Rule    string    `json:"rule" doc:"the member and the quantity, as framed-stringer-bending"`
	Actual  string    `json:"actual"`
	Limit   string    `json:"limit"`
	AtLeast bool      `json:"at_least,omitempty" doc:"the limit is the least that will do, else the most"`
	OK      bool      `json:"ok"`
	Source  string    `json:"source" doc:"of the limit"`
}

// BendResult is an arc of the centreline between two stations.
type BendResult struct {
	_      [0]func()   // not comparable, which spares code: see DEVELOPERS.md
	From   unit.Length `json:"from"`
	To     unit.Length `json:"to"`
	Radius unit.Length `json:"radius"`
	Turn   float64     `json:"turn" doc:"degrees, to the right positive"`
}

func (m *maker) buildResult() BuildResult {
	boxes := m.takeoff.Boxes
	out := BuildResult{
		Width: m.section.Width, FillBatter: m.section.FillBatter,
		Dressed: m.dressedResult(),
		Boxes:   make([]BoxResult, len(boxes)), Framed: make([]FramedResult, len(m.flights)),
	}
	for i := range boxes {
		b, p := &out.Boxes[i], &boxes[i]
		b.Riser, b.Pieces, b.Screws, b.Pins, b.Spikes, b.Gravel = p.Number, pieceResults(p.Pieces), p.Screws, p.Pins, p.Spikes, p.Topping+p.Fill+p.Base
	}
	if len(boxes) > 0 {
		d, p := &m.detail, &boxes[0]
		out.Box = &BoxMake{
			Timber: d.Timber.Name, OnEdge: d.OnEdge, Course: d.Course(), Breadth: d.Breadth(), Courses: p.Courses, Bedding: p.Bedding, Buried: p.Buried,
			Layers: []unit.Length{d.Topping, d.Fill, d.Base}, HeadReturn: d.HeadReturn, Pin: p.PinLength, PinEnd: d.PinEnd,
			FirstTrench: m.trenchDepth(m.layout.Riser, true), Trench: m.trenchDepth(m.layout.Riser, false), TrenchWidth: m.trenchWidth(),
		}
	}
	for i := range m.flights {
		m.framedResult(&out.Framed[i], &m.flights[i], &m.parts[i])
	}
	return out
}

// standsRiser says whether the riser of a box was built before.
func (m *maker) standsRiser(box int) bool {
	return m.layout.FirstStands && box == m.layout.Steps[0].Riser+m.below()
}

func (m *maker) framedResult(out *FramedResult, f *materials.FramedFlight, p *materials.FramedPart) {
	d := &m.framed
	*out = FramedResult{
		First: f.First, Risers: f.Risers, Tread: f.Tread, Solid: d.Solid, Stringer: d.Stringer.Name,
		Stringers: p.Stringers, Spacing: p.Spacing, Supports: p.Supports, Bay: p.Layout.Bay,
		Board: d.Tread.Name, Boards: p.TreadBoards, BoardGap: d.TreadGap, Nosing: p.Nosing, RiserBoard: d.RiserBoard.Name, Gap: d.Gap,
		Platform: f.Platform, Pieces: pieceResults(p.Pieces),
	}
	for i := range p.Checks {
		if c := &p.Checks[i]; !c.Open {
			out.Checks = append(out.Checks, StrengthCheck{Rule: framedRule + c.Name, Actual: m.words.amount(c.Actual), Limit: m.words.amount(c.Limit),
				AtLeast: c.AtLeast, OK: c.OK, Source: cited(c.Source, c.Remembered)})
		}
	}
	if d.Solid {
		out.Above = d.Above
	}
	if !f.OnLanding {
		out.Pad, out.PadWidth, out.PadDepth, out.PadBase = p.Pad.Length, p.Pad.Width, p.Pad.Depth, d.PadGravel
	}
	if n := out.beams(); n > 0 {
		out.Posts = p.Posts / n
	}
	if p.Handrails > 0 {
		out.Handrail = d.HandrailHeight
	}
	if p.GuardPosts > 0 {
		out.Guard = d.GuardHeight
	}
}

// beams is how many there are across the path: under the stringers, and two under
// a landing.
func (f *FramedResult) beams() int {
	if f.Platform > 0 {
		return f.Supports + 2
	}
	return f.Supports
}

func pieceResults(all []materials.Piece) []PieceResult {
	out := make([]PieceResult, len(all))
	for i, x := range all {
		out[i] = PieceResult{Use: x.Use, Section: x.Section, Length: x.Length, Count: x.Count}
	}
	return out
}

func (m *maker) bendResults() []BendResult {
	out := make([]BendResult, len(m.bends))
	for i := range m.bends {
		b := &m.bends[i]
		out[i] = BendResult{From: b.From, To: b.To, Radius: b.Radius, Turn: m.plan.Path.Bends[i].Turn}
	}
	return out
}
