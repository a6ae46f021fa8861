package draw

import (
	"math"
	"strconv"
)

// Frame is a flight on stringers: how one stringer is marked out and cut, and
// how the flight stands in the hill. Lengths are metres.
type Frame struct {
	Title, Desc string
	// First is the number of the first riser, Risers the height of each, Tread the depth from
	// face to face and Wash the fall of a tread, as a ratio.
	First, Risers      int
	Riser, Tread, Wash float64
	// Depth is the board's, Above how far the edge of a stringer that is not
	// cut stands above the nosings, square to it.
	Depth, Above float64
	Solid        bool
	// Board is the thickness of a tread board, BoardWidth its width, BoardGap
	// the gap between the Boards of one tread and Nosing how far they go beyond
	// the riser below.
	Board, BoardWidth, BoardGap, Nosing float64
	Boards                              int
	RiserBoards                         bool
	// Where the flight stands: station and level of the bearing at its foot,
	// the ground, and what is dug.
	At        XY
	Ground    []XY
	Formation []Piece
	// Pad along the path, its concrete and the gravel under it; 0 is none.
	Pad, PadDepth, PadGravel float64
	// Bay is the level span between bearings, Supports how many stand between.
	Bay      float64
	Supports int
	Platform float64
	// Handrail is its height above the nosings; 0 draws none.
	Handrail   float64
	LengthText func(metres float64) string
	// PitchText is the pitch in words.
	PitchText string
	Feet      bool
	Words     Words
	Parts     FrameWords
}

// FrameWords are the words of a frame beside those of [Words]. An empty one is
// taken from English.
type FrameWords struct {
	Rise, Run, Step, Throat, FirstRiser, Less, Seat, Head, Pitch, Board, Along       string
	Figures                                                                          string
	TotalRise, Going, Bay, Pad, PadGravel, Handrail, Nosing, Stringer, Housing, Beam string
	Beams, Post, Deck, Joist                                                         string // of the plan
	Nothing                                                                          string
}

// EnglishFrame gives the words in English.
func EnglishFrame() FrameWords {
	return FrameWords{
		Rise: "Rise of a step", Run: "Run of a step", Step: "Step, along the edge", Throat: "Throat", FirstRiser: "First riser cut", Less: "less by the board's",
		Seat: "Level cut at the foot", Head: "Plumb cut at the head", Pitch: "Plumb cuts, off a square cut", Board: "Board, end to end, at least", Along: "Along the edge, from the first mark", Figures: "the figures over the board",
		TotalRise: "Rise", Going: "Going", Bay: "Bay", Pad: "Concrete pad", PadGravel: "Gravel", Handrail: "Handrail above nosings", Nosing: "Nosing", Stringer: "Stringer", Housing: "Tread", Beam: "Beam on posts", Beams: "Beam", Post: "Post", Deck: "Decking", Joist: "Joist",
		Nothing: "No drawing: the measures do not make a flight",
	}
}

func (w FrameWords) filled() FrameWords {
	e := EnglishFrame()
	for _, p := range []struct{ word, english *string }{
		{&w.Rise, &e.Rise}, {&w.Run, &e.Run}, {&w.Step, &e.Step}, {&w.Throat, &e.Throat}, {&w.FirstRiser, &e.FirstRiser}, {&w.Less, &e.Less},
		{&w.Seat, &e.Seat}, {&w.Head, &e.Head}, {&w.Pitch, &e.Pitch}, {&w.Board, &e.Board}, {&w.Along, &e.Along}, {&w.Figures, &e.Figures},
		{&w.TotalRise, &e.TotalRise}, {&w.Going, &e.Going}, {&w.Bay, &e.Bay}, {&w.Pad, &e.Pad}, {&w.PadGravel, &e.PadGravel}, {&w.Handrail, &e.Handrail},
		{&w.Nosing, &e.Nosing}, {&w.Stringer, &e.Stringer}, {&w.Housing, &e.Housing}, {&w.Beam, &e.Beam}, {&w.Beams, &e.Beams}, {&w.Post, &e.Post}, {&w.Deck, &e.Deck}, {&w.Joist, &e.Joist}, {&w.Nothing, &e.Nothing},
	} {
		if *p.word = clean(*p.word, 60); *p.word == "" {
			*p.word = *p.english
		}
	}
	return w
}

func (f *Frame) drawable() bool {
	ok := f.First >= 0 && f.First < 1e6 && f.Risers >= 2 && f.Risers <= maxSteps && f.Riser > 0 && f.Tread > 0 && f.Depth > 0 && f.Board >= 0 && f.Board < f.Riser
	for _, v := range []float64{f.Riser, f.Tread, f.Depth, f.Above, f.Board, f.BoardWidth, f.BoardGap, f.Pad, f.PadDepth, f.PadGravel, f.Bay, f.Platform, f.Handrail} {
		ok = ok && v >= 0 && v <= 200
	}
	ok = ok && f.Boards >= 0 && f.Boards <= 50 && f.Supports >= 0 && f.Supports <= 100 && math.Abs(f.Nosing) <= 1 && f.Wash >= 0 && f.Wash <= 0.5
	ok = ok && math.Abs(f.At.Station) <= maxMetres && math.Abs(f.At.Level) <= maxMetres && len(f.Ground) <= maxPoints && len(f.Formation) <= maxSteps
	return ok
}

// up is what the stringer climbs from step to step.
func (f *Frame) up() float64 { return f.Riser + float64(f.Wash*f.Tread) }

// level is the height of nosing k above the bearing.
func (f *Frame) level(k int) float64 {
	return float64(float64(k)*f.Riser) + float64(float64(k-1)*f.Wash*f.Tread)
}

// drop is what the first riser is cut less by.
func (f *Frame) drop() float64 {
	if f.Solid {
		return 0
	}
	return f.Board
}

func (f *Frame) going() float64 { return float64(float64(f.Risers-1) * f.Tread) }

// lower is the height of the stringer's lower edge.
func (f *Frame) lower(x float64) float64 {
	h := math.Hypot(f.up(), f.Tread)
	deep := f.Depth * h / f.Tread
	if f.Solid {
		deep -= f.Above * h / f.Tread
	}
	return f.Riser - f.drop() + x*f.up()/f.Tread - deep
}

// seat is where the lower edge meets the bearing.
func (f *Frame) seat() float64 {
	x := -f.lower(0) * f.Tread / f.up()
	return math.Min(math.Max(x, 0), f.going())
}

// FrameMeasures are what is set off and cut on a stringer, in metres.
type FrameMeasures struct {
	// Step is the length along the edge for one step, Throat what the notches
	// leave of the board, square to its edge, Length that of the board between
	// square ends that the stringer is just cut from.
	Step, Throat, Length float64
	// FirstRiser is the height of the first riser cut, Seat the length of the
	// level cut at the foot and Head that of the plumb cut at the head.
	FirstRiser, Seat, Head float64
	// Pitch is in degrees above the horizontal; a plumb cut is as much off a
	// square one.
	Pitch float64
}

// Measures works them out: a step climbs R + w·T over T for a riser R, a tread
// T and its fall w; the notch R·T/√((R + w·T)² + T²) deep follows from the
// triangle between two nosings and the foot of the upper riser.
func (f Frame) Measures() FrameMeasures {
	h := math.Hypot(f.up(), f.Tread)
	m := FrameMeasures{
		Step: h, Throat: f.Depth, FirstRiser: f.Riser - f.drop(), Seat: f.seat(), Pitch: math.Atan2(f.up(), f.Tread) * 180 / math.Pi,
		Length: float64(float64(f.Risers-1)*h) - f.drop()*f.up()/h,
	}
	if f.Solid {
		m.Length += f.Riser * f.up() / h
		m.Head = f.level(f.Risers) - f.lower(f.going())
	} else {
		m.Throat -= f.Riser * f.Tread / h
		m.Head = f.level(f.Risers-1) - f.Board + float64(f.Wash*f.Tread) - f.lower(f.going())
	}
	return m
}

// outline is the stringer as cut, from the front of its bearing up and round:
// distance from the first riser's cut and height above the bearing.
func (f *Frame) outline() []XY {
	g, n := f.going(), f.Risers
	var p []XY
	if f.Solid {
		h := math.Hypot(f.up(), f.Tread)
		over := f.Above * h / f.Tread
		p = append(p, XY{0, 0}, XY{0, f.Riser + over})
		if back := f.Above * h / f.up(); back > 0 && back < g {
			p = append(p, XY{g - back, f.level(n)})
		}
		p = append(p, XY{g, f.level(n)})
	} else {
		p = append(p, XY{0, 0})
		for k := 1; k < n; k++ {
			y := f.level(k) - f.Board
			p = append(p, XY{float64(k-1) * f.Tread, y}, XY{float64(k) * f.Tread, y + float64(f.Wash*f.Tread)})
		}
	}
	p = append(p, XY{g, f.lower(g)})
	if s := f.seat(); s > 0 {
		p = append(p, XY{s, 0})
	} else {
		p = append(p, XY{0, f.lower(0)})
	}
	return p
}

// onBoard turns the flight so that the board's edge is level: along the edge
// from the first step's corner, and square to it, downwards.
func (f *Frame) onBoard(p XY) (along, across float64) {
	h := math.Hypot(f.up(), f.Tread)
	sin, cos := f.up()/h, f.Tread/h
	y := p.Level - (f.Riser - f.drop())
	return float64(p.Station*cos) + float64(y*sin), float64(p.Station*sin) - float64(y*cos)
}

// frameDrawing is a frame being drawn; it measures and calls out as details do.
type frameDrawing struct {
	detailDrawing
	f     *Frame
	words FrameWords
}

// begin sets the scale for a drawing of a size in metres, with room left and
// right of it in px.
func (f *Frame) begin(class string, width float64, look Look, wide, tall, left, right, over float64) (frameDrawing, bool) {
	d := frameDrawing{f: f, words: f.Parts.filled()}
	d.detailDrawing = detailDrawing{s: &Detail{LengthText: f.LengthText}, w: EnglishDetail(), words: f.Words.filled()}
	width = bounded(width)
	if !f.drawable() {
		d.canvas = newCanvas(class, f.Title, f.Desc, width, look)
		d.title()
		d.note(label{text: d.words.Nothing, class: "sw-note"})
		d.bottom += margin
		return d, false
	}
	if look = look.fitted(wide); look.scaled() {
		width = look.width(wide, left+right)
	}
	d.canvas = newCanvas(class, f.Title, f.Desc, width, look)
	d.title()
	d.k = (width - left - right) / wide
	if most := math.Min(math.Max(1.1*width, 420), 1300); d.k*tall > most {
		d.k = most / tall
	}
	if look.scaled() {
		d.k = look.pxPerMetre()
	}
	d.left, d.right = left, width-right
	d.x0, d.y0 = left, d.bottom+over
	return d, true
}

// outlined draws a closed path and keeps labels off it.
func (d *frameDrawing) outlined(class string, points []point2, width float64, more string) {
	var p path
	for i, v := range points {
		w := points[(i+1)%len(points)]
		d.p.line(v.x, v.y, w.x, w.y)
		if i == 0 {
			p.move(v.x, v.y)
		} else {
			p.to(v.x, v.y)
		}
	}
	p.close()
	d.stroke(class, &p, width, more)
}

// TemplateSVG draws one stringer as its board lies on the trestles, foot to the
// left, upper edge up, every mark from the first; see [Section.SVG] for width
// and look.
func (f Frame) TemplateSVG(width float64, look Look) string {
	above := 0.0
	if f.Solid {
		above = f.Above
	}
	names := []string{}
	m := FrameMeasures{Length: 1}
	if f.drawable() {
		m = f.Measures()
	}
	d, ok := f.begin("sw-template", width, look, m.Length, f.Depth, 44, 44, 120)
	if !ok {
		return d.document()
	}
	first, _ := f.onBoard(XY{})
	at := func(p XY) point2 {
		a, c := f.onBoard(p)
		return point2{d.x0 + float64((a-first)*d.k), d.y0 + float64((c+above)*d.k)}
	}
	d.outlined("sw-stock", []point2{{d.x0, d.y0}, {d.x0 + float64(m.Length*d.k), d.y0}, {d.x0 + float64(m.Length*d.k), d.y0 + float64(f.Depth*d.k)}, {d.x0, d.y0 + float64(f.Depth*d.k)}}, 0.7, `stroke-dasharray="6 3"`)
	out := f.outline()
	var outline []point2
	for _, p := range out {
		outline = append(outline, at(p))
	}
	d.outlined("sw-stringer", outline, 1.8, `stroke-linejoin="round"`)
	d.bottom = d.y0 + float64(f.Depth*d.k) + 10

	// The marks, all from the first.
	h := math.Hypot(f.up(), f.Tread)
	last := f.Risers - 1
	if f.Solid {
		last = f.Risers
	}
	var ticks path
	for k := 1; k <= last; k++ {
		x := at(XY{float64(k-1) * f.Tread, f.level(k) - f.drop()}).x
		ticks.move(x, d.y0-3).to(x, d.y0-14)
		d.p.set(label{text: d.length(float64(k-1) * h), x: x + 4, y: d.y0 - 18, size: smallSize, anchor: start, upright: true, class: "sw-mark-text"})
		if f.Solid && k < f.Risers {
			// The tread's upper and lower face, between the stringers.
			a, b := at(XY{float64(float64(k-1)*f.Tread) - f.Nosing, f.level(k) - float64(f.Wash*f.Nosing)}), at(XY{float64(k) * f.Tread, f.level(k) + float64(f.Wash*f.Tread)})
			c, e := at(XY{float64(k) * f.Tread, f.level(k) + float64(f.Wash*f.Tread) - f.Board}), at(XY{float64(float64(k-1)*f.Tread) - f.Nosing, f.level(k) - float64(f.Wash*f.Nosing) - f.Board})
			d.outlined("sw-housing", []point2{a, b, c, e}, 0.9, `stroke-dasharray="4 2"`)
		}
	}
	d.stroke("sw-mark", &ticks, 0.9, "")

	// What is measured has a letter; the letters are explained below.
	letter := func(p point2, text string) {
		s := string(rune('a' + len(names)))
		names = append(names, text)
		l := label{text: s, size: textSize, anchor: middle, class: "sw-letter", bold: true}
		var c []label
		for _, v := range [][2]float64{{0, 0}, {0, -12}, {12, 0}, {-12, 0}, {0, 14}, {14, -12}, {-14, -12}, {14, 14}, {-14, 14}, {0, -24}, {0, 26}, {24, 0}, {-24, 0}, {30, 14}, {-30, 14}} {
			l.x, l.y = p.x+v[0], p.y+v[1]+4
			c = append(c, l)
		}
		if d.p.place(c...) || d.p.placeOver(c...) {
			d.bottom = math.Max(d.bottom, d.p.labels[len(d.p.labels)-1].y+4)
		}
	}
	between := func(a, b point2) point2 { return point2{(a.x + b.x) / 2, (a.y + b.y) / 2} }
	away := func(a, b point2, by float64) (point2, point2) { // parallel, to the left going from a to b
		l := math.Max(math.Hypot(b.x-a.x, b.y-a.y), 1e-9)
		dx, dy := float64((b.y-a.y)/l*by), float64(-(b.x-a.x)/l*by)
		return point2{a.x + dx, a.y + dy}, point2{b.x + dx, b.y + dy}
	}
	measure := func(class string, a, b XY, by float64, text string) {
		p, q := away(at(a), at(b), by)
		d.dimension(class, p.x, p.y, q.x, q.y)
		m := between(p, q)
		o, _ := away(m, point2{m.x + q.x - p.x, m.y + q.y - p.y}, 8)
		letter(o, text)
	}
	corner := func(k int) XY { return XY{float64(k-1) * f.Tread, f.level(k) - f.drop()} }
	inner := func(k int) XY {
		return XY{float64(k) * f.Tread, f.level(k) - f.drop() + float64(f.Wash*f.Tread)}
	}
	if f.Solid {
		inner = func(k int) XY { return XY{float64(k) * f.Tread, f.level(k) + float64(f.Wash*f.Tread)} }
	}
	mid := (f.Risers + 1) / 2
	if mid >= f.Risers {
		mid = f.Risers - 1
	}
	up := inner(mid)
	top := XY{up.Station, corner(mid).Level + f.up()}
	measure("sw-unit-rise", up, top, 6, d.words.Rise+" "+d.length(f.Riser))
	measure("sw-unit-run", corner(mid), up, 6, d.words.Run+" "+d.length(f.Tread))
	names = append(names, d.words.Step+" "+d.length(h)+"; "+d.words.Along)
	text := d.words.FirstRiser + " " + d.length(f.Riser-f.drop())
	if !f.Solid {
		text += ", " + d.words.Less + " " + d.length(f.Board)
	}
	firstText := text
	names = names[:len(names)-1]
	measure("sw-first-riser", XY{0, 0}, corner(1), 6, firstText)
	if s := f.seat(); s > 0 {
		measure("sw-seat", XY{s, 0}, XY{0, 0}, 6, d.words.Seat+" "+d.length(m.Seat))
	}
	g := f.going()
	head := out[len(out)-3]
	measure("sw-head-cut", XY{g, head.Level}, XY{g, f.lower(g)}, 6, d.words.Head+" "+d.length(m.Head))
	if !f.Solid {
		foot := inner(mid)
		a := at(foot)
		d.dimension("sw-throat", a.x, a.y, a.x, d.y0+float64(f.Depth*d.k))
		letter(point2{a.x + 8, (a.y + d.y0 + float64(f.Depth*d.k)) / 2}, d.words.Throat+" "+d.length(m.Throat))
	}
	var keys []keyEntry
	for i, t := range names {
		s := string(rune('a' + i))
		keys = append(keys, keyEntry{t, func(x, y float64) {
			d.p.set(label{text: s, x: x + swatch - 4, y: y + 4, size: textSize, anchor: finish, class: "sw-letter", bold: true})
		}})
	}
	d.entries(keys)
	d.bottom += 4
	d.notes(d.words.Step + " " + d.length(h) + ". " + d.words.Along + ": " + d.words.Figures + ".")
	if f.PitchText != "" {
		d.notes(d.words.Pitch + ": " + f.PitchText + ". " + d.words.Board + " " + d.length(m.Length) + ".")
	}
	d.canvas.scaleBar(d.k, d.x0, f.Feet, d.detailDrawing.words)
	d.bottom += 6
	return d.document()
}

// FlightSVG draws the flight from the side, as it stands in the hill; see
// [Section.SVG] for width and look.
func (f Frame) FlightSVG(width float64, look Look) string {
	before, after := math.Max(0.35, f.Pad/2+0.1), 0.35+f.Platform
	low, high := -0.15-f.PadDepth-f.PadGravel, f.level(max(f.Risers, 1))+0.1
	ground := func(x float64) float64 { return levelAt(f.Ground, f.At.Station+x) - f.At.Level }
	ok := f.drawable()
	if ok && len(f.Ground) > 1 {
		for _, x := range []float64{-before, 0, f.going() / 2, f.going(), f.going() + after} {
			low = math.Min(low, ground(x)-0.1)
		}
		high = math.Max(high, ground(f.going()+after)+0.05)
	}
	if f.Handrail > 0 {
		high = math.Max(high, f.level(f.Risers)+f.Handrail+0.08)
	}
	d, ok := f.begin("sw-flight", width, look, before+f.going()+after, high-low, 64, 210, 18)
	if !ok {
		return d.document()
	}
	d.x0 += float64(before * d.k)
	d.y0 += float64(high * d.k)
	at := func(p XY) point2 { return point2{d.x(p.Station), d.y(p.Level)} }
	quad := func(x0, y0, x1, y1 float64) []point2 {
		return []point2{at(XY{x0, y0}), at(XY{x1, y0}), at(XY{x1, y1}), at(XY{x0, y1})}
	}
	d.bottom = d.y(low) + 8

	// The ground, and what is dug clear.
	if len(f.Ground) > 1 {
		var p path
		d.run(&p, f.Ground, f.At, -before, f.going()+after)
		d.stroke("sw-ground", &p, 2, "")
	}
	var form path
	for _, x := range f.Formation {
		a, b := XY{x.From.Station - f.At.Station, x.From.Level - f.At.Level}, XY{x.To.Station - f.At.Station, x.To.Level - f.At.Level}
		if a.Station < -before || b.Station > f.going()+after {
			continue
		}
		p, q := at(a), at(b)
		form.move(p.x, p.y).to(q.x, q.y)
		d.p.line(p.x, p.y, q.x, q.y)
	}
	d.stroke("sw-formation", &form, 1, `stroke-dasharray="5 2.5"`)

	// Pad, gravel under it.
	var right []callout
	if f.Pad > 0 && f.PadDepth > 0 {
		m := f.seat() / 2
		d.outlined("sw-pad", quad(m-f.Pad/2, 0, m+f.Pad/2, -f.PadDepth), 1.2, "")
		right = append(right, callout{d.x(m + float64(f.Pad*0.3)), d.y(-f.PadDepth / 2), d.words.Pad + " " + d.length(f.Pad) + " × " + d.length(f.PadDepth), "sw-pad-text"})
		if f.PadGravel > 0 {
			d.layer("sw-gravel", "gravel", XY{m - f.Pad/2, -f.PadDepth}, XY{m + f.Pad/2, -f.PadDepth}, XY{m + f.Pad/2, -f.PadDepth - f.PadGravel}, XY{m - f.Pad/2, -f.PadDepth - f.PadGravel})
			right = append(right, callout{d.x(m + float64(f.Pad*0.2)), d.y(-f.PadDepth - f.PadGravel/2), d.words.PadGravel + " " + d.length(f.PadGravel), "sw-layer-text"})
		}
	}
	// Beams on posts.
	for k := 1; k <= f.Supports; k++ {
		x := float64(float64(k) * f.Bay)
		y := f.lower(x)
		base := math.Min(y-0.05, ground(x))
		d.outlined("sw-beam", quad(x-0.04, y, x+0.04, y-0.18), 1, "")
		if base < y-0.18 {
			d.outlined("sw-post", quad(x-0.06, y-0.18, x+0.06, base), 0.9, "")
		}
	}
	// Platform.
	g, n := f.going(), f.Risers
	if f.Platform > 0 {
		y := f.level(n)
		d.outlined("sw-deck", quad(g, y, g+f.Platform, y-0.04), 1.2, "")
		d.outlined("sw-joist", quad(g, y-0.04, g+f.Platform, y-0.22), 0.8, "")
		for _, x := range []float64{g + 0.07, g + f.Platform - 0.07} {
			if b := ground(x); b < y-0.22 {
				d.outlined("sw-post", quad(x-0.06, y-0.22, x+0.06, b), 0.9, "")
			}
		}
	} else {
		p, q := at(XY{g, f.level(n)}), at(XY{g + after, f.level(n)})
		d.line("sw-steps", p.x, p.y, q.x, q.y, 2, "")
		d.p.line(p.x, p.y, q.x, q.y)
	}
	var outline []point2
	for _, p := range f.outline() {
		outline = append(outline, at(p))
	}
	d.outlined("sw-stringer", outline, 1.6, `stroke-linejoin="round"`)

	// Treads, board by board, and riser boards.
	for k := 1; k < n; k++ {
		x := float64(float64(k-1)*f.Tread) - f.Nosing
		for range f.Boards {
			a := XY{x, f.level(k) + float64(f.Wash*(x-float64(float64(k-1)*f.Tread)))}
			b := XY{x + f.BoardWidth, a.Level + float64(f.Wash*f.BoardWidth)}
			d.outlined("sw-tread-board", []point2{at(a), at(b), at(XY{b.Station, b.Level - f.Board}), at(XY{a.Station, a.Level - f.Board})}, 1, "")
			x += f.BoardWidth + f.BoardGap
		}
	}
	if f.RiserBoards {
		var p path
		for k := 1; k <= n; k++ {
			bottom := 0.0
			if k > 1 {
				bottom = f.level(k-1) + float64(f.Wash*f.Tread)
			}
			top := f.level(k) - f.Board
			p.move(d.x(float64(k-1)*f.Tread)-1.2, d.y(bottom)).to(d.x(float64(k-1)*f.Tread)-1.2, d.y(top))
		}
		d.stroke("sw-riser-board", &p, 2.2, `stroke-opacity="0.7"`)
	}
	if f.Handrail > 0 {
		a, b := at(XY{0, f.level(1) + f.Handrail}), at(XY{g, f.level(n) + f.Handrail})
		d.line("sw-handrail", a.x, a.y, b.x, b.y, 1.6, "")
		d.p.line(a.x, a.y, b.x, b.y)
		m := f.Tread * float64(n/2)
		y := f.level(n/2 + 1)
		d.dim("sw-handrail-height", d.x(m), d.y(y), d.x(m), d.y(y+f.Handrail), d.length(f.Handrail))
		right = append(right, callout{(a.x + float64(3*b.x)) / 4, (a.y + float64(3*b.y)) / 4, d.words.Handrail + " " + d.length(f.Handrail), "sw-handrail-text"})
	}
	right = append(right, callout{d.x(g * 0.75), d.y(f.lower(g*0.75) + float64(0.3*(f.level(1)-f.lower(0)))), d.words.Stringer + " " + d.length(f.Depth), "sw-stringer-text"})
	if f.Nosing > 0.0005 && n > 2 {
		right = append(right, callout{d.x(float64(float64(n-2)*f.Tread) - f.Nosing/2), d.y(f.level(n-1) - f.Board/2), d.words.Nosing + " " + d.length(f.Nosing), "sw-nosing-text"})
	}
	// Numbers on the treads.
	for k := 1; k <= n; k++ {
		p := at(XY{float64(float64(k-1)*f.Tread) + float64(0.5*f.Tread), f.level(k)})
		d.p.place(label{text: strconv.Itoa(f.First + k - 1), x: p.x, y: p.y - 4, size: smallSize, anchor: middle, class: "sw-riser-text"})
	}
	// Rise at the left, going and bays below.
	x := d.x(-before) - 8
	d.line("sw-extension", x-4, d.y(f.level(n)), d.x(g), d.y(f.level(n)), 0.5, `stroke-opacity="0.45" stroke-dasharray="2 3"`)
	d.dim("sw-total-rise", x, d.y(0), x, d.y(f.level(n)), d.words.TotalRise+" "+d.length(f.level(n)))
	d.callouts(right, true)
	y := d.bottom + smallSize + 4
	row := func(class string, from, to float64, text string) {
		d.line("sw-extension", d.x(from), y-3, d.x(from), y+5, 0.5, "")
		d.line("sw-extension", d.x(to), y-3, d.x(to), y+5, 0.5, "")
		d.dimension(class, d.x(from), y, d.x(to), y)
		d.p.placeOver(label{text: text, x: (d.x(from) + d.x(to)) / 2, y: y - 4, size: smallSize, anchor: middle, class: "sw-dimension-text"})
	}
	row("sw-going", 0, g, d.words.Going+" "+strconv.Itoa(n-1)+" × "+d.length(f.Tread)+" = "+d.length(g))
	y += smallSize + 10
	if f.Supports > 0 {
		for k := range f.Supports + 1 {
			row("sw-bay", float64(k)*f.Bay, float64(k+1)*f.Bay, d.words.Bay+" "+d.length(f.Bay))
		}
		y += smallSize + 10
	}
	d.bottom = y - smallSize
	d.canvas.scaleBar(d.k, d.left, f.Feet, d.detailDrawing.words)
	d.bottom += 6
	return d.document()
}

// run draws a line of stations and levels between two distances from a place.
func (d *frameDrawing) run(p *path, line []XY, from XY, x0, x1 float64) {
	xs := []float64{x0}
	for _, g := range line {
		if x := g.Station - from.Station; x > x0 && x < x1 {
			xs = append(xs, x)
		}
	}
	xs = append(xs, x1)
	var before point2
	for i, x := range xs {
		v := point2{d.x(x), d.y(levelAt(line, from.Station+x) - from.Level)}
		if i == 0 {
			p.move(v.x, v.y)
		} else {
			p.to(v.x, v.y)
			d.p.line(before.x, before.y, v.x, v.y)
		}
		before = v
	}
}
