package draw

import (
	"math"
	"strconv"
)

// Plan is the path from above: timbers, formation, where the sides of the cut
// come out on the ground. Lengths are metres.
type Plan struct {
	Title, Desc string
	Course      Course
	Terrain     Terrain
	// Steps and Formation are those of the section. Breadth is the timbers'.
	Steps     []Step
	Formation []Piece
	Breadth   float64
	// Return is how far the sides of the last box run on behind its riser.
	Return float64
	// Boxes are those with more than a riser and two sides, each of one piece.
	Boxes []PlanBox
	// Frames are the flights on stringers.
	Frames []PlanFrame
	// SetBack is how far from the edge of the cut spoil must lie; 0 draws no
	// line.
	SetBack float64
	// Stations are marked along the path.
	Stations []float64
	// Places are where earth goes to and comes from.
	Places []PlanPlace
	// Notes stand below.
	Notes      []string
	LengthText func(metres float64) string
	Feet       bool
	Words      Words
	Parts      FrameWords
}

// PlanBox is what a box has beside a riser and two sides.
type PlanBox struct {
	From float64 // the station of its riser
	Side float64 // the length of a side, behind the riser's timber
	// Across and Along are how many pieces, end to end and of one length, make the
	// riser and a side.
	Across, Along int
	// Crosses stand between the sides, evenly spaced; Back is a timber across the
	// back of a landing.
	Crosses int
	Back    bool
}

// PlanFrame is a flight on stringers, and the framed landing above it.
type PlanFrame struct {
	// From and To are the stations of its first and last riser.
	From, To float64
	// Stringers stand from one side of the path to the other, Thickness each.
	Stringers int
	Thickness float64
	// Seat is how far the level cut at the foot runs back from From. The pad
	// under it is Pad along the path and PadWidth across; 0 is none.
	Seat, Pad, PadWidth float64
	// Platform is the depth of the framed landing above To, 0 for none, with so
	// many Deck boards across it on Joists along it.
	Platform     float64
	Deck, Joists int
	// Beams are the stations of the middles of beams across the path, ascending,
	// each Beam thick; the last PostRows of them stand on Posts each, Post square.
	Beams           []float64
	Beam, Post      float64
	Posts, PostRows int
}

// evenly is where the middles of n members of a thickness lie that reach from
// one side of a width to the other.
func evenly(width, thick float64, n int) []float64 {
	var out []float64
	for i := range n {
		o := 0.0
		if n > 1 {
			o = (width - thick) * (float64(i)/float64(n-1) - 0.5)
		}
		out = append(out, o)
	}
	return out
}

// pad is where a frame's pad lies, in stations: its middle under the seat's.
func (f PlanFrame) pad() (from, to float64) {
	m := f.From + f.Seat/2
	return m - f.Pad/2, m + f.Pad/2
}

func (p *Plan) drawable() bool {
	s := Section{Ground: p.Terrain.Ground, Steps: p.Steps, Formation: p.Formation, Readings: p.Stations}
	ok := s.drawable() && len(p.Steps) > 0
	for _, v := range []float64{p.Terrain.Width, p.Terrain.Formation, p.Terrain.Batter, p.Terrain.FillBatter, p.Breadth, p.Return, p.SetBack} {
		ok = ok && v >= 0 && v <= 1000
	}
	ok = ok && len(p.Course.Bends) <= maxSteps && len(p.Frames) <= maxSteps
	for _, f := range p.Frames {
		ok = ok && f.To >= f.From && f.Stringers >= 0 && f.Stringers <= 100 && len(f.Beams) <= 1000
		for _, n := range []int{f.Deck, f.Joists, f.Posts, f.PostRows} {
			ok = ok && n >= 0 && n <= 1000
		}
		for _, v := range []float64{f.From + 2e6, f.To + 2e6, f.Thickness, f.Seat, f.Pad, f.PadWidth, f.Platform, f.Beam, f.Post} {
			ok = ok && v >= 0 && v <= 4e6
		}
	}
	ok = ok && len(p.Places) <= maxSteps && len(p.Boxes) <= maxSteps
	for _, x := range p.Boxes {
		ok = ok && math.Abs(x.From) <= maxMetres && x.Side >= 0 && x.Side <= maxMetres && x.Across <= 1000 && x.Along <= 1000 && x.Crosses <= 1000
	}
	for _, x := range p.Places {
		ok = ok && math.Abs(x.At) <= maxMetres && x.Breadth >= 0 && x.Breadth <= 1000
	}
	at := math.Inf(-1)
	for _, b := range p.Course.Bends {
		ok = ok && b.From >= at && b.To >= b.From && b.To <= maxMetres && math.Abs(b.Curvature) <= 10
		at = b.To
	}
	for _, c := range p.Terrain.Crossfall {
		ok = ok && math.Abs(c) <= 10
	}
	return ok
}

// planDrawing is a plan being made.
type planDrawing struct {
	canvas
	pl     *Plan
	words  Words
	k      float64
	x0, y0 float64
	min    Spot
	// edges are the daylight lines, left and right, in runs of one kind.
	edges [2][]edge
	has   struct{ cut, toe, heap bool }
}

// edge is a stretch of one side that is all cut or all made ground.
type edge struct {
	cut      bool
	stations []float64
	offsets  []float64
}

// SVG draws the plan to fit a width in px, or to the look's scale; see
// [Section.SVG].
func (p Plan) SVG(width float64, look Look) string {
	d := planDrawing{pl: &p, words: p.Words.filled()}
	width = bounded(width)
	if !p.drawable() {
		d.canvas = newCanvas("sw-plan", p.Title, p.Desc, width, look)
		d.title()
		d.note(label{text: d.words.Nothing, class: "sw-note"})
		d.bottom += margin
		return d.document()
	}
	d.side(0, -1)
	d.side(1, 1)
	min, max := d.extent()
	d.min = min
	const left, right = sectionLeft, 10.0
	if look = look.fitted(max.X - min.X); look.scaled() {
		width = look.width(max.X-min.X, left+right)
	}
	d.canvas = newCanvas("sw-plan", p.Title, p.Desc, width, look)
	d.title()
	wide, across := width-left-right, math.Max(max.X-min.X, 1)
	d.k = wide / across
	if tall := math.Min(math.Max(1.1*width, 420), 1300); d.k*(max.Y-min.Y) > tall {
		d.k = tall / (max.Y - min.Y)
	}
	if look.scaled() {
		d.k = look.pxPerMetre()
	}
	d.x0 = left + (wide-float64(d.k*across))/2 + d.k*(across-(max.X-min.X))/2
	d.y0 = d.bottom + 16
	d.bottom = d.y0 + float64(d.k*(max.Y-min.Y)) + 10
	d.draw()
	return d.document()
}

func (d *planDrawing) px(s Spot) (x, y float64) {
	return d.x0 + float64((s.X-d.min.X)*d.k), d.y0 + float64((s.Y-d.min.Y)*d.k)
}

func (d *planDrawing) at(station, offset float64) (x, y float64) {
	return d.px(d.pl.Course.At(station, offset))
}

// side finds where one side of the work comes out on the ground.
func (d *planDrawing) side(i int, sign float64) {
	var run edge
	end := func() {
		if len(run.stations) > 1 {
			d.edges[i] = append(d.edges[i], run)
		}
		run = edge{}
	}
	for _, p := range d.pl.Formation {
		x0, x1 := p.From.Station, p.To.Station
		if !(x1 > x0) {
			continue
		}
		xs := d.pl.Course.stations(x0, x1)
		for _, g := range d.pl.Terrain.Ground {
			if g.Station > x0 && g.Station < x1 {
				xs = insert(xs, g.Station)
			}
		}
		// Fine enough to show where cut turns into made ground.
		n := int(math.Min(math.Ceil((x1-x0)/0.1), 200))
		for j := 1; j < n; j++ {
			xs = insert(xs, x0+(x1-x0)*float64(j)/float64(n))
		}
		for _, x := range xs {
			v := d.pl.Terrain.daylight(x, p.at(x), sign)
			if v.Cut != run.cut || len(run.stations) == 0 {
				end()
				run.cut = v.Cut
			}
			run.stations = append(run.stations, x)
			run.offsets = append(run.offsets, v.Offset)
		}
	}
	end()
	for _, e := range d.edges[i] {
		d.has.cut = d.has.cut || e.cut
		d.has.toe = d.has.toe || !e.cut
	}
}

// insert puts x into an ascending list, unless it is there.
func insert(xs []float64, x float64) []float64 {
	i := len(xs)
	for i > 0 && xs[i-1] >= x {
		i--
	}
	if i < len(xs) && xs[i] == x {
		return xs
	}
	xs = append(xs, 0)
	copy(xs[i+1:], xs[i:])
	xs[i] = x
	return xs
}

// setBack is the offset of the line that spoil is kept beyond, on one side; 0
// where nothing is cut there.
func (d *planDrawing) setBack(i int) float64 {
	most := 0.0
	for _, e := range d.edges[i] {
		for _, o := range e.offsets {
			if e.cut && math.Abs(o) > most {
				most = math.Abs(o)
			}
		}
	}
	if most == 0 || d.pl.SetBack == 0 {
		return 0
	}
	return most + d.pl.SetBack
}

// ends are the stations the drawing runs from and to.
func (d *planDrawing) ends() (from, to float64) {
	g := d.pl.Terrain.Ground
	from, to = g[0].Station, g[len(g)-1].Station
	s := d.pl.Steps
	from = math.Min(from, s[0].Station)
	return from, math.Max(to, s[len(s)-1].Station+d.pl.Return)
}

func (d *planDrawing) extent() (min, max Spot) {
	min, max = Spot{math.Inf(1), math.Inf(1)}, Spot{math.Inf(-1), math.Inf(-1)}
	add := func(station, offset float64) {
		s := d.pl.Course.At(station, offset)
		min = Spot{math.Min(min.X, s.X), math.Min(min.Y, s.Y)}
		max = Spot{math.Max(max.X, s.X), math.Max(max.Y, s.Y)}
	}
	t := d.pl.Terrain
	from, to := d.ends()
	for _, x := range d.pl.Course.stations(from, to) {
		for i, sign := range []float64{-1, 1} {
			add(x, sign*math.Max(math.Max(t.Width, t.Formation)/2, d.setBack(i)))
		}
	}
	for i := range d.edges {
		for _, e := range d.edges[i] {
			for j, x := range e.stations {
				add(x, e.offsets[j])
			}
		}
	}
	for _, f := range d.pl.Frames {
		if f.Pad > 0 {
			a, _ := f.pad()
			add(a, f.PadWidth/2)
			add(a, -f.PadWidth/2)
		}
	}
	return min, max
}

// along draws a line at an offset from one station to another.
func (d *planDrawing) along(p *path, from, to, offset float64) {
	xs := d.pl.Course.stations(from, to)
	var lx, ly float64
	pen := false
	for _, s := range xs {
		// Inside a tight bend there is no such line beyond the centre.
		if d.pl.Course.beyond(s, offset) {
			pen = false
			continue
		}
		x, y := d.at(s, offset)
		if !pen {
			p.move(x, y)
		} else {
			p.to(x, y)
			d.p.line(lx, ly, x, y)
		}
		lx, ly, pen = x, y, true
	}
}

// across draws a line from offset to offset at a station.
func (d *planDrawing) across(p *path, station, from, to float64) {
	x0, y0 := d.at(station, from)
	x1, y1 := d.at(station, to)
	p.move(x0, y0).to(x1, y1)
	d.p.line(x0, y0, x1, y1)
}

func (d *planDrawing) draw() {
	pl, t := d.pl, d.pl.Terrain
	foot, last := pl.Steps[0], pl.Steps[len(pl.Steps)-1]
	from, to := d.ends()

	// Lines that spoil is kept beyond.
	var back path
	for i, sign := range []float64{-1, 1} {
		if o := d.setBack(i); o > 0 {
			d.along(&back, from, to, sign*o)
		}
	}
	d.stroke("sw-set-back", &back, 0.9, `stroke-dasharray="1 4"`)

	// Centreline with the stations.
	var centre path
	d.along(&centre, from, foot.Station, 0)
	d.along(&centre, last.Station+math.Max(pl.Breadth, 0), to, 0)
	d.stroke("sw-centreline", &centre, 0.6, `stroke-dasharray="10 3 2 3"`)

	// Formation.
	var formation path
	f0, f1 := math.Inf(1), math.Inf(-1)
	for _, p := range pl.Formation {
		f0, f1 = math.Min(f0, p.From.Station), math.Max(f1, p.To.Station)
	}
	if f1 > f0 {
		for _, p := range d.stretches() {
			for _, sign := range []float64{-1, 1} {
				d.along(&formation, p[0], p[1], sign*t.Formation/2)
			}
		}
		d.across(&formation, f0, -t.Formation/2, t.Formation/2)
		d.across(&formation, f1, -t.Formation/2, t.Formation/2)
	}
	d.stroke("sw-formation", &formation, 0.9, `stroke-dasharray="5 2.5"`)

	// Sides of the cut, with strokes down the slope from its top.
	for i, sign := range []float64{-1, 1} {
		for _, e := range d.edges[i] {
			d.edge(e, sign)
		}
	}

	d.frames()
	d.timbers()
	// Every riser in one path, from the foot.
	var risers path
	for _, s := range pl.Steps {
		d.across(&risers, s.Station, -t.Width/2, t.Width/2)
	}
	d.stroke("sw-riser", &risers, 1.8, "")

	d.numbers()
	d.has.heap = d.places()
	d.widths()
	d.uphill(from, foot.Station)
	d.marks(from, to)
	d.canvas.scaleBar(d.k, d.x0, pl.Feet, d.words)
	d.planKey()
	if len(pl.Notes) > 0 {
		d.bottom += 4
	}
	d.notes(pl.Notes...)
}

// timbers draws the boxes' timbers behind the risers.
func (d *planDrawing) timbers() {
	pl, half := d.pl, d.pl.Terrain.Width/2
	if pl.Breadth <= 0 {
		return
	}
	var sides path
	inner := half - pl.Breadth
	for i, s := range pl.Steps {
		end := s.TreadEnd
		if i == len(pl.Steps)-1 {
			end = s.Station + pl.Return
		}
		if s.Framed || end <= s.Station {
			continue
		}
		for _, sign := range []float64{-1, 1} {
			d.along(&sides, s.Station, end, sign*half)
			if inner > 0 {
				// Sides butt behind the riser's timber.
				d.along(&sides, math.Min(s.Station+pl.Breadth, end), end, sign*inner)
			}
			if i == len(pl.Steps)-1 {
				d.across(&sides, end, sign*half, sign*math.Max(inner, 0))
			}
		}
		d.across(&sides, s.Station+pl.Breadth, -half, half)
	}
	d.stroke("sw-timber", &sides, 0.8, "")
	var joints, crosses path
	for _, x := range pl.Boxes {
		back := x.From + pl.Breadth
		for k := 1; k < x.Across; k++ {
			d.along(&joints, x.From, back, -half+float64(2*half*float64(k))/float64(x.Across))
		}
		for k := 1; k < x.Along; k++ {
			for _, sign := range []float64{-1, 1} {
				d.across(&joints, back+x.Side*float64(k)/float64(x.Along), sign*half, sign*math.Max(inner, 0))
			}
		}
		end := x.From
		for _, s := range pl.Steps {
			if s.Station == x.From {
				end = s.TreadEnd
			}
		}
		if inner <= 0 {
			continue
		}
		if x.Back {
			end -= pl.Breadth
			d.across(&crosses, end, -inner, inner)
		}
		for k := 1; k <= x.Crosses; k++ {
			m := back + (end-back)*float64(k)/float64(x.Crosses+1)
			for _, e := range []float64{m - pl.Breadth/2, m + pl.Breadth/2} {
				d.across(&crosses, e, -inner, inner)
			}
		}
	}
	d.stroke("sw-cross-piece", &crosses, 0.8, "")
	d.stroke("sw-joint", &joints, 1.8, "")
}

// frames draws what carries the framed flights: pads, beams, stringers.
func (d *planDrawing) frames() {
	half := d.pl.Terrain.Width / 2
	var pads, beams, stringers, edges, posts, deck, joists path
	for _, f := range d.pl.Frames {
		if f.Pad > 0 && f.PadWidth > 0 {
			a, b := f.pad()
			w := f.PadWidth / 2
			for _, x := range []float64{a, b} {
				d.across(&pads, x, -w, w)
			}
			for _, w := range []float64{-w, w} {
				d.along(&pads, a, b, w)
			}
		}
		for _, x := range f.Beams {
			for _, e := range []float64{x - f.Beam/2, x + f.Beam/2} {
				d.across(&beams, e, -half, half)
			}
		}
		for i := max(len(f.Beams)-f.PostRows, 0); i < len(f.Beams); i++ {
			for _, o := range evenly(2*half, f.Post, f.Posts) {
				d.post(&posts, f.Beams[i], o, f.Post)
			}
		}
		for i := range f.Stringers {
			o := -half
			if f.Stringers > 1 {
				o += float64((2*half-f.Thickness)*float64(i)) / float64(f.Stringers-1)
			}
			p := &stringers
			if i == 0 || i == f.Stringers-1 {
				p = &edges
			}
			d.along(p, f.From, f.To, o)
			d.along(p, f.From, f.To, o+f.Thickness)
		}
		if f.Platform > 0 {
			for _, x := range []float64{-half, half} {
				d.along(&edges, f.To, f.To+f.Platform, x)
			}
			// Boards are as far apart as they are many; their joints labels may cross.
			for k := 1; k < f.Deck; k++ {
				d.strokeAcross(&deck, f.To+f.Platform*float64(k)/float64(f.Deck), -half, half)
			}
			d.across(&edges, f.To+f.Platform, -half, half)
			for _, o := range evenly(2*half, f.Thickness, f.Joists) {
				d.along(&joists, f.To, f.To+f.Platform, o)
			}
		}
	}
	d.stroke("sw-deck-board", &deck, 0.4, "")
	d.stroke("sw-joist", &joists, 0.6, `stroke-dasharray="2 3"`)
	if posts.b.Len() > 0 {
		d.element("path", "sw-post", `fill="currentColor" d="`+posts.String()+`"`)
	}
	d.stroke("sw-pad", &pads, 0.9, `stroke-dasharray="9 3"`)
	d.stroke("sw-beam", &beams, 0.9, `stroke-dasharray="2 1.5"`)
	d.stroke("sw-stringer", &stringers, 0.6, `stroke-dasharray="4 2"`)
	d.stroke("sw-stringer-edge", &edges, 0.8, "")
}

// post is a square about a place, along the path and across it.
func (d *planDrawing) post(p *path, station, offset, side float64) {
	r := math.Max(side/2, 1.5/d.k)
	for i, c := range [][2]float64{{-r, -r}, {r, -r}, {r, r}, {-r, r}} {
		x, y := d.at(station+c[0], offset+c[1])
		if i == 0 {
			p.move(x, y)
		} else {
			p.to(x, y)
		}
	}
	p.close()
}

// stretches joins neighbouring pieces of formation.
func (d *planDrawing) stretches() [][2]float64 {
	var out [][2]float64
	for _, p := range d.pl.Formation {
		if n := len(out); n > 0 && p.From.Station <= out[n-1][1]+1e-6 {
			out[n-1][1] = math.Max(out[n-1][1], p.To.Station)
			continue
		}
		out = append(out, [2]float64{p.From.Station, p.To.Station})
	}
	return out
}

// edge draws one run of daylight with its strokes.
func (d *planDrawing) edge(e edge, sign float64) {
	var line, strokes path
	half := d.pl.Terrain.Width / 2
	if e.cut {
		half = d.pl.Terrain.Formation / 2
	}
	last, long := math.Inf(-1), true
	for i, s := range e.stations {
		x, y := d.at(s, e.offsets[i])
		if i == 0 {
			line.move(x, y)
		} else {
			line.to(x, y)
			px, py := d.at(e.stations[i-1], e.offsets[i-1])
			d.p.line(px, py, x, y)
		}
		// From the top of the slope: the ground's edge of a cut, the path's
		// edge of made ground.
		top, foot := e.offsets[i], sign*half
		if !e.cut {
			top, foot = foot, top
		}
		if run := math.Abs(top-foot) * d.k; run > 2.5 && math.Abs(s-last)*d.k >= 5 {
			part := 1.0
			if !long {
				part = 0.5
			}
			d.strokeAcross(&strokes, s, top, top+float64((foot-top)*part))
			last, long = s, !long
		}
	}
	class, dash := "sw-top-of-cut", ""
	if !e.cut {
		class, dash = "sw-toe", `stroke-dasharray="6 2 1 2"`
	}
	d.stroke(class, &line, 1.1, dash)
	d.stroke("sw-batter", &strokes, 0.5, "")
}

// strokeAcross is a fine line that labels need not keep off.
func (d *planDrawing) strokeAcross(p *path, station, from, to float64) {
	x0, y0 := d.at(station, from)
	x1, y1 := d.at(station, to)
	p.move(x0, y0).to(x1, y1)
}

// numbers writes the riser on each tread, and names the landings.
func (d *planDrawing) numbers() {
	for i, s := range d.pl.Steps {
		a, b := s.Station+d.pl.Breadth, s.TreadEnd
		if i == len(d.pl.Steps)-1 {
			b = s.Station + math.Max(d.pl.Return, 0.3)
		}
		l := label{text: strconv.Itoa(s.Riser), size: smallSize, anchor: middle, class: "sw-riser-text"}
		var c, plain []label
		for _, offset := range []float64{0, 0.25 * d.pl.Terrain.Width, -0.25 * d.pl.Terrain.Width} {
			x, y := d.at((a+b)/2, offset)
			if s.Landing {
				named := l
				named.text += " " + d.words.Landing
				named.x, named.y = x, y+4
				c = append(c, named)
				named.upright, named.x, named.y = true, x+4, y
				c = append(c, named)
			}
			l.x, l.y = x, y+4
			c, plain = append(c, l), append(plain, l)
		}
		// Every fifth riser and the ends are told even over a line; so is one whose tread is as
		// wide as its number, of which a slanted line takes but a corner.
		wide := d.k*(b-a) >= textWidth(l.text, smallSize)
		if !d.p.place(c...) && (wide || s.Riser%5 == 0 || i == 0 || i == len(d.pl.Steps)-1) {
			d.p.placeOver(plain...)
		}
	}
}

// widths dimensions the path and the formation at the foot.
func (d *planDrawing) widths() {
	t := d.pl.Terrain
	foot := d.pl.Steps[0].Station
	type dim struct {
		word  string
		width float64
		class string
	}
	var below []string
	for i, v := range []dim{{d.words.Width, t.Width, "sw-width"}, {d.words.FormationWidth, t.Formation, "sw-formation-width"}} {
		if v.width <= 0 {
			continue
		}
		// The path sets off along x, so the dimensions stand upright.
		x0, y0 := d.at(foot, -v.width/2)
		_, y1 := d.at(foot, v.width/2)
		x := x0 - 12 - float64(18*float64(i))
		if x < 10 {
			x = 10 + float64(18*float64(1-i))
		}
		d.line("sw-extension", x-3, y0, x0, y0, 0.5, `stroke-opacity="0.6"`)
		d.line("sw-extension", x-3, y1, x0, y1, 0.5, `stroke-opacity="0.6"`)
		d.dimension(v.class, x, y0, x, y1)
		text := v.word + " " + d.length(v.width)
		l := label{text: text, x: x - 4, y: (y0 + y1) / 2, size: smallSize, anchor: middle, upright: true, class: "sw-dimension-text"}
		if y1-y0 < textWidth(text, smallSize) || !d.p.placeOver(l) {
			below = append(below, text)
		}
	}
	// On one line where they fit.
	if n := len(below); n == 2 && textWidth(below[0]+"      "+below[1], textSize) < d.width-2*margin {
		l := label{text: below[0], size: textSize, x: margin, y: d.bottom + textSize + 2, anchor: start, class: "sw-dimension-text"}
		d.p.set(l)
		l.text, l.x = below[1], margin+textWidth(below[0]+"      ", textSize)
		d.p.set(l)
		d.bottom += textSize + 8
		return
	}
	for _, text := range below {
		d.note(label{text: text, class: "sw-dimension-text"})
	}
}

func (d *planDrawing) length(m float64) string {
	if d.pl.LengthText == nil {
		return strconv.FormatFloat(m, 'f', 2, 64) + " " + d.words.Metres
	}
	return clean(d.pl.LengthText(m), 40)
}

// uphill is an arrow beside the foot of the path.
func (d *planDrawing) uphill(from, foot float64) {
	_, y := d.at(foot, d.pl.Terrain.Width/2)
	x := d.x0 + 8
	y += float64(0.5 * (d.pl.Terrain.Formation - d.pl.Terrain.Width) * d.k)
	l := label{text: d.words.Uphill, size: smallSize, anchor: start, class: "sw-uphill-text"}
	for _, dy := range []float64{14, 22, 30, 40, 52} {
		l.x, l.y = x, y+dy
		if d.p.place(l) {
			end := x + textWidth(l.text, smallSize)
			var p path
			ay := l.y - 4
			p.move(end+4, ay).to(end+30, ay)
			p.move(end+24, ay-3).to(end+30, ay).to(end+24, ay+3)
			d.stroke("sw-uphill", &p, 1, "")
			d.p.line(end+4, ay, end+30, ay)
			return
		}
	}
}

// marks ticks the stations along the right-hand side of the work.
func (d *planDrawing) marks(from, to float64) {
	r := d.pl.Stations
	if len(r) == 0 {
		return
	}
	if len(d.pl.Course.Bends) > 0 {
		// Round bends the stations are ticked on the path's own edge.
		var p, leaders path
		for _, s := range r {
			if s >= from && s <= to {
				d.strokeAcross(&p, s, d.pl.Terrain.Width/2, d.pl.Terrain.Width/2+6/d.k)
				var c []label
				for _, out := range []float64{16, 26, 36, 48, 60, 76, 92, 110} {
					x, y := d.at(s, d.pl.Terrain.Width/2+out/d.k)
					for _, a := range []anchor{middle, start, finish} {
						c = append(c, label{text: d.length(s), x: x, y: y + 4, size: smallSize, anchor: a, class: "sw-station-text"})
					}
				}
				if d.p.place(c...) {
					l := d.p.labels[len(d.p.labels)-1]
					d.bottom = math.Max(d.bottom, l.y+6)
					x, y := d.at(s, d.pl.Terrain.Width/2+7/d.k)
					if far := math.Hypot(l.x-x, l.y-4-y); far > 20 {
						leaders.move(x, y).to(x+float64((l.x-x)*(1-9/far)), y+float64((l.y-4-y)*(1-9/far)))
					}
				}
			}
		}
		d.stroke("sw-station", &p, 0.8, "")
		d.stroke("sw-leader", &leaders, 0.4, `stroke-dasharray="1 3"`)
		return
	}
	y := d.bottom + 4
	x0, _ := d.at(from, 0)
	x1, _ := d.at(to, 0)
	d.line("sw-datum", x0, y, x1, y, 0.8, "")
	d.p.line(x0, y, x1, y)
	var p path
	for _, s := range r {
		if s >= from && s <= to {
			x, _ := d.at(s, 0)
			p.move(x, y-4).to(x, y+4)
		}
	}
	d.stroke("sw-station", &p, 0.6, "")
	put := func(i int) {
		if r[i] >= from && r[i] <= to {
			x, _ := d.at(r[i], 0)
			d.p.placeOver(label{text: d.length(r[i]), x: x, y: y + 4 + smallSize, size: smallSize, anchor: middle, class: "sw-station-text"})
		}
	}
	spread(len(r), put)
	d.bottom = y + 4 + smallSize + 6
}

func (d *planDrawing) planKey() {
	line := func(class string, width float64, extra string) func(x, y float64) {
		return func(x, y float64) { d.line(class, x, y, x+swatch, y, width, extra) }
	}
	var e []keyEntry
	beam := func(word, class, extra string) keyEntry {
		return keyEntry{word, func(x, y float64) {
			d.element("rect", class, `x="`+px(x)+`" y="`+px(y-3)+`" width="`+px(swatch)+`" height="6" fill="none" stroke="currentColor" stroke-width="0.8"`+extra)
		}}
	}
	boxes := false
	for _, s := range d.pl.Steps {
		boxes = boxes || !s.Framed
	}
	if boxes && d.pl.Breadth > 0 {
		e = append(e, beam(d.words.PathEdge, "sw-timber", ""))
	}
	frame := d.pl.Parts.filled()
	pads, beams, posts, decks, joists := false, false, false, false, false
	for _, f := range d.pl.Frames {
		pads, beams = pads || f.Pad > 0, beams || len(f.Beams) > 0
		posts, decks, joists = posts || f.Posts > 0 && f.PostRows > 0, decks || f.Deck > 1, joists || f.Joists > 0
	}
	joints := false
	for _, x := range d.pl.Boxes {
		joints = joints || x.Across > 1 || x.Along > 1
	}
	if joints {
		e = append(e, keyEntry{d.words.Joint, func(x, y float64) {
			beam("", "sw-timber", "").draw(x, y)
			d.line("sw-joint", x+swatch/2, y-3, x+swatch/2, y+3, 1.8, "")
		}})
	}
	if len(d.pl.Frames) > 0 {
		e = append(e, beam(frame.Stringer, "sw-stringer", ` stroke-dasharray="4 2"`))
	}
	if pads {
		e = append(e, beam(frame.Pad, "sw-pad", ` stroke-dasharray="9 3"`))
	}
	if beams {
		e = append(e, beam(frame.Beams, "sw-beam", ` stroke-dasharray="2 1.5"`))
	}
	if posts {
		e = append(e, keyEntry{frame.Post, func(x, y float64) {
			d.element("rect", "sw-post", `x="`+px(x+swatch/2-3)+`" y="`+px(y-3)+`" width="6" height="6" fill="currentColor"`)
		}})
	}
	if decks {
		e = append(e, keyEntry{frame.Deck, func(x, y float64) {
			var p path
			for i := range 4 {
				p.move(x+4+float64(5*float64(i)), y-5).to(x+4+float64(5*float64(i)), y+5)
			}
			d.stroke("sw-deck-board", &p, 0.5, "")
		}})
	}
	if joists {
		e = append(e, keyEntry{frame.Joist, line("sw-joist", 0.6, `stroke-dasharray="2 3"`)})
	}
	if len(d.pl.Formation) > 0 {
		e = append(e, keyEntry{d.words.FormationEdge, line("sw-formation", 0.9, `stroke-dasharray="5 2.5"`)})
	}
	if d.has.cut {
		e = append(e, keyEntry{d.words.TopOfCut, func(x, y float64) {
			d.line("sw-top-of-cut", x, y-3, x+swatch, y-3, 1.1, "")
			var p path
			for i := 1; i < 5; i++ {
				p.move(x+float64(i)*swatch/5, y-3).to(x+float64(i)*swatch/5, y+1+float64(3*float64(i%2)))
			}
			d.stroke("sw-batter", &p, 0.5, "")
		}})
	}
	if d.has.toe {
		e = append(e, keyEntry{d.words.Toe, line("sw-toe", 1.1, `stroke-dasharray="6 2 1 2"`)})
	}
	if d.setBack(0) > 0 || d.setBack(1) > 0 {
		e = append(e, keyEntry{d.words.SetBack, line("sw-set-back", 0.9, `stroke-dasharray="1 4"`)})
	}
	if d.has.heap {
		e = append(e, keyEntry{d.words.Heap, func(x, y float64) { d.heap(x+swatch/2, y, 7) }})
	}
	d.entries(e)
}
